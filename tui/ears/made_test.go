package ears

import (
	"math"
	"math/rand/v2"
)

// Sounds made for the tests: a meter's beeper and what a garage adds to it.

// span is a stretch of a beep, in samples.
type span struct{ from, to int64 }

// made is a sound being made.
type made struct {
	rate int
	x    []float64
	rng  *rand.Rand
}

func newMade(rate int, seconds float64, seed uint64) *made {
	return &made{rate: rate, x: make([]float64, int(seconds*float64(rate))), rng: rand.New(rand.NewPCG(seed, 77))}
}

// sine adds a decaying or lasting sine by rotation (cheap, exact enough).
func (m *made) sine(from, n int, hz, amp, decay float64) {
	if hz >= 0.49*float64(m.rate) {
		return
	}
	ph := m.rng.Float64() * 2 * math.Pi
	s, c := math.Sincos(ph)
	ds, dc := math.Sincos(2 * math.Pi * hz / float64(m.rate))
	k := 1.0
	if decay > 0 {
		k = math.Exp(-1 / (decay * float64(m.rate)))
	}
	for i := max(0, from); i < min(len(m.x), from+n); i++ {
		m.x[i] += amp * s
		s, c = (s*dc+c*ds)*k, (c*dc-s*ds)*k
	}
}

// beep adds a piezo beep: fundamental, some third and second harmonic, an
// attack of 3 ms, and a pitch that sags a little as a battery does.
func (m *made) beep(from, n int, hz, amp float64) {
	ph, attack := 0.0, 0.003*float64(m.rate)
	for i := range n {
		if from+i >= len(m.x) {
			break
		}
		e := math.Min(1, math.Min(float64(i), float64(n-i))/attack)
		v := math.Sin(ph)
		if 2*hz < 0.45*float64(m.rate) {
			v += 0.15 * math.Sin(2*ph)
		}
		if 3*hz < 0.45*float64(m.rate) {
			v += 0.25 * math.Sin(3*ph)
		}
		m.x[from+i] += amp * e * v
		ph += 2 * math.Pi * hz * (1 - 0.002*float64(i)/float64(m.rate)) / float64(m.rate)
	}
}

// beeps adds beeps of 0.2 to 1.5 s with pauses of 0.4 to 4 s, and tells where.
func (m *made) beeps(hz, amp float64) []span {
	var out []span
	at := m.rate
	for {
		n := int((0.2 + 1.3*m.rng.Float64()) * float64(m.rate))
		if at+n+m.rate/2 > len(m.x) {
			return out
		}
		m.beep(at, n, hz, amp)
		out = append(out, span{int64(at), int64(at + n)})
		at += n + int((0.4+3.6*m.rng.Float64())*float64(m.rate))
	}
}

// scale brings a noise made by itself to a root mean square value and adds it.
func (m *made) add(rms float64, noise func(*made)) {
	o := &made{rate: m.rate, x: make([]float64, len(m.x)), rng: m.rng}
	noise(o)
	sum := 0.0
	for _, v := range o.x {
		sum += v * v
	}
	k := rms / math.Sqrt(sum/float64(len(o.x))+1e-30)
	for i, v := range o.x {
		m.x[i] += k * v
	}
}

// sampled is the sound after a 16-bit converter that clips.
func (m *made) sampled() []float64 {
	out := make([]float64, len(m.x))
	for i, v := range m.x {
		out[i] = math.Round(math.Max(-1, math.Min(32767.0/32768, v))*32768) / 32768
	}
	return out
}

func white(m *made) {
	for i := range m.x {
		m.x[i] = m.rng.NormFloat64()
	}
}

// pink by the sum of octave-spaced held random values (Voss and McCartney).
func pink(m *made) {
	var rows [14]float64
	sum := 0.0
	for i := range m.x {
		k := 0
		for n := i; n&1 == 1 && k < len(rows)-1; n >>= 1 {
			k++
		}
		sum -= rows[k]
		rows[k] = m.rng.NormFloat64()
		sum += rows[k]
		m.x[i] = sum + m.rng.NormFloat64()
	}
}

// hum of the mains: 50 Hz and forty harmonics.
func hum(m *made) {
	for k := 1; k <= 40; k++ {
		m.sine(0, len(m.x), 50*float64(k), 1/float64(k), 0)
	}
}

// clanks of spanners: a click, then modes that ring for 10 to 120 ms.
func clanks(m *made) {
	for at := 0; at < len(m.x); at += int((0.05 + 1.2*m.rng.Float64()) * float64(m.rate)) {
		amp := 0.3 + m.rng.Float64()
		for range 7 {
			decay := 0.01 + 0.11*m.rng.Float64()
			m.sine(at, int(6*decay*float64(m.rate)), 300+5500*m.rng.Float64(), amp, decay)
		}
		for i := at; i < min(len(m.x), at+m.rate/200); i++ {
			m.x[i] += 3 * amp * m.rng.NormFloat64()
		}
	}
}

// compressor: a piston at 47 Hz that wanders, each stroke a burst of noise.
func compressor(m *made) {
	ph, low := 0.0, 0.0
	for i := range m.x {
		ph += (47 + 2*math.Sin(float64(i)/float64(m.rate))) / float64(m.rate)
		f := ph - math.Floor(ph)
		low += 0.4 * (m.rng.NormFloat64() - low)
		m.x[i] = 2*math.Exp(-12*f)*math.Sin(90*f) + low*(0.2+math.Exp(-6*f))
	}
}

// speech: a glottal pulse train of wandering pitch through three formants that
// move from syllable to syllable, with hissed consonants between.
func speech(m *made) {
	var y [3][2]float64
	var gain, damp [3]float64
	ph, pitch, hiss, left := 0.0, 120.0, false, 0
	for i := range m.x {
		if left--; left <= 0 {
			left = int((0.06 + 0.2*m.rng.Float64()) * float64(m.rate))
			pitch = 90 + 130*m.rng.Float64()
			hiss = m.rng.Float64() < 0.25
			form := [3]float64{300 + 500*m.rng.Float64(), 900 + 1300*m.rng.Float64(), 2300 + 1000*m.rng.Float64()}
			for k, f := range form {
				r := math.Exp(-math.Pi * (60 + 40*float64(k)) / float64(m.rate))
				gain[k], damp[k] = 2*r*math.Cos(2*math.Pi*f/float64(m.rate)), r*r
			}
		}
		ph += pitch * (1 + 0.05*math.Sin(float64(i)*6/float64(m.rate))) / float64(m.rate)
		in := 0.0
		if ph >= 1 {
			ph, in = ph-1, 1
		}
		if hiss {
			in = 0.1 * m.rng.NormFloat64()
		}
		for k := range gain {
			v := in + gain[k]*y[k][0] - damp[k]*y[k][1]
			y[k][1], y[k][0] = y[k][0], v
			m.x[i] += v / float64(k+1)
		}
	}
}

// music: chords of three notes, equal temperament, eight harmonics each.
func music(m *made) {
	for at := 0; at < len(m.x); {
		n := int((0.2 + 0.8*m.rng.Float64()) * float64(m.rate))
		root := 48 + m.rng.IntN(24)
		for _, up := range []int{0, 3 + m.rng.IntN(2), 7} {
			hz := 440 * math.Pow(2, float64(root+up-69)/12)
			for h := 1; h <= 8; h++ {
				m.sine(at, n, hz*float64(h), 1/float64(h), 0.4)
			}
		}
		at += n
	}
}

// otherMeter gives another meter's beeps at another pitch.
func otherMeter(hz float64) func(*made) {
	return func(m *made) { m.beeps(hz, 1) }
}
