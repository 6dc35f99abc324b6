package inference

import (
	"encoding/csv"
	"math"
	"math/bits"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// table reads one of the reference tables, a map from column to cell each row.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

// TestNetsAgainstGonum: the nets of a map are the connected components of its
// links that hold. Source: gonum.org/v1/gonum/graph/topo.ConnectedComponents.
func TestNetsAgainstGonum(t *testing.T) {
	for seed := range int64(200) {
		w := simbench.Generate(seed, simbench.Options{MaxEnds: 14, MaxSwitches: 5})
		r := rand.New(rand.NewPCG(uint64(seed), 5))
		m := mapping.Map{}
		for _, l := range randomMap(r, w.Pod, 1+r.IntN(12)) {
			link := mapping.Link{A: w.Pod.Ends[l.A].ID, B: w.Pod.Ends[l.B].ID}
			if len(l.Terms) > 0 {
				var c mapping.Condition
				for _, x := range l.Terms {
					sw := w.Pod.Switches[x.Switch]
					term := mapping.Term{Switch: sw.Name}
					for q, name := range sw.Positions {
						if x.Mask>>q&1 == 1 {
							term.Positions = append(term.Positions, name)
						}
					}
					c = append(c, term)
				}
				link.When = []mapping.Condition{c}
			}
			m.Links = append(m.Links, link)
		}
		for range 4 {
			at := mapping.Setting{}
			for _, sw := range w.Pod.Switches {
				at[sw.Name] = sw.Positions[r.IntN(len(sw.Positions))]
			}
			g := simple.NewUndirectedGraph()
			id := map[mapping.EndID]int64{}
			for i, e := range w.Pod.Ends {
				id[e.ID] = int64(i)
				g.AddNode(simple.Node(i))
			}
			for _, l := range m.Links {
				if holdsIn(l, at) {
					g.SetEdge(simple.Edge{F: simple.Node(id[l.A]), T: simple.Node(id[l.B])})
				}
			}
			var want [][]mapping.EndID
			for _, part := range topo.ConnectedComponents(g) {
				var net []mapping.EndID
				for i := range w.Pod.Ends {
					for _, n := range part {
						if n.ID() == int64(i) {
							net = append(net, w.Pod.Ends[i].ID)
						}
					}
				}
				want = append(want, net)
			}
			slices.SortFunc(want, func(a, b []mapping.EndID) int { return int(id[a[0]] - id[b[0]]) })
			got := m.Nets(w.Pod, at)
			if !slices.EqualFunc(got, want, slices.Equal[[]mapping.EndID]) {
				t.Fatalf("seed %d in %v: nets %v, gonum's components %v", seed, at, got, want)
			}
		}
	}
}

// holdsIn reads a link's condition as the design words it, by itself.
func holdsIn(l mapping.Link, at mapping.Setting) bool {
	if len(l.When) == 0 {
		return true
	}
	for _, c := range l.When {
		all := true
		for _, t := range c {
			all = all && slices.Contains(t.Positions, at[t.Switch])
		}
		if all {
			return true
		}
	}
	return false
}

// TestBellNumbers: the count of possible nets of n ends in one setting is the
// Bell number. Counted here over every set of links between the ends, through
// the engine's own nets. Source: bell_stirling.csv (OEIS A000110).
func TestBellNumbers(t *testing.T) {
	for _, row := range table(t, "bell_stirling.csv") {
		n, _ := strconv.Atoi(row["n"])
		if n < 2 || n > 6 {
			continue
		}
		want, _ := strconv.Atoi(row["bell"])
		var pairs [][2]int
		for b := range n {
			for a := range b {
				pairs = append(pairs, [2]int{a, b})
			}
		}
		seen := map[string]bool{}
		byNets := map[int]map[string]bool{}
		for set := range 1 << len(pairs) {
			h := &hyp{}
			for i, p := range pairs {
				if set>>i&1 == 1 {
					h.atoms = append(h.atoms, newAtom(p[0], p[1]))
				}
			}
			key := ""
			nets := map[uint64]bool{}
			for e := range n {
				m := h.net(1<<e, 0)
				nets[m] = true
				key += strconv.FormatUint(m, 16) + " "
			}
			seen[key] = true
			if byNets[len(nets)] == nil {
				byNets[len(nets)] = map[string]bool{}
			}
			byNets[len(nets)][key] = true
		}
		if len(seen) != want {
			t.Errorf("%d ends make %d different sets of nets, the Bell number is %d (%s)", n, len(seen), want, row["source"])
		}
		for k, s := range strings.Fields(row["stirling2_k1_to_kmax"]) {
			if w, _ := strconv.Atoi(s); len(byNets[k+1]) != w {
				t.Errorf("%d ends make %d sets of %d nets, the Stirling number is %d (%s)", n, len(byNets[k+1]), k+1, w, row["source"])
			}
		}
	}
}

// leastBunches is the fewest splits of q nets into two sides that part every
// two nets: the fewest bunch readings that show q nets apart.
func leastBunches(q int) int {
	for tests := 0; ; tests++ {
		if 1<<tests >= q { // each net needs its own row of sides
			return tests
		}
	}
}

// TestKautzBound: q nets of one end each take ceil(log2 q) bunch readings to
// show apart, no fewer. Checked by trying every choice of splits on small q.
// Source: probe_count_bounds.csv (Kautz 1974).
func TestKautzBound(t *testing.T) {
	checked := 0
	for _, row := range table(t, "probe_count_bounds.csv") {
		var q int
		if !strings.HasPrefix(row["problem"], "multiprobe behavioural") || !strings.Contains(row["instance"], "p=1;") {
			continue
		}
		_, text, _ := strings.Cut(row["instance"], "q=")
		q, _ = strconv.Atoi(text)
		want, _ := strconv.Atoi(row["tests"])
		if got := bits.Len(uint(q - 1)); got != want || leastBunches(q) != want {
			t.Errorf("%d nets: ceil(log2 q) = %d, published %d (%s)", q, got, want, row["source"])
		}
		checked++
	}
	if checked < 4 {
		t.Fatalf("only %d published cases", checked)
	}
	for q := 2; q <= 6; q++ {
		need := leastBunches(q)
		if partsAll(q, need-1) || !partsAll(q, need) {
			t.Errorf("%d nets: %d readings are not the least, by trying all", q, need)
		}
	}
}

// partsAll tries every choice of so many splits of q nets.
func partsAll(q, tests int) bool {
	var try func(splits []uint) bool
	try = func(splits []uint) bool {
		if len(splits) == tests {
			for a := range q {
				for b := range a {
					apart := false
					for _, s := range splits {
						apart = apart || (s>>a^s>>b)&1 == 1
					}
					if !apart {
						return false
					}
				}
			}
			return true
		}
		for s := range uint(1) << q {
			if try(append(slices.Clone(splits), s)) {
				return true
			}
		}
		return false
	}
	return try(nil)
}

// TestBits holds the size of a map against the definition by hand: 4 ends and
// one switch of 2 positions, M = 6 x 3 = 18; 2 closed cells, log2 C(18,2) =
// log2 153.
func TestBits(t *testing.T) {
	w, err := simbench.ReadPod("pod B\nwires 1 BU, 2 WH, 3 GY, 4 OG\nsw dip latching rest=low | low: 1+3 | main: 1+2")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := w.Bits(), math.Log2(153); math.Abs(got-want) > 1e-9 {
		t.Errorf("map of %.4f bits, want %.4f", got, want)
	}
}
