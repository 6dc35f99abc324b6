package ears

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
)

// raw codes samples as 16-bit little-endian.
func raw(x []float64) []byte {
	out := make([]byte, 0, 2*len(x))
	for _, v := range x {
		out = binary.LittleEndian.AppendUint16(out, uint16(int16(math.Round(v*32768))))
	}
	return out
}

// wav builds a WAV: kind and bits of the samples, their bytes, the size to
// claim, and a chunk of odd length before the sound.
func wav(kind, channels, rate, bits int, data []byte, claim uint32) []byte {
	le := binary.LittleEndian
	b := []byte("RIFF\x00\x00\x00\x00WAVELIST")
	b = append(le.AppendUint32(b, 3), 'a', 'b', 'c', 0)
	b = le.AppendUint32(append(b, "fmt "...), 16)
	b = le.AppendUint16(le.AppendUint16(b, uint16(kind)), uint16(channels))
	b = le.AppendUint32(le.AppendUint32(b, uint32(rate)), uint32(rate*channels*bits/8))
	b = le.AppendUint16(le.AppendUint16(b, uint16(channels*bits/8)), uint16(bits))
	return append(le.AppendUint32(append(b, "data"...), claim), data...)
}

func readAll(t *testing.T, r io.Reader) ([]float64, int) {
	t.Helper()
	s, err := Open(r, 16000)
	if err != nil {
		t.Fatal(err)
	}
	var out []float64
	buf := make([]float64, 7)
	for {
		n, err := s.Read(buf)
		out = append(out, buf[:n]...)
		if errors.Is(err, io.EOF) {
			return out, s.Rate()
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestForms reads the same samples from every form.
func TestForms(t *testing.T) {
	want := []float64{0, 0.5, -0.5, 0.25, -1, 0.75, 0.125, -0.125, 0.5}
	le := binary.LittleEndian
	var u8, s24, s32, f32, f64, stereo []byte
	for _, v := range want {
		u8 = append(u8, byte(v*128+128))
		x := int32(v * (1 << 30) * 2)
		if v == -1 {
			x = math.MinInt32
		}
		s24 = append(s24, byte(x>>8), byte(x>>16), byte(x>>24))
		s32 = le.AppendUint32(s32, uint32(x))
		f32 = le.AppendUint32(f32, math.Float32bits(float32(v)))
		f64 = le.AppendUint64(f64, math.Float64bits(v))
		stereo = append(stereo, raw([]float64{v, v})...)
	}
	ext := wav(wavExtensible, 1, 22050, 16, raw(want), 18)
	i := bytes.Index(ext, []byte("fmt "))
	tail := append([]byte{22, 0, 16, 0, 4, 0, 0, 0, 1, 0}, make([]byte, 14)...)
	ext = append(ext[:i+24:i+24], append(tail, ext[i+24:]...)...)
	le.PutUint32(ext[i+4:], 40)
	for name, c := range map[string]struct {
		data []byte
		rate int
	}{
		"raw":                 {raw(want), 16000},
		"raw, half a sample":  {append(raw(want), 9), 16000},
		"wav":                 {wav(1, 1, 44100, 16, raw(want), 18), 44100},
		"wav with more after": {wav(1, 1, 44100, 16, append(raw(want), "LIST\x02\x00\x00\x00xx"...), 18), 44100},
		"wav pipe, no size":   {wav(1, 1, 8000, 16, raw(want), 0), 8000},
		"wav pipe, all ones":  {wav(1, 1, 8000, 16, raw(want), 0xFFFFFFFF), 8000},
		"wav cut short":       {wav(1, 1, 8000, 16, raw(want), 4000), 8000},
		"wav, stereo":         {wav(1, 2, 48000, 16, stereo, 36), 48000},
		"wav, 8 bits":         {wav(1, 1, 8000, 8, u8, 9), 8000},
		"wav, 24 bits":        {wav(1, 1, 8000, 24, s24, 27), 8000},
		"wav, 32 bits":        {wav(1, 1, 8000, 32, s32, 36), 8000},
		"wav, float":          {wav(3, 1, 8000, 32, f32, 36), 8000},
		"wav, double":         {wav(3, 1, 8000, 64, f64, 72), 8000},
		"wav, extensible":     {ext, 22050},
	} {
		for _, r := range []io.Reader{bytes.NewReader(c.data), iotest.OneByteReader(bytes.NewReader(c.data))} {
			got, rate := readAll(t, r)
			if rate != c.rate || len(got) != len(want) {
				t.Errorf("%s: %d samples at %d", name, len(got), rate)
				continue
			}
			for i := range want {
				if math.Abs(got[i]-want[i]) > 1e-6 {
					t.Errorf("%s: sample %d is %v, not %v", name, i, got[i], want[i])
				}
			}
		}
	}
}

// TestBadSound refuses with a sentence.
func TestBadSound(t *testing.T) {
	good := wav(1, 1, 8000, 16, raw([]float64{0, 0}), 4)
	with := func(at int, v byte) []byte {
		b := bytes.Clone(good)
		b[bytes.Index(b, []byte("fmt "))+8+at] = v
		return b
	}
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":     {nil, "no sound"},
		"other riff":  {[]byte("RIFF\x00\x00\x00\x00AVI xxxxxxxx"), "no WAV"},
		"cut":         {good[:30], "ends before"},
		"no format":   {append(append([]byte{}, good[:12]...), "data\x04\x00\x00\x00abcd"...), "how its sound is coded"},
		"coded":       {with(0, 0x55), "not plain sound"},
		"no channels": {with(2, 0), "0 channels"},
		"rate 64":     {append([]byte{}, with(5, 0)...), "samples a second"},
		"12 bits":     {with(14, 12), "12 bits"},
		"odd align":   {with(12, 3), "contradicts"},
	} {
		if _, err := Open(bytes.NewReader(c.data), 16000); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; wanted %q", name, err, c.want)
		}
	}
	for i := range good {
		s, err := Open(bytes.NewReader(good[:i]), 16000)
		if err == nil {
			_, _ = s.Read(make([]float64, 4))
		}
	}
}

// FuzzOpen: no bytes make it panic or loop.
func FuzzOpen(f *testing.F) {
	f.Add(wav(1, 2, 8000, 24, make([]byte, 12), 12))
	f.Add([]byte("RIFF....WAVEfmt \x10\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := Open(bytes.NewReader(b), 16000)
		if err != nil {
			return
		}
		buf := make([]float64, 64)
		for total := 0; ; {
			n, err := s.Read(buf)
			if total += n; err != nil {
				return
			}
			if n == 0 || total > len(b) {
				t.Fatalf("%d samples of %d bytes", total, len(b))
			}
		}
	})
}
