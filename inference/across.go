package inference

// crossings is the readings across two nets of a map: on the others one more link has no
// say.
type crossings struct {
	readings []across
	clips    []setUp // the clip set-ups that have some
}

// across is a reading between two nets of a map.
type across struct {
	*obs
	redNet, blackNet uint64
	clip             int       // its set-up, by number
	gain             float32   // of a link that explains it, if it beeped
	against          *silences // see says
}

func (p *problem) crossings(h *hyp) crossings {
	c := crossings{readings: make([]across, 0, len(p.obs))}
	nets := map[uint64][]uint64{} // by setting
	for i := 0; i < len(p.obs); {
		from, first := i, len(c.readings)
		for ; i < len(p.obs) && p.obs[i].epoch == p.obs[from].epoch; i++ {
			o := &p.obs[i]
			if o.void || o.control {
				continue
			}
			in, ok := nets[o.s]
			if !ok {
				in = h.nets(o.s, nil)
				nets[o.s] = in
			}
			a := across{obs: o, redNet: joinedTo(in, o.red), blackNet: joinedTo(in, o.black), clip: len(c.clips)}
			if a.redNet&o.black != 0 {
				continue
			}
			if o.closed {
				a.gain = -float32(h.priceIn(o, o.s, 0))
			}
			c.readings = append(c.readings, a)
		}
		if len(c.readings) > first {
			c.clips = append(c.clips, p.setUpOf(p.obs[from:i], c.readings[first:]))
		}
	}
	return c
}

// joins tells whether a link between two ends would join the nets of the reading.
func (c *across) joins(a, b int) bool {
	return c.redNet>>a&1&(c.blackNet>>b)|c.redNet>>b&1&(c.blackNet>>a) != 0
}

// eachPair calls f for each pair of ends, by its number, that a link between would join
// the nets.
func (c *across) eachPair(f func(q int)) {
	for r := c.redNet; r != 0; r &= r - 1 {
		a := lowBit(r)
		for b := c.blackNet; b != 0; b &= b - 1 {
			f(pairIndex(a, lowBit(b)))
		}
	}
}

// says is what the reading says against such a link, by what may make it false; it is
// worked out where it is asked for first.
func (c *across) says(hand *hand) *silences {
	switch {
	case c.against != nil:
	case c.closed:
		c.against = new(silences)
		for risk := range c.against {
			c.against[risk] = c.gain
		}
	case c.off > 0:
		says := c.silent(hand.silent)
		c.against = &says
	default:
		c.against = &hand.silent
	}
	return c.against
}
