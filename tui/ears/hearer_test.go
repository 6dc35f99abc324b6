package ears

import (
	"fmt"
	"slices"
	"testing"
)

// tally counts what a hearer made of a sound whose beeps are known. Of the
// true beeps, those heard have one start and one end in place, blurred ones were
// heard with an edge out of place or in pieces, missed ones not at all. False
// are beeps that touch no true one; chirps are false ones too short to be taken
// for a beep by Steps.
type tally struct {
	beeps, heard, blurred, missed, wrong, chirps int
	worst                                        float64 // edge of those heard, seconds
}

func (t *tally) add(o tally) {
	t.beeps += o.beeps
	t.heard += o.heard
	t.blurred += o.blurred
	t.missed += o.missed
	t.wrong += o.wrong
	t.chirps += o.chirps
	t.worst = max(t.worst, o.worst)
}

func (t tally) String() string {
	return fmt.Sprintf("%d beeps, %d missed, %d blurred; %d false, %d chirps; edges to %.0f ms",
		t.beeps, t.missed, t.blurred, t.wrong, t.chirps, 1000*t.worst)
}

// count matches events with the true beeps; an edge is in place within 60 ms.
func count(events []Event, truth []span, rate int) tally {
	t := tally{beeps: len(truth)}
	got := make([][]span, len(truth))
	chirp := int64(DefaultPace().Chirp.Seconds() * float64(rate))
	for i := 0; i+1 < len(events); i += 2 {
		b := span{events[i].At, events[i+1].At}
		k := slices.IndexFunc(truth, func(s span) bool { return b.from < s.to && s.from < b.to })
		switch {
		case k >= 0:
			got[k] = append(got[k], b)
		case b.to-b.from < chirp:
			t.chirps++
		default:
			t.wrong++
		}
	}
	for k, s := range truth {
		if len(got[k]) == 0 {
			t.missed++
			continue
		}
		worst := max(seconds(got[k][0].from-s.from, rate), seconds(got[k][len(got[k])-1].to-s.to, rate))
		if len(got[k]) > 1 || worst > 0.06 {
			t.blurred++
			continue
		}
		t.heard++
		t.worst = max(t.worst, worst)
	}
	return t
}

func seconds(n int64, rate int) float64 { return float64(max(n, -n)) / float64(rate) }

// learn calibrates on three seconds of the tone in the same noise.
func learn(t *testing.T, rate int, hz, amp, rms float64, noise func(*made), seed uint64) Tone {
	t.Helper()
	m := newMade(rate, 3, seed)
	m.beep(rate/2, 2*rate, hz, amp)
	if noise != nil && rms > 0 {
		m.add(rms, noise)
	}
	tone, err := Calibrate(m.sampled(), rate)
	if err != nil {
		t.Fatalf("calibrating on %.0f Hz at %d/s, amplitude %.3f, noise %.4f: %v", hz, rate, amp, rms, err)
	}
	if d := tone.Hz - hz; d < -0.004*hz-2 || d > 0.004*hz+2 {
		t.Fatalf("learnt %.1f Hz for %.0f Hz", tone.Hz, hz)
	}
	return tone
}

func listen(t *testing.T, tone Tone, rate int, samples []float64) []Event {
	t.Helper()
	h, err := NewHearer(tone, rate)
	if err != nil {
		t.Fatal(err)
	}
	return append(h.Feed(samples), h.Flush()...)
}

// setups are meters and microphones; amplitude is of full scale.
var setups = []struct {
	hz   float64
	rate int
	amp  float64
}{
	{2000, 16000, 0.1},
	{1050, 8000, 0.3},
	{4450, 44100, 0.02},
	{2730, 22050, 0.05},
	{3300, 16000, 0.01},
}

// garage gives the noises; level is their root mean square against the beep's
// amplitude, in dB: at 0 the noise is twice as powerful as the beep. Most false
// beeps in the ten minutes of each are bounded at none, by name at what the
// physics leaves: a struck part may ring at the meter's own pitch for a fifth of
// a second, and a note of the scale may be that pitch.
var garage = []struct {
	name      string
	level     float64
	make      func(hz float64) func(*made)
	mostFalse int
}{
	{"white noise", -3, func(float64) func(*made) { return white }, 0},
	{"pink noise", 3, func(float64) func(*made) { return pink }, 0},
	{"mains hum", 6, func(float64) func(*made) { return hum }, 0},
	{"clanks", 0, func(float64) func(*made) { return clanks }, 3},
	{"compressor", 3, func(float64) func(*made) { return compressor }, 0},
	{"speech", 3, func(float64) func(*made) { return speech }, 1},
	{"music", -3, func(float64) func(*made) { return music }, 0},
	{"another meter", 0, func(hz float64) func(*made) { return otherMeter(hz * 0.91) }, 0},
	{"another, higher", 0, func(hz float64) func(*made) { return otherMeter(hz * 1.07) }, 0},
}

// scene plays a minute of noise by itself and the same with beeps.
func scene(t *testing.T, tone Tone, rate int, hz, amp, rms float64, noise func(*made), seed uint64) tally {
	t.Helper()
	m := newMade(rate, 60, seed)
	m.add(rms, noise)
	sum := count(listen(t, tone, rate, m.sampled()), nil, rate)
	truth := m.beeps(hz, amp)
	sum.add(count(listen(t, tone, rate, m.sampled()), truth, rate))
	return sum
}

