package plan_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/fixture"
	"bellout/mapping/pinout"
	"bellout/mapping/plan"
)

// named gives a pod with the functions that the pinout proposes for its map.
func named(name string, pod mapping.Pod, m mapping.Map) plan.NewPod {
	x := plan.NewPod{Name: name, Desc: pod, Map: m, Functions: map[mapping.EndID]plan.Function{}}
	for _, e := range pinout.Build(pinout.Input{Work: &mapping.PodWork{Pod: pod}, Map: m}).Ends {
		if mapping.Grade(e.Grade).Known() {
			x.Functions[mapping.EndID(e.ID)] = plan.Function{What: e.Function, Din: e.Terminal, Either: e.Says == pinout.Harmless}
		}
	}
	for _, sw := range pod.Switches {
		if sw.Name == "key" {
			x.Key = "key"
			for _, q := range sw.Positions {
				if q != "on" && q != "start" {
					x.KeyOff = append(x.KeyOff, string(q))
				}
			}
		}
	}
	return x
}

// podIn reads a fixture's pod with its true map.
func podIn(t *testing.T, text string) plan.NewPod {
	t.Helper()
	fx, err := fixture.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	m, ok := fx.Map()
	if !ok {
		t.Skip("no map of this pod")
	}
	return named(strings.ToLower(fx.Pod.Name), fx.Pod, m)
}

// readable refuses a first plan that cannot be read, or that breaks what it has to keep by
// itself.
func readable(t *testing.T, pods ...plan.NewPod) (plan.Plan, []string) {
	t.Helper()
	p, left := plan.New("first", pods)
	text := plan.Write(p)
	back, err := plan.Read("plan.toml", text, nil)
	if err != nil {
		t.Fatalf("the plan cannot be read: %v\n%s", err, text)
	}
	for _, f := range plan.Check(back) {
		switch f.Kind {
		case plan.TiedWays, plan.Bypassed, plan.ShortToGnd, plan.Unfused, plan.NotAsMeant, plan.NoPurpose:
			t.Errorf("%s at %s, %s: %s %v", f.Kind, f.Where, f.Setting, f.Say, f.Path)
		}
	}
	return back, left
}

// TestNewPlanOfEveryPod: what a first plan of any pod is, it can be read, and its own check
// finds no ways tied and no load that works when it should not.
func TestNewPlanOfEveryPod(t *testing.T) {
	paths, _ := filepath.Glob("../../testdata/pods/*.pod")
	more, _ := filepath.Glob("../../testdata/example/*.pod")
	if paths = append(paths, more...); len(paths) < 10 {
		t.Fatalf("%d pods", len(paths))
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			readable(t, podIn(t, string(text)))
		})
	}
}

// TestNewPlanOfRandomPods: two pods with switches of the trade and contacts anywhere, joined
// for good in places.
func TestNewPlanOfRandomPods(t *testing.T) {
	kinds := []mapping.Switch{
		{Name: "dip", Positions: []mapping.PositionID{"low", "main"}}, {Name: "turn", Positions: []mapping.PositionID{"left", "off", "right"}},
		{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Momentary: true}, {Name: "kill", Positions: []mapping.PositionID{"off", "run"}},
		{Name: "start", Positions: []mapping.PositionID{"out", "in"}, Momentary: true}, {Name: "key", Positions: []mapping.PositionID{"off", "park", "on"}},
		{Name: "lights", Positions: []mapping.PositionID{"off", "park", "on"}}, {Name: "hazard", Positions: []mapping.PositionID{"off", "on"}},
		{Name: "flash", Positions: []mapping.PositionID{"out", "in"}, Momentary: true}, {Name: "brake", Positions: []mapping.PositionID{"released", "pulled"}, Momentary: true},
	}
	plans := 60
	if testing.Short() {
		plans = 10
	}
	for seed := range plans {
		r := rand.New(rand.NewPCG(uint64(seed), 4))
		var pods []plan.NewPod
		for i := range 2 {
			pod := mapping.Pod{Name: []string{"horn", "front"}[i]} // names that a plan needs itself
			for k := range 4 + r.IntN(6) {
				pod.Ends = append(pod.Ends, mapping.End{ID: mapping.EndID(fmt.Sprint(k + 1)), Kind: mapping.Wire, Base: "GY"})
			}
			for _, k := range r.Perm(len(kinds))[:2+r.IntN(3)] {
				sw := kinds[k]
				sw.Rest = sw.Positions[0]
				pod.Switches = append(pod.Switches, sw)
			}
			m := mapping.Map{}
			seen := map[[2]int]bool{}
			for range 2 + r.IntN(5) {
				a, b := r.IntN(len(pod.Ends)), r.IntN(len(pod.Ends))
				if a >= b || seen[[2]int{a, b}] {
					continue
				}
				seen[[2]int{a, b}] = true
				l := mapping.Link{A: pod.Ends[a].ID, B: pod.Ends[b].ID, Grade: mapping.Proved}
				if r.IntN(6) > 0 {
					sw := pod.Switches[r.IntN(len(pod.Switches))]
					q := sw.Positions[1+r.IntN(len(sw.Positions)-1)]
					l.When = []mapping.Condition{{{Switch: sw.Name, Positions: []mapping.PositionID{q}}}}
				}
				m.Links = append(m.Links, l)
			}
			pods = append(pods, named(string(pod.Name), pod, m))
		}
		p, left := plan.New("first", pods)
		text := plan.Write(p)
		if _, err := plan.Read("plan.toml", text, nil); err != nil {
			t.Fatalf("seed %d: %v\n%s\n%v", seed, err, text, left)
		}
		for _, f := range plan.Check(p) {
			if f.Kind == plan.TiedWays {
				t.Errorf("seed %d: %+v", seed, f)
			}
		}
	}
}

