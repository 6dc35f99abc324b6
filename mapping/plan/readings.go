package plan

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// Parts lists what can be read by itself once it is unplugged: the loom, then
// every module that has wires of its own, in the plan's order.
func Parts(p Plan) []string {
	out := []string{}
	for _, m := range append([]Module{{Name: Loom}}, p.Modules...) {
		if slices.ContainsFunc(p.Wires, func(w Wire) bool { return w.In == m.Name }) {
			out = append(out, m.Name)
		}
	}
	return out
}

// part is the nets of one part by itself: what its own wires join. Points a
// meter cannot touch (splices) are in no net.
type part struct {
	name  string
	nets  [][]string
	wires []Wire
}

func partOf(p *Plan, name string) part {
	out := part{name: name}
	splice := map[string]bool{}
	for _, s := range p.Splices {
		splice[s.Name] = true
	}
	index := map[string]int{}
	var points []string
	at := func(point string) int {
		i, ok := index[point]
		if !ok {
			i = len(points)
			index[point] = i
			points = append(points, point)
		}
		return i
	}
	var root []int
	for _, w := range p.Wires {
		if w.In != name {
			continue
		}
		out.wires = append(out.wires, w)
		a, b := at(w.From), at(w.To)
		for len(root) < len(points) {
			root = append(root, len(root))
		}
		unite(root, a, b)
	}
	byRoot := map[int]int{}
	for i, point := range points {
		if splice[point] {
			continue
		}
		r := find(root, i)
		k, ok := byRoot[r]
		if !ok {
			k = len(out.nets)
			byRoot[r] = k
			out.nets = append(out.nets, nil)
		}
		out.nets[k] = append(out.nets[k], point)
	}
	return out
}

// ProofReadings is the fewest readings with bunches that show a part to be as
// planned: in a net of k points k-1 readings join them, and ceil(log2 q) bunch
// readings show q nets apart (Kautz 1974): in the j-th, the nets whose number
// has bit j are red and all others black. Nil for a part that is not there.
func ProofReadings(p Plan, name string) []ProofReading {
	return partOf(&p, name).readings()
}

func (pt part) readings() []ProofReading {
	var out []ProofReading
	add := func(r ProofReading) {
		r.ID = readingID(pt.name, r.Red, r.Black)
		out = append(out, r)
	}
	for _, net := range pt.nets {
		for k := 1; k < len(net); k++ {
			most := max(0.2, round(pt.ohms(net[0], net[k])+0.1, 2))
			add(ProofReading{Red: []string{net[0]}, Black: []string{net[k]}, Joined: true, Max: most,
				Say: fmt.Sprintf("%s to %s: beep, %s ohm or less over leads", net[0], net[k], trim(most))})
		}
	}
	q := len(pt.nets)
	if q < 2 {
		return out
	}
	for j := range bits.Len(uint(q - 1)) {
		r := ProofReading{}
		for i, net := range pt.nets {
			if i&(1<<j) != 0 {
				r.Red = append(r.Red, net[0])
			} else {
				r.Black = append(r.Black, net[0])
			}
		}
		r.Say = fmt.Sprintf("%s bunched, to %s bunched: silence", strings.Join(r.Red, " "), strings.Join(r.Black, " "))
		add(r)
	}
	return out
}

// ohms between two points of a part at 20 C, by its own wires.
func (pt part) ohms(a, b string) float64 {
	index := map[string]int{}
	var springs []spring
	at := func(s string) int {
		if _, ok := index[s]; !ok {
			index[s] = len(index)
		}
		return index[s]
	}
	for _, w := range pt.wires {
		r := anySize(max(w.MM2, 0.3)).OhmsPerKM / 1000 * w.Length
		springs = append(springs, spring{at(w.From), at(w.To), 1 / max(r, 1e-4)})
	}
	r, _ := resistance(len(index), springs, at(a), at(b))
	return r
}

// answers works out what every reading of a list says of a harness whose nets
// are given.
func answers(list []ProofReading, nets map[string]int) []bool {
	out := make([]bool, len(list))
	for i, r := range list {
		for _, a := range r.Red {
			for _, b := range r.Black {
				out[i] = out[i] || nets[a] == nets[b]
			}
		}
	}
	return out
}

func (pt part) netOf() map[string]int {
	out := map[string]int{}
	for i, net := range pt.nets {
		for _, point := range net {
			out[point] = i
		}
	}
	return out
}

// hypothesis is a fault and the nets that the part then has.
type hypothesis struct {
	suspect Suspect
	nets    map[string]int
}

