package mapping

import "slices"

// Known tells whether a claim of this grade is knowledge: likely at least. What
// is less is a question. Early on the best map is one of very many equals, and
// nobody should read a wire off it: on screen and on paper it makes no tie and
// no link.
func (g Grade) Known() bool { return g >= Likely }

// Row is what is known of a number of ends in one setting, by their places.
type Row struct {
	Ties  [][]int       // ends that are joined, two or more each
	Guess map[int][]int // ends that an open question would join
	Grade []Grade       // of what the row says of each end
}

// RowOf works a row out from the verdicts on its pairs. The grade of an end is
// that of its surest tie where it is joined, else that of the weakest claim that
// it is apart.
func RowOf(ends int, verdict func(i, j int) (joined bool, grade Grade)) Row {
	r := Row{Grade: make([]Grade, ends)}
	net := make([]int, ends)
	tied := make([]Grade, ends)
	for i := range ends {
		net[i], r.Grade[i] = i, Proved
	}
	for i := range ends {
		for j := i + 1; j < ends; j++ {
			joined, g := verdict(i, j)
			if !joined || !g.Known() {
				r.Grade[i], r.Grade[j] = min(r.Grade[i], g), min(r.Grade[j], g)
				if joined && g == OpenQuestion {
					r.guess(i, j)
				}
				continue
			}
			tied[i], tied[j] = max(tied[i], g), max(tied[j], g)
			from, to := max(net[i], net[j]), min(net[i], net[j])
			for k := range net {
				if net[k] == from {
					net[k] = to
				}
			}
		}
	}
	for i := range ends {
		var tie []int
		for k := range ends {
			if net[k] == i {
				tie = append(tie, k)
			}
		}
		if len(tie) < 2 {
			continue
		}
		r.Ties = append(r.Ties, tie)
		for _, k := range tie {
			r.Grade[k] = tied[k]
		}
	}
	return r
}

func (r *Row) guess(i, j int) {
	if r.Guess == nil {
		r.Guess = map[int][]int{}
	}
	r.Guess[i], r.Guess[j] = append(r.Guess[i], j), append(r.Guess[j], i)
}

// Tie is the tie that an end is in, itself among them; nil where it is alone.
func (r Row) Tie(end int) []int {
	for _, tie := range r.Ties {
		if slices.Contains(tie, end) {
			return tie
		}
	}
	return nil
}

// Tally counts what is said of a map: the links that are known, by their grade,
// and the pairs that are not settled, each once, as open questions; as not
// tested where no more than a link of that grade speaks of a pair.
func (m Map) Tally() (count [Proved + 1]int) {
	open := map[[2]EndID]Grade{}
	for _, l := range m.Links {
		if l.Grade.Known() {
			count[l.Grade]++
		} else {
			pair := [2]EndID{l.A, l.B}
			open[pair] = max(open[pair], l.Grade)
		}
	}
	for _, l := range m.Unresolved {
		open[[2]EndID{l.A, l.B}] = OpenQuestion
	}
	for _, g := range open {
		count[g]++
	}
	return count
}
