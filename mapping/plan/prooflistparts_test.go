package plan

import (
	"slices"
	"strings"
	"testing"
)

// TestProofReadsRelayOutputs: what lies behind a relay or a flasher is read for shorts at its
// empty socket.
func TestProofReadsRelayOutputs(t *testing.T) {
	list := ProofList(heron(t))
	for _, point := range []string{"RI.87", "RM.87", "RD.87", "RS.87", "FL.49a"} {
		i := slices.IndexFunc(list, func(c ProofCheck) bool { return c.ID == "3-"+point })
		if i < 0 {
			t.Errorf("%s is read for no short", point)
		} else if c := list[i]; c.Red != point || c.Black != "battery.-" || c.Min != 1e6 {
			t.Errorf("%+v", c)
		}
	}
}

// TestProofReadsDiodes: both ways, from the loom into the diode.
func TestProofReadsDiodes(t *testing.T) {
	p := heron(t)
	p.Parts = append(slices.Clone(p.Parts), Part{Name: "D1", Kind: "diode"})
	p.Splices = append(slices.Clone(p.Splices), Splice{Name: "SD"})
	p.link("PL.7", "SD", Loom)
	p.link("SD", "D1.+", Loom)
	p.link("D1.-", "PL.6", Loom)
	var got []string
	for _, c := range ProofList(p) {
		if strings.HasPrefix(c.ID, "9-D1") {
			got = append(got, c.ID+" "+c.Red+" "+c.Black)
		}
	}
	if want := []string{"9-D1 PL.7 D1.-", "9-D1-back D1.- PL.7"}; !slices.Equal(got, want) {
		t.Errorf("read %q, want %q", got, want)
	}
}
