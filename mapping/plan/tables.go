package plan

import (
	"math"
	"strconv"
)

// Size is one size of copper wire. OhmsPerKM is at 20 C. Amps is what a single
// wire with 105 C insulation carries for good in 30 C air. FuseMax is the
// largest fuse that it may stand behind in a loom.
type Size struct {
	MM2       float64
	AWG       int // -1 for a metric size
	OhmsPerKM float64
	Amps      float64
	FuseMax   float64
	Source    string
}

const (
	sourceClass5   = "IEC 60228:2004 table 3, class 5 plain copper, limit at 20 C"
	sourceJIS      = "JIS C 3406 type AV data sheet, at 20 C"
	sourceScaled   = "scaled from IEC 60228 class 5 by area"
	sourceAWG      = "ASTM B258 gauge, stranded minimum area, 10.75 ohm.cmil/ft (ABYC E-11)"
	sourceAmps     = "33 CFR 183.425 table 5, 105 C, single wire at 30 C; under AWG 18 JIS C 3406 AV"
	sourceFuseMax  = "common practice: fuse at most what the wire carries in a loom"
	sourceFuses    = "ISO 8820-3 ratings"
	sourceContinue = "common practice: continuous load at most 75 % of the fuse"
)

// MetricSizes gives the metric sizes, thinnest first.
//
// Resistance: IEC 60228 table 3 (class 5), under 0.5 mm2 scaled by area, 25 mm2
// from memory. Current: the AWG size at or under it in 33 CFR 183.425 table 5,
// under that JIS C 3406 AV's 12 A scaled by area. Fuse: common practice for a
// bike's loom (upper figure), 10 mm2 and more by prudence.
func MetricSizes() []Size {
	return []Size{
		{0.3, -1, 65, 6, 3, sourceScaled},
		{0.35, -1, 55.7, 7, 3, sourceScaled},
		{0.5, -1, 39, 10, 7.5, sourceClass5},
		{0.75, -1, 26, 12, 10, sourceClass5},
		{1, -1, 19.5, 20, 15, sourceClass5},
		{1.5, -1, 13.3, 25, 20, sourceClass5},
		{2.5, -1, 7.98, 35, 30, sourceClass5},
		{4, -1, 4.95, 45, 30, sourceClass5},
		{6, -1, 3.3, 60, 40, sourceClass5},
		{10, -1, 1.91, 80, 60, sourceClass5},
		{16, -1, 1.21, 120, 80, sourceClass5},
		{25, -1, 0.78, 160, 100, "from memory"},
	}
}

// AWGSizes gives the gauges, thinnest first. Resistance is that of the
// stranded minimum area at 10.75 ohm.cmil/ft, which agrees with ABYC's printed
// table better than the nominal area does; gauges without such a figure take
// 0.9 of the nominal area. Current: 33 CFR 183.425 table 5 at 105 C.
func AWGSizes() []Size {
	rows := []struct {
		awg     int
		cmil    float64
		amps    float64
		fuseMax float64
	}{
		{24, 0, 3, 2}, {22, 0, 6, 3}, {20, 0, 10, 7.5},
		{18, 1537, 20, 10}, {16, 2336, 25, 15}, {14, 3702, 35, 20}, {12, 5833, 45, 30},
		{10, 9343, 60, 40}, {8, 14810, 80, 50}, {6, 25910, 120, 60}, {4, 37360, 160, 80},
		{2, 62450, 210, 100}, {1, 77790, 245, 100}, {0, 98980, 285, 100},
	}
	out := make([]Size, 0, len(rows))
	for _, r := range rows {
		mm := AWGDiameter(r.awg) * 25.4
		cmil := r.cmil
		if cmil == 0 {
			cmil = 0.9 * AWGDiameter(r.awg) * AWGDiameter(r.awg) * 1e6
		}
		out = append(out, Size{
			MM2: math.Pi / 4 * mm * mm, AWG: r.awg,
			OhmsPerKM: 10.75 / cmil / 0.3048 * 1000,
			Amps:      r.amps, FuseMax: r.fuseMax, Source: sourceAWG,
		})
	}
	return out
}

