package pinout

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/fixture"

	"pgregory.net/rapid"
)

// Ends that could change places, alone or several at once, without any setting
// joining anything else are the same to every meter: the page may not tell them
// apart by terminal, by grade or by what it is sure of.
func TestAlikeEndsAreNamedAlike(t *testing.T) {
	kinds := []struct{ head, positions string }{
		{"lights latching rest=off", "off park on"},
		{"dip latching rest=low", "low main"},
		{"turn latching rest=off", "left off right"},
		{"flash momentary rest=out", "out in"},
		{"horn momentary rest=out", "out in"},
		{"kill latching rest=run", "off run"},
		{"start momentary rest=out", "out in"},
		{"clutch momentary rest=out", "out pulled"},
		{"hazard latching rest=off", "off on"},
		{"key latching rest=off", "off on park"},
		{"knob latching rest=a", "a b c"},
	}
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "ends")
		text := "pod T\nwires 1"
		for i := 2; i <= n; i++ {
			text += fmt.Sprintf(", %d", i)
		}
		for _, k := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(kinds)-1), 1, 2, func(i int) int { return i }).Draw(t, "switches") {
			text += "\nsw " + kinds[k].head
			for _, q := range strings.Fields(kinds[k].positions) {
				text += " | " + q + ":"
				sep := " "
				for range rapid.IntRange(0, 2).Draw(t, "joins") {
					a := rapid.IntRange(1, n-1).Draw(t, "a")
					b := rapid.IntRange(a+1, n).Draw(t, "b")
					text += fmt.Sprintf("%s%d+%d", sep, a, b)
					sep = ", "
				}
			}
		}
		f, err := fixture.Parse(strings.NewReader(text + "\n"))
		if err != nil {
			t.Fatal(err)
		}
		m, ok := f.Map()
		if !ok {
			t.Fatal("no map")
		}
		p := Build(Input{Work: &mapping.PodWork{Pod: f.Pod}, Map: m, Evidence: known{f: f}})
		for _, order := range permutations(len(p.Ends)) {
			if !same(f, order) {
				continue
			}
			for i, j := range order {
				if i == j {
					continue
				}
				found++
				x, y := p.Ends[i], p.Ends[j]
				if x.Terminal != y.Terminal || x.Says != y.Says || x.Grade != y.Grade {
					t.Fatalf("%s\n%s and %s are alike, but\n%q %q %q %v\n%q %q %q %v", text, x.ID, y.ID,
						x.Terminal, x.Function, x.Says, x.Grade, y.Terminal, y.Function, y.Says, y.Grade)
				}
			}
		}
	})
	t.Logf("%d ends were alike", found)
	if found < 20 {
		t.Errorf("only %d pairs of ends were alike: the test says little", found)
	}
}

// permutations lists every order of n ends.
func permutations(n int) [][]int {
	if n == 0 {
		return [][]int{{}}
	}
	var out [][]int
	for _, p := range permutations(n - 1) {
		for at := range n {
			out = append(out, slices.Insert(slices.Clone(p), at, n-1))
		}
	}
	return out
}

// same tells whether putting each end in another's place leaves the nets of
// every setting as they are.
func same(f *fixture.Fixture, order []int) bool {
	sets := []mapping.Setting{{}}
	for _, sw := range f.Pod.Switches {
		var next []mapping.Setting
		for _, s := range sets {
			for _, q := range sw.Positions {
				next = append(next, s.With(sw.Name, q))
			}
		}
		sets = next
	}
	for _, s := range sets {
		net := map[mapping.EndID]int{}
		for k, ends := range f.Nets(s) {
			for _, e := range ends {
				net[e] = k
			}
		}
		at := func(i int) int { return net[f.Pod.Ends[i].ID] }
		for i := range order {
			for j := range i {
				if (at(i) == at(j)) != (at(order[i]) == at(order[j])) {
					return false
				}
			}
		}
	}
	return true
}
