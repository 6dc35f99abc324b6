package inference

// roll numbers the settings that readings name.
type roll struct {
	number   map[uint64]int32
	settings []uint64
}

func (r *roll) of(s uint64) int32 {
	i, ok := r.number[s]
	if !ok {
		if r.number == nil {
			r.number = map[uint64]int32{}
		}
		i = int32(len(r.settings))
		r.number[s] = i
		r.settings = append(r.settings, s)
	}
	return i
}

// netTable holds the nets of one map by setting, each worked out when it is first
// asked for. Its memory is used again for the next map.
type netTable struct {
	settings []uint64
	h        *hyp
	turn     uint32   // counts maps
	done     []uint32 // of each setting: the turn in which its nets were worked out
	nets     [][]uint64
}

// begin turns to another map, or to another state of the same.
func (t *netTable) begin(h *hyp, settings []uint64) {
	t.h, t.settings = h, settings
	t.turn++
	for len(t.done) < len(settings) {
		t.done = append(t.done, 0)
		t.nets = append(t.nets, nil)
	}
}

// closed tells whether the map joins any red end to any black end, no end being
// both, in a setting by its number.
func (t *netTable) closed(red, black uint64, s int32) bool { return touching(t.in(s), red, black) }

// in is the nets in a setting by its number.
func (t *netTable) in(s int32) []uint64 {
	if t.done[s] != t.turn {
		t.nets[s] = t.h.nets(t.settings[s], t.nets[s])
		t.done[s] = t.turn
	}
	return t.nets[s]
}

// numbered is the settings of a reading by their numbers: as it was taken, and
// what half-pressed buttons would have made of that.
type numbered struct {
	s   int32
	alt [3]int32
}

func (r *roll) numbersOf(o *obs) numbered {
	n := numbered{s: r.of(o.s)}
	for j := range o.nalt {
		n.alt[j] = r.of(o.alt[j])
	}
	return n
}

// price is that of a reading as hyp.priceIn gives it.
func (t *netTable) price(o *obs, n *numbered) float64 {
	return surprise(o.closed, t.closed(o.red, o.black, n.s), o.nalt, func(j int) bool {
		return t.closed(o.red, o.black, n.alt[j])
	})
}
