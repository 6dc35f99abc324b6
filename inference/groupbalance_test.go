package inference

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// The prior against the generator, by the balance of whole groups: a hidden junction
// makes several links at once, and what matters is whether its first one is looked for.
// All links of several switches that need so many buttons held are taken away; over many
// pods, those that had some must be as many as the prior states for one link of that
// sort on top of the rest. Pods for which it states more than 1 in 16 are not counted:
// nobody stops there before such links are tested.

// relation is how links of several switches stand to those that are left.
type relation int

const (
	firstSet   relation = iota // there are no others
	besideSet                  // their switches are partly those of others
	apartSet                   // no switch is that of others
	sameSet                    // other links need the same switches
	nRelations                 // how many there are
)

var relationNames = [nRelations]string{"the first", "beside others", "apart from others", "more of the same switches"}

// groupBalance counts pods by how many buttons must be held (two stands for more) and by
// relation.
type groupBalance struct {
	pods, there, stated [3][nRelations]float64
}

const groupSeen = 1.0 / 16

// buttonsOf is how many buttons a link needs held, at the most two.
func (p *problem) buttonsOf(x *atom) int {
	n := 0
	for d := range int(x.n) {
		if x.t[d]&^p.heldSlots == 0 {
			n++
		}
	}
	return min(n, 2)
}

func relationTo(sets []uint64, on uint64) relation {
	if len(sets) == 0 {
		return firstSet
	}
	if slices.Contains(sets, on) {
		return sameSet
	}
	if slices.ContainsFunc(sets, func(s uint64) bool { return s&on != 0 }) {
		return besideSet
	}
	return apartSet
}

// weigh puts one generated pod on both scales.
func (b *groupBalance) weigh(w *simbench.World) {
	p := newProblem(w.Pod, nil)
	truth := tellEngine(p, w.TrueLinks())
	p.tidy(truth)
	for buttons := range b.pods {
		ours := func(x atom) bool { return x.n > 1 && p.buttonsOf(&x) == buttons }
		rest := truth.clone()
		rest.atoms = slices.DeleteFunc(rest.atoms, ours)
		var sets []uint64
		for _, x := range rest.atoms {
			if x.n > 1 {
				sets = append(sets, x.switches())
			}
		}
		var there, stated [nRelations]float64
		for _, x := range truth.atoms {
			if ours(x) {
				there[relationTo(sets, x.switches())] = 1
			}
		}
		var ev evidence
		p.weigh(rest, &ev)
		p.eachAddition(rest, &ev, math.Inf(1), func(lo, hi, c, _ int, d float64) {
			if x := p.conds.atom(lo, hi, c); ours(x) {
				stated[relationTo(sets, x.switches())] += math.Exp2(-d)
			}
		})
		for r, sum := range stated {
			if sum > 0 && sum < groupSeen {
				b.pods[buttons][r]++
				b.there[buttons][r] += there[r]
				b.stated[buttons][r] += sum / (1 + sum)
			}
		}
	}
}

// TestGroupsInBalance: whole groups of links of several switches are about as common
// among generated pods as the prior says, within a factor of two; by relation where there
// are enough to tell, and all together.
func TestGroupsInBalance(t *testing.T) {
	var b groupBalance
	for seed := range int64(8000) {
		b.weigh(simbench.Generate(410000+seed, simbench.Options{MaxEnds: 12, MaxSwitches: 5}))
	}
	off := func(there, stated float64) bool { return there > 2*stated || stated > 2*there }
	for buttons := range b.pods {
		there, stated := 0.0, 0.0
		for r, name := range relationNames {
			h, s := b.there[buttons][r], b.stated[buttons][r]
			t.Logf("%d buttons held, %s: %.0f pods, %.0f there, %.1f stated", buttons, name, b.pods[buttons][r], h, s)
			if max(h, s) >= 12 && off(h, s) {
				t.Errorf("%d buttons held, %s: there are %.0f, the prior states %.0f", buttons, name, h, s)
			}
			there += h
			stated += s
		}
		if max(there, stated) < 12 || off(there, stated) {
			t.Errorf("%d buttons held: there are %.0f, the prior states %.0f", buttons, there, stated)
		}
	}
}

// BenchmarkGroupBalance prints it for more pods:
//
//	go test ./inference -run '^$' -bench GroupBalance -benchtime 1x
func BenchmarkGroupBalance(b *testing.B) {
	const pods = 24000
	for range b.N {
		var all groupBalance
		for seed := range int64(pods) {
			all.weigh(simbench.Generate(310000+seed, simbench.Options{MaxEnds: 12, MaxSwitches: 5}))
		}
		fmt.Printf("\ngroups of links of several switches that are there and that the prior states, %d pods of up to 12 ends\n", pods)
		for buttons := range all.pods {
			for r, name := range relationNames {
				fmt.Printf("%d buttons held, %s: %.0f pods, %.0f there, %.1f stated\n", buttons, name, all.pods[buttons][r], all.there[buttons][r], all.stated[buttons][r])
			}
		}
	}
}

// TestButtonsOf guards the counting itself.
func TestButtonsOf(t *testing.T) {
	push := []mapping.PositionID{"out", "in"}
	pod := mapping.Pod{Name: "pushes", Ends: []mapping.End{{ID: "a"}, {ID: "b"}}}
	for _, name := range []mapping.SwitchID{"one", "two", "three"} {
		pod.Switches = append(pod.Switches, mapping.Switch{Name: name, Positions: push, Rest: "out", Momentary: true})
	}
	p := newProblem(pod, nil)
	out, in := uint64(0b01), uint64(0b10)
	for want, x := range []atom{
		throw(0, 1, 0, out).narrowed(1, out<<2),
		throw(0, 1, 0, in).narrowed(1, out<<2),
		throw(0, 1, 0, in).narrowed(1, in<<2),
	} {
		if got := p.buttonsOf(&x); got != want {
			t.Errorf("%d buttons, %d are held", got, want)
		}
	}
	if x := throw(0, 1, 0, in).narrowed(1, in<<2).narrowed(2, in<<4); p.buttonsOf(&x) != 2 {
		t.Errorf("%d buttons, more than two are two", p.buttonsOf(&x))
	}
}
