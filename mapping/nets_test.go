package mapping

import (
	"slices"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"pgregory.net/rapid"
)

// The nets of a map are the connected components of its links that hold, as
// gonum's own component search finds them.
func TestNetsAreConnectedComponents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 14).Draw(t, "ends")
		p := Pod{Switches: []Switch{{Name: "s", Positions: []PositionID{"a", "b"}, Rest: "a"}}}
		for i := range n {
			p.Ends = append(p.Ends, End{ID: EndID(strconv.Itoa(i))})
		}
		g := simple.NewUndirectedGraph()
		for i := range n {
			g.AddNode(simple.Node(i))
		}
		at := Setting{"s": rapid.SampledFrom([]PositionID{"a", "b"}).Draw(t, "at")}
		var m Map
		for range rapid.IntRange(0, 16).Draw(t, "links") {
			i := rapid.IntRange(0, n-1).Draw(t, "i")
			j := rapid.IntRange(0, n-1).Draw(t, "j")
			l := Link{A: EndID(strconv.Itoa(i)), B: EndID(strconv.Itoa(j))}
			if rapid.Bool().Draw(t, "switched") {
				l.When = []Condition{{{"s", []PositionID{"b"}}}}
			}
			m.Links = append(m.Links, l)
			if i != j && (l.When == nil || at["s"] == "b") {
				g.SetEdge(g.NewEdge(simple.Node(i), simple.Node(j)))
			}
		}
		var want [][]EndID
		for _, c := range topo.ConnectedComponents(g) {
			var ids []int
			for _, node := range c {
				ids = append(ids, int(node.ID()))
			}
			slices.Sort(ids)
			var net []EndID
			for _, i := range ids {
				net = append(net, EndID(strconv.Itoa(i)))
			}
			want = append(want, net)
		}
		first := func(net []EndID) int { i, _ := strconv.Atoi(string(net[0])); return i }
		slices.SortFunc(want, func(a, b []EndID) int { return first(a) - first(b) })
		got := m.Nets(p, at)
		if !slices.EqualFunc(got, want, slices.Equal[[]EndID]) {
			t.Fatalf("nets %v, components %v", got, want)
		}
	})
}