// NameFault finds the single faults that explain every reading taken: two
// cavities of one plug swapped, a wire open, two nets joined. Read tells for a
// reading's ID whether it beeped; readings not yet taken may be missing. Nil
// when everything read is as planned. Where several faults explain it, each
// names the reading that would tell it from the next.
func NameFault(p Plan, name string, read map[string]bool) []Suspect {
	pt := partOf(&p, name)
	list := pt.readings()
	asPlanned := true
	for _, r := range list {
		if got, ok := read[r.ID]; ok && got != r.Joined {
			asPlanned = false
		}
	}
	if asPlanned {
		return nil
	}
	var fit []hypothesis
	for _, h := range pt.hypotheses(&p) {
		says := answers(list, h.nets)
		ok := true
		for i, r := range list {
			if got, have := read[r.ID]; have && got != says[i] {
				ok = false
				break
			}
		}
		if ok {
			fit = append(fit, h)
		}
	}
	if len(fit) == 0 {
		return []Suspect{{Kind: "several", Say: "no single swap, open wire or join explains these readings: there is more than one fault, so mend one net at a time and read again"}}
	}
	var out []Suspect
	for i, h := range fit {
		if i+1 < len(fit) {
			h.suspect.Retest = tellApart(h.nets, fit[i+1].nets)
		} else if i > 0 {
			h.suspect.Retest = fit[i-1].suspect.Retest
		}
		fit[i] = h
		out = append(out, h.suspect)
	}
	return out
}

// tellApart finds two points that one harness joins and the other does not.
func tellApart(a, b map[string]int) string {
	points := make([]string, 0, len(a))
	for k := range a {
		points = append(points, k)
	}
	slices.Sort(points)
	for i, x := range points {
		for _, y := range points[i+1:] {
			if (a[x] == a[y]) != (b[x] == b[y]) {
				word := "silence"
				if a[x] == a[y] {
					word = "a beep"
				}
				return fmt.Sprintf("read %s to %s: %s means this one", x, y, word)
			}
		}
	}
	return "nothing that a meter can read tells them apart: look"
}

func (pt part) hypotheses(p *Plan) []hypothesis {
	var out []hypothesis
	base := pt.netOf()
	for _, pl := range p.Plugs {
		var used []string
		for c := 1; c <= pl.Cavities; c++ {
			used = append(used, pl.Name+"."+itoa(c))
		}
		for i, a := range used {
			for _, b := range used[i+1:] {
				na, okA := base[a]
				nb, okB := base[b]
				if !okA && !okB || okA && okB && na == nb {
					continue
				}
				nets := copied(base)
				swapPoint(nets, a, b)
				out = append(out, hypothesis{Suspect{Kind: "swapped", Points: []string{a, b},
					Say: fmt.Sprintf("cavities %s and %s are swapped in the %s half: pull both terminals and change them over", a, b, pt.half())}, nets})
			}
		}
	}
	for i, w := range pt.wires {
		q := *p
		q.Wires = slices.Clone(p.Wires)
		q.Wires = slices.DeleteFunc(q.Wires, func(x Wire) bool { return x.Name == w.Name })
		nets := partOf(&q, pt.name).netOf()
		for point := range base { // what hangs on that wire alone is a net by itself
			if _, ok := nets[point]; !ok {
				nets[point] = 1000 + i*1000 + slices.Index(pt.points(), point)
			}
		}
		out = append(out, hypothesis{Suspect{Kind: "open", Points: []string{w.From, w.To},
			Say: fmt.Sprintf("wire %s (%s) from %s to %s is open: look at its two crimps", w.Name, w.code(), w.From, w.To)}, nets})
	}
	for i := range pt.nets {
		for j := i + 1; j < len(pt.nets); j++ {
			nets := copied(base)
			for k, v := range nets {
				if v == j {
					nets[k] = i
				}
			}
			out = append(out, hypothesis{Suspect{Kind: "joined", Points: []string{pt.nets[i][0], pt.nets[j][0]},
				Say: fmt.Sprintf("the nets of %s and %s are joined: look for a pinched wire or a strand across", pt.nets[i][0], pt.nets[j][0])}, nets})
		}
	}
	return out
}

func (pt part) half() string {
	if pt.name == Loom {
		return "loom"
	}
	return "module"
}

func (pt part) points() []string {
	var out []string
	for _, net := range pt.nets {
		out = append(out, net...)
	}
	return out
}

func copied(m map[string]int) map[string]int {
	out := make(map[string]int, len(m))
	for k, v := range m {
		out[k] = v
	}
	return out
}

// swapPoint changes two points over; one that was in no net leaves the other
// in none.
func swapPoint(nets map[string]int, a, b string) {
	na, okA := nets[a]
	nb, okB := nets[b]
	if okA {
		nets[b] = na
	} else {
		nets[b] = -1
	}
	if okB {
		nets[a] = nb
	} else {
		nets[a] = -2
	}
}
