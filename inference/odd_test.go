package inference

import (
	"fmt"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// podOf is a pod of so many ends, 1 and on, and some switches of two positions.
func podOf(ends int, momentary bool, switches ...mapping.SwitchID) mapping.Pod {
	p := mapping.Pod{Name: "pod"}
	for i := range ends {
		p.Ends = append(p.Ends, mapping.End{ID: mapping.EndID(fmt.Sprint(i + 1))})
	}
	for _, s := range switches {
		p.Switches = append(p.Switches, mapping.Switch{Name: s, Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: momentary})
	}
	return p
}

// story is readings in a row, across 1 and 2: s a silence, b a beep, c a control beep
// that sounds, f one that fails, / another sitting.
func story(text string) []mapping.Reading {
	var out []mapping.Reading
	sitting := 1
	for _, x := range text {
		r := mapping.Reading{ID: mapping.ReadingID(len(out) + 1), Session: sitting, Sweep: mapping.SweepID(len(out) + 1),
			Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Outcome: mapping.Silent}
		switch x {
		case '/':
			sitting++
			continue
		case 'b':
			r.Outcome = mapping.Sounded
		case 'c':
			r.Red, r.Control, r.Outcome = r.Black, true, mapping.Sounded
		case 'f':
			r.Red, r.Control = r.Black, true
		}
		out = append(out, r)
	}
	return out
}

// TestControlBeepsVouchForTheirOwnClips: one that sounds after one that failed, or at the
// head of a sitting, is of clips put on anew. It says nothing of the silences before.
func TestControlBeepsVouchForTheirOwnClips(t *testing.T) {
	against := func(text string) float32 {
		p := newProblem(podOf(5, false), story(text))
		p.obs = p.correct(p.obs, slices.Repeat([]fault{noFault}, len(p.obs)))
		p.hand = newHand(true, 0)
		ev := &evidence{}
		p.weigh(&hyp{}, ev)
		return ev.ev[pairIndex(0, 1)*ev.nc]
	}
	failed, mended, good := against("ssssssssssf"), against("ssssssssssfc"), against("ssssssssssc")
	if mended > failed+0.01 || good < 2*failed {
		t.Errorf("ten silences weigh %.2f bits before a failed control beep, %.2f before one and a good one, %.2f before a good one", failed, mended, good)
	}
	if two, checked := against("sss/sss"), against("sss/csss"); checked < 0.9*two {
		t.Errorf("a good control beep at the head of a sitting takes %.2f bits to %.2f", two, checked)
	}
}

// TestSittingsAgreeWithTheModel: explanations over sittings, some of which begin with a
// control beep, cost what the judge's model asks.
func TestSittingsAgreeWithTheModel(t *testing.T) {
	pod := podOf(3, false, "a")
	m := simbench.NewModel(pod)
	h := &hyp{atoms: []atom{newAtom(0, 1)}}
	for _, text := range []string{"ssss/cb", "ssss/b", "ssssfcb", "ssssfb", "ss/cs/sb", "bsss/fs/cb", "sc/sf/cs/b", "f/cbss/ssb", "c/ss/cbb"} {
		rs := story(text)
		p := newProblem(pod, rs)
		engine, model := p.explain(h, p.obs, nil), m.Explain(simbench.ModelMap{{A: 0, B: 1}}, m.Readings(rs))
		if diff := engine - model; diff > 1e-6 || diff < -1e-6 {
			t.Errorf("%s: %.3f bits, the model says %.3f", text, engine, model)
		}
	}
}

// TestNothingReadIsNotDone: a control beep is no reading of the pod.
func TestNothingReadIsNotDone(t *testing.T) {
	pod := podOf(2, false)
	for _, text := range []string{"c", "cc", "f"} {
		if r := Infer(pod, story(text)); r.Done {
			t.Errorf("%s: done is %v at %.4f", text, r.Done, r.Confidence)
		}
	}
}

// TestResultWhoeverAskedFirst: what is concluded does not depend on whether a proposal
// was asked for before, nor for which leads.
func TestResultWhoeverAskedFirst(t *testing.T) {
	pod := podOf(3, true, "a", "b")
	var rs []mapping.Reading
	for round := range 3 {
		for _, pair := range [][2]mapping.EndID{{"1", "2"}, {"1", "3"}, {"2", "3"}} {
			for i, at := range []mapping.Setting{{"a": "out", "b": "out"}, {"a": "in", "b": "out"}, {"a": "out", "b": "in"}, {"a": "in", "b": "in"}} {
				if i == 3 && (round > 0 || pair[1] != "2") {
					continue // both held: once only
				}
				rs = append(rs, mapping.Reading{ID: mapping.ReadingID(len(rs) + 1), Session: 1, Sweep: mapping.SweepID(len(rs) + 1),
					Red: []mapping.EndID{pair[0]}, Black: []mapping.EndID{pair[1]}, Setting: at, Outcome: mapping.Silent})
			}
		}
	}
	want := Infer(pod, rs)
	for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
		e := NewEngine(pod, rs)
		e.Next(mapping.Bench{Leads: leads})
		if got := e.Result(); got.Confidence != want.Confidence || got.Done != want.Done {
			t.Errorf("after a proposal for %v: %.5f, done %v; without: %.5f, done %v", leads, got.Confidence, got.Done, want.Confidence, want.Done)
		}
	}
}

