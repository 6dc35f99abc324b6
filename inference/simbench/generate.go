package simbench

import (
	"math/rand/v2"
	"strconv"

	"bellout/mapping"
)

// Options bounds what Generate invents. The zero value means 4 to 24 ends and
// 0 to 10 switches.
type Options struct {
	MinEnds, MaxEnds         int
	MinSwitches, MaxSwitches int
}

// Defaults fills in what was left at zero.
func (o Options) Defaults() Options {
	if o.MinEnds == 0 {
		o.MinEnds = 4
	}
	if o.MaxEnds == 0 {
		o.MaxEnds = max(24, o.MinEnds)
	}
	if o.MaxSwitches == 0 {
		o.MaxSwitches = max(10, o.MinSwitches)
	}
	return o
}

// Generate invents a pod; the same seed and options give the same pod.
//
// The distribution (trade estimates, fixed before any engine was measured):
//
//   - ends: uniform between the bounds; one pod in four (of 5 ends or more) has
//     its metal body among them, used as the return of a push, of a kill switch
//     or of a key;
//   - switches: ends/2.5 with a spread of about one, within the bounds; one pod
//     in 33 has none where that is allowed;
//   - each end is dead (reaches nothing) once in 25;
//   - forms of switches, by weight: push 22 (a quarter of them normally closed,
//     changeover or breaking one pair and making another), changeover 16 (one in
//     ten with a half-way click that joins both), three positions with centre
//     off 14 (one in seven with a second, normally closed pair of contacts),
//     cumulative lights 12, kill 10 (one in three earths instead, three in ten
//     rest at off), lever switch 8, two-pole 6, flash in parallel with an output
//     that is there already 5, hazard or double contact to outputs that are
//     there already 4, rotary selector 3, key barrel with cumulative positions
//     7 (at most one a pod);
//   - the feed of a switch is one that is there already in 35 of 100, otherwise
//     an end of its own; once ends run out every further contact goes to ends
//     that are there already; ends left over become further poles of random
//     switches (three in four) or bridges (one in four);
//   - a hidden junction gives a link of depth 2 in one pod in five (of two
//     switches or more): 45 % an inner feed (one switch's whole common hangs
//     behind another's contact that is open at rest: silent moved alone), 40 %
//     a contact of an otherwise jobless switch in series with an extra contact
//     of a switch with a visible job, 15 % two switches with visible jobs
//     sharing a hidden contact; of depth 3 (three switches in series) in one
//     pod in fifty (of three switches or more);
//   - links that make no sense: in 8 pods of 100 a fixed bridge between two
//     ends, in 6 of 100 a contact of a random switch, in random positions,
//     between two random ends;
//   - flags are dealt at random, so neighbouring numbers mean nothing; switches
//     are in random order; colours are drawn with repeats and mean nothing; half
//     of the switches have a legend.
func Generate(seed int64, opt Options) *World {
	opt = opt.Defaults()
	r := rand.New(rand.NewPCG(uint64(seed), 0x62656c6c6f7574))
	b := &builder{r: r}
	n := opt.MinEnds + r.IntN(opt.MaxEnds-opt.MinEnds+1)
	b.plan(n, opt)
	return b.finish(seed)
}

// form is one switch before its points have been given flags.
type form struct {
	name      string
	positions []mapping.PositionID
	rest      int
	momentary bool
	common    int // the point most of its contacts share, -1 for none
	visible   bool
}

// builder lays out the network over points numbered as they are taken: ends
// first come from the pool, hidden junctions are numbered from hiddenBase.
type builder struct {
	r        *rand.Rand
	n        int
	body     int // the point that is the body, or -1
	pool     []int
	used     []int
	commons  []int
	outputs  []int
	forms    []form
	contacts []Contact
	hidden   int
	depth    int
	kind     string
	keyed    bool
}

const hiddenBase = 1000

func (b *builder) chance(percent int) bool { return b.r.IntN(100) < percent }

func pick[T any](r *rand.Rand, list []T) T { return list[r.IntN(len(list))] }

// fresh takes an unused end, or one that is there already when there is none.
func (b *builder) fresh(not ...int) int {
	if len(b.pool) > 0 {
		e := b.pool[0]
		b.pool = b.pool[1:]
		b.used = append(b.used, e)
		return e
	}
	return b.old(not...)
}

// old gives an end in use that is none of not.
func (b *builder) old(not ...int) int {
	for range 100 {
		e := pick(b.r, b.used)
		ok := true
		for _, x := range not {
			ok = ok && x != e
		}
		if ok {
			return e
		}
	}
	for e := range b.n {
		ok := e != b.body
		for _, x := range not {
			ok = ok && x != e
		}
		if ok {
			return e
		}
	}
	return 0
}

// feed gives a common: an old one in 35 of 100.
func (b *builder) feed(not ...int) int {
	if len(b.commons) > 0 && b.chance(35) {
		e := pick(b.r, b.commons)
		ok := true
		for _, x := range not {
			ok = ok && x != e
		}
		if ok {
			return e
		}
	}
	e := b.fresh(not...)
	b.commons = append(b.commons, e)
	return e
}

// output gives an end that a contact leads to.
func (b *builder) output(not ...int) int {
	e := b.fresh(not...)
	b.outputs = append(b.outputs, e)
	return e
}

func (b *builder) hide() int {
	b.hidden++
	return hiddenBase + b.hidden - 1
}

// join adds a contact of switch sw (-1: always) closed in the given positions.
func (b *builder) join(x, y, sw int, positions ...int) {
	if x == y {
		return
	}
	var mask uint32
	for _, q := range positions {
		mask |= 1 << uint(q)
	}
	b.contacts = append(b.contacts, Contact{A: x, B: y, Switch: sw, Mask: mask})
}

// add registers a switch and gives its number.
func (b *builder) add(f form) int {
	b.forms = append(b.forms, f)
	return len(b.forms) - 1
}

// plan lays out the whole pod of n ends.
func (b *builder) plan(n int, opt Options) {
	b.n, b.body = n, -1
	want := int(float64(n)/2.5 + b.r.NormFloat64() + 0.5)
	if b.r.IntN(33) == 0 {
		want = 0
	}
	want = max(opt.MinSwitches, min(want, opt.MaxSwitches))
	wires := n
	if n >= 5 && b.chance(25) {
		b.body = n - 1
		wires = n - 1
	}
	for e := range wires {
		if b.r.IntN(25) != 0 {
			b.pool = append(b.pool, e)
		}
	}
	for e := 0; len(b.pool) < 2; e++ { // never a pod with nothing in it
		b.pool = append(b.pool[:0], 0, 1)
	}
	deep := 1
	if want >= 3 && b.r.IntN(50) == 0 {
		deep = 3
	} else if want >= 2 && b.r.IntN(5) == 0 {
		deep = 2
	}
	switch deep {
	case 3:
		b.depthThree()
	case 2:
		b.depthTwo(want)
	}
	for len(b.forms) < want {
		b.anySwitch()
	}
	if deep == 2 && b.kind == "two visible jobs" {
		b.shareHidden()
	}
	b.depth = deep
	if len(b.contacts) == 0 || (deep == 1 && want == 0) {
		b.depth = 0
	}
	b.leftovers()
	b.nonsense()
}

func itoa(i int) string { return strconv.Itoa(i) }