const right = `pod right | right pod
wires 1 RD, 2 RDBK, 3 BU, 4 BUYE, 5 YEGN
sw kill latching rest=run | off: | run: 1+2
sw start momentary rest=out | out: 3+4 | in: 2+5`

// TestNewPlanFeedsTheKillContact: the feed goes to the side of the kill contact that nothing
// else takes from, and neither ignition nor starter works with kill off.
func TestNewPlanFeedsTheKillContact(t *testing.T) {
	for name, text := range map[string]string{
		"start from the kill contact inside": right,
		"the feed has the higher number":     strings.NewReplacer("1+2", "5+2", "2+5", "2+1").Replace(right),
		"a start contact of its own":         "pod right | right pod\nwires 1 RD, 2 RDBK, 3 BU, 4 BUYE\nsw kill latching rest=run | off: | run: 1+2\nsw start momentary rest=out | out: | in: 3+4",
	} {
		t.Run(name, func(t *testing.T) {
			p, left := readable(t, podIn(t, text))
			for _, name := range []string{"ignition", "starter"} {
				i := slices.IndexFunc(p.Loads, func(l plan.Load) bool { return l.Name == name })
				if i < 0 {
					t.Fatalf("no %s in the plan; left: %q", name, left)
				}
				works := p.Loads[i].Works
				if len(works) != 1 || !strings.Contains(works[0], "right.kill=run") || (name == "starter") != strings.Contains(works[0], "right.start=in") {
					t.Errorf("%s is meant to work at %q", name, works)
				}
			}
			for _, s := range left {
				if strings.Contains(s, "kill") && strings.Contains(s, "not wired") {
					t.Error(s)
				}
			}
		})
	}
}

// TestNewPlanOfHalfAKill: a kill contact of which one side is not settled is left to the
// builder, and the start contact gets a way of its own.
func TestNewPlanOfHalfAKill(t *testing.T) {
	x := podIn(t, "pod right | right pod\nwires 1 RD, 2 RDBK, 3 BU, 4 BUYE\nsw kill latching rest=run | off: | run: 1+2\nsw start momentary rest=out | out: | in: 3+4")
	x.Functions = map[mapping.EndID]plan.Function{"1": {What: "kill in, from the ignition switch", Din: "15"}, "2": {What: "kill out, to the ignition", Din: "15", Either: true},
		"3": {What: "start feed"}, "4": {What: "starter relay", Din: "50"}}
	p, left := plan.New("first", []plan.NewPod{x})
	if _, err := plan.Read("plan.toml", plan.Write(p), nil); err != nil {
		t.Error(err)
	}
	if !slices.ContainsFunc(left, func(s string) bool { return strings.HasPrefix(s, "kill in") && strings.Contains(s, "not wired") }) {
		t.Errorf("left: %q", left)
	}
	if !slices.ContainsFunc(p.Block.Ways, func(w plan.Way) bool { return w.What == "start feed" }) {
		t.Errorf("ways %+v", p.Block.Ways)
	}
}

// TestNewPlanTakesOneOfTwoJoinedEnds: two ends joined inside the pod are one wire to the loom.
func TestNewPlanTakesOneOfTwoJoinedEnds(t *testing.T) {
	x := podIn(t, "pod left | left pod\nwires 1 BU, 2 BUWH, 3 GN, 4 GY\nsw turn latching rest=off | left: 1+3, 1+2 | off: 1+2 | right: 1+4, 1+2")
	x.Functions["1"], x.Functions["2"] = plan.Function{What: "from the flasher", Din: "49a"}, plan.Function{What: "from the flasher", Din: "49a"}
	p, left := readable(t, x)
	if len(p.Parts) != 1 || !slices.Contains(left, "left.2 is joined to left.1 inside: insulate it, that one does for both.") {
		t.Errorf("%d parts; left: %q", len(p.Parts), left)
	}
	if slices.ContainsFunc(p.Wires, func(w plan.Wire) bool { return w.From == "left.2" }) {
		t.Error("the second of two joined ends is wired")
	}
}

