package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// ShareLoad is a load to be put on one of several equal ways. One of no group, a relay's
// coil, breaks no rule beside anything. Loads with the
// same Circuit (a pod's one feed) go together. FuseMax is the largest fuse that
// its thinnest wire allows, 0 for any.
type ShareLoad struct {
	Name    string
	Group   Group
	Steady  float64 // amps that run on
	Peak    float64 // amps at most, steady ones included
	FuseMax float64
	Circuit string
}

// Sharing is loads shared out over ways. Broken is as small as it can be, and
// among those sharings Fullest is as small as it can be; Exact is false if the
// search was cut short before it could prove that. Way is by load, from 0.
type Sharing struct {
	Way     []int
	Steady  []float64 // by way
	Peak    []float64
	Fuse    []float64 // 0: none fits, or the way is empty
	Fullest float64   // most steady amps on a way
	Broken  []BrokenRule
	Refused []Refusal
	Exact   bool
}

// BrokenRule is a rule that no sharing can keep.
type BrokenRule struct {
	Rule string
	Way  int
	Say  string
}

// Refusal says why a load is not on another way.
type Refusal struct {
	Load string
	Way  int
	Say  string
}

// NoFuseFits is the rule that a way's fuse carries its loads and protects its
// wires.
const NoFuseFits = "no-fuse-fits"

// Share puts loads on ways, fewest broken rules first, then the smallest
// fullest way: an exact search with bounds. What is still free is then evened
// out by exchanges that break and raise nothing.
func Share(loads []ShareLoad, ways int) (Sharing, error) {
	if ways < 1 || ways > maxWays {
		return Sharing{}, fmt.Errorf("the block has %d ways: give from 1 to %d", ways, maxWays)
	}
	for _, l := range loads {
		if !(l.Steady >= 0) || !(l.Peak >= 0) || l.Steady > 1e4 || l.Peak > 1e4 || !(l.FuseMax >= 0) {
			return Sharing{}, fmt.Errorf("load %q has currents that cannot be: give amps from 0 up", l.Name)
		}
	}
	s := newSharer(loads, ways)
	s.search(0, 0, 0)
	return s.result(loads), nil
}

// newSharer prepares a search.
func newSharer(loads []ShareLoad, ways int) *sharer {
	s := &sharer{items: itemsOf(loads), bins: make([]bin, ways), bestBroken: math.MaxInt32, bestMax: math.MaxInt32, seen: map[[2]uint64]struct{}{}}
	s.at = make([]int, len(s.items))
	s.rest = make([][3]int, len(s.items)+1)
	s.alone = make([]uint8, len(s.items)+1)
	total := 0
	for i := len(s.items) - 1; i >= 0; i-- {
		s.rest[i] = s.rest[i+1]
		if m := s.items[i].mask; m != 0 {
			s.rest[i][kindOfMask(m)] += s.items[i].steady
		}
		s.alone[i] = s.alone[i+1] | bin{}.with(s.items[i]).rules
		total += s.items[i].steady
		s.floorMax = max(s.floorMax, s.items[i].steady)
	}
	s.floorMax = max(s.floorMax, (total+ways-1)/ways)
	if len(s.items) > ways { // two of the largest ways+1 must share
		var by []int
		for _, it := range s.items {
			by = append(by, it.steady)
		}
		slices.SortFunc(by, func(a, b int) int { return b - a })
		s.floorMax = max(s.floorMax, by[ways-1]+by[ways])
	}
	return s
}

// arranged is the sharing of loads as they are put on ways, as it stands.
func (s *sharer) arranged(loads []ShareLoad, at []int) Sharing {
	for i, it := range s.items {
		s.at[i] = at[it.loads[0]]
	}
	return s.told(loads)
}

func (s *sharer) result(loads []ShareLoad) Sharing {
	if s.best == nil {
		s.best = make([]int, len(s.items))
	}
	copy(s.at, s.best)
	s.even()
	return s.told(loads)
}

