package plan

import (
	"slices"
	"strings"
	"testing"
)

func TestFacesAreMirrorImages(t *testing.T) {
	p := heron(t)
	for _, pl := range p.Plugs {
		v := Halves(p, pl.Name)
		if len(v) != 4 {
			t.Fatalf("%d views of %s", len(v), pl.Name)
		}
		loomWire, loomMating, modWire, modMating := v[0], v[1], v[2], v[3]
		mirrored := func(rows [][]int) [][]int {
			out := [][]int{}
			for _, r := range rows {
				r = slices.Clone(r)
				slices.Reverse(r)
				out = append(out, r)
			}
			return out
		}
		eq := func(a, b [][]int) bool { return slices.EqualFunc(a, b, slices.Equal[[]int]) }
		if loomWire.Rows[0][0] != 1 {
			t.Errorf("%s: the wire entry of the loom half begins with %d", pl.Name, loomWire.Rows[0][0])
		}
		if !eq(loomMating.Rows, mirrored(loomWire.Rows)) || !eq(modWire.Rows, mirrored(modMating.Rows)) {
			t.Errorf("%s: the faces of one half are no mirror images", pl.Name)
		}
		// pushed together, the mating faces look at each other
		if !eq(loomMating.Rows, mirrored(modMating.Rows)) {
			t.Errorf("%s: the mating faces do not meet", pl.Name)
		}
		for _, x := range v {
			if !strings.Contains(x.Title, string(x.Half)) || !strings.Contains(x.Title, "seen from the") {
				t.Errorf("%+v", x)
			}
		}
	}
	if Halves(p, "no such plug") != nil {
		t.Error("a plug that is not there is drawn")
	}
}

func TestOldToNew(t *testing.T) {
	rows := OldToNew(heron(t))
	find := func(plug string, c int) PlugRow {
		i := slices.IndexFunc(rows, func(r PlugRow) bool { return r.Plug == plug && r.Cavity == c })
		return rows[i]
	}
	if r := find("PL", 8); r.Old != "6" || r.Din != "49a" || r.ModuleCode != "OG" || r.Role != "signal" {
		t.Errorf("%+v", r)
	}
	if r := find("PL", 3); r.Role != "feed" || r.Way != "W2" {
		t.Errorf("%+v", r)
	}
	if r := find("PC", 1); r.Role != "earth" {
		t.Errorf("%+v", r)
	}
	if r := find("PL", 6); r.Role != "spare" {
		t.Errorf("%+v", r)
	}
}

func TestTryPlugs(t *testing.T) {
	p := heron(t)
	n := len(p.Plugs)
	tries := TryPlugs(p)
	if len(tries) != n*(n-1) {
		t.Fatalf("%d tries for %d plugs", len(tries), n)
	}
	for _, x := range tries {
		if x.Fits || x.Harm || !strings.Contains(x.Effects[0], "does not go in") {
			t.Errorf("%+v", x)
		}
	}
	// the rear plug made like the engine's: earth meets a live cavity
	for i := range p.Plugs {
		if p.Plugs[i].Name == "PT" {
			p.Plugs[i].Housing, p.Plugs[i].Cavities = "8-way sealed", 8
		}
	}
	fits := 0
	for _, x := range TryPlugs(p) {
		if !x.Fits {
			continue
		}
		fits++
		if len(x.Effects) == 0 || x.Effects[0] == "" {
			t.Errorf("%+v", x)
		}
		if x.Plug == "PT" && x.Socket == "PE" {
			// rear's cavity 2 (58) sits where the pedal's feed W6 is: tail and plate
			// get current unasked, their earth meets the ignition's wire
			if !x.Harm {
				t.Errorf("no harm in %+v", x)
			}
		}
	}
	if fits != 2 {
		t.Errorf("%d fit, want 2", fits)
	}
}
