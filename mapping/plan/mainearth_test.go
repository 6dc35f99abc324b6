package plan

import (
	"slices"
	"testing"
)

// A main stud that only the frame joins to the battery is said; one whose wire goes by a splice
// has it, and what reaches the battery in no way has a finding of its own.
func TestMainEarthHasItsWire(t *testing.T) {
	kinds := func(change func(p *Plan)) map[string][]string {
		p := fresh(heron(t))
		change(&p)
		return kindsOf(Check(p))
	}
	main := func(w Wire) bool { return w.From == "E1" && w.To == "battery.-" }
	bare := func(p *Plan) { p.drop(func(w Wire) bool { return !main(w) }) }
	if got := kinds(bare); !slices.Contains(got[MainEarth], "E1") || got[EarthNowhere] != nil {
		t.Errorf("without its wire: %v", got)
	}
	if got := kinds(func(p *Plan) {
		bare(p)
		p.Splices = append(p.Splices, Splice{Name: "SE"})
		p.link("E1", "SE", Loom)
		p.link("SE", "battery.-", Loom)
	}); got[MainEarth] != nil {
		t.Errorf("by a splice: %v", got)
	}
	if got := kinds(func(p *Plan) {
		bare(p)
		p.Earths = slices.DeleteFunc(slices.Clone(p.Earths), func(e Earth) bool { return e.Name == "E2" })
		p.drop(func(w Wire) bool { return w.From != "E2" && w.To != "E2" })
	}); got[MainEarth] != nil || !slices.Contains(got[EarthNowhere], "E1") {
		t.Errorf("nowhere: %v", got)
	}
}
