package plan

import (
	"math/bits"
	"slices"
	"strings"
	"testing"
)

// The count is the least there is: k-1 joins in each net, and ceil(log2 q)
// bunch readings for q nets. Source: Kautz 1974 (probe_count_bounds.csv, C2);
// the formula's p-1 part speaks of one net, README trap 3.
func TestProofReadingsAreFewest(t *testing.T) {
	p := heron(t)
	for _, name := range Parts(p) {
		pt := partOf(&p, name)
		want := 0
		for _, net := range pt.nets {
			want += len(net) - 1
		}
		if len(pt.nets) > 1 {
			want += bits.Len(uint(len(pt.nets) - 1))
		}
		got := ProofReadings(p, name)
		if len(got) != want {
			t.Errorf("%s: %d readings, want %d", name, len(got), want)
		}
		for i, says := range answers(got, pt.netOf()) {
			if says != got[i].Joined {
				t.Errorf("%s: the sound harness reads %v at %+v", name, says, got[i])
			}
		}
		t.Logf("%s: %d points, %d nets, %d readings", name, len(pt.points()), len(pt.nets), len(got))
	}
	if ProofReadings(p, "no such part") != nil {
		t.Error("a part that is not there is read")
	}
}

// Every single fault shows in at least one reading, and is among the suspects
// that are named for those readings; a suspect list longer than one comes with
// the reading that settles it.
func TestEverySingleFaultIsNamed(t *testing.T) {
	p := heron(t)
	for _, name := range Parts(p) {
		pt := partOf(&p, name)
		list := pt.readings()
		hs := pt.hypotheses(&p)
		step := 1
		if len(hs) > 20 {
			step = len(hs) / 20
		}
		for i := 0; i < len(hs); i += step {
			h := hs[i]
			read := map[string]bool{}
			differs := false
			for k, says := range answers(list, h.nets) {
				read[list[k].ID] = says
				differs = differs || says != list[k].Joined
			}
			if !differs {
				// two points of one kind that nothing else joins look the same
				// from outside when they are changed over, or the wire ends at a
				// splice beside another
				if h.suspect.Kind != "open" || !spliced(p, h.suspect.Points) {
					t.Errorf("%s: %+v shows in no reading", name, h.suspect)
				}
				continue
			}
			got := NameFault(p, name, read)
			if !slices.ContainsFunc(got, func(s Suspect) bool { return s.Say == h.suspect.Say }) {
				t.Errorf("%s: %+v is not named: %+v", name, h.suspect, got)
			}
			if len(got) > 1 && got[0].Retest == "" {
				t.Errorf("%s: %d suspects and no reading to tell them apart", name, len(got))
			}
		}
	}
}

func spliced(p Plan, points []string) bool {
	return slices.ContainsFunc(p.Splices, func(s Splice) bool { return slices.Contains(points, s.Name) })
}

func TestTwoFaultsAreNotTakenForOne(t *testing.T) {
	p := heron(t)
	read := map[string]bool{}
	for _, r := range ProofReadings(p, Loom) {
		read[r.ID] = !r.Joined
	}
	got := NameFault(p, Loom, read)
	if len(got) != 1 || got[0].Kind != "several" || !strings.Contains(got[0].Say, "more than one") {
		t.Errorf("%+v", got)
	}
	if NameFault(p, Loom, nil) != nil {
		t.Error("nothing was read and something is wrong")
	}
}
