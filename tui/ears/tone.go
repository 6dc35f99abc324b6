package ears

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Tone is a meter's beep as it reaches the microphone. Hz is its pitch; Level
// and Room are amplitudes (full scale 1) at that pitch, with and without it.
type Tone struct {
	Hz    float64
	Level float64
	Room  float64
}

// Over is how far the tone stands above the room, in dB.
func (t Tone) Over() float64 { return decibels(t.Level / math.Max(t.Room, 1e-6)) }

// Where a meter's beeper is looked for. Buzzers sound between 1 and 4.5 kHz
// (common practice); below lie hum, voices and motors.
const (
	lowestHz  = 800.0
	highestHz = 6000.0
)

// What a calibration must hold.
const (
	leastSeconds = 1.0   // of sound at all
	toneSeconds  = 0.4   // of tone
	leastLevel   = 0.001 // amplitude: 33 steps of 16 bits
	leastOver    = 14.0  // dB above the room
	rivalWithin  = 18.0  // dB: a second tone this near is a rival
	peakOver     = 12.0  // dB that a frame's peak stands above its surroundings
	binHz        = 20.0  // step of the search
)

func highest(rate int) float64 { return min(highestHz, 0.46*float64(rate)-nearHz[len(nearHz)-1]) }

func checkRate(rate int) error {
	if rate < 8000 || rate > 192000 {
		return fmt.Errorf("%d samples a second cannot be used: record at 8000 to 192000, 16000 is plenty", rate)
	}
	return nil
}

// Calibrate learns the meter's tone from about three seconds of sound (rate
// samples a second) in which the probes were touched together for half a second
// or more. The error says in one sentence what was wrong and what to do: too
// short, no sound at all, no tone, two tones, too quiet.
func Calibrate(samples []float64, rate int) (Tone, error) {
	if err := checkRate(rate); err != nil {
		return Tone{}, err
	}
	if float64(len(samples)) < leastSeconds*float64(rate) {
		return Tone{}, fmt.Errorf("only %.1f s of sound came: calibrate with three seconds, probes touched together", float64(len(samples))/float64(rate))
	}
	if silent(samples) {
		return Tone{}, errors.New("the recorder gives no sound at all: check that the microphone is on and not muted")
	}
	found := steadyTones(samples, rate)
	if len(found) == 0 {
		return Tone{}, errors.New("no steady tone was heard: touch the probes together for two of the three seconds, with the beeper on, close to the microphone")
	}
	best := found[0]
	for _, other := range found[1:] {
		if decibels(best.level/other.level) < rivalWithin && !sameSource(best, other) {
			lo, hi := min(best.hz, other.hz), max(best.hz, other.hz)
			return Tone{}, fmt.Errorf("two tones were heard, at %.0f and %.0f Hz: stop whatever else is sounding and calibrate again", lo, hi)
		}
	}
	t := measure(samples, rate, best.hz)
	if t.Level < leastLevel || t.Over() < leastOver {
		return Tone{}, fmt.Errorf("the tone at %.0f Hz is too quiet, %.0f dB above the room: bring the microphone nearer to the meter", t.Hz, t.Over())
	}
	return t, nil
}

func silent(samples []float64) bool {
	for _, s := range samples {
		if math.Abs(s) > 2.5/32768 {
			return false
		}
	}
	return true
}

// steady is a pitch that stood out for long enough; on tells in which frames.
type steady struct {
	hz    float64
	level float64
	on    []bool
}

// steadyTones finds the pitches that stand out from their surroundings for at
// least toneSeconds, loudest first.
func steadyTones(samples []float64, rate int) []steady {
	f := newFraming(rate)
	n := int((highest(rate) - lowestHz) / binHz)
	hits := make([]int, n)
	sums := make([]float64, n)
	var peaks [][]int
	spec := make([]float64, n)
	var win []float64
	step := 2 * f.hop // half a frame: enough for finding, and half the work
	for at := 0; at+f.size <= len(samples); at += step {
		win = f.windowed(win, samples[at:])
		for i := range spec {
			spec[i], _ = f.amplitude(win, lowestHz+binHz*float64(i))
		}
		ps := peaksOf(spec)
		for _, p := range ps {
			hits[p]++
			sums[p] += spec[p]
		}
		peaks = append(peaks, ps)
	}
	need := int(toneSeconds * float64(rate) / float64(step))
	var out []steady
	for {
		// Take the pitch with most hits within a bin either way, then strike
		// all within a main lobe of it.
		best, most := -1, 0
		for i := 1; i+1 < n; i++ {
			if c := hits[i-1] + hits[i] + hits[i+1]; c > most || c == most && best >= 0 && hits[i] > hits[best] {
				best, most = i, c
			}
		}
		if best < 0 || most < need {
			break
		}
		s := steady{hz: lowestHz + binHz*float64(best), on: make([]bool, len(peaks))}
		s.level = (sums[best-1] + sums[best] + sums[best+1]) / float64(most)
		for k, ps := range peaks {
			s.on[k] = slices.ContainsFunc(ps, func(p int) bool { return p >= best-1 && p <= best+1 })
		}
		if longestRun(s.on) >= need {
			out = append(out, s)
		}
		for i := max(0, best-4); i <= min(n-1, best+4); i++ {
			hits[i], sums[i] = 0, 0
		}
	}
	slices.SortStableFunc(out, func(a, b steady) int { return cmpFloat(b.level, a.level) })
	return out
}

