package plan

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// everythingOf calls all that is computed from a plan.
func everythingOf(p Plan) {
	Check(p)
	Work(p)
	Unplug(p)
	TryPlugs(p)
	ProofList(p)
	FirstPower(p)
	ShareOut(p)
	CautionsFor(p)
	for _, pl := range p.Plugs {
		Halves(p, pl.Name)
	}
	for _, part := range Parts(p) {
		rs := ProofReadings(p, part)
		if len(rs) > 0 {
			NameFault(p, part, map[string]bool{rs[0].ID: !rs[0].Joined})
		}
	}
	_, _ = Roadside(p, "everything dead") // an error is an answer here
	for _, symptom := range []string{"horn dead", "horn stays on", "horn fuse blows", "fuse blows", "fuse W1 blows", "no charge"} {
		_, _ = Roadside(p, symptom)
	}
	Write(p)
}

// A bus that is fed backwards, by a battery way tied to an ignition way, has an answer too.
func TestBusFedBackwards(t *testing.T) {
	p := Plan{Volts: 12, Temperature: 60, Insulation: 105, Block: Block{Ways: []Way{{Name: "W1", Fuse: 10, Feed: FromIgnition}, {Name: "W2", Fuse: 10, Feed: FromBattery}}},
		Loads: []Load{{Name: "horn", Kind: "horn"}}, Earths: []Earth{{Name: "E1", Main: true}}}
	for _, w := range [][2]string{{"battery.+", "main.in"}, {"main.out", "block.30"}, {"W2", "W1"}, {"block.15", "horn.+"}, {"horn.-", "E1"}, {"E1", "battery.-"}} {
		p.link(w[0], w[1], Loom)
	}
	everythingOf(p)
	got, err := Roadside(p, "horn dead")
	if err != nil || !strings.Contains(strings.Join(got, " "), "block.15 < W1 < W2") {
		t.Errorf("%v, %v", got, err)
	}
}

// Half-finished plans are the usual ones: nothing may fall over them.
func TestHalfFinishedPlans(t *testing.T) {
	everythingOf(Plan{})
	everythingOf(Plan{Volts: 12, Temperature: 60, Insulation: 105})
	r := rand.New(rand.NewPCG(3, 5))
	rounds := 8
	if testing.Short() {
		rounds = 2
	}
	for range rounds * 10 {
		everythingOf(somePlan(r))
	}
	for k := range rounds {
		p := fresh(heron(t))
		keep := 0.2 + 0.1*float64(k)
		p.Wires = slices.DeleteFunc(p.Wires, func(Wire) bool { return r.Float64() > keep })
		switch k % 4 {
		case 1:
			p.Loads = nil
			p.Wires = nil
		case 2:
			p.Block.Ways = p.Block.Ways[:1]
			p.Wires = slices.DeleteFunc(p.Wires, func(w Wire) bool { return w.From[0] == 'W' && w.From != "W1" })
		case 3:
			p.Supply = Supply{}
		}
		everythingOf(p)
		everythingOf(Fill(p))
	}
}