// TestAsManyContactsAsAnyPodHas: each position of one switch joins the ends pair by pair
// in another way, which is more links than a sample may have.
func TestAsManyContactsAsAnyPodHas(t *testing.T) {
	const n, positions = 24, 8 // 96 contacts
	pod := podOf(n, false)
	sw := mapping.Switch{Name: "a", Rest: "p0"}
	for q := range positions {
		sw.Positions = append(sw.Positions, mapping.PositionID(fmt.Sprint("p", q)))
	}
	pod.Switches = []mapping.Switch{sw}
	end := func(i int) mapping.EndID { return mapping.EndID(fmt.Sprint(i%(n-1) + 1)) }
	var rs []mapping.Reading
	for q := range positions {
		for j := range n / 2 {
			x, y := end(q+j), end(q-j+n-1)
			if j == 0 {
				y = mapping.EndID(fmt.Sprint(n))
			}
			var rest []mapping.EndID
			for _, e := range pod.Ends {
				if e.ID != x && e.ID != y {
					rest = append(rest, e.ID)
				}
			}
			for range 5 {
				for _, r := range []mapping.Reading{
					{Red: []mapping.EndID{x}, Black: []mapping.EndID{y}, Outcome: mapping.Sounded},
					{Red: []mapping.EndID{x, y}, Black: rest, Outcome: mapping.Silent},
				} {
					r.ID, r.Session, r.Sweep, r.Setting = mapping.ReadingID(len(rs)+1), 1, 1, mapping.Setting{"a": sw.Positions[q]}
					rs = append(rs, r)
				}
			}
		}
	}
	p := newProblem(pod, rs)
	if h := p.descend(&hyp{}); len(h.atoms) > maxAtoms+len(p.npos) {
		t.Errorf("%d links", len(h.atoms))
	}
	for c := range 3 * maxAtoms { // no number of contacts is without a price
		p.jobPrice(0, c, c%2 == 0)
	}
}

// TestWhyNamesEverySilence: a link of two switches rests on the silences with either of
// them elsewhere.
func TestWhyNamesEverySilence(t *testing.T) {
	pod := podOf(3, false, "a", "b")
	var rs []mapping.Reading
	at := map[mapping.ReadingID]string{}
	for range 3 {
		for _, pair := range [][2]mapping.EndID{{"1", "2"}, {"1", "3"}, {"2", "3"}} {
			for _, s := range []mapping.Setting{{"a": "out", "b": "out"}, {"a": "in", "b": "out"}, {"a": "out", "b": "in"}, {"a": "in", "b": "in"}} {
				r := mapping.Reading{ID: mapping.ReadingID(len(rs) + 1), Session: 1, Sweep: mapping.SweepID(len(rs) + 1),
					Red: []mapping.EndID{pair[0]}, Black: []mapping.EndID{pair[1]}, Setting: s, Outcome: mapping.Silent}
				if pair[1] == "2" && s["a"] == "in" && s["b"] == "in" {
					r.Outcome = mapping.Sounded
				}
				rs = append(rs, r)
				at[r.ID] = string(pair[0]+pair[1]) + string(s["a"]) + string(s["b"])
			}
		}
	}
	named := map[string]bool{}
	for _, id := range Infer(pod, rs).Why(mapping.Setting{"a": "in", "b": "in"}, "1", "2") {
		named[at[id]] = true
	}
	for _, want := range []string{"12inin", "12outout", "12inout", "12outin"} {
		if !named[want] {
			t.Errorf("%s is not named: %v", want, named)
		}
	}
	if named["13inin"] {
		t.Error("a reading across other ends is named")
	}
}

// TestOrderOfUnkeptReadings: readings that have no number yet say the same in any order.
func TestOrderOfUnkeptReadings(t *testing.T) {
	pod := podOf(3, false)
	r := func(mode mapping.Mode, o mapping.Outcome, v float64, control bool) mapping.Reading {
		return mapping.Reading{Session: 1, Sweep: 1, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Mode: mode, Outcome: o, Value: v, Control: control}
	}
	for _, rs := range [][]mapping.Reading{
		{r(mapping.Ohms, mapping.Value, 1, false), r(mapping.Ohms, mapping.Value, 1000, false)},
		{r(mapping.Ohms, mapping.OverRange, 0, false), r(mapping.Ohms, mapping.OverRange, 0, true)},
		{r(mapping.Beep, mapping.Silent, 0, false), r(mapping.Ohms, mapping.OverRange, 0, false)},
	} {
		there := Infer(pod, rs)
		slices.Reverse(rs)
		if back := Infer(pod, rs); there.Confidence != back.Confidence {
			t.Errorf("%+v: %v, the other way round %v", rs, back.Confidence, there.Confidence)
		}
	}
}
