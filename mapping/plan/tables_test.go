package plan

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// csvTable reads a reference file as one map a row.
func csvTable(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Source: IEC 60228:2004 table 3, class 5 (iec60228_class5.csv, C2).
func TestMetricResistance(t *testing.T) {
	for _, r := range csvTable(t, "iec60228_class5.csv") {
		s, ok := MetricSize(num(t, r["area_mm2"]))
		if !ok || s.OhmsPerKM != num(t, r["max_r20_plain_ohm_per_km"]) {
			t.Errorf("%s mm2: %v, source says %s ohm/km", r["area_mm2"], s, r["max_r20_plain_ohm_per_km"])
		}
	}
}

// Source: ASTM B258 (awg_sizes.csv, C1 table + CALC formula).
func TestGauge(t *testing.T) {
	for _, r := range csvTable(t, "awg_sizes.csv") {
		n := int(num(t, r["awg"]))
		mm := AWGDiameter(n) * 25.4
		for _, c := range []struct {
			what      string
			got, want float64
			tol       float64
		}{
			{"diameter in", AWGDiameter(n), num(t, r["formula_d_in"]), 1e-6},
			{"area", math.Pi / 4 * mm * mm, num(t, r["formula_area_mm2"]), 1e-4},
			{"ohm/km", AWGSolidOhmsPerKM(n), num(t, r["formula_r20_ohm_per_km"]), 0.006},
			{"printed ohm/km", AWGSolidOhmsPerKM(n), num(t, r["table_r_ohm_per_km"]), 0.03},
		} {
			if math.Abs(c.got-c.want) > c.tol {
				t.Errorf("AWG %d %s: %v, source %v", n, c.what, c.got, c.want)
			}
		}
	}
}

// Source: 33 CFR 183.425 table 5, 105 C column, and note 1 for 50 C
// (ampacity_tables.csv, C2); JIS C 3406 AV 0.5 mm2 (C1). The rule "the gauge at
// or under it" for metric sizes also gives ISO 10133 table A.1 (MEM: logged).
func TestAmpacity(t *testing.T) {
	seen := 0
	for _, r := range csvTable(t, "ampacity_tables.csv") {
		amps := num(t, r["amps"])
		gauge, isAWG := strings.CutPrefix(r["size"], "AWG ")
		switch {
		case r["table"] == "33 CFR 183.425 Table 5" && r["insulation_c"] == "105":
			if s, _ := AWGSize(int(num(t, gauge))); s.Amps != amps {
				t.Errorf("AWG %s: %v A, source %v", gauge, s.Amps, amps)
			}
			seen++
		case r["table"] == "33 CFR 183.425 note 1 applied":
			s, _ := AWGSize(int(num(t, gauge)))
			if got := s.Amps * AmbientFactor(105, 50); math.Abs(got-amps) > 0.02*amps+0.5 {
				t.Errorf("AWG %s at 50 C: %v A, source %v", gauge, got, amps)
			}
			seen++
		case strings.HasPrefix(r["table"], "ISO 10133") && r["insulation_c"] == "105" && !isAWG:
			s, ok := MetricSize(num(t, strings.TrimSuffix(r["size"], " mm2")))
			if ok && s.Amps != amps {
				t.Logf("%s: %v A here, %v from memory of ISO 10133", r["size"], s.Amps, amps)
			}
		}
	}
	if seen != 14 {
		t.Errorf("compared %d rows, want 14", seen)
	}
	for _, s := range MetricSizes() { // 33 CFR 183.455(c)(1): fuse at most 150 %
		if s.FuseMax > 1.5*s.Amps {
			t.Errorf("%v mm2: fuse %v over 150 %% of %v A", s.MM2, s.FuseMax, s.Amps)
		}
	}
	for _, s := range AWGSizes() {
		if s.FuseMax > 1.5*s.Amps {
			t.Errorf("AWG %v: fuse %v over 150 %% of %v A", s.AWG, s.FuseMax, s.Amps)
		}
	}
}

// Source: 33 CFR 183.425 note 2 (ampacity_rules.csv, C1).
func TestBundleFactor(t *testing.T) {
	want := map[string]int{"bundle factor, 3 current-carrying conductors": 3, "bundle factor, 4 to 6": 5, "bundle factor, 7 to 24": 7, "bundle factor, 25 and above": 25}
	for _, r := range csvTable(t, "ampacity_rules.csv") {
		if n, ok := want[r["rule"]]; ok {
			if BundleFactor(n) != num(t, r["value"]) {
				t.Errorf("%s: %v", r["rule"], BundleFactor(n))
			}
			delete(want, r["rule"])
		}
	}
	if len(want) > 0 {
		t.Errorf("rows not found: %v", want)
	}
}

// Source: ISO 8820-3:2015 (iso8820_3_fuses.csv, C2; 35 A and some E sizes C1).
func TestFuses(t *testing.T) {
	n := 0
	for _, r := range csvTable(t, "iso8820_3_fuses.csv") {
		rating := num(t, r["rating_a"])
		if r["type"] == "E" && rating < 50 {
			continue
		}
		f, ok := FuseOf(rating)
		if !ok || f.Type != r["type"] || !strings.HasPrefix(r["colour"], f.Colour) {
			t.Errorf("%v A %s: %v, source says %s", rating, r["type"], f, r["colour"])
		}
		n++
	}
	if n != len(Fuses()) {
		t.Errorf("%d fuses in the source, %d here", n, len(Fuses()))
	}
}

// Source: ISO 8820-3 and DIN 72581-3 (fuse_time_gates.csv); rows marked MEM
// are logged only.
func TestOpeningTime(t *testing.T) {
	for _, r := range csvTable(t, "fuse_time_gates.csv") {
		if r["max_open_s"] == "" || strings.Contains(r["fuse_type"], "maker") {
			continue
		}
		f := Fuse{10, "red", "C/F"}
		if strings.HasPrefix(r["fuse_type"], "E") {
			f = Fuse{50, "red", "E"}
		}
		got, note, ok := OpeningTime(f, num(t, r["multiple_of_rating"])*f.Rating)
		if !ok || got != num(t, r["max_open_s"]) {
			if strings.HasPrefix(r["confirmation"], "MEM") {
				t.Logf("%v (from memory): %v", r, got)
				continue
			}
			t.Errorf("%v: %v %v", r, got, ok)
		}
		if strings.Contains(note, "memory") {
			t.Errorf("%v: the note %q says memory of what is printed", r, note)
		}
	}
	if _, _, ok := OpeningTime(Fuse{10, "red", "C/F"}, 12); ok {
		t.Error("an opening time is claimed at 1.2 times the rating")
	}
}

// Source: FAA AC 43.13-1B par. 11-66 and IEC 60228 annex B (copper_constants.csv, C2).
func TestWarmFactor(t *testing.T) {
	if got := WarmFactor(20); got != 1 {
		t.Errorf("at 20 C %v", got)
	}
	for c, kt := range map[float64]float64{5: 1.064, 25: 0.980, 50: 0.893, 100: 0.758} {
		// annex B rounds the coefficient up to 0.004, so 1 % is the most that
		// the two may differ
		if got := 1 / WarmFactor(c); math.Abs(got-kt) > 0.01*kt {
			t.Errorf("%v C: %v, source %v", c, got, kt)
		}
	}
}

// Sources: JIS C 3406 AV reprinted data sheet (automotive_wire_resistance.csv
// and ampacity_tables.csv, C1 + CALC). ISO 6722-1 (MEM) is logged only: class 5
// limits lie over it, so they never flatter the drop.
func TestVehicleWire(t *testing.T) {
	n := 0
	for _, r := range csvTable(t, "automotive_wire_resistance.csv") {
		mm2, ohms := num(t, r["nominal_mm2"]), num(t, r["max_r20_mohm_per_m"])
		s := anySize(mm2)
		switch {
		case r["standard"] == "JIS C 3406 AV" && mm2 != 0.5: // 0.5 is IEC's here
			n++
			if s.OhmsPerKM != ohms || s.Source != sourceJIS {
				t.Errorf("JIS %v mm2: %v ohm/km, source %v", mm2, s.OhmsPerKM, ohms)
			}
		case strings.HasPrefix(r["standard"], "ISO 6722"):
			t.Logf("ISO 6722 (from memory) %v mm2: %v, here %v ohm/km", mm2, ohms, s.OhmsPerKM)
		}
	}
	for _, r := range csvTable(t, "ampacity_tables.csv") {
		if r["table"] != "JIS C 3406 AV data sheet" || r["size"] == "0.5 mm2" {
			continue
		}
		n++
		if s := anySize(num(t, strings.TrimSuffix(r["size"], " mm2"))); s.Amps != num(t, r["amps"]) {
			t.Errorf("JIS %s: %v A, source %s", r["size"], s.Amps, r["amps"])
		}
	}
	if n != 12 {
		t.Errorf("%d rows compared, want 12", n)
	}
}

// Thicker is never worse, whatever size is named.
func TestSizesGrow(t *testing.T) {
	last := anySize(0.1)
	for mm2 := 0.15; mm2 < 30; mm2 += 0.05 {
		s := anySize(mm2)
		jis := s.Source == sourceJIS || last.Source == sourceJIS // another standard's limits beside IEC's
		if !jis && (s.OhmsPerKM > last.OhmsPerKM+1e-9 || s.Amps < last.Amps-1e-9 || s.FuseMax < last.FuseMax-1e-9) {
			t.Errorf("%v mm2 %+v is worse than %+v", mm2, s, last)
		}
		last = s
	}
	for n := 23; n >= 0; n-- {
		a, okA := AWGSize(n + 1)
		b, okB := AWGSize(n)
		if !okA || !okB || b.OhmsPerKM >= a.OhmsPerKM || b.Amps < a.Amps || b.FuseMax < a.FuseMax {
			t.Errorf("AWG %d %+v against %+v", n, b, a)
		}
	}
}
