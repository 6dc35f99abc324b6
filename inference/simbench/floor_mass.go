package simbench

import (
	"encoding/binary"
	"math"
	"slices"
)

// mass is the summed weight of the rivals after some sweeps, the true map's
// being 1; short is by how many bits in all the rivals that have to be 10 bits
// dearer are not. It leaves each rival's weight in left.
func (p *prover) mass(plans []plan) (mass, short float64) {
	p.left = slices.Grow(p.left[:0], len(p.rivals))[:len(p.rivals)]
	clear(p.left)
	for i := 0; i < len(plans); {
		j := i // sweeps with the clips left alone are one clip set-up
		for j < len(plans) && plans[j].red == plans[i].red && plans[j].black == plans[i].black {
			j++
		}
		for r, v := range p.setUp(plans[i:j]) {
			p.left[r] += v
		}
		i = j
	}
	for i, sum := range p.left {
		r := &p.rivals[i]
		d := r.bits + sum
		if r.must && d < provedBits {
			short += float64(provedBits - d)
		}
		w := r.weight * math.Exp2(-float64(sum))
		mass += w
		p.left[i] = float32(w)
	}
	return mass, short
}

// setUp is what the sweeps of one clip set-up say against each rival, in bits.
func (p *prover) setUp(plans []plan) []float32 {
	key := setUpKey(plans)
	if v, ok := p.setUps[key]; ok {
		return v
	}
	if len(p.setUps)*len(p.rivals) > 8<<20 {
		clear(p.setUps)
	}
	red, black := plans[0].red, plans[0].black
	out, loose := make([]float32, len(p.rivals)), make([]float32, len(p.rivals))
	var steps []int
	bites := 0 // so many steps are shown to have bitten by a later beep
	for _, s := range plans {
		for _, at := range s.steps {
			steps = append(steps, at)
			if p.bitsOf(red, black, at)[len(p.rivals)] == 1 {
				bites = len(steps)
			}
		}
		if s.control {
			bites = len(steps)
		}
	}
	for k, at := range steps {
		into := out
		if k >= bites {
			into = loose
		}
		for r, x := range p.bitsOf(red, black, at)[:len(p.rivals)] {
			if x > 0 {
				into[r] += x
			} else {
				out[r] -= x
			}
		}
	}
	slip := float32(math.Max(priceSilence/2, priceSlip-math.Log2(float64(max(1, len(steps)-bites)))))
	stands := p.stands(steps)
	for r := range out {
		out[r] += min(loose[r], slip)
		for _, k := range p.rivals[r].latched {
			out[r] = min(out[r], stands[k])
		}
	}
	p.setUps[key] = out
	return out
}

func setUpKey(plans []plan) string {
	var key []byte
	put := func(v uint32) { key = binary.LittleEndian.AppendUint32(key, v) }
	put(uint32(plans[0].red))
	put(uint32(plans[0].black))
	for _, s := range plans {
		for _, at := range s.steps {
			put(uint32(at) << 1)
		}
		if s.control {
			put(1)
		}
	}
	return string(key)
}

// stands bounds what a clip set-up can say of a condition on a latching switch:
// each time its lever was put somewhere it may have stood elsewhere.
func (p *prover) stands(steps []int) []float32 {
	out := make([]float32, len(p.o.rest))
	for k, sw := range p.w.Pod.Switches {
		n := 0
		for i := range steps {
			if i == 0 || p.all[steps[i]][k] != p.all[steps[i-1]][k] {
				n++
			}
		}
		out[k] = float32(n) * float32(priceLever+math.Log2(float64(max(1, len(sw.Positions)-1))))
	}
	return out
}
