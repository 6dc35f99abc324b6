package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// ShareLoads are a plan's loads as Share takes them, those of one feed (the
// ignition's or the battery's) together. Loads that one end of a pod feeds are
// one circuit: the pod dictates, the plan obeys.
func ShareLoads(p Plan, feed Feed) []ShareLoad {
	n := compile(&p, nil)
	f := gather(n)
	var out []ShareLoad
	for li, l := range n.loads {
		if f.best[li] == nil || n.motor(l) {
			continue
		}
		way := -1
		for i := range n.ways {
			if f.ways[li]&(1<<i) != 0 && p.Block.Ways[n.ways[i].way].Feed == feed {
				way = i
			}
		}
		if way < 0 {
			continue
		}
		limit, _ := f.limit(way)
		sl := ShareLoad{Name: l.name, Peak: n.amps(l), FuseMax: limit, Circuit: f.entry(li)}
		if l.load >= 0 { // a coil breaks no rule, as in groupsOn
			sl.Group = p.Loads[l.load].GroupOf()
		}
		if n.duty(l) == Steady {
			sl.Steady = n.amps(l)
		}
		out = append(out, sl)
	}
	return out
}

// entry is the first contact that a load's current comes to behind its way, of a pod, a relay
// or a flasher: what hangs behind it cannot be moved apart. Empty if there is none.
func (f *facts) entry(li int) string {
	path := f.path(li)
	for i, at := range path {
		name, _, _ := strings.Cut(at, ".")
		if slices.ContainsFunc(f.n.plan.Pods, func(x Pod) bool { return x.Name == name }) {
			return at
		}
		if i+1 < len(path) && strings.HasPrefix(path[i+1], name+".") && f.n.isGate(name) {
			return at
		}
		if strings.HasSuffix(at, ".+") {
			break
		}
	}
	return ""
}

// ShareOut compares how a plan shares its loads over its ways with the best
// sharing there is over as many, feed by feed. Ways of one feed are alike, so
// the best sharing is told with the plan's own names, as near to the plan as
// they go.
func ShareOut(p Plan) []SharedFeed {
	f := gather(compile(&p, nil))
	var out []SharedFeed
	for _, feed := range []Feed{FromIgnition, FromBattery} {
		s := SharedFeed{Feed: feed, Loads: ShareLoads(p, feed)}
		planned := map[string]int{}
		for i, w := range p.Block.Ways {
			if w.Feed != feed {
				continue
			}
			for _, l := range f.loadsOf[i] {
				planned[l] = len(s.Ways)
			}
			s.Ways = append(s.Ways, w.Name)
			limit, _ := f.limit(i)
			for _, broken := range breaches(f.groupsOn(i)) {
				if broken {
					s.Broken++
				}
			}
			s.fuses = append(s.fuses, proposeFuse(f.steady[i], f.peak[i], limit))
			if len(f.loadsOf[i]) > 0 && s.fuses[len(s.fuses)-1] == 0 {
				s.Broken++
			}
			s.Fullest = max(s.Fullest, round(f.steady[i], 3))
		}
		if len(s.Ways) == 0 {
			continue
		}
		best, err := Share(s.Loads, len(s.Ways))
		if err != nil {
			continue // the plan's own currents are sound, Read has seen to it
		}
		s.Best = best.named(s.Loads, planned)
		f.keepPlanned(&s, planned)
		s.Say = append(s.Say, s.verdict())
		for _, b := range s.Best.Broken {
			s.Say = append(s.Say, s.name(b))
		}
		out = append(out, s)
	}
	return out
}

// keepPlanned lets the plan's own sharing be the best where the search has found none that is
// better. The search adds up all loads of a way, and cannot know which of them no setting
// feeds at once; the plan's own amps are those of its settings.
func (f *facts) keepPlanned(s *SharedFeed, planned map[string]int) {
	better := cmp.Or(cmp.Compare(len(s.Best.Broken), s.Broken), cmp.Compare(round(s.Best.Fullest, 1), round(s.Fullest, 1))) < 0
	at := make([]int, len(s.Loads))
	for i, l := range s.Loads {
		w, ok := planned[l.Name]
		if better = better || !ok; better {
			return
		}
		at[i] = w
	}
	exact := s.Best.Exact
	s.Best = newSharer(s.Loads, len(s.Ways)).arranged(s.Loads, at)
	s.Best.Exact, s.Best.Fullest, s.Best.Fuse = exact, s.Fullest, s.fuses
	s.Best.Broken = slices.DeleteFunc(s.Best.Broken, func(b BrokenRule) bool { return b.Rule == NoFuseFits && s.fuses[b.Way] > 0 })
}