// AWGDiameter is the diameter of a solid gauge in inches: ASTM B258,
// d = 0.005 * 92^((36-n)/39).
func AWGDiameter(awg int) float64 {
	return 0.005 * math.Pow(92, float64(36-awg)/39)
}

// AWGSolidOhmsPerKM is the resistance of the solid gauge at 20 C: 0.017241
// ohm.mm2/m (IEC 60028) over the area of ASTM B258.
func AWGSolidOhmsPerKM(awg int) float64 {
	mm := AWGDiameter(awg) * 25.4
	return 17.241 / (math.Pi / 4 * mm * mm)
}

// JISSizes gives the sizes of Japanese vehicle wire (JIS C 3406 type AV) that
// IEC 60228 does not have: resistance and current from its data sheet, fuse by
// the IEC size at or under it.
func JISSizes() []Size {
	return []Size{
		{0.85, -1, 20.8, 16, 10, sourceJIS},
		{1.25, -1, 14.3, 21, 15, sourceJIS},
		{2, -1, 8.81, 28, 20, sourceJIS},
		{3, -1, 5.59, 38, 30, sourceJIS},
		{5, -1, 3.52, 51, 30, sourceJIS},
		{8, -1, 2.32, 66, 40, sourceJIS},
	}
}

// MetricSize finds the size with this area.
func MetricSize(mm2 float64) (Size, bool) {
	for _, s := range MetricSizes() {
		if math.Abs(s.MM2-mm2) < 1e-9 {
			return s, true
		}
	}
	return Size{}, false
}

// AWGSize finds a gauge from 24 to 0. The odd ones, which are no trade sizes,
// take 0.9 of their nominal area, and current and fuse of the thinner
// neighbour.
func AWGSize(awg int) (Size, bool) {
	if awg < 0 || awg > 24 {
		return Size{}, false
	}
	var out Size
	for _, s := range AWGSizes() {
		if s.AWG >= awg {
			out = s
		}
	}
	if out.AWG == awg {
		return out, true
	}
	d := AWGDiameter(awg)
	out.AWG, out.MM2 = awg, math.Pi/4*d*d*25.4*25.4
	out.OhmsPerKM = 10.75 / (0.9 * d * d * 1e6) / 0.3048 * 1000
	return out, true
}

// anySize gives a size for whatever area a plan names: a table row, or one
// scaled down from the row under it.
func anySize(mm2 float64) Size {
	if s, ok := MetricSize(mm2); ok {
		return s
	}
	for _, s := range JISSizes() {
		if s.MM2 == mm2 {
			return s
		}
	}
	rows := MetricSizes()
	best := rows[0]
	for _, s := range rows {
		if s.MM2 <= mm2 {
			best = s
		}
	}
	out := best
	out.MM2 = mm2
	per := best.OhmsPerKM * best.MM2
	for _, s := range rows {
		if s.MM2 > mm2 { // the worse of its two neighbours, so that nothing is flattered
			per = max(per, s.OhmsPerKM*s.MM2)
			break
		}
	}
	out.OhmsPerKM = per / mm2
	if mm2 > best.MM2 {
		out.OhmsPerKM = min(out.OhmsPerKM, best.OhmsPerKM)
	}
	out.Source = sourceScaled
	if mm2 < best.MM2 {
		out.Amps = best.Amps * mm2 / best.MM2
		out.FuseMax = best.FuseMax * mm2 / best.MM2
	}
	return out
}

// WarmFactor is copper's resistance at a temperature over that at 20 C:
// (234.5+T)/254.5 (FAA AC 43.13-1B par. 11-66).
func WarmFactor(celsius float64) float64 { return (234.5 + celsius) / 254.5 }

// AmbientFactor lowers a wire's current for air warmer than 30 C: the root of
// the temperature left over that at 30 C. For 105 C wire in 50 C it gives 0.856
// where 33 CFR 183.425 note 1 prints 0.85.
func AmbientFactor(insulation, ambient float64) float64 {
	if ambient > 0 && ambient >= insulation {
		return 0
	}
	if ambient <= 30 || insulation <= 30 {
		return 1
	}
	return math.Sqrt((insulation - ambient) / (insulation - 30))
}

