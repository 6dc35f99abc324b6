package inference

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// The campaign measures the engine against the table of the engine's issue:
//
//	go test ./inference -run '^$' -bench Campaign -benchtime 1x
//
// -campaign.pods sets the pods a row (300 are wanted for a figure to mean
// anything), -campaign.seed where their seeds begin.
var (
	campaignPods    = flag.Int("campaign.pods", 300, "generated pods for each row of the campaign")
	campaignSeed    = flag.Int64("campaign.seed", 1, "first seed of the campaign")
	campaignMaxEnds = flag.Int("campaign.ends", 24, "most ends of a generated pod")
	campaignMaxSw   = flag.Int("campaign.switches", 10, "most switches of a generated pod")
	campaignWorkers = flag.Int("campaign.workers", runtime.NumCPU(), "pods played at once; 1 for honest timing")
	campaignFloor   = flag.Int("campaign.floor", 40, "pods of up to 9 ends for which the floor is searched, by bunches and with a needle")
	campaignRow     = flag.String("campaign.row", "", "play only the rows whose name holds this, such as \"perfect bunch\"")
	campaignList    = flag.Bool("campaign.list", false, "print every pod's figures as it ends")
)

// engineSolver lets the judge meet the engine.
type engineSolver struct {
	e      *Engine
	result *Result
}

func newEngineSolver(p mapping.Pod) *engineSolver {
	return &engineSolver{e: NewEngine(p, nil)}
}

func (s *engineSolver) Next(b mapping.Bench) (mapping.Sweep, bool) {
	p, ok := s.e.Next(b)
	return p.Sweep, ok
}

func (s *engineSolver) Add(r ...mapping.Reading) {
	s.e.Add(r...)
	s.result = nil
}

func (s *engineSolver) now() Result {
	if s.result == nil {
		r := s.e.Result()
		s.result = &r
	}
	return *s.result
}

func (s *engineSolver) Map() mapping.Map    { return s.now().Map }
func (s *engineSolver) Confidence() float64 { return s.now().Confidence }
func (s *engineSolver) Verdict(at mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	v := s.now().Joined(at, a, b)
	return v.Joined, v.Grade
}

// fixtureWorlds reads the invented pods that are made of contacts alone.
func fixtureWorlds(t testing.TB) []*simbench.World {
	t.Helper()
	files, err := filepath.Glob("../testdata/pods/*.pod")
	if err != nil {
		t.Fatal(err)
	}
	var out []*simbench.World
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if w, err := simbench.ReadPod(string(text)); err == nil {
			out = append(out, w)
		}
	}
	if len(out) != 10 {
		t.Fatalf("%d pods of contacts alone, want 10", len(out))
	}
	return out
}

// TestFixturesExact: with true readings, in both ways to hold the leads, the
// map of every fixture pod is right in every setting, nothing unresolved,
// nothing proved that is false, in less time than the textbook grid takes to read
// every pair once, which does not meet the stop rule.
func TestFixturesExact(t *testing.T) {
	for _, w := range fixtureWorlds(t) {
		for _, leads := range []mapping.Leads{mapping.BunchLeads, mapping.PairLeads} {
			s := playTrue(t, w, leads)
			t.Logf("%s %s: %s", w.Pod.Name, leads, line(s))
			if s.Unresolved > 0 {
				t.Errorf("%s %s: %d claims unresolved", w.Pod.Name, leads, s.Unresolved)
			}
			if s.Cost.Seconds >= s.Grid {
				t.Errorf("%s %s: %.0f s, the grid takes %.0f s", w.Pod.Name, leads, s.Cost.Seconds, s.Grid)
			}
		}
	}
}

// playTrue plays a pod with true readings, holds the hard laws and has the
// certificate of what is graded proved checked.
func playTrue(t *testing.T, w *simbench.World, leads mapping.Leads) simbench.Score {
	t.Helper()
	var readings []mapping.Reading
	solver := newEngineSolver(w.Pod)
	s := simbench.Play(w, &simbench.Person{World: w, Leads: leads}, solver, simbench.Limits{Keep: &readings})
	hardLaws(t, w, leads, s)
	var claims []simbench.Claim
	for i, k := range provedClaims(w, solver) {
		if i%7 == int(w.Seed)%7 { // a sample: each open claim is tried against hundreds of rivals
			claims = append(claims, k)
		}
	}
	for i, err := range simbench.Check(w.Pod, readings, solver.Map(), claims...) {
		t.Errorf("%s %s seed %d: certificate: %v", w.Pod.Name, leads, w.Seed, err)
		if i == 4 {
			break
		}
	}
	return s
}

// provedClaims lists what a solver grades proved at rest and with one switch
// moved.
func provedClaims(w *simbench.World, s simbench.Solver) []simbench.Claim {
	var out []simbench.Claim
	rest := w.Pod.Rest()
	settings := []mapping.Setting{rest}
	for _, sw := range w.Pod.Switches {
		for _, q := range sw.Positions {
			if q != sw.Rest {
				settings = append(settings, rest.With(sw.Name, q))
			}
		}
	}
	for _, at := range settings {
		for j, b := range w.Pod.Ends {
			for _, a := range w.Pod.Ends[:j] {
				if joined, grade := s.Verdict(at, a.ID, b.ID); grade == mapping.Proved {
					out = append(out, simbench.Claim{Setting: at, A: a.ID, B: b.ID, Joined: joined})
				}
			}
		}
	}
	return out
}

