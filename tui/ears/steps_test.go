package ears

import (
	"testing"
	"time"
)

// TestSteps tells a story of beeps in milliseconds (1000 samples a second are
// too few for sound, so the times are scaled) and asks for the reading.
func TestSteps(t *testing.T) {
	const rate = 10000
	ms := func(n int) int64 { return int64(n) * rate / 1000 }
	pace := Pace{Settle: 700 * time.Millisecond, Timeout: 3 * time.Second, Chirp: 180 * time.Millisecond}
	for _, c := range []struct {
		name  string
		beeps [][2]int // start, end; a step begins at 1000
		want  StepResult
		at    int
	}{
		{"nothing", nil, Silence, 4000},
		{"a beep", [][2]int{{2000, 2600}}, Beep, 2180},
		{"a beep that never ends", [][2]int{{2000, 9000}}, Beep, 2180},
		{"on since the last step", [][2]int{{200, 9000}}, Beep, 1880},
		{"the last step's beep ends while the lever settles", [][2]int{{200, 1300}}, Silence, 4000},
		{"its tail ends just after", [][2]int{{200, 1800}}, Silence, 4000},
		{"passing a contact while the lever moves", [][2]int{{1200, 1500}}, Silence, 4000},
		{"a chirp", [][2]int{{2000, 2100}}, Flickered, 4000},
		{"two chirps", [][2]int{{2000, 2100}, {2300, 2400}}, Flickered, 4000},
		{"a chirp, then a beep", [][2]int{{2000, 2100}, {2500, 2900}}, Beep, 2680},
		{"a beep at the last moment", [][2]int{{3950, 4500}}, Beep, 4130},
		{"a chirp at the last moment", [][2]int{{3950, 4050}}, Flickered, 4000},
		{"too late", [][2]int{{4100, 4500}}, Silence, 4000},
	} {
		s, err := NewSteps(pace, rate)
		if err != nil {
			t.Fatal(err)
		}
		var got Step
		n := 0
		take := func(st Step, ok bool) {
			if ok {
				got, n = st, n+1
			}
		}
		for now := 0; now < 10000; now += 10 {
			if now == 1000 {
				s.Begin(ms(now))
			}
			for _, b := range c.beeps {
				if b[0] == now {
					take(s.Take(Event{BeepStart, ms(now)}))
				}
				if b[1] == now {
					take(s.Take(Event{BeepEnd, ms(now)}))
				}
			}
			take(s.Now(ms(now), ms(now)))
		}
		if n != 1 || got.Result != c.want || got.At != ms(c.at) {
			t.Errorf("%s: %d readings, %v at %d ms; wanted %v at %d", c.name, n, got.Result, got.At*1000/rate, c.want, c.at)
		}
	}
}

// TestStepsCancelled gives no reading, and a pace must leave room for a beep.
func TestStepsCancelled(t *testing.T) {
	s, _ := NewSteps(DefaultPace(), 16000)
	s.Begin(0)
	s.Cancel()
	if st, ok := s.Now(1<<30, 0); ok {
		t.Errorf("a cancelled step gave %v", st)
	}
	for _, p := range []Pace{{}, {Settle: time.Second, Timeout: time.Second, Chirp: 100}, {Settle: -1, Timeout: 5, Chirp: 1}} {
		if _, err := NewSteps(p, 16000); err == nil {
			t.Errorf("the pace %+v was taken", p)
		}
	}
}
