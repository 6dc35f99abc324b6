//go:build linux

package main

import (
	"bytes"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bellout/mapping"
)

// tape makes a WAV of a bench: the probes held together for a good three
// seconds, then a beep of 0.6 s every 4.6 s, in a quiet room.
func tape(seconds int) []byte {
	const rate, hz = 16000, 2345.0
	rng := rand.New(rand.NewPCG(1, 2))
	var data bytes.Buffer
	for i := range seconds * rate {
		at := float64(i) / rate
		v := 0.002 * rng.NormFloat64()
		if at > 0.1 && at < 3.4 || at > 4 && math.Mod(at-4, 4.6) > 4 {
			v += 0.2 * math.Sin(2*math.Pi*hz*at)
		}
		_ = binary.Write(&data, binary.LittleEndian, int16(v*32767))
	}
	var w bytes.Buffer
	w.WriteString("RIFF")
	_ = binary.Write(&w, binary.LittleEndian, uint32(36+data.Len()))
	w.WriteString("WAVEfmt ")
	_ = binary.Write(&w, binary.LittleEndian, []uint32{16})
	_ = binary.Write(&w, binary.LittleEndian, []uint16{1, 1})
	_ = binary.Write(&w, binary.LittleEndian, []uint32{rate, 2 * rate})
	_ = binary.Write(&w, binary.LittleEndian, []uint16{2, 16})
	w.WriteString("data")
	_ = binary.Write(&w, binary.LittleEndian, uint32(data.Len()))
	w.Write(data.Bytes())
	return w.Bytes()
}

// TestHandsFreeInATerminal is the whole way from a sound to readings on the
// disk, through the real program: the tone is learnt, sweeps are answered by
// ear alone, and the instructions are spoken through a program.
func TestHandsFreeInATerminal(t *testing.T) {
	if testing.Short() {
		t.Skip("a tape plays in its own time")
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "bench.wav"), tape(60), 0o600); err != nil {
		t.Fatal(err)
	}
	s := sitDown(t, dir, "new", "twin", "--listen", "bench.wav", "--speak", "tee -a spoken.txt")
	for _, line := range []struct{ want, says string }{
		{"What do you call this pod?", "left"}, {"How many wires", "4"}, {"metal body", ""},
		{"Which switches", "dip, horn"}, {"horn out", ""}, {"How are the leads held?", ""},
	} {
		s.see(line.want)
		s.keys(line.says + "\r")
		time.Sleep(50 * time.Millisecond)
	}
	s.see("RED needle")
	s.keys("h")
	s.see("learnt your meter's beep")
	heard := map[mapping.Outcome]int{}
	asked := func() bool { // the first sweep was on the screen before the ear was
		spoken, err := os.ReadFile(filepath.Join(dir, "spoken.txt"))
		return err == nil && strings.Contains(string(spoken), "Red on")
	}
	for end := time.Now().Add(40 * time.Second); (len(heard) < 2 || !asked()) && time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if !strings.Contains(s.screen(), "hands free") {
			s.keys("h") // the clips are on for the next sweep
			time.Sleep(300 * time.Millisecond)
		}
		clear(heard)
		if w := s.work(); w != nil {
			for _, r := range w.Readings {
				heard[r.Outcome]++
			}
		}
	}
	if heard[mapping.Sounded] == 0 || heard[mapping.Silent] == 0 || len(heard) != 2 {
		t.Fatalf("heard %v, beeps and silences are on the tape\n%s", heard, s.screen())
	}
	spoken, err := os.ReadFile(filepath.Join(dir, "spoken.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Red on", "black on", "Hold the probes together"} {
		if !strings.Contains(string(spoken), want) {
			t.Errorf("it did not say %q aloud:\n%s", want, spoken)
		}
	}
	s.keys("Q")
	if err := s.cmd.Wait(); err != nil {
		t.Errorf("left with %v", err)
	}
}