// hardLaws are what no play with true readings may break.
func hardLaws(t testing.TB, w *simbench.World, leads mapping.Leads, s simbench.Score) {
	t.Helper()
	name := fmt.Sprintf("%s %s seed %d", w.Pod.Name, leads, s.Seed)
	switch {
	case s.Err != nil:
		t.Errorf("%s: %v", name, s.Err)
	case !s.Stopped:
		t.Errorf("%s: still asking after %d readings", name, s.Cost.Readings)
	case s.WrongSure > 0:
		t.Errorf("%s: wrong and sure: %s\n%v", name, s.FirstWrong, w)
	case s.ProvedFalse > 0:
		t.Errorf("%s: proved but false: %s\n%v", name, s.FirstFalse, w)
	case s.Wrong():
		t.Errorf("%s: the map is wrong in %d of %d settings (unresolved)\n%v", name, s.WrongSettings, s.Settings, w)
	}
}

// TestShortCampaign plays a few generated pods with true readings.
func TestShortCampaign(t *testing.T) {
	for seed := range int64(10) {
		w := simbench.Generate(seed, simbench.Options{MaxEnds: 10, MaxSwitches: 4})
		leads := mapping.Leads(seed % 2)
		s := playTrue(t, w, leads)
		t.Logf("seed %d %s: %s", seed, leads, line(s))
	}
}

func line(s simbench.Score) string {
	return fmt.Sprintf("%d ends %d switches depth %d: %d sweeps %d readings (%d controls) %.0f s, %.2f of the grid, %.2f readings/bit, confidence %.4f, unresolved %d/%d, wrong settings %d (%d in reach), wrong and sure %d (%d), proved false %d/%d, slowest %.0f ms",
		s.Ends, s.Switches, s.Depth, s.Cost.Instructions, s.Cost.Readings, s.Cost.Controls, s.Cost.Seconds,
		s.RatioToGrid(), float64(s.Cost.Readings)/max(1, s.Bits), s.Confidence, s.Unresolved, s.Claims,
		s.WrongSettings, s.WrongInReach, s.WrongSure, s.SureInReach, s.ProvedFalse, s.Proved, 1000*s.Slowest)
}

// row is one kind of play.
type row struct {
	fallible bool
	leads    mapping.Leads
}

func (r row) String() string {
	who := "perfect"
	if r.fallible {
		who = "fallible"
	}
	return who + " " + r.leads.String()
}

// playRow plays the campaign's pods one way, several at once, results in the
// order of their seeds.
func playRow(r row, pods int) []simbench.Score {
	out := make([]simbench.Score, pods)
	someAtOnce(pods, func(i int) {
		out[i] = playOne(r, *campaignSeed+int64(i))
		if *campaignList { // as they end: a long row may not be waited for
			fmt.Printf("  %s seed %d: %s\n", r, out[i].Seed, line(out[i]))
		}
	})
	return out
}

// someAtOnce does n pieces of work, as many at once as there are workers.
func someAtOnce(n int, do func(i int)) {
	next := make(chan int)
	var wg sync.WaitGroup
	for range max(1, *campaignWorkers) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

func playOne(r row, seed int64) (s simbench.Score) {
	w := simbench.Generate(seed, simbench.Options{MaxEnds: *campaignMaxEnds, MaxSwitches: *campaignMaxSw})
	defer func() {
		if p := recover(); p != nil {
			s = simbench.Score{Seed: seed, Ends: len(w.Pod.Ends), Switches: len(w.Pod.Switches), Depth: w.Depth,
				Grid: 1, Bits: 1, Err: fmt.Errorf("panic: %v", p)}
		}
	}()
	person := &simbench.Person{World: w, Fallible: r.fallible, Seed: seed, Leads: r.leads}
	return simbench.Play(w, person, newEngineSolver(w.Pod), simbench.Limits{})
}

// BenchmarkCampaign prints the table of the engine's issue.
func BenchmarkCampaign(b *testing.B) {
	for range b.N {
		rows := []row{
			{false, mapping.BunchLeads}, {false, mapping.PairLeads},
			{true, mapping.BunchLeads}, {true, mapping.PairLeads},
		}
		fmt.Printf("\ncampaign: %d pods a row, seeds from %d, up to %d ends and %d switches\n",
			*campaignPods, *campaignSeed, *campaignMaxEnds, *campaignMaxSw)
		tellHeader()
		proved, provedFalse := 0, 0
		for _, r := range rows {
			if !strings.Contains(r.String(), *campaignRow) {
				continue
			}
			scores := playRow(r, *campaignPods)
			for _, s := range scores {
				proved += s.Proved
				provedFalse += s.ProvedFalse
			}
			tellRow(r, scores)
			b.ReportMetric(medianOf(scores, 8, simbench.Score.RatioToGrid), strings.ReplaceAll(r.String(), " ", "-")+"/grid")
		}
		fmt.Printf("%-16s %-44s %d of %d = 1 in %s (reach: at most 1 in 1,000)\n", "any", "claims graded proved that are false",
			provedFalse, proved, oneIn(provedFalse, proved))
		if *campaignFloor > 0 {
			tellFloor(*campaignFloor)
		}
	}
}
