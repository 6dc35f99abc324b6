package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

var allGroups = []Group{Headlamp, Rear, Position, Brake, Indicator, Horn, Ignition, Start, Warning, Clocks, Accessory, ""}

func someLoads(r *rand.Rand, n int) []ShareLoad {
	var out []ShareLoad
	for i := range n {
		l := ShareLoad{Name: fmt.Sprint("l", i), Group: allGroups[r.IntN(len(allGroups))]}
		l.Peak = float64(r.IntN(60)+1) / 10
		if r.IntN(3) > 0 {
			l.Steady = l.Peak
		}
		if r.IntN(3) == 0 {
			l.FuseMax = []float64{3, 7.5, 10}[r.IntN(3)]
		}
		if i > 0 && r.IntN(6) == 0 {
			out[i-1].Circuit = fmt.Sprint("c", i)
			l.Circuit = out[i-1].Circuit
		}
		out = append(out, l)
	}
	return out
}

// exhaustive tries every way of putting loads on ways, by its own reckoning of
// rules (those of common practice, not groupRules') and currents.
func exhaustive(loads []ShareLoad, ways int) (broken int, fullest float64) {
	at := make([]int, len(loads))
	broken, fullest = math.MaxInt, math.Inf(1)
	var place func(i, used int)
	place = func(i, used int) {
		if i == len(loads) {
			br, mx := 0, 0.0
			for w := range ways {
				var steady, peak float64
				limit := math.Inf(1)
				on := map[Group]bool{}
				for k, l := range loads {
					if at[k] == w {
						steady += l.Steady
						peak += math.Max(l.Peak, l.Steady)
						on[l.Group] = true
						if l.FuseMax > 0 {
							limit = math.Min(limit, l.FuseMax)
						}
					}
				}
				if len(on) == 0 {
					continue
				}
				mx = math.Max(mx, steady)
				if on[Headlamp] && on[Rear] {
					br++
				}
				if on[Brake] && on[Indicator] {
					br++
				}
				others, beside := 0, 0
				for g := range on {
					if g == "" {
						continue
					}
					if g != Ignition && g != Start && g != Motor {
						others++
					}
					if g != Accessory {
						beside++
					}
				}
				if on[Ignition] && others > 0 {
					br++
				}
				if on[Accessory] && beside > 0 {
					br++
				}
				fits := false
				for _, rating := range []float64{3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 100} {
					if steady <= 0.75*rating+1e-6 && peak <= rating+1e-6 {
						fits = rating <= limit
						break
					}
				}
				if !fits {
					br++
				}
			}
			if br < broken || br == broken && mx < fullest {
				broken, fullest = br, mx
			}
			return
		}
		if c := loads[i].Circuit; c != "" {
			for k := range i {
				if loads[k].Circuit == c {
					at[i] = at[k]
					place(i+1, used)
					return
				}
			}
		}
		for w := range min(used+1, ways) {
			at[i] = w
			place(i+1, max(used, w+1))
		}
	}
	place(0, 0)
	return broken, fullest
}

func TestShareIsOptimal(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for trial := range 150 {
		n, ways := 1+r.IntN(8), 1+r.IntN(5)
		if trial%30 == 0 && !testing.Short() {
			n, ways = 12, 3
		}
		loads := someLoads(r, n)
		got, err := Share(loads, ways)
		if err != nil || !got.Exact {
			t.Fatal(got, err)
		}
		broken, fullest := exhaustive(loads, ways)
		if len(got.Broken) != broken || math.Abs(got.Fullest-fullest) > 1e-9 {
			t.Fatalf("%d loads on %d ways: %d broken, fullest %v; exhaustive search has %d, %v\n%+v\n%+v", n, ways, len(got.Broken), got.Fullest, broken, fullest, loads, got)
		}
	}
}

func TestShareIsQuick(t *testing.T) {
	r := rand.New(rand.NewPCG(24, 12))
	worst := time.Duration(0)
	inexact := 0
	const trials = 20
	for range trials {
		loads := someLoads(r, 24)
		start := time.Now()
		got, err := Share(loads, 12)
		took := time.Since(start)
		worst = max(worst, took)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Exact {
			inexact++
		}
	}
	t.Logf("24 loads on 12 ways: worst %v of %d, %d not proved", worst, trials, inexact)
	if worst > time.Second {
		t.Errorf("24 loads on 12 ways took %v, at most 1 s", worst)
	}
	if inexact > 0 {
		t.Errorf("%d of %d searches were cut short", inexact, trials)
	}
}

func TestShareBadInput(t *testing.T) {
	for _, c := range []struct {
		loads []ShareLoad
		ways  int
	}{{nil, 0}, {nil, 1000}, {[]ShareLoad{{Steady: math.NaN()}}, 2}, {[]ShareLoad{{Peak: -1}}, 2}} {
		if _, err := Share(c.loads, c.ways); err == nil {
			t.Errorf("%+v is taken", c)
		}
	}
}

func TestShareOutOfTheExample(t *testing.T) {
	for _, s := range ShareOut(heron(t)) {
		if s.Broken != 0 || len(s.Best.Broken) != 0 || !s.Best.Exact || len(s.Say) == 0 {
			t.Errorf("%+v", s)
		}
		on := map[string]bool{}
		for _, r := range s.Best.Refused {
			if r.Say == "" || r.Load == "" {
				t.Errorf("a refusal with no reason: %+v", r)
			}
			on[r.Load] = true
		}
		if s.Feed == FromIgnition && (!on["usb"] || !on["ignition box, RS coil"]) {
			t.Errorf("nothing keeps accessory and ignition apart: %v", on)
		}
		t.Log(s.Say)
	}
}

// TestBestSharingKeepsNames: the best sharing is told with the plan's own ways,
// each once, and a plan spoilt on purpose is said to be worse than the best.
func TestBestSharingKeepsNames(t *testing.T) {
	p := heron(t)
	s := ShareOut(p)[0]
	same, total := 0, 0.0
	planned := map[string]string{}
	for _, w := range Work(p).Ways {
		for _, l := range w.Loads {
			planned[l] = w.Name
		}
	}
	for i, l := range s.Loads {
		if planned[l.Name] == s.Ways[s.Best.Way[i]] {
			same++
		}
		total += l.Steady
	}
	if 2*same < len(s.Loads) {
		t.Errorf("%d of %d loads stay where they are planned", same, len(s.Loads))
	}
	sum := 0.0
	for i, x := range s.Best.Steady {
		sum += x
		for l, w := range s.Best.Way {
			if w == i {
				x -= s.Loads[l].Steady
			}
		}
		if math.Abs(x) > 0.02 {
			t.Errorf("the amps of %s are not those of its loads: %v over", s.Ways[i], x)
		}
	}
	if math.Abs(sum-total) > 0.05 {
		t.Errorf("%v A are shared out of %v", sum, total)
	}
	for _, r := range s.Best.Refused {
		for i, l := range s.Loads {
			if slices.Contains(strings.Split(r.Load, ", "), l.Name) && s.Best.Way[i] == r.Way {
				t.Errorf("%s is refused on %s, where it is", l.Name, s.Ways[r.Way])
			}
		}
	}
	for i, w := range p.Wires { // the tail lamps onto the way of the dip beam
		if w.From == "W4" {
			p.Wires[i].From = "W2"
		}
	}
	if s := ShareOut(p)[0]; s.Broken == 0 || !strings.Contains(s.Say[0], "rule is broken") && !strings.Contains(s.Say[0], "rules are broken") {
		t.Errorf("%d broken: %v", s.Broken, s.Say)
	}
}
