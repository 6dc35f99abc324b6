package inference

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// manyReadings plays random sweeps of a dozen readings until there are enough.
func manyReadings(tb testing.TB, w *simbench.World, n int) []mapping.Reading {
	tb.Helper()
	person := &simbench.Person{World: w, Fallible: true, Seed: 1, Leads: mapping.BunchLeads}
	r := rand.New(rand.NewPCG(1, 10))
	var out []mapping.Reading
	for len(out) < n {
		s := randomSweep(r, w.Pod)
		for !s.Control && len(s.Steps) < 12 {
			s.Steps = append(s.Steps, s.Steps...)
		}
		rs, err := person.Answer(s)
		if err != nil {
			tb.Fatal(err)
		}
		out = append(out, rs...)
	}
	return out[:n]
}

// BenchmarkRecompute measures working everything out anew from many readings;
// 5,000 are to take under a second. The growth with readings, ends and switches
// is printed as well.
func BenchmarkRecompute(b *testing.B) {
	for range b.N {
		for _, c := range []struct{ ends, switches, readings int }{
			{12, 5, 100}, {12, 5, 500}, {12, 5, 1000}, {12, 5, 5000},
			{6, 2, 500}, {18, 9, 500}, {24, 10, 500},
		} {
			w := simbench.Generate(3, simbench.Options{MinEnds: c.ends, MaxEnds: c.ends, MinSwitches: c.switches, MaxSwitches: c.switches})
			rs := manyReadings(b, w, c.readings)
			began := time.Now()
			r := Infer(w.Pod, rs)
			took := time.Since(began)
			fmt.Printf("recompute: %2d ends %2d switches %5d settings %5d readings: %8.0f ms, confidence %.4f\n",
				c.ends, c.switches, w.SettingCount(), c.readings, 1000*took.Seconds(), r.Confidence)
		}
	}
}
