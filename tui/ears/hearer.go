package ears

import (
	"fmt"
	"slices"
)

// EventKind says what was heard.
type EventKind int

// The two events. The zero value is neither.
const (
	BeepStart EventKind = iota + 1
	BeepEnd
)

// String gives the word for an event.
func (k EventKind) String() string {
	switch k {
	case BeepStart:
		return "beep starts"
	case BeepEnd:
		return "beep ends"
	}
	return "nothing"
}

// Event is the start or the end of a beep. At is the sample at which it
// happened, counted from the first sample fed, good to about 15 ms.
type Event struct {
	Kind EventKind
	At   int64
}

// What makes a frame sound like the meter. The levels are dB; holdSlack holds
// a beep once it was heard, so that it does not break up.
const (
	underTone = 10.0 // a beep may be this much quieter than when it was learnt
	overTone  = 9.0  // and this much louder
	overRoom  = 6.0  // and must stand this much above the room
	overNear  = 7.0  // and above its neighbours in pitch: noise stands above nothing
	holdSlack = 5.0  // a beep that was heard is held on to this much below
)

// The pitch of one frame is blurred by noise, the mean over a start is not:
// the first bound is Hz, the second a part of the pitch (piezo beepers drift
// by less while the battery lasts, common practice) or Hz, the larger one.
const (
	pitchFrame = 26.0
	pitchMean  = 0.006
	pitchLeast = 9.0
)

// A beep stays as loud as it began, a struck spanner rings away. A start is
// not believed while the level falls faster than fallRate, in dB a second; and
// a beep has ended when it is fallDepth dB below its own slow mean, which
// follows a meter that is carried about within followSeconds.
const (
	fallRate      = 45.0
	fallDepth     = 8.0
	followSeconds = 0.5
)

// How long a beep or its end must last before it is believed, in seconds.
const (
	confirmSeconds = 0.078
	releaseSeconds = 0.090
)

// nearHz are the distances from the tone, in Hz, at which its neighbours are
// measured: outside the frame's own main lobe (83 Hz), and near enough that the
// harmonics of a voice, a motor or a chord fall on some of them.
var nearHz = [...]float64{-260, -200, -150, 150, 200, 260}

// Hearer finds one meter's beep in a stream of samples.
type Hearer struct {
	f        *framing
	tone     Tone
	on, hold float64   // amplitudes
	ceiling  float64   // amplitude
	trail    []float64 // dB of the last frames, as many as confirm a beep
	offs     []float64 // Hz beside the tone, of the same frames
	mean     float64   // dB of the beep that is on
	buf, win []float64
	at       int64 // sample number of buf[0]
	phase    float64
	sounding bool
	run      int   // frames that spoke for a change
	first    int64 // where the present run began
	last     int64 // the last frame that sounded
	confirm  int
	release  int
}

// NewHearer makes a hearer of a tone in sound of rate samples a second.
func NewHearer(tone Tone, rate int) (*Hearer, error) {
	if err := checkRate(rate); err != nil {
		return nil, err
	}
	if tone.Hz < lowestHz || tone.Hz > highest(rate) {
		return nil, fmt.Errorf("a tone of %.0f Hz cannot be heard at %d samples a second: calibrate again, or record at 16000 or more", tone.Hz, rate)
	}
	f := newFraming(rate)
	h := &Hearer{f: f, tone: tone}
	h.on = max(tone.Level*fromDecibels(-underTone), tone.Room*fromDecibels(overRoom))
	h.hold = max(h.on*fromDecibels(-holdSlack), tone.Room*fromDecibels(overRoom/2))
	h.ceiling = tone.Level * fromDecibels(overTone)
	h.confirm = frames(confirmSeconds)
	h.trail, h.offs = make([]float64, h.confirm), make([]float64, h.confirm)
	h.release = frames(releaseSeconds)
	return h, nil
}

func frames(seconds float64) int { return int(seconds/hopSeconds + 0.5) }

// Heard is the number of samples taken so far that have been judged.
func (h *Hearer) Heard() int64 { return h.at }

