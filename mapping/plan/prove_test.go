package plan

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
)

// reference proves a plan by the slowest method there is: every setting of
// every switch at once, joined points spread one by one from each end. It
// shares no code with the prover.
type reference struct {
	p     Plan
	sws   []mapping.Switch
	names []string
	found map[string]bool
}

func (r *reference) run() map[string]bool {
	r.found = map[string]bool{}
	for _, pod := range r.p.Pods {
		for _, sw := range pod.Desc.Switches {
			r.sws = append(r.sws, sw)
			r.names = append(r.names, pod.Name)
		}
	}
	fed := map[string]bool{}
	set := make([]int, len(r.sws))
	for {
		r.setting(set, fed)
		k := 0
		for ; k < len(set); k++ {
			if set[k]++; set[k] < len(r.sws[k].Positions) {
				break
			}
			set[k] = 0
		}
		if k == len(set) {
			break
		}
	}
	for _, l := range r.p.Loads {
		if !fed[l.Name] {
			r.found[NeverFed+" "+l.Name] = true
		}
	}
	return r.found
}

// joins lists what is joined, with the relays that are pulled.
func (r *reference) joins(set []int, pulled map[string]bool) [][2]string {
	out := [][2]string{{"main.in", "main.out"}}
	for _, w := range r.p.Wires {
		out = append(out, [2]string{w.From, w.To})
	}
	for _, pod := range r.p.Pods {
		s := mapping.Setting{}
		for i, n := range r.names {
			if n == pod.Name {
				s[r.sws[i].Name] = r.sws[i].Positions[set[i]]
			}
		}
		for _, l := range pod.Map.Links {
			if l.Holds(pod.Desc, s) {
				out = append(out, [2]string{pod.Name + "." + string(l.A), pod.Name + "." + string(l.B)})
			}
		}
	}
	for _, x := range r.p.Relays {
		if pulled[x.Name] {
			out = append(out, [2]string{x.Name + ".30", x.Name + ".87"})
		}
	}
	return out
}

func spread(joins [][2]string, from string) map[string]bool {
	in := map[string]bool{from: true}
	for grew := true; grew; {
		grew = false
		for _, j := range joins {
			if in[j[0]] != in[j[1]] {
				in[j[0]], in[j[1]], grew = true, true, true
			}
		}
	}
	return in
}

func (r *reference) setting(set []int, fed map[string]bool) {
	bus := map[Feed]string{FromIgnition: "block.15", FromBattery: "block.30"}
	pulled := map[string]bool{}
	var joins, hot [][2]string
	var live, earth map[string]bool
	for range 2*len(r.p.Relays) + 2 {
		joins = r.joins(set, pulled)
		hot = slices.Clone(joins)
		for _, w := range r.p.Block.Ways {
			hot = append(hot, [2]string{bus[w.Feed], w.Name})
		}
		live, earth = spread(hot, "battery.+"), spread(joins, "battery.-")
		next := map[string]bool{}
		for _, x := range r.p.Relays {
			a, b := x.Name+".85", x.Name+".86"
			if live[a] && earth[b] && !earth[a] || live[b] && earth[a] && !earth[b] {
				next[x.Name] = true
			}
		}
		if fmt.Sprint(next) == fmt.Sprint(pulled) {
			break
		}
		pulled = next
	}
	keyOff := false
	for i, n := range r.names {
		for _, pod := range r.p.Pods {
			if pod.Name == n && pod.Key == string(r.sws[i].Name) && slices.Contains(pod.KeyOff, string(r.sws[i].Positions[set[i]])) {
				keyOff = true
			}
		}
	}
	inUse := map[string]bool{"battery.+": true}
	for _, w := range r.p.Block.Ways {
		inUse[bus[w.Feed]] = true
	}
	for i, w := range r.p.Block.Ways {
		net := spread(joins, w.Name)
		feeds := false
		for f := range inUse {
			feeds = feeds || net[f]
		}
		switch {
		case net["battery.-"] && feeds:
			r.found[ShortToGnd+" feed"] = true
		case net["battery.-"]:
			r.found[ShortToGnd+" "+w.Name] = true
		case feeds:
			r.found[Bypassed+" "+w.Name] = true
		default:
			for _, v := range r.p.Block.Ways[i+1:] {
				if net[v.Name] {
					r.found[TiedWays+" "+w.Name+" "+v.Name] = true
				}
			}
		}
	}
	for f := range inUse {
		if spread(joins, f)["battery.-"] {
			r.found[ShortToGnd+" feed"] = true
		}
	}
	for _, l := range r.p.Loads {
		a, b := l.Name+".+", l.Name+".-"
		if spread(joins, a)[b] || !(live[a] && earth[b] && !earth[a] || live[b] && earth[a] && !earth[b]) {
			continue
		}
		fed[l.Name] = true
		if keyOff && !l.Always {
			r.found[FedKeyOff+" "+l.Name] = true
		}
	}
}