// told is the arrangement in s.at with its figures and reasons.
func (s *sharer) told(loads []ShareLoad) Sharing {
	out := Sharing{Exact: !s.cut, Way: make([]int, len(loads))}
	bins := s.fill()
	for i, it := range s.items {
		for _, l := range it.loads {
			out.Way[l] = s.at[i]
		}
	}
	for b, x := range bins {
		out.Steady = append(out.Steady, float64(x.steady)/1000)
		out.Peak = append(out.Peak, float64(x.peak)/1000)
		out.Fuse = append(out.Fuse, x.fuse())
		out.Fullest = max(out.Fullest, float64(x.steady)/1000)
		out.Broken = append(out.Broken, s.brokenOn(b, x, loads)...)
	}
	for i, it := range s.items {
		for b := range bins {
			if b == s.at[i] {
				continue
			}
			if say := s.refuse(bins[b], it); say != "" {
				out.Refused = append(out.Refused, Refusal{Load: itemName(it, loads), Way: b, Say: say})
			}
		}
	}
	return out
}

func itemName(it item, loads []ShareLoad) string {
	var names []string
	for _, l := range it.loads {
		names = append(names, loads[l].Name)
	}
	return strings.Join(names, ", ")
}

func (s *sharer) fill() []bin {
	bins := make([]bin, len(s.bins))
	for i, b := range s.at {
		bins[b] = bins[b].with(s.items[i])
	}
	return bins
}

// even moves and exchanges items while that lowers the sum of squares, breaks
// no more rules and does not raise the fullest way.
func (s *sharer) even() {
	score := func() (broken, fullest, squares int) {
		for _, b := range s.fill() {
			broken += b.broken()
			fullest = max(fullest, b.steady)
			squares += b.steady * b.steady
		}
		return
	}
	br, mx, sq := score()
	try := func(undo func()) bool {
		if b2, m2, s2 := score(); b2 <= br && m2 <= mx && s2 < sq {
			br, mx, sq = b2, m2, s2
			return true
		}
		undo()
		return false
	}
	for better := true; better; {
		better = false
		for i := range s.at {
			for b := range s.bins {
				if old := s.at[i]; b != old {
					s.at[i] = b
					better = try(func() { s.at[i] = old }) || better
				}
			}
			for j := range i {
				if s.at[i] != s.at[j] {
					s.at[i], s.at[j] = s.at[j], s.at[i]
					better = try(func() { s.at[i], s.at[j] = s.at[j], s.at[i] }) || better
				}
			}
		}
	}
}

func (s *sharer) brokenOn(b int, x bin, loads []ShareLoad) []BrokenRule {
	var gs []Group
	var names []string
	for i, it := range s.items {
		if s.at[i] == b {
			gs = append(gs, it.groups...)
			names = append(names, itemName(it, loads))
		}
	}
	var out []BrokenRule
	br := breaches(gs)
	for _, k := range []string{GroupLamps, GroupBrake, GroupIgnition, GroupAccessory} {
		if br[k] {
			out = append(out, BrokenRule{k, b, fmt.Sprintf("way %d %s (%s): there are too few ways or pod feeds to keep them apart", b+1, breachWords[k], strings.Join(names, ", "))})
		}
	}
	if x.used && x.fuse() == 0 {
		out = append(out, BrokenRule{NoFuseFits, b, fmt.Sprintf("way %d carries %s A steady and %s A at most, and its thinnest wire allows %s A: thicker wire, a relay or another way", b+1,
			trim(float64(x.steady)/1000), trim(float64(x.peak)/1000), trim(x.limit))})
	}
	return out
}

// refuse says what a load would break on a way, "" if nothing.
func (s *sharer) refuse(b bin, it item) string {
	next := b.with(it)
	if next.broken() <= b.broken() {
		return ""
	}
	var words []string
	for _, c := range []struct {
		rule string
		a, b uint16
	}{{GroupLamps, gHead, gRear}, {GroupBrake, gBrake, gTurn}} {
		if next.mask&c.a != 0 && next.mask&c.b != 0 && (b.mask&c.a == 0 || b.mask&c.b == 0) {
			words = append(words, breachWords[c.rule])
		}
	}
	if next.rules&bIgnition != 0 {
		words = append(words, breachWords[GroupIgnition])
	}
	if next.rules&bAccessory != 0 {
		words = append(words, breachWords[GroupAccessory])
	}
	if next.fuse() == 0 && (b.fuse() != 0 || !b.used) {
		words = append(words, fmt.Sprintf("would carry %s A steady and %s A at most, more than a fuse of %s A may", trim(round(float64(next.steady)/1000, 1)), trim(round(float64(next.peak)/1000, 1)), trim(next.limit)))
	}
	return strings.Join(words, "; ")
}