// verdict is how the plan's sharing stands against the best.
func (f SharedFeed) verdict() string {
	rules := func(n int) string {
		switch n {
		case 0:
			return "no rule is broken"
		case 1:
			return "1 rule is broken"
		}
		return fmt.Sprintf("%d rules are broken", n)
	}
	s := fmt.Sprintf("Ways live %s: as planned %s and the fullest carries %s A steady; the best sharing over as many ways",
		map[Feed]string{FromIgnition: "with the key on", FromBattery: "always"}[f.Feed], rules(f.Broken), trim(round(f.Fullest, 1)))
	switch {
	case len(f.Best.Broken) == f.Broken && round(f.Best.Fullest, 1) >= round(f.Fullest, 1):
		s += " is no better."
	case len(f.Best.Broken) == f.Broken:
		s += fmt.Sprintf(" comes to %s A.", trim(round(f.Best.Fullest, 1)))
	default:
		s += fmt.Sprintf(": %s, %s A.", rules(len(f.Best.Broken)), trim(round(f.Best.Fullest, 1)))
	}
	if !f.Best.Exact {
		s += " (The search was cut short.)"
	}
	return s
}

// name puts the way's name where a broken rule has its number.
func (f SharedFeed) name(b BrokenRule) string {
	_, rest, ok := strings.Cut(b.Say, fmt.Sprintf("way %d ", b.Way+1))
	if !ok || b.Way >= len(f.Ways) {
		return b.Say
	}
	return f.Ways[b.Way] + " " + rest
}

// named renumbers the ways of a sharing so that as many loads as a greedy choice
// finds stay on the way that they are planned on.
func (s Sharing) named(loads []ShareLoad, planned map[string]int) Sharing {
	n := len(s.Steady)
	to, taken := make([]int, n), make([]bool, n)
	for i := range to {
		to[i] = -1
	}
	for range n {
		from, at, most := -1, -1, -1
		for i := range n {
			if to[i] >= 0 {
				continue
			}
			for k := range n {
				if taken[k] {
					continue
				}
				same := 0
				for l, w := range s.Way {
					if p, ok := planned[loads[l].Name]; ok && w == i && p == k {
						same++
					}
				}
				if same > most {
					from, at, most = i, k, same
				}
			}
		}
		to[from], taken[at] = at, true
	}
	out := s
	out.Way, out.Steady, out.Peak, out.Fuse = make([]int, len(s.Way)), make([]float64, n), make([]float64, n), make([]float64, n)
	for l, w := range s.Way {
		out.Way[l] = to[w]
	}
	for i, k := range to {
		out.Steady[k], out.Peak[k], out.Fuse[k] = s.Steady[i], s.Peak[i], s.Fuse[i]
	}
	out.Broken, out.Refused = slices.Clone(s.Broken), slices.Clone(s.Refused)
	for i, b := range out.Broken {
		_, rest, _ := strings.Cut(b.Say, fmt.Sprintf("way %d ", b.Way+1))
		out.Broken[i] = BrokenRule{b.Rule, to[b.Way], fmt.Sprintf("way %d ", to[b.Way]+1) + rest}
	}
	for i, r := range out.Refused {
		out.Refused[i].Way = to[r.Way]
	}
	slices.SortStableFunc(out.Refused, func(a, b Refusal) int {
		if a.Load != b.Load {
			return 0
		}
		return a.Way - b.Way
	})
	return out
}

// Refused says why a load is not on other ways in the best sharing, one reason
// a line: "W1 W3: ...". There is none where it could as well be elsewhere. Loads
// of one circuit are refused together.
func (f SharedFeed) Refused(load string) []string {
	ways := map[string][]string{}
	var says []string
	for _, r := range f.Best.Refused {
		if !slices.Contains(strings.Split(r.Load, ", "), load) || r.Way >= len(f.Ways) {
			continue
		}
		if ways[r.Say] == nil {
			says = append(says, r.Say)
		}
		ways[r.Say] = append(ways[r.Say], f.Ways[r.Way])
	}
	for i, s := range says {
		says[i] = strings.Join(ways[s], " ") + ": " + s
	}
	return says
}
