package inference

import (
	"slices"
	"sync"
)

// signature is a fingerprint of a map's nets in every setting that can tell, in
// whatever order its links are.
func (p *problem) signature(h *hyp) uint64 { return p.signed.of(p, h)[handsAny] }

// signatureFor is the same over the settings that so many hands can hold.
func (p *problem) signatureFor(h *hyp, hands int) uint64 {
	return p.signed.of(p, h)[min(hands, handsAny)]
}

// handsToTell is the least number of buttons held in a setting in which two
// maps differ, handsAny at the most; 0 if they differ in none.
func (p *problem) handsToTell(a, b *hyp) int {
	x, y := p.signed.of(p, a), p.signed.of(p, b)
	for hands := range x {
		if x[hands] != y[hands] {
			return hands
		}
	}
	return 0
}

// handsAny stands for more buttons than anybody can hold at once.
const handsAny = 3

// signatures are fingerprints over the settings with no, one, two, any number of
// buttons held.
type signatures [handsAny + 1]uint64

// signedMaps remembers the fingerprints of maps, by their drawing. Forks of an
// engine share it, and may work at the same time.
type signedMaps struct {
	mu sync.Mutex
	by map[uint64]signatures
}

// mostSigned is how many are remembered at once.
const mostSigned = 1 << 14

func (c *signedMaps) of(p *problem, h *hyp) signatures {
	key := drawing(h)
	c.mu.Lock()
	sigs, ok := c.by[key]
	c.mu.Unlock()
	if ok {
		return sigs
	}
	sigs = p.sign(h)
	c.mu.Lock()
	if c.by == nil || len(c.by) == mostSigned {
		c.by = map[uint64]signatures{}
	}
	c.by[key] = sigs
	c.mu.Unlock()
	return sigs
}

func (p *problem) sign(h *hyp) signatures {
	var out signatures
	var buf []uint64
	var hash uint64 = 14695981039346656037
	hands := 0
	for _, s := range p.telling { // fewest buttons first
		for b := min(p.buttons(s), handsAny); hands < b; hands++ {
			out[hands] = hash
		}
		buf = h.nets(s, buf)
		slices.Sort(buf)
		for _, m := range buf {
			hash = (hash ^ m) * 1099511628211
			hash ^= hash >> 29
		}
		hash = (hash ^ 0x9e37) * 1099511628211
	}
	for ; hands <= handsAny; hands++ {
		out[hands] = hash
	}
	return out
}

// drawing is a fingerprint of a map's links, in whatever order. Each link is mixed well
// before it is added: sums of anything simpler, such as squares of the ends, meet.
func drawing(h *hyp) uint64 {
	var sum uint64
	for i := range h.atoms {
		x := &h.atoms[i]
		v := mixed(x.ends)
		for d := range int(x.n) {
			v = mixed(v ^ x.t[d])
		}
		sum += v
	}
	return sum
}

// mixed spreads a word over all 64 bits (the finalizer of SplitMix64; Steele, Lea and
// Flood 2014, constants by Stafford).
func mixed(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}