// TestGarage counts false and missed beeps in two minutes of each noise for
// each setup, and prints the figures. The tone is learnt while the garage is
// nearly quiet: noise comes and goes.
func TestGarage(t *testing.T) {
	n := len(setups)
	if testing.Short() {
		n = 2
	}
	var all tally
	minutes := 0
	for gi, g := range garage {
		var sum tally
		for si, s := range setups[:n] {
			if g.name == "music" && s.hz == 1050 {
				continue // TestMusicOnPitch
			}
			seed := uint64(100*gi + si)
			rms := s.amp * fromDecibels(g.level)
			tone := learn(t, s.rate, s.hz, s.amp, rms/30, white, seed)
			got := scene(t, tone, s.rate, s.hz, s.amp, rms, g.make(s.hz), seed)
			if got.wrong+got.chirps+got.missed+got.blurred > 0 {
				t.Logf("  %s, %.0f Hz at %d/s: %v", g.name, s.hz, s.rate, got)
			}
			sum.add(got)
			minutes += 2
		}
		all.add(sum)
		t.Logf("%-15s %+3.0f dB: %v", g.name, g.level, sum)
		if sum.wrong > g.mostFalse {
			t.Errorf("%s: %d false beeps, %d at most", g.name, sum.wrong, g.mostFalse)
		}
		if sum.missed > 0 || sum.blurred*10 > sum.beeps {
			t.Errorf("%s: %d of %d missed, %d blurred", g.name, sum.missed, sum.beeps, sum.blurred)
		}
	}
	t.Logf("in %d minutes: %v", minutes, all)
}

// TestMusicOnPitch is the case that no ear can settle: the C of the sixth
// octave, 1046.5 Hz, against a beeper of 1050. It is bounded, not hidden.
func TestMusicOnPitch(t *testing.T) {
	tone := learn(t, 8000, 1050, 0.3, 0, nil, 1)
	got := scene(t, tone, 8000, 1050, 0.3, 0.3*fromDecibels(-3), music, 601)
	t.Log(got)
	if got.wrong > 14 || got.missed > 0 {
		t.Errorf("on the meter's own pitch: %v", got)
	}
}

// TestLouderGarage goes on to noise in which the beep drowns. What must hold:
// where hearing fails it fails by missing, not by beeps out of nowhere.
func TestLouderGarage(t *testing.T) {
	s := setups[0]
	var all tally
	for gi, g := range garage[:7] {
		for _, more := range []float64{6, 12} {
			rms := s.amp * fromDecibels(g.level+more)
			tone := learn(t, s.rate, s.hz, s.amp, 0, nil, uint64(gi))
			got := scene(t, tone, s.rate, s.hz, s.amp, rms, g.make(s.hz), uint64(500+gi))
			t.Logf("%-12s %+3.0f dB: %v", g.name, g.level+more, got)
			all.add(got)
		}
	}
	t.Logf("in 28 minutes: %v", all)
	if all.wrong > 20 {
		t.Errorf("%d false beeps in 28 minutes of loud noise", all.wrong)
	}
}

// TestPieces feeds the same sound whole and in odd pieces.
func TestPieces(t *testing.T) {
	m := newMade(16000, 10, 4)
	m.add(0.02, white)
	m.beeps(2400, 0.1)
	x := m.sampled()
	tone := Tone{Hz: 2400, Level: 0.1, Room: 0.003}
	whole := listen(t, tone, 16000, x)
	if len(whole) < 4 {
		t.Fatalf("only %d events", len(whole))
	}
	h, _ := NewHearer(tone, 16000)
	var parts []Event
	for i, n := 0, 1; i < len(x); n = n*7%1013 + 1 {
		j := min(len(x), i+n)
		parts = append(parts, h.Feed(x[i:j])...)
		i = j
	}
	parts = append(parts, h.Flush()...)
	if fmt.Sprint(parts) != fmt.Sprint(whole) {
		t.Errorf("in pieces %v, whole %v", parts, whole)
	}
}

// TestGoertzel compares with the sum that defines the transform.
func TestGoertzel(t *testing.T) {
	f := newFraming(16000)
	for _, hz := range []float64{1000, 2345.6, 4400} {
		m := newMade(16000, 0.1, 9)
		m.sine(0, len(m.x), hz, 0.37, 0)
		win := f.windowed(nil, m.x)
		amp, _ := f.amplitude(win, hz)
		if amp < 0.369 || amp > 0.371 {
			t.Errorf("a sine of amplitude 0.37 at %.1f Hz reads %.4f", hz, amp)
		}
		if away, _ := f.amplitude(win, hz+150); away > 0.02 {
			t.Errorf("150 Hz beside %.1f Hz it still reads %.4f", hz, away)
		}
		_, p0 := f.amplitude(f.windowed(nil, m.x), hz-11)
		_, p1 := f.amplitude(f.windowed(nil, m.x[f.hop:]), hz-11)
		if off := f.pitchError(hz-11, p1, p0); off < 10.5 || off > 11.5 {
			t.Errorf("a tone 11 Hz above is placed %.2f Hz above", off)
		}
	}
}