// Last is the sample at which the beep was last heard.
func (h *Hearer) Last() int64 { return h.last }

// Feed takes further samples and gives the events found, in order. Cutting the
// same sound into other pieces gives the same events.
func (h *Hearer) Feed(samples []float64) []Event {
	h.buf = append(h.buf, samples...)
	var out []Event
	n := 0
	for ; n+h.f.size <= len(h.buf); n += h.f.hop {
		h.win = h.f.windowed(h.win, h.buf[n:])
		if e, ok := h.frame(); ok {
			out = append(out, e)
		}
		h.at += int64(h.f.hop)
	}
	h.buf = append(h.buf[:0], h.buf[n:]...)
	return out
}

// Flush ends the sound: a beep that is still on ends here.
func (h *Hearer) Flush() []Event {
	if !h.sounding {
		return nil
	}
	h.sounding = false
	return []Event{{Kind: BeepEnd, At: h.at + int64(len(h.buf))}}
}

// frame judges the frame at h.at and moves the state on.
func (h *Hearer) frame() (Event, bool) {
	heard := h.sounds()
	mid := h.at + int64(h.f.size/2)
	if heard {
		h.last = mid
	}
	if heard != h.sounding {
		if h.run == 0 {
			h.first = mid
		}
		h.run++
	} else if h.run > 0 {
		// One stray frame must neither start a run anew nor complete it.
		h.run = max(0, h.run-2)
	}
	switch {
	case !h.sounding && h.run >= h.confirm && h.steady():
		h.sounding, h.run, h.mean = true, 0, mean(h.trail)
		return Event{Kind: BeepStart, At: h.first}, true
	case h.sounding && h.run >= h.release:
		h.sounding, h.run = false, 0
		return Event{Kind: BeepEnd, At: h.last}, true
	}
	return Event{}, false
}

// sounds tells whether this frame holds the tone: loud enough, at its pitch,
// and standing out from its neighbours.
func (h *Hearer) sounds() bool {
	least, out := h.on, fromDecibels(overNear)
	if h.sounding {
		least, out = h.hold, fromDecibels(overNear-holdSlack)
	}
	amp, phase := h.f.amplitude(h.win, h.tone.Hz)
	db := decibels(amp)
	off := h.f.pitchError(h.tone.Hz, phase, h.phase)
	h.phase = phase
	push(h.trail, db)
	push(h.offs, off)
	loose := pitchFrame
	if h.sounding {
		loose *= 2 // a clank during a beep turns its phase
		if db < h.mean-fallDepth {
			return false
		}
		h.mean += (db - h.mean) * hopSeconds / followSeconds
	} else if amp > h.ceiling {
		return false
	}
	return amp >= least && off >= -loose && off <= loose && amp > out*near(h.f, h.win, h.tone.Hz)
}

func push(xs []float64, x float64) {
	copy(xs, xs[1:])
	xs[len(xs)-1] = x
}

func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}

// steady tells whether the last frames keep to the tone's pitch and do not
// fade as a ringing thing does (the slope of the straight line nearest to
// their levels).
func (h *Hearer) steady() bool {
	if off := mean(h.offs); max(off, -off) > max(pitchMean*h.tone.Hz, pitchLeast) {
		return false
	}
	var sxy, sxx float64
	mid := float64(len(h.trail)-1) / 2
	for i, v := range h.trail {
		sxy += (float64(i) - mid) * v
		sxx += (float64(i) - mid) * (float64(i) - mid)
	}
	return sxy/sxx > -fallRate*hopSeconds
}

// near is the amplitude of what surrounds a tone in pitch: the middle of its
// neighbours, so that another tone beside it does not hide it.
func near(f *framing, win []float64, hz float64) float64 {
	var amps [len(nearHz)]float64
	for i, d := range nearHz {
		amps[i], _ = f.amplitude(win, hz+d)
	}
	slices.Sort(amps[:])
	return (amps[len(amps)/2-1] + amps[len(amps)/2]) / 2
}
