package ears

import (
	"strings"
	"testing"
)

// TestCalibrate learns tones of several pitches, levels and rates, in noise.
func TestCalibrate(t *testing.T) {
	for i, hz := range []float64{1000, 1480, 2048, 2731, 3150, 4096, 4500} {
		for k, rate := range []int{8000, 11025, 16000, 44100} {
			if hz > highest(rate) {
				continue
			}
			amp := []float64{0.5, 0.05, 0.005}[(i+k)%3]
			tone := learn(t, rate, hz, amp, amp/10, pink, uint64(i*10+k))
			if tone.Level < 0.8*amp || tone.Level > 1.25*amp {
				t.Errorf("%.0f Hz at %d/s: level %.4f learnt for %.4f", hz, rate, tone.Level, amp)
			}
			if tone.Over() < leastOver {
				t.Errorf("%.0f Hz at %d/s: %.1f dB over the room", hz, rate, tone.Over())
			}
		}
	}
}

// TestCalibrateWholeTime learns from a tone that never stops.
func TestCalibrateWholeTime(t *testing.T) {
	m := newMade(16000, 3, 1)
	m.add(0.003, white)
	m.beep(0, len(m.x), 2700, 0.1)
	tone, err := Calibrate(m.sampled(), 16000)
	if err != nil || tone.Hz < 2685 || tone.Hz > 2705 {
		t.Fatalf("%+v, %v", tone, err)
	}
}

// TestCalibrateRefuses says why and what to do.
func TestCalibrateRefuses(t *testing.T) {
	make3 := func(fill func(*made)) []float64 {
		m := newMade(16000, 3, 8)
		m.add(0.002, pink)
		fill(m)
		return m.sampled()
	}
	second := 16000
	for name, c := range map[string]struct {
		samples []float64
		rate    int
		want    string
	}{
		"no time":      {make([]float64, 4000), 16000, "only 0.2 s"},
		"dead":         {make([]float64, 48000), 16000, "no sound at all"},
		"odd rate":     {make([]float64, 48000), 4000, "samples a second"},
		"only noise":   {make3(func(m *made) { m.add(0.1, white) }), 16000, "no steady tone"},
		"only speech":  {make3(func(m *made) { m.add(0.1, speech) }), 16000, "no steady tone"},
		"only hum":     {make3(func(m *made) { m.add(0.3, hum) }), 16000, "no steady tone"},
		"only clanks":  {make3(func(m *made) { m.add(0.1, clanks) }), 16000, "tone"},
		"a short beep": {make3(func(m *made) { m.beep(second, second/5, 2000, 0.1) }), 16000, "no steady tone"},
		"two meters": {make3(func(m *made) {
			m.beep(second/2, 2*second, 2000, 0.1)
			m.beep(second, second, 3300, 0.08)
		}), 16000, "two tones were heard, at 20"},
		"a whine too": {make3(func(m *made) {
			m.beep(second/2, 2*second, 2000, 0.1)
			m.sine(0, len(m.x), 3450, 0.06, 0)
		}), 16000, "two tones"},
		"too quiet": {make3(func(m *made) { m.beep(second/2, 2*second, 2000, 0.0008) }), 16000, "too quiet"},
	} {
		tone, err := Calibrate(c.samples, c.rate)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %+v, %v; wanted %q", name, tone, err, c.want)
		}
	}
}

// TestOvertonesAreOneTone keeps a strong overtone from being a second tone.
func TestOvertonesAreOneTone(t *testing.T) {
	m := newMade(16000, 3, 2)
	m.add(0.002, pink)
	for k, amp := range []float64{0.05, 0.1, 0.08} {
		m.beep(12000, 30000, 1200*float64(k+1), amp)
	}
	tone, err := Calibrate(m.sampled(), 16000)
	if err != nil || tone.Hz < 2390 || tone.Hz > 2410 {
		t.Errorf("%+v, %v", tone, err)
	}
}

// TestHearerRefuses a tone that the sample rate cannot carry.
func TestHearerRefuses(t *testing.T) {
	if _, err := NewHearer(Tone{Hz: 4400, Level: 0.1}, 8000); err == nil || !strings.Contains(err.Error(), "calibrate again") {
		t.Error(err)
	}
	if _, err := NewHearer(Tone{}, 16000); err == nil {
		t.Error("no tone was taken for one")
	}
}