func cmpFloat(a, b float64) int {
	if a < b {
		return -1
	}
	if a > b {
		return 1
	}
	return 0
}

// longestRun is the length of the longest stretch of frames in which a pitch
// was heard, gaps of two forgiven: speech and clanks come back to a pitch, but
// do not stay at it.
func longestRun(on []bool) int {
	best, run, gap := 0, 0, 0
	for _, v := range on {
		if v {
			run, gap = run+1+gap, 0
			best = max(best, run)
		} else if gap++; gap > 2 {
			run, gap = 0, 0
		}
		if run == 0 {
			gap = 0
		}
	}
	return best
}

// peaksOf gives the bins that are local tops and stand peakOver above the
// middle value of their surroundings on each side, main lobe left out.
func peaksOf(spec []float64) []int {
	var out []int
	for i := 1; i+1 < len(spec); i++ {
		if spec[i] < leastLevel/4 || spec[i] <= spec[i-1] || spec[i] < spec[i+1] {
			continue
		}
		below := quantile(spec[max(0, i-14):max(0, i-4)], 0.5)
		above := quantile(spec[min(len(spec), i+5):min(len(spec), i+15)], 0.5)
		if around := max(below, above); around > 0 && spec[i] > fromDecibels(peakOver)*around {
			out = append(out, i)
		}
	}
	return out
}

// sameSource tells whether two tones come from one beeper: one is an overtone
// of the other, or they start and stop together.
func sameSource(a, b steady) bool {
	lo, hi := min(a.hz, b.hz), max(a.hz, b.hz)
	k := math.Round(hi / lo)
	if k >= 2 && math.Abs(hi-k*lo) <= binHz*(k+1)/2 {
		return true
	}
	both, either, off := 0, 0, 0
	for i := range a.on {
		switch {
		case a.on[i] && b.on[i]:
			both++
			either++
		case a.on[i] || b.on[i]:
			either++
		default:
			off++
		}
	}
	return off >= len(a.on)/8 && float64(both) > 0.85*float64(either)
}

// measure refines a pitch by the phase's advance and reads its levels.
func measure(samples []float64, rate int, hz float64) Tone {
	f := newFraming(rate)
	for range 2 {
		hz += f.meanPitchError(samples, hz)
	}
	var with, without, beside []float64
	var win []float64
	var amps []float64
	for at := 0; at+f.size <= len(samples); at += f.hop {
		win = f.windowed(win, samples[at:])
		a, _ := f.amplitude(win, hz)
		amps = append(amps, a)
		beside = append(beside, near(f, win, hz))
	}
	top := quantile(amps, 0.95)
	for _, a := range amps {
		switch {
		case a > top/2:
			with = append(with, a)
		case a < top/5:
			without = append(without, a)
		}
	}
	t := Tone{Hz: hz, Level: quantile(with, 0.5)}
	if len(without) >= frames(0.3) {
		t.Room = quantile(without, 0.9)
	} else {
		t.Room = quantile(beside, 0.9)
	}
	return t
}

// meanPitchError is the middle distance in Hz from hz to the tone near it,
// over the frames that hold it.
func (f *framing) meanPitchError(samples []float64, hz float64) float64 {
	var errs, amps, ph []float64
	var win []float64
	for at := 0; at+f.size <= len(samples); at += f.hop {
		win = f.windowed(win, samples[at:])
		a, p := f.amplitude(win, hz)
		amps, ph = append(amps, a), append(ph, p)
	}
	top := quantile(amps, 0.95)
	for i := 1; i < len(amps); i++ {
		if amps[i] > top/2 && amps[i-1] > top/2 {
			errs = append(errs, f.pitchError(hz, ph[i], ph[i-1]))
		}
	}
	return quantile(errs, 0.5)
}

// quantile gives the value below which the part q of xs lies; 0 for none.
func quantile(xs []float64, q float64) float64 {
	if len(xs) == 0 {
		return 0
	}
	s := slices.Clone(xs)
	slices.Sort(s)
	return s[min(len(s)-1, int(q*float64(len(s))))]
}
