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
	pace := Pace{Settle: 700 * time.Millisecond, Timeout: 2 * time.Second, Chirp: 180 * time.Millisecond}
	one := Hands{Time: 2 * time.Second, Moves: 1}
	three := Hands{Time: 6 * time.Second, Moves: 3}
	for _, c := range []struct {
		name  string
		hands Hands
		beeps [][2]int // start, end; a step begins at 1000
		want  StepResult
		at    int
	}{
		{"nothing", one, nil, Silence, 5000},
		{"nothing to move", Hands{}, nil, Silence, 3000},
		{"a beep", one, [][2]int{{2000, 2600}}, Beep, 2180},
		{"a beep that never ends", one, [][2]int{{2000, 9900}}, Beep, 2180},
		{"it began while it settles", one, [][2]int{{1200, 3000}}, Beep, 1880},
		{"it goes on from the last step to the end", one, [][2]int{{200, 9900}}, Beep, 5000},
		{"it goes on and nothing is to be moved", Hands{}, [][2]int{{200, 9900}}, Beep, 3000},
		{"the last step's beep ends while the lever settles", one, [][2]int{{200, 1300}}, Silence, 5000},
		{"its tail ends just after", one, [][2]int{{200, 1800}}, Silence, 5000},
		{"it ends when the lever has moved at last", one, [][2]int{{200, 4700}}, Silence, 5000},
		{"it ends, and a fresh one begins", one, [][2]int{{200, 2000}, {2300, 2900}}, Beep, 2480},
		{"passing a contact while the lever moves", one, [][2]int{{1200, 1500}}, Silence, 5000},
		{"a chirp", one, [][2]int{{2000, 2100}}, Flickered, 5000},
		{"two chirps", one, [][2]int{{2000, 2100}, {2300, 2400}}, Flickered, 5000},
		{"a chirp, then a beep", one, [][2]int{{2000, 2100}, {2500, 2900}}, Beep, 2680},
		{"a beep at the last moment", one, [][2]int{{4950, 5500}}, Beep, 5130},
		{"a chirp at the last moment", one, [][2]int{{4950, 5050}}, Flickered, 5000},
		{"too late", one, [][2]int{{5100, 5500}}, Silence, 5000},
		{"three levers take their time", three, nil, Silence, 9000},
		{"between two of three levers", three, [][2]int{{2500, 5000}}, Silence, 9000},
		{"after the first of three levers, and it stays", three, [][2]int{{2500, 9900}}, Beep, 7180},
		{"after the last of three levers", three, [][2]int{{7500, 9900}}, Beep, 7680},
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
				s.Begin(ms(now), c.hands)
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
	s.Begin(0, Hands{})
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
