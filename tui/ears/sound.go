package ears

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// Sound is a stream of samples of one channel.
type Sound struct {
	r        *bufio.Reader
	rate     int
	channels int
	bytes    int // in one sample of one channel
	float    bool
	left     int64 // bytes still to come; -1: until the end
	frame    []byte
}

// Rate is the number of samples a second.
func (s *Sound) Rate() int { return s.rate }

// BytesPerSecond is how much of the stream a second of sound takes.
func (s *Sound) BytesPerSecond() int { return s.rate * s.channels * s.bytes }

// Open reads sound from any reader: a WAV file or a WAV pipe, known by its
// first four bytes, else raw signed 16-bit little-endian samples, one channel,
// rate samples a second. Of a WAV with several channels the mean is heard.
func Open(r io.Reader, rate int) (*Sound, error) {
	s := &Sound{r: bufio.NewReaderSize(r, 4096), rate: rate, channels: 1, bytes: 2, left: -1}
	head, err := s.r.Peek(4)
	if err != nil {
		if errors.Is(err, io.EOF) {
			return nil, errors.New("the recorder gave no sound: try its command by itself, it must write sound to its standard output")
		}
		return nil, fmt.Errorf("the sound cannot be read: %w", err)
	}
	if string(head) == "RIFF" {
		if err := s.wavHead(); err != nil {
			return nil, err
		}
	}
	if err := checkRate(s.rate); err != nil {
		return nil, err
	}
	s.frame = make([]byte, s.bytes*s.channels)
	return s, nil
}

// Formats of a WAV file, as its fmt chunk numbers them (RIFF 1.0, 1991, and the
// extensible form, whose true number stands in the first bytes of a GUID).
const (
	wavPCM        = 1
	wavFloat      = 3
	wavExtensible = 0xFFFE
)

// wavHead reads up to the first sample. Chunks may come in any order and any
// number; an odd one is padded. A pipe's data size may be 0 or all ones.
func (s *Sound) wavHead() error {
	var riff [12]byte
	if _, err := io.ReadFull(s.r, riff[:]); err != nil || string(riff[8:]) != "WAVE" {
		return errors.New("the file begins like RIFF but is no WAV: save the sound as WAV, 16 bits")
	}
	known := false
	for {
		var head [8]byte
		if _, err := io.ReadFull(s.r, head[:]); err != nil {
			return errors.New("the WAV ends before its sound: record it again")
		}
		size := int64(binary.LittleEndian.Uint32(head[4:]))
		switch string(head[:4]) {
		case "fmt ":
			if size < 16 || size > 4096 {
				return fmt.Errorf("the WAV's format part has %d bytes and cannot be read: save it anew as plain 16-bit WAV", size)
			}
			body := make([]byte, size+size%2)
			if _, err := io.ReadFull(s.r, body); err != nil {
				return errors.New("the WAV ends before its sound: record it again")
			}
			if err := s.wavFormat(body); err != nil {
				return err
			}
			known = true
		case "data":
			if !known {
				return errors.New("the WAV does not say how its sound is coded: save it anew as plain 16-bit WAV")
			}
			if size != 0 && size < 0x7FFFFF00 { // what recorders write when they do not know
				s.left = size
			}
			return nil
		default:
			if _, err := io.CopyN(io.Discard, s.r, size+size%2); err != nil {
				return errors.New("the WAV ends before its sound: record it again")
			}
		}
	}
}

func (s *Sound) wavFormat(b []byte) error {
	kind := int(binary.LittleEndian.Uint16(b))
	s.channels = int(binary.LittleEndian.Uint16(b[2:]))
	rate := binary.LittleEndian.Uint32(b[4:])
	align := int(binary.LittleEndian.Uint16(b[12:]))
	bits := int(binary.LittleEndian.Uint16(b[14:]))
	if kind == wavExtensible && len(b) >= 26 {
		kind = int(binary.LittleEndian.Uint16(b[24:]))
	}
	s.float = kind == wavFloat
	s.bytes = bits / 8
	s.rate = int(min(rate, 1<<30))
	switch {
	case s.channels < 1 || s.channels > 64:
		return fmt.Errorf("the WAV says it has %d channels: save it anew with one", s.channels)
	case kind != wavPCM && kind != wavFloat:
		return fmt.Errorf("the WAV is coded in form %d, which is not plain sound: save it as 16-bit PCM", kind)
	case s.float && bits != 32 && bits != 64, !s.float && bits != 8 && bits != 16 && bits != 24 && bits != 32:
		return fmt.Errorf("the WAV has samples of %d bits: save it with 16", bits)
	case align != s.bytes*s.channels:
		return errors.New("the WAV's format part contradicts itself: save it anew as plain 16-bit WAV")
	}
	return nil
}

// Read fills dst with samples and gives their number. It returns io.EOF once
// there are no more; half a sample at the end is dropped. It does not wait to
// fill dst when some samples have come.
func (s *Sound) Read(dst []float64) (int, error) {
	n := 0
	for n < len(dst) {
		if n > 0 && s.r.Buffered() < len(s.frame) {
			return n, nil
		}
		if s.left >= 0 && s.left < int64(len(s.frame)) {
			return n, eofIfNone(n, io.EOF)
		}
		if _, err := io.ReadFull(s.r, s.frame); err != nil {
			if errors.Is(err, io.ErrUnexpectedEOF) {
				err = io.EOF
			}
			return n, eofIfNone(n, err)
		}
		if s.left >= 0 {
			s.left -= int64(len(s.frame))
		}
		sum := 0.0
		for c := range s.channels {
			sum += s.sample(s.frame[c*s.bytes:])
		}
		dst[n] = sum / float64(s.channels)
		n++
	}
	return n, nil
}

func eofIfNone(n int, err error) error {
	if n > 0 {
		return nil
	}
	return err
}

// sample decodes one sample; what is no number is silence.
func (s *Sound) sample(b []byte) float64 {
	switch {
	case s.float && s.bytes == 4:
		return finite(float64(math.Float32frombits(binary.LittleEndian.Uint32(b))))
	case s.float:
		return finite(math.Float64frombits(binary.LittleEndian.Uint64(b)))
	case s.bytes == 1:
		return (float64(b[0]) - 128) / 128
	case s.bytes == 2:
		return float64(int16(binary.LittleEndian.Uint16(b))) / 32768
	case s.bytes == 3:
		return float64(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)) / (1 << 31)
	}
	return float64(int32(binary.LittleEndian.Uint32(b))) / (1 << 31)
}

func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return min(8, max(-8, x))
}
