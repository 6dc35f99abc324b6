package mapping

import (
	"slices"
	"testing"
)

func TestRowTiesNothingByAGuess(t *testing.T) {
	grade := map[[2]int]Grade{{0, 1}: OpenQuestion, {1, 2}: Likely, {2, 3}: Proved, {0, 4}: NotTested}
	r := RowOf(5, func(i, j int) (bool, Grade) {
		g, joined := grade[[2]int{i, j}]
		if !joined {
			return false, Proved
		}
		return true, g
	})
	if len(r.Ties) != 1 || !slices.Equal(r.Tie(2), []int{1, 2, 3}) || r.Tie(0) != nil || r.Tie(4) != nil {
		t.Errorf("ties %v", r.Ties)
	}
	if !slices.Equal(r.Guess[0], []int{1}) || len(r.Guess[4]) != 0 {
		t.Errorf("guesses %v", r.Guess)
	}
	if want := []Grade{NotTested, Likely, Proved, Proved, NotTested}; !slices.Equal(r.Grade, want) {
		t.Errorf("grades %v, want %v", r.Grade, want)
	}
}

func TestTallyCountsAPairOnce(t *testing.T) {
	m := Map{
		Links:      []Link{{A: "1", B: "2", Grade: Proved}, {A: "1", B: "3", Grade: Likely}, {A: "4", B: "5", Grade: OpenQuestion}, {A: "1", B: "4"}},
		Unresolved: []Link{{A: "4", B: "5"}, {A: "4", B: "6"}},
	}
	if got, want := m.Tally(), [...]int{1, 2, 1, 1}; got != want {
		t.Errorf("tally %v, want %v", got, want)
	}
}
