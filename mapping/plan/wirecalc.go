package plan

import (
	"fmt"
	"math"
)

// WireAsk is the garage's question: what size for this current over this
// length. TotalM is there and back, in metres. AWG or MM2 name a size, whose
// drop is then given; nil for none. Celsius is the copper's temperature, 20 if
// nil.
type WireAsk struct {
	Amps        float64
	TotalM      float64
	Volts       float64
	DropPercent float64
	AWG         *int
	MM2         *float64
	Celsius     *float64
}

// WireAnswer gives the drop over the size that was named or, without one, over
// the smallest metric size that meets drop and current. AWG is then the
// smallest gauge that meets both; with a size given it is the size of the
// other system that has at least as much copper. AmpsAllowed is for one wire
// alone in 30 C air. FuseA is the fuse for this current, or the largest that
// the wire may stand behind if that is less.
type WireAnswer struct {
	VoltsDropped float64  `json:"volts_dropped"`
	Percent      float64  `json:"percent"`
	AWG          int      `json:"awg"`
	MM2          float64  `json:"mm2"`
	AmpsAllowed  float64  `json:"amps_allowed"`
	FuseA        float64  `json:"fuse_a"`
	Sources      []string `json:"sources"`
	Notes        []string `json:"notes,omitempty"`
}

// Drop is the voltage lost in a length of wire, in volts: metres there and
// back, ohms per kilometre at 20 C, copper temperature.
func Drop(amps, totalM, ohmsPerKM, celsius float64) float64 {
	return amps * totalM * ohmsPerKM / 1000 * WarmFactor(celsius)
}

// SizeWire answers a WireAsk, or says in one sentence what is wrong with it.
func SizeWire(ask WireAsk) (WireAnswer, error) {
	if err := ask.validate(); err != nil {
		return WireAnswer{}, err
	}
	celsius := 20.0
	if ask.Celsius != nil {
		celsius = *ask.Celsius
	}
	drop := func(s Size) float64 { return Drop(ask.Amps, ask.TotalM, s.OhmsPerKM, celsius) }
	var size Size
	out := WireAnswer{Sources: []string{sourceAmps, sourceFuses, sourceContinue, sourceFuseMax}}
	switch {
	case ask.AWG != nil:
		s, ok := AWGSize(*ask.AWG)
		if !ok {
			return WireAnswer{}, fmt.Errorf("AWG %d is not in the table: name one from 24 (thin) to 0 (thick)", *ask.AWG)
		}
		size, out.AWG, out.MM2 = s, s.AWG, atLeast(MetricSizes(), s.MM2).MM2
	case ask.MM2 != nil:
		if !(*ask.MM2 >= 0.1 && *ask.MM2 <= 120) {
			return WireAnswer{}, fmt.Errorf("%g mm2 is no size of wire: give 0.1 to 120, such as 0.5, 0.75, 1, 1.5, 2.5, 4 or 6", *ask.MM2)
		}
		s := anySize(*ask.MM2)
		size, out.MM2, out.AWG = s, s.MM2, atLeast(AWGSizes(), s.MM2).AWG
	default:
		limit := ask.Volts * ask.DropPercent / 100
		fits := func(s Size) bool {
			f, ok := FuseFor(ask.Amps)
			return ok && drop(s) <= limit+1e-12 && ask.Amps <= s.Amps && f.Rating <= s.FuseMax
		}
		metric, okM := smallest(MetricSizes(), 0.5, fits)
		awg, okA := smallest(AWGSizes(), 0.5, fits)
		if !okM || !okA {
			return WireAnswer{}, fmt.Errorf("no size in the tables keeps %s A over %s m within %s %%: shorten the run, allow more drop or split the load",
				trim(ask.Amps), trim(ask.TotalM), trim(ask.DropPercent))
		}
		size, out.MM2, out.AWG = metric, metric.MM2, awg.AWG
		out.Sources = append([]string{awg.Source}, out.Sources...)
	}
	out.Sources = append([]string{size.Source, "FAA AC 43.13-1B par. 11-66: copper at " + trim(celsius) + " C"}, out.Sources...)
	out.VoltsDropped = round(drop(size), 6)
	out.Percent = round(drop(size)/ask.Volts*100, 4)
	out.AmpsAllowed = size.Amps
	out.FuseA = FuseWithin(size.FuseMax)
	if f, ok := FuseFor(ask.Amps); ok && f.Rating <= size.FuseMax {
		out.FuseA = f.Rating
	} else {
		out.Notes = append(out.Notes, fmt.Sprintf("%s A needs a fuse that this wire may not stand behind: take a thicker wire", trim(ask.Amps)))
	}
	if ask.Amps > size.Amps {
		out.Notes = append(out.Notes, fmt.Sprintf("the wire carries %s A for good, not %s A: take a thicker wire", trim(size.Amps), trim(ask.Amps)))
	}
	if ask.DropPercent > 0 && out.Percent > ask.DropPercent+1e-9 {
		out.Notes = append(out.Notes, fmt.Sprintf("%s %% is more than the %s %% asked for: take a thicker wire", trim(out.Percent), trim(ask.DropPercent)))
	}
	return out, nil
}

func (a WireAsk) validate() error {
	named := a.AWG != nil || a.MM2 != nil
	switch {
	case a.AWG != nil && a.MM2 != nil:
		return fmt.Errorf("two sizes are named: give either a gauge or mm2")
	case !(a.Amps > 0) || math.IsInf(a.Amps, 0):
		return fmt.Errorf("the current is %g A: give amps above 0", a.Amps)
	case !(a.TotalM > 0) || math.IsInf(a.TotalM, 0):
		return fmt.Errorf("the length is %g m: give metres there and back, above 0", a.TotalM)
	case !(a.Volts > 0) || math.IsInf(a.Volts, 0):
		return fmt.Errorf("the voltage is %g V: give volts above 0, 12 for most machines", a.Volts)
	case math.IsNaN(a.DropPercent) || a.DropPercent < 0 || a.DropPercent >= 100 || (a.DropPercent == 0 && !named):
		return fmt.Errorf("the drop allowed is %g %%: give a figure above 0 and under 100, 3 for lamps that matter", a.DropPercent)
	case a.Celsius != nil && !(*a.Celsius > -60 && *a.Celsius < 200):
		return fmt.Errorf("the copper is at %g C: give a temperature from -60 to 200", *a.Celsius)
	}
	return nil
}

func smallest(rows []Size, from float64, fits func(Size) bool) (Size, bool) {
	for _, s := range rows {
		if s.MM2 >= from && fits(s) {
			return s, true
		}
	}
	return Size{}, false
}

// atLeast is the thinnest size with at least this much copper, else the
// thickest there is.
func atLeast(rows []Size, mm2 float64) Size {
	for _, s := range rows {
		if s.MM2 >= mm2-1e-9 {
			return s
		}
	}
	return rows[len(rows)-1]
}

func round(x float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(x*p) / p
}
