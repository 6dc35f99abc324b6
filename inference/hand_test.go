package inference

import (
	"math"
	"testing"

	"bellout/mapping"
)

// pushPod has a push and a latching lever.
func pushPod() mapping.Pod {
	return mapping.Pod{Name: "push", Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []mapping.Switch{
			{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
			{Name: "lights", Positions: []mapping.PositionID{"off", "on"}, Rest: "off"},
		}}
}

// says is by how many bits readings speak against joining two ends while horn is in or
// lights are on.
func says(p *problem, raw []obs, a, b int) (horn, lights float64) {
	p.obs = raw
	var ev evidence
	p.weigh(&hyp{}, &ev)
	at := func(slot uint64) float64 {
		for c, t := range p.conds.terms {
			if p.conds.depth[c] == 1 && t[0] == slot {
				return float64(ev.ev[pairIndex(a, b)*ev.nc+c])
			}
		}
		return math.NaN()
	}
	return at(0b10), at(0b10 << 2)
}

// TestSilenceInAnErringHand: what a silence says, from the rates of the trade notes,
// section 9 (common practice, no published source): a false silence 4 in 100, a
// button not pressed home 4 in 100, a lever not where it was put 2 in 100.
func TestSilenceInAnErringHand(t *testing.T) {
	silent := []obs{{red: 1, black: 2, s: 0b10 | 0b10<<2, protected: true}}
	for _, c := range []struct {
		erring       bool
		horn, lights float64 // chances
	}{{false, 0.04, 0.04}, {true, 0.08, 0.06}} {
		p := newProblem(pushPod(), nil)
		p.hand = newHand(c.erring, 0)
		horn, lights := says(p, silent, 0, 1)
		if math.Abs(horn+math.Log2(c.horn)) > 1e-5 || math.Abs(lights+math.Log2(c.lights)) > 1e-5 {
			t.Errorf("erring %v: a silence says %.3f bits against the horn, %.3f against the lights", c.erring, horn, lights)
		}
	}
}

// TestCarefulHandIsLearnt: the rate of false silences after beeps that were all heard is
// the mean of a gamma distribution, by its closed form (Gelman and others, Bayesian Data
// Analysis, section 2.6, from memory: shape over rate, the rate grown by the exposures).
func TestCarefulHandIsLearnt(t *testing.T) {
	const shape, rate = 3.0, 75.0 // mean 4 in 100
	for _, heard := range []int{0, 25, 75, 225} {
		h := newHand(false, heard)
		want := -math.Log2(shape / (rate + float64(heard)))
		for risk, got := range h.silent {
			if math.Abs(float64(got)-want) > 1e-5 {
				t.Errorf("%d beeps heard, risk %d: a silence says %.3f bits, want %.3f", heard, risk, got, want)
			}
		}
		if erring := newHand(true, heard); erring.silent != newHand(true, 0).silent {
			t.Errorf("an erring hand is believed for %d beeps that it heard", heard)
		}
	}
}

// TestHandIsKnownByWhatIsOdd: a hand errs from when the best map leaves a reading to a
// mishap.
func TestHandIsKnownByWhatIsOdd(t *testing.T) {
	var rs []mapping.Reading
	take := func(a, b mapping.EndID, horn mapping.PositionID, o mapping.Outcome) {
		at := mapping.Setting{"horn": horn, "lights": "off"}
		rs = append(rs, takenAs(len(rs)+1, []mapping.EndID{a}, []mapping.EndID{b}, at, o))
	}
	for range 3 {
		take("1", "2", "in", mapping.Sounded)
		take("1", "2", "out", mapping.Silent)
	}
	if s := NewEngine(pushPod(), rs).now(); s.anythingOdd() || s.p.hand.erring {
		t.Errorf("an erring hand, though every reading fits")
	}
	take("1", "2", "in", mapping.Silent)
	s := NewEngine(pushPod(), rs).now()
	if !s.anythingOdd() || !s.p.hand.erring {
		t.Errorf("a careful hand, though one reading does not fit")
	}
	if c := s.counted(); s.unlisted() != unlistedToo || !c.counts || c.unlisted() != 1 {
		t.Errorf("listed doubts weigh %v times, with every near rival counted %v times", s.unlisted(), c.unlisted())
	}
}

// TestFailedControlBeep: silences before a control beep that failed say less the later
// they were taken, since the clip may have slipped at any reading before; a beep in
// between shows that it bit.
func TestFailedControlBeep(t *testing.T) {
	const n = 16 // silences, the first of them before a beep
	raw := make([]obs, n+2)
	for i := range raw {
		raw[i] = obs{session: 1, epoch: 1, red: 1, black: 2}
	}
	raw[1].closed = true
	raw[n+1].control = true
	suspect(raw)
	if raw[0].off != 0 || raw[1].off != 0 {
		t.Errorf("the clip is said to have been off before it was heard to bite: %v, %v", raw[0].off, raw[1].off)
	}
	const slip, silence = 0.003, 0.04 // trade notes, section 9
	for k := 1; k < n; k++ {
		if want := slip * float64(k) / (silence + slip*(n-1)); math.Abs(raw[1+k].off-want) > 1e-9 {
			t.Errorf("silence %d: the clip was off with chance %.4f, want %.4f", k, raw[1+k].off, want)
		}
	}
	last := raw[n]
	if b := last.silent(newHand(false, 0).silent)[0]; b > 1 || b <= 0 {
		t.Errorf("a silence just before a control beep that failed says %.2f bits", b)
	}
	for name, change := range map[string]func(o *obs){
		"a good control beep":                    func(o *obs) { o.closed = true },
		"a slip that is known, which voids them": func(o *obs) { o.void = true },
		"another sitting":                        func(o *obs) { o.session = 2 },
	} {
		other := append([]obs(nil), raw...)
		change(&other[n+1])
		suspect(other)
		for i := range other {
			if other[i].off != 0 {
				t.Errorf("%s: reading %d is in doubt", name, i)
			}
		}
	}
}
