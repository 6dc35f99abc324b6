package mapping

import "fmt"

// Grade says how sure a claim is: the same four words on screen and on paper.
type Grade int

// The grades, from the zero value (no reading bears on the claim) up. A claim
// is proved when turning it round would cost at least 10 bits, likely at 4.
const (
	NotTested Grade = iota
	OpenQuestion
	Likely
	Proved
)

var gradeWords = [...]string{"not tested", "open question", "likely", "proved"}

// String gives the word for a grade.
func (g Grade) String() string {
	if g < 0 || int(g) >= len(gradeWords) {
		return fmt.Sprintf("Grade(%d)", int(g))
	}
	return gradeWords[g]
}

// ParseGrade is the inverse of Grade.String.
func ParseGrade(s string) (Grade, error) {
	for g, w := range gradeWords {
		if w == s {
			return Grade(g), nil
		}
	}
	return NotTested, fmt.Errorf("grade %q is none of proved, likely, open question, not tested", s)
}

// Link is two ends joined while any of its conditions holds. A precedes B in
// the pod's order of ends.
type Link struct {
	A, B  EndID
	When  []Condition
	Grade Grade
}

// Whens are the conditions of a link; the one of a link without any holds always.
func (l Link) Whens() []Condition {
	if len(l.When) == 0 {
		return []Condition{nil}
	}
	return l.When
}

// Holds tells whether the link holds in a setting. No condition means always.
func (l Link) Holds(p Pod, s Setting) bool {
	if len(l.When) == 0 {
		return true
	}
	for _, c := range l.When {
		if c.Holds(p, s) {
			return true
		}
	}
	return false
}

// Map is what is known of a pod: its links, each with its grade, and the links
// that nobody vouches for, either way.
type Map struct {
	Links      []Link
	Unresolved []Link
}

// Nets joins the ends of a pod by the links that hold in a setting. Every end
// is in exactly one net; nets and their ends are in the pod's order.
func (m Map) Nets(p Pod, s Setting) [][]EndID {
	at := make(map[EndID]int, len(p.Ends))
	net := make([]int, len(p.Ends))
	for i, e := range p.Ends {
		at[e.ID], net[i] = i, i
	}
	for _, l := range m.Links {
		a, okA := at[l.A]
		b, okB := at[l.B]
		if !okA || !okB || !l.Holds(p, s) {
			continue
		}
		from, to := max(net[a], net[b]), min(net[a], net[b])
		for i := range net {
			if net[i] == from {
				net[i] = to
			}
		}
	}
	var nets [][]EndID
	index := map[int]int{}
	for i, e := range p.Ends {
		k, ok := index[net[i]]
		if !ok {
			k = len(nets)
			index[net[i]] = k
			nets = append(nets, nil)
		}
		nets[k] = append(nets[k], e.ID)
	}
	return nets
}

// Joined tells whether two ends share a net in a setting.
func (m Map) Joined(p Pod, s Setting, a, b EndID) bool {
	for _, net := range m.Nets(p, s) {
		var hasA, hasB bool
		for _, e := range net {
			hasA = hasA || e == a
			hasB = hasB || e == b
		}
		if hasA || hasB {
			return hasA && hasB
		}
	}
	return false
}
