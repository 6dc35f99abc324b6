package plan

import (
	"cmp"
	"slices"
)

// gravest are the kinds of findings that come first, gravest first: what burns, what leaves
// current on that a fuse should cut, what nothing protects, what does other than it is meant to.
// A short makes many of those that follow it, and is to be mended before they are read.
func gravest() []string {
	return []string{
		NoBattery,
		ShortToGnd, StopFed,
		TiedWays, Bypassed,
		NoMainFuse, NoFuse, Unfused, UnfusedWire, FuseOverWire, MainFar, Insulated,
		EarthNowhere, MainEarth,
		ContactBridge, Chatter, NotAsMeant, FedKeyOff, NeverFed, Reversed, BackFeed,
	}
}

// byGravity orders findings: gravest first, those that are not named above last; within one kind by
// place, setting and words, so that the same plan gives the same list.
func byGravity(a, b Finding) int {
	order := gravest()
	rank := func(kind string) int {
		if i := slices.Index(order, kind); i >= 0 {
			return i
		}
		return len(order)
	}
	if c := cmp.Compare(rank(a.Kind), rank(b.Kind)); c != 0 {
		return c
	}
	return slices.Compare([]string{a.Kind, a.Where, a.Setting, a.Say}, []string{b.Kind, b.Where, b.Setting, b.Say})
}
