package ears

import "math"

// A frame is long enough to tell a tone from its neighbours 150 Hz away and
// short enough to time a chirp. Hop is a quarter of it, so that the phase of a
// tone between two frames gives its pitch to a few Hz.
const (
	frameSeconds = 0.024
	hopSeconds   = frameSeconds / 4
)

// framing holds what every analysis at one sample rate shares.
type framing struct {
	rate   int
	size   int // samples in a frame
	hop    int // samples between the starts of two frames
	window []float64
	gain   float64 // sum of the window over two: a sine of amplitude 1 reads as 1
}

func newFraming(rate int) *framing {
	f := &framing{rate: rate}
	f.hop = max(1, int(math.Round(hopSeconds*float64(rate))))
	f.size = 4 * f.hop
	f.window = make([]float64, f.size)
	for i := range f.window {
		// Hann: its first side lobe is 31 dB down, so a loud hum stays away.
		f.window[i] = 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/float64(f.size))
		f.gain += f.window[i] / 2
	}
	return f
}

// goertzel gives one term of the discrete Fourier transform of x, at any
// frequency in Hz, by Goertzel's recurrence (Amer. Math. Monthly 65, 1958): two
// additions and one multiplication a sample.
func goertzel(x []float64, hz float64, rate int) complex128 {
	w := 2 * math.Pi * hz / float64(rate)
	sin, cos := math.Sincos(w)
	c := 2 * cos
	var s1, s2 float64
	for _, v := range x {
		s1, s2 = v+c*s1-s2, s1
	}
	// The constant turn by (n-1)w is left in: it is the same for every frame.
	return complex(s1-s2*cos, s2*sin)
}

// amplitude gives the amplitude (full scale 1) and the phase (radians) at a
// frequency in Hz of a windowed frame.
func (f *framing) amplitude(windowed []float64, hz float64) (amp, phase float64) {
	x := goertzel(windowed, hz, f.rate)
	return math.Hypot(real(x), imag(x)) / f.gain, math.Atan2(imag(x), real(x))
}

// windowed writes the windowed frame that begins at x[0] into dst.
func (f *framing) windowed(dst, x []float64) []float64 {
	dst = dst[:0]
	for i, w := range f.window {
		dst = append(dst, w*x[i])
	}
	return dst
}

// pitchError is how far in Hz a tone lies from hz, from the phases that two
// frames one hop apart gave at hz.
func (f *framing) pitchError(hz, phase, last float64) float64 {
	t := float64(f.hop) / float64(f.rate)
	turn := math.Remainder(phase-last-2*math.Pi*hz*t, 2*math.Pi)
	return turn / (2 * math.Pi * t)
}

// decibels gives a ratio of amplitudes in dB.
func decibels(ratio float64) float64 { return 20 * math.Log10(math.Max(ratio, 1e-12)) }

// fromDecibels is the inverse of decibels.
func fromDecibels(db float64) float64 { return math.Pow(10, db/20) }
