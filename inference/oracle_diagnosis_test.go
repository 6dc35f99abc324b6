package inference

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// named turns "A1 M1 | A2" into sets of numbers, naming as it goes.
func named(text string, number map[string]int) [][]int {
	var out [][]int
	for _, part := range strings.Split(text, "|") {
		var set []int
		for _, name := range strings.Fields(part) {
			if _, ok := number[name]; !ok {
				number[name] = len(number)
			}
			set = append(set, number[name])
		}
		slices.Sort(set)
		out = append(out, set)
	}
	return out
}

func sortSets(sets [][]int) {
	slices.SortFunc(sets, func(a, b []int) int {
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return slices.Compare(a, b)
	})
}

// minimalHittingSets lists the sets that meet every conflict and of which no
// part does: the diagnoses, in the words of Reiter 1987. Conflicts are sets of
// numbers; sets come sorted, smaller first.
func minimalHittingSets(conflicts [][]int) [][]int {
	sets := [][]int{nil}
	for _, c := range conflicts {
		var next [][]int
		for _, s := range sets {
			if slices.ContainsFunc(s, func(x int) bool { return slices.Contains(c, x) }) {
				next = append(next, s)
				continue
			}
			for _, x := range c {
				t := append(slices.Clone(s), x)
				slices.Sort(t)
				next = append(next, t)
			}
		}
		sets = minimalOnly(next)
	}
	return sets
}

func minimalOnly(sets [][]int) [][]int {
	slices.SortFunc(sets, func(a, b []int) int {
		return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b))
	})
	var out [][]int
	for _, s := range sets {
		dominated := slices.ContainsFunc(out, func(t []int) bool {
			return !slices.ContainsFunc(t, func(x int) bool { return !slices.Contains(s, x) })
		})
		if !dominated {
			out = append(out, s)
		}
	}
	return out
}

// TestPublishedDiagnoses: the minimal hitting sets of published conflicts are
// the published diagnoses. Source: diagnosis_examples.csv (Reiter 1987, de
// Kleer and Williams 1987 and others, each row with its confirmation).
func TestPublishedDiagnoses(t *testing.T) {
	n := 0
	for _, row := range table(t, "diagnosis_examples.csv") {
		if row["conflicts"] == "" {
			continue // circuits given by their gates: TestAdderByItsGates
		}
		n++
		number := map[string]int{}
		conflicts := named(row["conflicts"], number)
		want := named(row["minimal_diagnoses"], number)
		got := minimalHittingSets(conflicts)
		sortSets(got)
		sortSets(want)
		if !slices.EqualFunc(got, want, slices.Equal[[]int]) {
			t.Errorf("%s: diagnoses %v, published %v (%s)", row["name"], got, want, row["source"])
		}
		// And the other way: what conflicts is what contains a conflict; a
		// smallest conflicting set of all parts is one of the minimal ones.
		all := make([]int, len(number))
		for i := range all {
			all[i] = i
		}
		r := rand.New(rand.NewPCG(1, uint64(n)))
		for range 20 {
			r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
			set := MinimalConflict(all, func(s []int) bool { return containsAny(s, conflicts) })
			slices.Sort(set)
			if !slices.ContainsFunc(minimal(conflicts), func(c []int) bool { return slices.Equal(c, set) }) {
				t.Errorf("%s: %v is called a smallest conflict; the conflicts are %v", row["name"], set, conflicts)
			}
		}
	}
	if n < 4 {
		t.Fatalf("only %d published cases with conflicts", n)
	}
}

func containsAny(set []int, conflicts [][]int) bool {
	return slices.ContainsFunc(conflicts, func(c []int) bool {
		return !slices.ContainsFunc(c, func(x int) bool { return !slices.Contains(set, x) })
	})
}

// minimal keeps the sets that contain no other.
func minimal(sets [][]int) [][]int {
	var out [][]int
	for i, s := range sets {
		ok := true
		for j, o := range sets {
			if i != j && len(o) < len(s) && containsAny(s, [][]int{o}) {
				ok = false
			}
		}
		if ok {
			out = append(out, s)
		}
	}
	return out
}

// adder tells whether a one-bit adder with some gates trusted can show the
// outputs. Gates: F1 U1=X*Cin, F2 U2=Y*U3, F3 Cout=U1+U2, F4 U3=X^Cin, F5
// Sum=Y^U3; a gate that is not trusted may show anything.
func adder(x, y, cin, sum, cout bool, trusted []int) bool {
	for free := range 8 {
		u := [3]bool{free&1 > 0, free&2 > 0, free&4 > 0}
		holds := []bool{u[0] == (x && cin), u[1] == (y && u[2]), cout == (u[0] || u[1]), u[2] == (x != cin), sum == (y != u[2])}
		if !slices.ContainsFunc(trusted, func(g int) bool { return !holds[g] }) {
			return true
		}
	}
	return false
}

// TestAdderByItsGates: conflicts found by MinimalConflict from the gates alone
// give, by minimalHittingSets, the published single faults. Source:
// diagnosis_examples.csv, the rows without conflicts (CLP(B) example).
func TestAdderByItsGates(t *testing.T) {
	cases := map[string]struct {
		in        [3]bool // X Y Cin
		sum, cout bool
	}{
		"inputs X=1 Y=1 Cin=0": {[3]bool{true, true, false}, true, false},
		"inputs X=1 Y=0 Cin=1": {[3]bool{true, false, true}, false, false},
	}
	n := 0
	for _, row := range table(t, "diagnosis_examples.csv") {
		for text, c := range cases {
			if row["conflicts"] != "" || !strings.HasPrefix(row["detail"], text) {
				continue
			}
			n++
			clash := func(s []int) bool { return !adder(c.in[0], c.in[1], c.in[2], c.sum, c.cout, s) }
			// Every minimal conflict, by taking gates away from the known ones.
			var conflicts [][]int
			for mask := range 32 {
				var s []int
				for g := range 5 {
					if mask>>g&1 == 1 {
						s = append(s, g)
					}
				}
				if clash(s) {
					m := MinimalConflict(s, clash)
					slices.Sort(m)
					if !slices.ContainsFunc(conflicts, func(o []int) bool { return slices.Equal(o, m) }) {
						conflicts = append(conflicts, m)
					}
				}
			}
			var single []string
			for _, d := range minimalHittingSets(conflicts) {
				if len(d) == 1 {
					single = append(single, "F"+string(rune('1'+d[0])))
				}
			}
			if got := strings.Join(single, " | "); got != row["minimal_diagnoses"] {
				t.Errorf("%s: single faults %q, published %q (%s)", row["detail"], got, row["minimal_diagnoses"], row["source"])
			}
		}
	}
	if n != 2 {
		t.Fatalf("%d of the 2 published adders were checked", n)
	}
}
