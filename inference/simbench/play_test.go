package simbench

import (
	"os"
	"path/filepath"
	"testing"

	"bellout/mapping"
)

// FixturePods reads the invented pods of testdata that are made of contacts.
func fixturePods(t *testing.T) []*World {
	t.Helper()
	files, err := filepath.Glob("../../testdata/pods/*.pod")
	if err != nil || len(files) < 12 {
		t.Fatalf("%d pods found, %v", len(files), err)
	}
	var out []*World
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		w, err := ReadPod(string(text))
		if err != nil {
			continue // has components
		}
		out = append(out, w)
	}
	if len(out) != 10 {
		t.Fatalf("%d pods of contacts alone, want 10 of the 12", len(out))
	}
	return out
}

// TestNaiveShowsScoringWorks: the grid taken at its word is exact on simple
// pods and costs the grid but for its last lever returns. It misses the hidden
// junction of P03, and on P04 and P06 it takes a chain through two contacts
// (2-1-7 with dip at low and the horn pressed) for a contact of its own.
func TestNaiveShowsScoringWorks(t *testing.T) {
	for _, w := range fixturePods(t) {
		s := Play(w, &Person{World: w}, NewNaive(w.Pod), Limits{})
		if s.Err != nil || !s.Stopped {
			t.Fatalf("%s: stopped %v, %v", w.Pod.Name, s.Stopped, s.Err)
		}
		t.Logf("%s: %d readings, %.0f s, grid %.0f s, %d of %d settings wrong; %s",
			w.Pod.Name, s.Cost.Readings, s.Cost.Seconds, s.Grid, s.WrongSettings, s.Settings, s.FirstWrong)
		if s.Cost.Seconds > s.Grid || s.Cost.Seconds < 0.9*s.Grid {
			t.Errorf("%s: the grid played takes %.1f s, priced %.1f s", w.Pod.Name, s.Cost.Seconds, s.Grid)
		}
		if trap := w.Pod.Name == "P03" || w.Pod.Name == "P04" || w.Pod.Name == "P06"; s.Wrong() != trap {
			t.Errorf("%s: wrong in %d settings (%s)", w.Pod.Name, s.WrongSettings, s.FirstWrong)
		}
		if s.ProvedFalse > 0 || s.Unresolved > 0 {
			t.Errorf("%s: proved-but-false %d, unresolved %d from a solver that claims neither", w.Pod.Name, s.ProvedFalse, s.Unresolved)
		}
	}
}

// TestNaiveNeverWrongNearRest: with true readings the grid saw every setting
// with at most one switch moved, so it must be right there on every pod.
func TestNaiveNeverWrongNearRest(t *testing.T) {
	exact, shallow := 0, 0
	for seed := range int64(150) {
		w := Generate(seed, Options{MaxEnds: 12, MaxSwitches: 5})
		n := NewNaive(w.Pod)
		s := Play(w, &Person{World: w}, n, Limits{})
		rest := w.Lever(nil)
		for _, lever := range nearRest(w.Pod, rest, 1) {
			truth, said := w.NetsAt(lever), predict(w.Pod, n.Map().Links, lever)
			for a := range truth {
				for b := range a {
					if (truth[a] == truth[b]) != (said[a] == said[b]) {
						t.Fatalf("seed %d: wrong in %v\n%v", seed, w.Setting(lever), w)
					}
				}
			}
		}
		if w.Depth < 2 {
			shallow++
			if !s.Wrong() {
				exact++
			}
		}
	}
	t.Logf("exact in every setting on %d of %d pods of depth 0 and 1", exact, shallow)
	if 2*exact < shallow {
		t.Errorf("exact on only %d of %d shallow pods", exact, shallow)
	}
}

