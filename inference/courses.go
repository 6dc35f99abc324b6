package inference

import (
	"math"
	"slices"
)

// limitSlack is how many bits above what is asked for a course is followed, so
// that it need not be begun anew when the best map has become a little dearer.
const limitSlack = 8.0

// courses remembers the course of each map that was priced, by its drawing: the
// next step goes on from there. What it gives is the same as from the start.
type courses struct {
	known map[uint64]*course // from the step before; not to be changed
	taken map[uint64]*course // as far as the readings go now

	roll    roll
	numbers []numbered // of each reading, in each state of the bench
	desk    desk
}

// desk is room to price courses at, one for each core.
type desk struct {
	table netTable
	plain []float64
}

// number works out the settings that courses ask for.
func (s *state) number() {
	c := &s.courses
	p := s.p
	for i := len(c.numbers) / len(p.states); i < len(s.raw); i++ {
		for _, f := range p.states {
			o := s.raw[i]
			if k := f.lever; k >= 0 {
				o.s = p.moveTo(o.s, int(k), int(f.actual))
				for j := range o.nalt {
					o.alt[j] = p.moveTo(o.alt[j], int(k), int(f.actual))
				}
			}
			c.numbers = append(c.numbers, c.roll.numbersOf(&o))
		}
	}
}

// goOn takes the course of a map on to the latest reading.
func (s *state) goOn(h *hyp, c *course, d *desk) {
	if c.cost == nil { // given up
		c.upTo = len(s.raw)
		return
	}
	p := s.p
	d.table.begin(h, s.courses.roll.settings)
	price := func(i, st int) float64 {
		o, f := &s.raw[i], p.states[st]
		if v, ok := o.mapless(f.slip); ok {
			return v
		}
		if f.lever >= 0 && p.position(o.s, int(f.lever)) == int(f.actual) {
			return math.Inf(1)
		}
		return d.table.price(o, &s.courses.numbers[i*len(p.states)+st])
	}
	d.plain = d.plain[:0]
	for i := c.upTo; i < len(s.raw); i++ {
		d.plain = append(d.plain, price(i, 0))
	}
	p.advance(s.raw, c, nil, d.plain, price)
}

// forget gives back the memory that only pricing needs.
func (c *courses) forget() { c.roll, c.numbers, c.desk = roll{}, nil, desk{} }

// dearer is by how many bits a map is dearer than the best, runs priced
// (infinite beyond the window of rivals), and what it believes of the bench at
// the latest reading.
func (s *state) dearer(h *hyp) (float64, fault) {
	prior := s.p.prior(h)
	s.number()
	c, key := s.course(h, s.total+rivalWindow-prior, &s.courses.desk)
	s.remember(c, key)
	return s.told(c, prior)
}

// priceAll prices rivals, the likeliest first, as dearer does, on all cores. Where
// only so many are to be kept (0: all), those that cannot be among them may come out
// as infinitely dearer.
func (s *state) priceAll(rivals []rival, keep int) {
	s.number()
	window := rivalWindow
	for from := 0; from < len(rivals); {
		to := len(rivals)
		if keep > 0 && from == 0 {
			to = min(to, 2*keep)
		}
		s.priceWithin(rivals[from:to], window)
		if from = to; keep > 0 && from >= keep {
			deltas := make([]float64, from)
			for i := range deltas {
				deltas[i] = rivals[i].delta
			}
			slices.Sort(deltas)
			window = min(window, deltas[keep-1])
		}
	}
}

// priceWithin prices rivals that may be so much dearer than the best map.
func (s *state) priceWithin(rivals []rival, window float64) {
	type priced struct {
		c     *course
		key   uint64
		prior float64
	}
	all := make([]priced, len(rivals))
	onCores(len(rivals), func(next func() (int, bool)) {
		var d desk
		for i, ok := next(); ok; i, ok = next() {
			v := &all[i]
			v.prior = s.p.prior(rivals[i].h)
			v.c, v.key = s.course(rivals[i].h, s.total+window-v.prior, &d)
		}
	})
	for i, v := range all {
		s.remember(v.c, v.key)
		rivals[i].delta, rivals[i].now = s.told(v.c, v.prior)
	}
}

// course gives the course of a map over all readings, as far as it matters
// beside the best.
func (s *state) course(h *hyp, limit float64, at *desk) (c *course, key uint64) {
	key = drawing(h)
	if c, ok := s.courses.taken[key]; ok && c.serves(limit) {
		return c, key
	}
	if c, ok := s.courses.known[key]; ok && c.serves(limit) {
		d := *c
		s.goOn(h, &d, at)
		if d.serves(limit) {
			return &d, key
		}
	}
	if s.counts {
		c = s.p.newCourse(limit)
	} else {
		c = s.p.newCourse(limit + limitSlack)
	}
	s.goOn(h, c, at)
	return c, key
}

// remember keeps a course, but for the count of all near maps: there are too many of
// them and too few readings for it to pay.
func (s *state) remember(c *course, key uint64) {
	if !s.counts {
		s.courses.taken[key] = c
	}
}

// serves tells whether a course tells the price of its map, or that it is above
// the limit.
func (c *course) serves(limit float64) bool { return c.cost != nil || limit <= c.limit }

// told is what a course says of a map beside the best.
func (s *state) told(c *course, prior float64) (float64, fault) {
	total, end := c.cheapest()
	if math.IsInf(total, 1) || len(s.raw) == 0 {
		return total + prior - s.total, noFault
	}
	return total + prior - s.total, s.p.states[end]
}