// somePlan is a small random harness, mostly nonsense: that is where factoring
// could go wrong.
func somePlan(r *rand.Rand) Plan {
	p := Plan{Name: "random", Volts: 12, Temperature: 20, Insulation: 105, DropPercent: 5}
	points := []string{"battery.-", "E1", "S1", "S2"}
	p.Earths = []Earth{{Name: "E1"}}
	p.Splices = []Splice{{Name: "S1"}, {Name: "S2"}}
	for i := range 2 + r.IntN(3) {
		name := fmt.Sprint("W", i+1)
		p.Block.Ways = append(p.Block.Ways, Way{Name: name, Fuse: 5, Feed: []Feed{FromIgnition, FromBattery}[r.IntN(2)]})
		points = append(points, name)
	}
	var ends []string
	for i := range 1 + r.IntN(3) {
		pod := Pod{Name: fmt.Sprint("p", i)}
		n := 2 + r.IntN(4)
		for k := range n {
			pod.Desc.Ends = append(pod.Desc.Ends, mapping.End{ID: mapping.EndID(itoa(k + 1))})
			ends = append(ends, fmt.Sprint(pod.Name, ".", k+1))
		}
		for k := range 1 + r.IntN(3) {
			sw := mapping.Switch{Name: mapping.SwitchID(fmt.Sprint("s", k)), Positions: []mapping.PositionID{"a", "b", "c"}[:2+r.IntN(2)], Rest: "a", Momentary: r.IntN(2) == 0}
			pod.Desc.Switches = append(pod.Desc.Switches, sw)
		}
		for range 1 + r.IntN(4) {
			a, b := r.IntN(n), r.IntN(n)
			if a == b {
				continue
			}
			l := mapping.Link{A: pod.Desc.Ends[min(a, b)].ID, B: pod.Desc.Ends[max(a, b)].ID, Grade: mapping.Proved}
			for range r.IntN(3) {
				var c mapping.Condition
				for _, sw := range pod.Desc.Switches {
					if r.IntN(2) == 0 {
						c = append(c, mapping.Term{Switch: sw.Name, Positions: sw.Positions[r.IntN(len(sw.Positions)):][:1]})
					}
				}
				if len(c) > 0 {
					l.When = append(l.When, c)
				}
			}
			pod.Map.Links = append(pod.Map.Links, l)
		}
		if i == 0 && r.IntN(2) == 0 {
			pod.Key, pod.KeyOff = "s0", []string{"a"}
		}
		p.Pods = append(p.Pods, pod)
	}
	for i := range 1 + r.IntN(4) {
		p.Loads = append(p.Loads, Load{Name: fmt.Sprint("l", i), Watts: 12})
		ends = append(ends, fmt.Sprint("l", i, ".+"), fmt.Sprint("l", i, ".-"))
	}
	for i := range r.IntN(2) {
		p.Relays = append(p.Relays, Relay{Name: fmt.Sprint("R", i)})
		for _, t := range []string{".30", ".87", ".85", ".86"} {
			ends = append(ends, fmt.Sprint("R", i, t))
		}
	}
	wire := func(a, b string) {
		if a != b {
			p.Wires = append(p.Wires, Wire{Name: fmt.Sprint("w", len(p.Wires)), From: a, To: b, MM2: 1, Length: 1, In: Loom})
		}
	}
	wire("battery.+", "main.in")
	wire("main.out", "block.30")
	if r.IntN(3) == 0 {
		wire("main.out", "block.15")
	} else {
		ends = append(ends, "block.15")
		points = append(points, "main.out")
	}
	wire("E1", "battery.-")
	for _, e := range ends {
		if r.IntN(5) > 0 {
			wire(e, points[r.IntN(len(points))])
		} else {
			wire(e, ends[r.IntN(len(ends))])
		}
	}
	return p
}

func TestProofEqualsExhaustion(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 5))
	seen := map[string]int{}
	trials := 300
	if testing.Short() {
		trials = 100
	}
	for range trials {
		p := somePlan(r)
		want := (&reference{p: p}).run()
		got := map[string]bool{}
		skip := false
		for _, f := range prove(compile(&p, nil)) {
			skip = skip || f.Kind == Chatter
			switch f.Kind {
			case TiedWays, ShortToGnd, Bypassed, FedKeyOff, NeverFed:
				got[f.Kind+" "+f.Where] = true
			}
		}
		if skip {
			continue
		}
		for k := range want {
			seen[strings.Fields(k)[0]]++
			if !got[k] {
				t.Fatalf("%s is not found in\n%s", k, Write(p))
			}
		}
		for k := range got {
			if !want[k] {
				t.Fatalf("%s is found and is not so in\n%s", k, Write(p))
			}
		}
	}
	for _, k := range []string{TiedWays, ShortToGnd, Bypassed, FedKeyOff, NeverFed} {
		if seen[k] < 10 {
			t.Errorf("%s came up %d times only: the test shows little", k, seen[k])
		}
	}
	t.Logf("%v", seen)
}

// The setting that a finding names makes it happen, whatever the switches that
// it does not name do.
func TestSettingNamedIsEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 5))
	checked := 0
	for range 200 {
		p := somePlan(r)
		n := compile(&p, nil)
		for _, f := range prove(n) {
			if f.Kind != TiedWays {
				continue
			}
			ways := strings.Fields(f.Where)
			s := newState(n)
			for range 20 {
				for i, sw := range n.switches {
					s.set[i] = r.IntN(len(sw.sw.Positions))
					for _, c := range splitWhen(f.Setting) {
						if c.name == sw.name {
							s.set[i] = sw.sw.Index(mapping.PositionID(c.at[0]))
						}
					}
				}
				if len(p.Relays) > 0 {
					continue // a relay depends on more than the group's own switches
				}
				n.eval(s)
				checked++
				if a, b := s.root[n.node[n.at[ways[0]]]], s.root[n.node[n.at[ways[1]]]]; a != b {
					t.Fatalf("%+v does not happen in %v\n%s", f, s.set, Write(p))
				}
			}
		}
	}
	if checked < 200 {
		t.Errorf("%d settings tried only: the test shows little", checked)
	}
}
