package inference

import (
	"cmp"
	"fmt"
	"slices"

	"bellout/inference/simbench"
)

func tellHeader() {
	fmt.Printf("%-16s %-44s %10s %10s %10s  %s\n", "readings leads", "figure", "median", "p90", "worst", "reach")
}

func oneIn(k, of int) string {
	if k == 0 {
		return "none"
	}
	return fmt.Sprintf("%.0f", float64(of)/float64(k))
}

// quantile of sorted figures; 0 of none.
func quantile(x []float64, q float64) float64 {
	if len(x) == 0 {
		return 0
	}
	return x[min(len(x)-1, int(q*float64(len(x))))]
}

func figures(scores []simbench.Score, minEnds int, f func(simbench.Score) float64) []float64 {
	var x []float64
	for _, s := range scores {
		if s.Err == nil && s.Ends >= minEnds {
			x = append(x, f(s))
		}
	}
	slices.Sort(x)
	return x
}

func medianOf(scores []simbench.Score, minEnds int, f func(simbench.Score) float64) float64 {
	return quantile(figures(scores, minEnds, f), 0.5)
}

// tellRow prints what one way of playing came to.
func tellRow(r row, scores []simbench.Score) {
	spread := func(what, reach, format string, x []float64) {
		cell := func(q float64) string { return fmt.Sprintf(format, quantile(x, q)) }
		fmt.Printf("%-16s %-44s %10s %10s %10s  %s\n", r, what, cell(0.5), cell(0.9), cell(1), reach)
	}
	total := func(what, reach string, k, of int) {
		fmt.Printf("%-16s %-44s %10s %10s %10s  %s\n", r, what, fmt.Sprintf("%d/%d", k, of), "", "1 in "+oneIn(k, of), reach)
	}
	var wrong, within, sure, sureWithin, free, broke, endless, open, claims, pf, pr int
	doubt := 0.0
	var bad []string
	for _, s := range scores {
		claims += s.Claims
		open += s.Unresolved
		pf += s.ProvedFalse
		pr += s.Proved
		doubt += 1 - s.Confidence
		tell := ""
		if s.Wrong() {
			wrong++
			tell = fmt.Sprintf("%d settings wrong, all unresolved", s.WrongSettings)
		}
		if s.WrongInReach > 0 {
			within++
		}
		if s.SureInReach > 0 {
			sureWithin++
		}
		if s.WrongFree > 0 {
			free++
		}
		if s.WrongSure > 0 {
			sure++
			tell = fmt.Sprintf("wrong and sure at confidence %.4f: %s", s.Confidence, s.FirstWrong)
		} else if s.ProvedFalse > 0 {
			tell = "proved but false: " + s.FirstFalse
		}
		if s.Err != nil {
			broke++
			tell = s.Err.Error()
		} else if !s.Stopped {
			endless++
			tell += fmt.Sprintf(" did not stop in %d readings", s.Cost.Readings)
		}
		if tell != "" {
			bad = append(bad, fmt.Sprintf("    seed %d (%d ends, %d switches, depth %d): %s", s.Seed, s.Ends, s.Switches, s.Depth, tell))
		}
	}
	n := len(scores)
	if r.fallible {
		total("pods with a claim wrong and sure", "at most 1 in 200", sure, n)
		total("  of them, where the hands can go", "", sureWithin, n)
		total("  of them, not following from an unresolved link", "", free, n)
		total("claims left unresolved", "at most 1 in 100", open, claims)
	} else {
		total("maps wrong in any setting", "0", wrong, n)
		total("  of them, in a setting that the hands can make", "0", within, n)
		total("pods with a claim wrong and sure", "0", sure, n)
		total("  of them, where the hands can go", "0", sureWithin, n)
		total("claims left unresolved", "", open, claims)
	}
	total("claims graded proved that are false", "at most 1 in 1,000", pf, pr)
	reach := map[string]string{
		"perfect bunch": "median at most 0.25", "perfect pair": "median at most 0.5", "fallible bunch": "median at most 0.33",
	}[r.String()]
	spread("bench time / textbook grid, 8 ends and more", reach, "%.3f", figures(scores, 8, simbench.Score.RatioToGrid))
	spread("bench minutes", "", "%.1f", figures(scores, 0, func(s simbench.Score) float64 { return s.Cost.Seconds / 60 }))
	spread("readings", "", "%.0f", figures(scores, 0, func(s simbench.Score) float64 { return float64(s.Cost.Readings) }))
	spread("readings per bit of the map", "for information", "%.2f", figures(scores, 0, func(s simbench.Score) float64 {
		return float64(s.Cost.Readings) / max(1, s.Bits)
	}))
	fmt.Printf("%-16s %-44s %10.4f %10s %10s  %s\n", r, "stated doubt, mean; pods that were wrong", doubt/float64(n), "",
		fmt.Sprintf("%.4f", float64(wrong)/float64(n)), "stated should not be less than found")
	total("plays broken, plays that did not stop", "0", broke+endless, n)
	tellTimes(r, scores)
	slices.SortFunc(bad, cmp.Compare[string])
	for i, s := range bad {
		if i == 40 {
			fmt.Printf("    and %d more\n", len(bad)-40)
			break
		}
		fmt.Println(s)
	}
}

// tellTimes prints how long the engine thought, by size of pod.
func tellTimes(r row, scores []simbench.Score) {
	for _, c := range []struct {
		name     string
		ends, sw int
		reach    string
	}{
		{"up to 12 ends, 5 switches", 12, 5, "p99 at most 50 ms"},
		{"up to 18 ends, 9 switches", 18, 9, "p99 at most 200 ms"},
		{"up to 24 ends, 10 switches", 24, 10, "p99 at most 1 s"},
	} {
		var x []float64
		for _, s := range scores {
			if s.Ends <= c.ends && s.Switches <= c.sw {
				x = append(x, s.Thinking...)
			}
		}
		slices.Sort(x)
		fmt.Printf("%-16s %-44s %10s %10s %10s  %s\n", r, "next sweep in ms, "+c.name,
			fmt.Sprintf("%.1f", 1000*quantile(x, 0.5)), fmt.Sprintf("p99 %.1f", 1000*quantile(x, 0.99)),
			fmt.Sprintf("%.1f", 1000*quantile(x, 1)), c.reach)
	}
}
