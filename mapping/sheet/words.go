package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bellout/mapping"
	"bellout/mapping/plan"
)

// code is a wire's colour as the trade says it: base/tracer, IEC 60757 letters.
func code(w plan.Wire) string {
	if w.Tracer != "" {
		return w.Colour + "/" + w.Tracer
	}
	return w.Colour
}

// spec is a wire's colour code and size: "BU/WH 0.5".
func spec(w plan.Wire) string {
	return strings.TrimSpace(code(w) + " " + size(w.MM2))
}

func size(mm2 float64) string {
	if mm2 <= 0 {
		return "size open"
	}
	return number(mm2)
}

// number writes a figure with no more decimals than it needs, two at most.
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

func amps(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) + " A" }

// byNature orders names as a person does: W2 before W10.
func byNature(a, b string) int {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		if da > 0 && db > 0 {
			na, nb := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
			if len(na) != len(nb) {
				return len(na) - len(nb)
			}
			if na != nb {
				return strings.Compare(na, nb)
			}
			a, b = a[da:], b[db:]
			continue
		}
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		a, b = a[1:], b[1:]
	}
	return len(a) - len(b)
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// sortedWires are the plan's wires by module, then by name; the trunk first.
func sortedWires(p plan.Plan) []plan.Wire {
	ws := slices.Clone(p.Wires)
	rank := func(w plan.Wire) string {
		if w.In == plan.Loom || w.In == "" {
			return ""
		}
		return w.In
	}
	slices.SortStableFunc(ws, func(a, b plan.Wire) int {
		if c := strings.Compare(rank(a), rank(b)); c != 0 {
			return c
		}
		return byNature(a.Name, b.Name)
	})
	return ws
}

// glyph is the sign of a grade where there is no room for the word; the legend
// gives both.
func glyph(g mapping.Grade) string {
	switch g {
	case mapping.Proved:
		return "*"
	case mapping.Likely:
		return "o"
	case mapping.OpenQuestion:
		return "?"
	}
	return "x"
}

// grades counts the links of all pods by grade, as the pinouts do.
func grades(p plan.Plan) (count [mapping.Proved + 1]int) {
	for _, pod := range p.Pods {
		for g, n := range pod.Map.Tally() {
			count[g] += n
		}
	}
	return count
}

func gradeLine(p plan.Plan) string {
	c := grades(p)
	return fmt.Sprintf("Links of the pods: %d proved, %d likely, %d open questions, %d not tested",
		c[mapping.Proved], c[mapping.Likely], c[mapping.OpenQuestion], c[mapping.NotTested])
}

// headLine says from when this page is, which revision and whose.
func headLine(p plan.Plan) string {
	open := func(s, blank string) string {
		if s == "" {
			return blank
		}
		return s
	}
	return "drawn from readings of " + open(p.Date, "______") + "; revision " + open(p.Revision, "______") + "; " + open(p.By, "by ______")
}
