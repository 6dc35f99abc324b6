package ears

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"
)

// TestMain lets the test binary stand in for a recorder.
func TestMain(m *testing.M) {
	switch os.Getenv("EARS_TEST_RECORDER") {
	case "":
		os.Exit(m.Run())
	case "session":
		_, _ = os.Stdout.Write(raw(session().sampled()))
	case "endless":
		for {
			if _, err := os.Stdout.Write(make([]byte, 3200)); err != nil {
				os.Exit(0)
			}
			time.Sleep(20 * time.Millisecond)
		}
	case "fails":
		fmt.Fprintln(os.Stderr, "warming up\n\x1b[31mno such sound card")
		os.Exit(3)
	case "mute":
		time.Sleep(time.Minute)
	}
	os.Exit(0)
}

// session is three seconds of calibration, then steps of four seconds each:
// beep, silence, chirp, beep held over into the next, which is beep too.
func session() *made {
	const rate = 16000
	m := newMade(rate, 24, 5)
	m.add(0.01, pink)
	m.beep(rate/2, 2*rate, 2345, 0.1)
	step := func(n int, s float64) int { return 3*rate + int((4*float64(n)+s)*rate) }
	m.beep(step(0, 1), rate/2, 2345, 0.1)
	m.beep(step(2, 1.2), rate/8, 2345, 0.1)
	m.beep(step(3, 1), 6*rate, 2345, 0.1)
	return m
}

// drive plays the session through an ear as the screen would: a new step every
// four seconds of sound.
func drive(t *testing.T, s *Sound) []string {
	t.Helper()
	e := New(s, DefaultPace())
	if _, err := e.Next(); err == nil || !strings.Contains(err.Error(), "calibrate") {
		t.Fatalf("without a tone: %v", err)
	}
	tone, err := e.Learn(3 * time.Second)
	if err != nil {
		t.Fatal(err)
	}
	if err := e.Use(tone); err != nil {
		t.Fatal(err)
	}
	var got []string
	var n int
	n = e.Begin(Hands{})
	for {
		h, err := e.Next()
		if errors.Is(err, io.EOF) {
			return got
		}
		if err != nil {
			t.Fatal(err)
		}
		if h.Step.Result == NoResult {
			continue
		}
		if h.Number != n {
			t.Errorf("a reading of step %d came in step %d", h.Number, n)
		}
		got = append(got, h.Step.Result.String())
		// The builder goes on when the next four seconds begin.
		next := int64(len(got)) * 4 * 16000
		for e.hearer.Heard() < next && !e.ended {
			k, err := e.sound.Read(e.buf)
			e.take(e.hearer.Feed(e.buf[:k]))
			e.queue = nil
			e.ended = err != nil
		}
		n = e.Begin(Hands{})
	}
}

const wantSession = "beep silence flicker beep beep"

// TestEar goes from samples to readings.
func TestEar(t *testing.T) {
	s, err := Open(strings.NewReader(string(raw(session().sampled()))), 16000)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(drive(t, s), " "); got != wantSession {
		t.Errorf("read %q, wanted %q", got, wantSession)
	}
}

// TestEarLeavesOldSteps: a reading on its way when the next step begins carries
// the old number.
func TestEarLeavesOldSteps(t *testing.T) {
	s, _ := Open(strings.NewReader(string(make([]byte, 16000*2*8))), 16000)
	e := New(s, DefaultPace())
	if err := e.Use(Tone{Hz: 2000, Level: 0.1}); err != nil {
		t.Fatal(err)
	}
	if a, b := e.Begin(Hands{}), e.Begin(Hands{}); b != a+1 {
		t.Errorf("steps %d and %d", a, b)
	}
	h, err := e.Next()
	if err != nil || h.Number != 2 || h.Step.Result != Silence || h.Step.At != 2*16000 {
		t.Errorf("%+v, %v", h, err)
	}
	e.Begin(Hands{})
	e.Cancel()
	if h, err := e.Next(); !errors.Is(err, io.EOF) {
		t.Errorf("a cancelled step gave %+v, %v", h, err)
	}
}

func recorder(t *testing.T, ctx context.Context, kind string) (*Recorder, error) {
	t.Helper()
	t.Setenv("EARS_TEST_RECORDER", kind)
	return Start(ctx, []string{os.Args[0]}, 16000)
}

// TestRecorder runs a recorder that ends by itself.
func TestRecorder(t *testing.T) {
	r, err := recorder(t, context.Background(), "session")
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(drive(t, r.Sound), " "); got != wantSession {
		t.Errorf("read %q, wanted %q", got, wantSession)
	}
	if err := r.Close(); err != nil {
		t.Error(err)
	}
}

// TestRecorderIsKilled by Close and by the context, at once.
func TestRecorderIsKilled(t *testing.T) {
	for _, how := range []string{"close", "context"} {
		ctx, cancel := context.WithCancel(context.Background())
		r, err := recorder(t, ctx, "endless")
		if err != nil {
			t.Fatal(err)
		}
		begun := time.Now()
		if how == "context" {
			cancel()
		}
		if err := r.Close(); err != nil {
			t.Errorf("%s: %v", how, err)
		}
		cancel()
		if d := time.Since(begun); d > 3*time.Second {
			t.Errorf("%s took %v", how, d)
		}
		if _, err := r.Sound.Read(make([]float64, 1<<16)); err == nil {
			if _, err := r.Sound.Read(make([]float64, 1<<16)); err == nil {
				t.Errorf("%s: it goes on", how)
			}
		}
	}
}

// TestRecorderFails in every way with one clean sentence.
func TestRecorderFails(t *testing.T) {
	_, err := recorder(t, context.Background(), "fails")
	if err == nil || !strings.Contains(err.Error(), "code 3") || !strings.Contains(err.Error(), "no such sound card") || strings.ContainsAny(err.Error(), "\x1b\n") {
		t.Errorf("%q", err)
	}
	if _, err := Start(context.Background(), nil, 16000); err == nil {
		t.Error("no command was taken")
	}
	if _, err := Start(context.Background(), []string{"no-such-recorder-here"}, 16000); err == nil || !strings.Contains(err.Error(), "installed") {
		t.Error(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 300*time.Millisecond)
	defer cancel()
	begun := time.Now()
	if _, err := recorder(t, ctx, "mute"); err == nil {
		t.Error("a mute recorder was taken")
	}
	if d := time.Since(begun); d > 5*time.Second {
		t.Errorf("a mute recorder held us for %v", d)
	}
}
