package inference

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// showsEvery tells whether some settings (rows, one position a switch) show
// every combination of positions of every t switches.
func showsEvery(t int, levels []int, rows [][]int) bool {
	var cols []int
	var walk func(from int) bool
	walk = func(from int) bool {
		if len(cols) == t {
			want := 1
			for _, c := range cols {
				want *= levels[c]
			}
			seen := map[string]bool{}
			for _, row := range rows {
				key := ""
				for _, c := range cols {
					key += strconv.Itoa(row[c]) + " "
				}
				seen[key] = true
			}
			return len(seen) == want
		}
		for c := from; c < len(levels); c++ {
			cols = append(cols, c)
			ok := walk(c + 1)
			cols = cols[:len(cols)-1]
			if !ok {
				return false
			}
		}
		return true
	}
	return walk(0)
}

// coveringNumber looks the least number of settings that show every pair of
// positions up in covering_array_numbers.csv; 0 where the table has no value
// that is proved (CALC or C1, marked optimal).
func coveringNumber(t *testing.T, levels []int) (int, string) {
	t.Helper()
	sorted := slices.Clone(levels)
	slices.Sort(sorted)
	slices.Reverse(sorted)
	for _, row := range table(t, "covering_array_numbers.csv") {
		if row["t"] != "2" || row["status"] != "optimal" || strings.HasPrefix(row["confirmation"], "MEM") {
			continue
		}
		n, _ := strconv.Atoi(row["N"])
		if one, ok := strings.CutSuffix(row["levels"], " each"); ok {
			v, _ := strconv.Atoi(one)
			low, high, isRange := strings.Cut(row["k"], "..")
			from, _ := strconv.Atoi(low)
			to := from
			if isRange {
				to, _ = strconv.Atoi(high)
			}
			if len(sorted) >= from && len(sorted) <= to && sorted[0] == v && sorted[len(sorted)-1] == v {
				return n, row["source"]
			}
			continue
		}
		if strings.Trim(fmt.Sprint(sorted), "[]") == row["levels"] {
			return n, row["source"]
		}
	}
	return 0, ""
}

// TestCoveringArrays checks the counting on published arrays: those for triples
// show every triple and, with a row less, do not. Source:
// covering_array_examples.csv (CSPLib 045; Sloane 1993). Its row "ten rows, not
// optimal" is left out: as written there factors 2 and 4 never stand at 1 and 1
// together, so it does not show every pair.
func TestCoveringArrays(t *testing.T) {
	columns := func(cols []string) [][]int {
		rows := make([][]int, len(cols[0]))
		for i := range rows {
			for _, c := range cols {
				rows[i] = append(rows[i], int(c[i]-'0'))
			}
		}
		return rows
	}
	csp := columns(strings.Fields("0000011111 0001100111 0010101011 0100101101 0111010001"))
	two := []int{2, 2, 2, 2, 2}
	if !showsEvery(3, two, csp) || showsEvery(3, two, csp[1:]) {
		t.Error("CSPLib 045: ten rows show every triple of five two-way switches, nine of them do not")
	}
	word := "0000101101110111"
	rows := [][]int{make([]int, 16)}
	levels := make([]int, 16)
	for i := range 16 {
		levels[i] = 2
		var row []int
		for _, c := range word[i:] + word[:i] {
			row = append(row, int(c-'0'))
		}
		rows = append(rows, row)
	}
	if !showsEvery(3, levels, rows) {
		t.Error("Sloane: seventeen rows show every triple of sixteen two-way switches")
	}
	if n, _ := coveringNumber(t, []int{2, 3, 2, 2, 2, 2}); n != 7 {
		t.Errorf("one three-way and five two-way switches: %d settings, published 7", n)
	}
}

// TestCoveringFloor: no play shows every pair of positions in fewer settings
// than the published covering array number; how near each comes is logged.
func TestCoveringFloor(t *testing.T) {
	full := 0
	for seed := range int64(8) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 7, MinSwitches: 2, MaxSwitches: 4})
		var levels []int
		for _, sw := range w.Pod.Switches {
			levels = append(levels, len(sw.Positions))
		}
		floor, source := coveringNumber(t, levels)
		if floor == 0 {
			continue
		}
		var taken []mapping.Reading
		simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, newEngineSolver(w.Pod), simbench.Limits{Keep: &taken})
		var rows [][]int
		for _, r := range taken {
			lever := w.Lever(r.Setting)
			if !r.Control && !slices.ContainsFunc(rows, func(o []int) bool { return slices.Equal(o, lever) }) {
				rows = append(rows, lever)
			}
		}
		shows := showsEvery(2, levels, rows)
		t.Logf("seed %d: switches of %v positions, %d settings read, every pair shown %v, floor %d", seed, levels, len(rows), shows, floor)
		if shows {
			full++
			if len(rows) < floor {
				t.Errorf("seed %d: %d settings show every pair of %v, the covering array number is %d (%s)", seed, len(rows), levels, floor, source)
			}
		}
	}
	if full == 0 {
		t.Error("no play showed every pair of positions")
	}
}