// TestNewPlanHasOneFlasher: ends of two switches that both take from the flasher hang on one.
func TestNewPlanHasOneFlasher(t *testing.T) {
	x := podIn(t, "pod left | left pod\nwires 1 BU, 2 BUWH, 3 GN, 4 GY, 5 WH\nsw turn latching rest=off | left: 1+3 | off: | right: 1+4\nsw hazard latching rest=off | off: | on: 2+3, 2+4")
	x.Functions = map[mapping.EndID]plan.Function{"1": {What: "turn", Din: "49a"}, "2": {What: "hazard", Din: "49a"}, "3": {What: "left", Din: "L"}, "4": {What: "right", Din: "R"}}
	p, _ := readable(t, x)
	if len(p.Parts) != 1 || !slices.ContainsFunc(p.Splices, func(s plan.Splice) bool { return s.Name == "SFL49a" }) {
		t.Errorf("parts %+v, splices %+v", p.Parts, p.Splices)
	}
	i := slices.IndexFunc(p.Loads, func(l plan.Load) bool { return l.Name == "left front" })
	if want := []string{"left.hazard=on", "left.turn=left"}; !slices.Equal(p.Loads[i].Works, want) {
		t.Errorf("left front is meant to work at %q, want %q", p.Loads[i].Works, want)
	}
}

// TestNewPlanSharesTiedFeeds: feeds that the pod joins in some setting come from one way.
func TestNewPlanSharesTiedFeeds(t *testing.T) {
	x := podIn(t, "pod left | left pod\nwires 1 RD, 2 BU, 3 WH, 4 PK\nsw dip latching rest=low | low: 1+3 | main: 1+2\nsw flash momentary rest=out | out: | in: 4+2")
	p, _ := readable(t, x)
	var from []string
	for _, w := range p.Wires {
		if w.From == "SW1" {
			from = append(from, w.To)
		}
	}
	if want := []string{"P1.1", "P1.4"}; !slices.Equal(from, want) {
		t.Errorf("one way feeds %q, want %q", from, want)
	}
}

// TestNewPlanWiresTheKey: a barrel with one contact that closes with the key on works the
// ignition relay; one with two is said to work nothing, in capitals.
func TestNewPlanWiresTheKey(t *testing.T) {
	const barrel = "pod barrel | barrel\nwires 1 RD, 2 BK, 3 BU, 4 WH\nsw key latching rest=off | off: | park: 3+4 | on: 1+2"
	p, left := readable(t, podIn(t, barrel), podIn(t, right))
	if !slices.Contains(left, "barrel.1 is taken as 30 and barrel.2 as 15, to the ignition relay: either way round will do.") {
		t.Errorf("left: %q", left)
	}
	for _, l := range p.Loads {
		for _, w := range l.Works {
			if !strings.Contains(w, "barrel.key=on") {
				t.Errorf("%s is meant to work at %q, key or not", l.Name, w)
			}
		}
	}
	if slices.ContainsFunc(p.Wires, func(w plan.Wire) bool { return w.From == "main.out" && w.To == "block.15" }) {
		t.Error("block.15 is live with the key off")
	}
	two := strings.NewReplacer("park: 3+4", "park:", "on: 1+2", "on: 1+2, 3+4").Replace(barrel)
	if _, left = readable(t, podIn(t, two), podIn(t, right)); len(left) == 0 || !strings.HasPrefix(left[0], "THE KEY BARREL SWITCHES NOTHING YET: which of its contacts is 30 and 15 is not known (1-2, 3-4)") {
		t.Errorf("nothing is said of the key: %q", left)
	}
}

// TestNewPlanColours: battery and ways that are always live are red, earths brown, and nothing
// else is; only colours that the reference of the plan file lists are dealt.
func TestNewPlanColours(t *testing.T) {
	p, _ := readable(t, podIn(t, "pod barrel | barrel\nwires 1 RD, 2 BK\nsw key latching rest=off | off: | on: 1+2"), podIn(t, right))
	listed := ""
	for _, table := range plan.Explain() {
		for _, k := range table.Keys {
			if table.Header == "[[wire]]" && k.Name == "colour" {
				listed = k.Say
			}
		}
	}
	for _, w := range p.Wires {
		ends := w.From + " " + w.To
		if strings.HasPrefix(w.From, "right.") || strings.HasPrefix(w.From, "barrel.") {
			continue // as they were found
		}
		earth := strings.Contains(ends, "E1") || strings.Contains(ends, "-")
		if earth != (w.Colour == "BN") || w.Tracer == "BN" {
			t.Errorf("%s is %s/%s", ends, w.Colour, w.Tracer)
		}
		if live := strings.Contains(ends, "battery.+") || strings.Contains(ends, "main.") || strings.Contains(ends, "block.") || strings.Contains(ends, "starter.+"); live && w.Colour != "RD" {
			t.Errorf("%s is %s", ends, w.Colour)
		}
		for _, c := range []string{w.Colour, w.Tracer} {
			if c == "GD" || c == "SR" || !strings.Contains(listed, c) {
				t.Errorf("%s is %q, which the reference does not list", ends, c)
			}
		}
	}
}