// TestJudgeSeesLies turns claims of a right map round, one at a time, and wants
// each counted where it belongs.
func TestJudgeSeesLies(t *testing.T) {
	w := testWorld(t)
	right := mapping.Map{Links: []mapping.Link{
		{A: "1", B: "2", Grade: mapping.Proved},
		{A: "1", B: "3", When: []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"main"}}}}, Grade: mapping.Proved},
		{A: "1", B: "4", When: []mapping.Condition{{{Switch: "horn", Positions: []mapping.PositionID{"in"}}}}, Grade: mapping.Proved},
	}}
	judge := func(m mapping.Map, grade mapping.Grade) Score {
		return Judge(w, mapping.BunchLeads, &said{w, m, grade})
	}
	if s := judge(right, mapping.Proved); s.Wrong() || s.WrongSure > 0 || s.ProvedFalse > 0 || s.Unresolved > 0 || s.Proved == 0 {
		t.Fatalf("the right map: %+v", s)
	}
	lie := mapping.Map{Links: append(append([]mapping.Link(nil), right.Links[:2]...), mapping.Link{A: "1", B: "4", Grade: mapping.Proved})}
	s := judge(lie, mapping.Likely)
	if s.WrongSettings != 3 { // horn out, dip anywhere
		t.Errorf("a link said to hold always: %d settings wrong, want 3", s.WrongSettings)
	}
	if s.ProvedFalse != 1 {
		t.Errorf("a false link graded proved: counted %d", s.ProvedFalse)
	}
	if s.WrongSure != 3+3+1 { // 1+4 and 2+4 with horn out, 3+4 in main too
		t.Errorf("wrong and sure pairs: %d, want 7", s.WrongSure)
	}
	if judge(lie, mapping.Proved).ProvedFalse < 7 {
		t.Error("false verdicts graded proved were not counted")
	}
	missing := mapping.Map{Links: right.Links[:2]}
	missing.Unresolved = []mapping.Link{
		{A: "1", B: "4", When: right.Links[2].When}, {A: "2", B: "4", When: right.Links[2].When}, {A: "4", B: "3"},
	}
	s = judge(missing, mapping.Likely)
	if s.WrongSure != 0 || !s.Wrong() {
		t.Errorf("an honest unresolved: wrong and sure %d, wrong settings %d", s.WrongSure, s.WrongSettings)
	}
	if s.Claims != 6*6 || s.Unresolved != 3+3+6 {
		t.Errorf("claims %d unresolved %d, want 36 and 12", s.Claims, s.Unresolved)
	}
	// Only 1+4 is named: 2+4 and 3+4 follow from it, so they are wrong and
	// sure by name, but not free of what is unresolved.
	missing.Unresolved = missing.Unresolved[:1]
	s = judge(missing, mapping.Likely)
	if s.WrongSure != 3+1 || s.WrongFree != 0 {
		t.Errorf("pairs that follow from an unresolved link: wrong and sure %d (want 4), free %d (want 0)", s.WrongSure, s.WrongFree)
	}
	strange := mapping.Map{Links: append(append([]mapping.Link(nil), right.Links...), mapping.Link{A: "1", B: "9"})}
	if judge(strange, mapping.Likely).ProvedFalse == 0 {
		t.Error("a link to an end that the pod has not passed")
	}
}

// TestJudgeKnowsHands: a link that holds only with two buttons held is wrong for
// everybody who leaves it out, and out of reach for one hand.
func TestJudgeKnowsHands(t *testing.T) {
	w, err := ReadPod(`pod T
wires 1 BU, 2 WH, 3 GY
sw dip latching rest=low | low: | main: 1+3
sw horn momentary rest=out | out: | in: 1+#j
sw flash momentary rest=out | out: | in: #j+2`)
	if err != nil {
		t.Fatal(err)
	}
	half := mapping.Map{Links: []mapping.Link{
		{A: "1", B: "3", When: []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"main"}}}}},
	}}
	for leads, within := range map[mapping.Leads]int{mapping.BunchLeads: 2, mapping.PairLeads: 0} {
		s := Judge(w, leads, &said{w, half, mapping.Likely})
		if s.WrongSettings != 2 || s.WrongInReach != within { // dip low and main
			t.Errorf("%s: %d settings wrong, %d in reach, want 2 and %d", leads, s.WrongSettings, s.WrongInReach, within)
		}
		if s.WrongSure != 3 || s.SureInReach != within/2*3 { // 1+2 twice, 2+3 in main
			t.Errorf("%s: %d wrong and sure, %d in reach, want 3 and %d", leads, s.WrongSure, s.SureInReach, within/2*3)
		}
		if s := Judge(w, leads, &said{w, mapping.Map{}, mapping.Likely}); s.WrongInReach < 1 {
			t.Errorf("%s: a contact of one lever left out is in reach", leads)
		}
	}
}

// said is a solver that has made up its mind.
type said struct {
	w     *World
	m     mapping.Map
	grade mapping.Grade
}

func (s *said) Next(mapping.Bench) (mapping.Sweep, bool) { return mapping.Sweep{}, false }
func (s *said) Add(...mapping.Reading)                   {}
func (s *said) Map() mapping.Map                         { return s.m }
func (s *said) Confidence() float64                      { return 1 }
func (s *said) Verdict(at mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	nets := predict(s.w.Pod, s.m.Links, s.w.Lever(at))
	return nets[s.w.endAt[a]] == nets[s.w.endAt[b]], s.grade
}

// TestJudgedCoversNearRest: a pod too large to judge setting by setting is
// judged wherever up to three switches are moved.
func TestJudgedCoversNearRest(t *testing.T) {
	for seed := int64(0); ; seed++ {
		w := Generate(seed, Options{MinEnds: 22, MinSwitches: 10})
		if w.SettingCount() <= mostSettings {
			continue
		}
		got := map[string]bool{}
		for _, lever := range Judged(w) {
			got[w.key(lever)] = true
		}
		rest := w.Lever(nil)
		n := 0
		for _, lever := range w.Settings() {
			if offRest(rest, lever) <= 3 {
				n++
				if !got[w.key(lever)] {
					t.Fatalf("setting %v is not judged", lever)
				}
			}
		}
		t.Logf("%d settings, %d judged, %d near rest", w.SettingCount(), len(got), n)
		return
	}
}

func (w *World) key(lever []int) string {
	b := make([]byte, len(lever))
	for i, q := range lever {
		b[i] = byte(q)
	}
	return string(b)
}