// BundleFactor lowers a wire's current for neighbours that carry their own:
// 33 CFR 183.425 note 2, which United States law asks for from 50 V up only;
// at 12 V it is prudence.
func BundleFactor(loaded int) float64 {
	switch {
	case loaded < 3:
		return 1
	case loaded == 3:
		return 0.7
	case loaded <= 6:
		return 0.6
	case loaded <= 24:
		return 0.5
	}
	return 0.4
}

// Fuse is a blade fuse. Type is C (medium) and F (small), or E (large).
type Fuse struct {
	Rating float64
	Colour string
	Type   string
}

// Fuses gives the ratings of ISO 8820-3 with their colours: types C and F, and
// from 50 A up type E.
func Fuses() []Fuse {
	return []Fuse{
		{1, "black", "C/F"}, {2, "grey", "C/F"}, {3, "violet", "C/F"}, {4, "pink", "C/F"},
		{5, "light brown", "C/F"}, {7.5, "brown", "C/F"}, {10, "red", "C/F"}, {15, "blue", "C/F"},
		{20, "yellow", "C/F"}, {25, "natural", "C/F"}, {30, "green", "C/F"}, {35, "blue-green", "C/F"},
		{40, "orange", "C/F"}, {50, "red", "E"}, {60, "blue", "E"}, {70, "brown", "E"},
		{80, "natural", "E"}, {100, "violet", "E"},
	}
}

// FuseOf finds a rating.
func FuseOf(rating float64) (Fuse, bool) {
	for _, f := range Fuses() {
		if f.Rating == rating {
			return f, true
		}
	}
	return Fuse{}, false
}

// continuousShare is how much of its rating a fuse carries for good (common
// practice).
const continuousShare = 0.75

// usualRatings are those of Fuses that are proposed. The sizes that are hard to buy
// at the roadside (1, 2, 4, 35) are left out (common practice: 3, 5, 7.5, 10, 15, 20,
// 25, 30 A are the standard small ones).
func usualRatings() [14]float64 {
	return [...]float64{3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 100}
}

// FuseFor is the smallest usual fuse that carries a continuous load.
func FuseFor(continuous float64) (Fuse, bool) {
	for _, r := range usualRatings() {
		if continuous <= continuousShare*r+1e-9 {
			return FuseOf(r)
		}
	}
	return Fuse{}, false
}

// FuseWithin is the largest fuse not over a limit, 0 if there is none.
func FuseWithin(limit float64) float64 {
	best := 0.0
	for _, f := range Fuses() {
		if f.Rating <= limit+1e-9 && f.Rating > best {
			best = f.Rating
		}
	}
	return best
}

// gate is a point of a fuse's opening time.
type gate struct {
	multiple float64
	min, max float64 // seconds
	sure     bool    // printed in a source; else from memory
}

func gates(typ string) []gate {
	if typ == "E" {
		return []gate{{1.35, 60, 1800, true}, {2, 2, 60, true}, {3.5, 0.2, 7, true}}
	}
	return []gate{
		{1.35, 0.75, 1800, true}, {1.6, 0.25, 50, false}, {2, 0.15, 5, true},
		{3.5, 0.04, 0.5, false}, {6, 0.02, 0.1, false},
	}
}

// OpeningTime says within what time, in seconds, a fuse opens at a current:
// the last gate of ISO 8820-3 (DIN 72581-3 for type E) at or under it that a
// source prints. False where the tables say nothing. The note names the gate,
// and the faster one from memory if there is one.
func OpeningTime(f Fuse, amps float64) (atMost float64, note string, ok bool) {
	source := " times its rating, ISO 8820-3"
	if f.Type == "E" {
		source = " times its rating, DIN 72581-3 form E"
	}
	faster := ""
	for _, g := range gates(f.Type) {
		switch {
		case amps < g.multiple*f.Rating-1e-9:
		case g.sure:
			atMost, note, faster, ok = g.max, trim(g.multiple)+source, "", true
		default:
			faster = "; about " + trim(g.max) + " s at " + trim(g.multiple) + " times, from memory"
		}
	}
	return atMost, note + faster, ok
}

// trim writes a number with as few digits as it needs.
func trim(x float64) string {
	return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64)
}
