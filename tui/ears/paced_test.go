package ears

import (
	"bytes"
	"io"
	"testing"
	"time"
)

// A tape gives everything, in its own time and not at once.
func TestPaced(t *testing.T) {
	now := time.Unix(0, 0)
	p := &paced{r: bytes.NewReader(make([]byte, 64000)), rate: 32000,
		now: func() time.Time { return now }, sleep: func(d time.Duration) { now = now.Add(d) }}
	all, err := io.ReadAll(p)
	if err != nil || len(all) != 64000 {
		t.Fatalf("%d bytes, %v", len(all), err)
	}
	if took := now.Sub(time.Unix(0, 0)); took < 1900*time.Millisecond || took > 2100*time.Millisecond {
		t.Errorf("two seconds of sound took %v", took)
	}
}

// Idle forgets what has come and leaves when it is told to.
func TestIdle(t *testing.T) {
	r, w := io.Pipe()
	go func() {
		for {
			if _, err := w.Write(make([]byte, 640)); err != nil {
				return
			}
		}
	}()
	s, err := Open(r, 16000)
	if err != nil {
		t.Fatal(err)
	}
	stop, left := make(chan struct{}), make(chan struct{})
	go func() { New(s, DefaultPace()).Idle(stop); close(left) }()
	close(stop)
	select {
	case <-left:
	case <-time.After(5 * time.Second):
		t.Error("it never leaves")
	}
	_ = r.Close()
}
