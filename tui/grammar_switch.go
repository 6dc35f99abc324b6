package tui

import (
	"fmt"
	"strings"

	"bellout/mapping"
)

// usualSwitches are the switches that most pods have, so that a name alone is
// enough: common practice, and every one can be changed.
var usualSwitches = map[string]string{
	"dip":    "dip low* main",
	"turn":   "turn left off* right",
	"horn":   "horn out* in!",
	"flash":  "flash out* in!",
	"start":  "start out* in!",
	"kill":   "kill off* run",
	"lights": "lights off* park on",
	"hazard": "hazard off* on",
	"brake":  "brake out* in!",
	"clutch": "clutch out* in!",
	"key":    "key off* on",
}

// parseSwitches reads switches from one line, with commas between:
//
//	dip low* main          rest is the starred position, else the first
//	horn out* in!          a ! anywhere: momentary, springs back to rest
//	dip low* main (HI LO)  what its legend shows
//	dip, turn, horn        the usual positions, also without the commas
func parseSwitches(text string) ([]mapping.Switch, error) {
	var out []mapping.Switch
	for _, part := range strings.Split(text, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		each := []string{part}
		if words := strings.Fields(part); allUsual(words[1:]) {
			each = words
		}
		for _, one := range each {
			sw, err := parseSwitch(one)
			if err != nil {
				return nil, err
			}
			out = append(out, sw)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no switch named: type its name and its positions, as dip low* main")
	}
	return out, nil
}

// allUsual tells a list of switches from the positions of one: no position is
// called as a usual switch is.
func allUsual(words []string) bool {
	for _, w := range words {
		if _, ok := usualSwitches[strings.ToLower(w)]; !ok {
			return false
		}
	}
	return true
}

func parseSwitch(text string) (mapping.Switch, error) {
	legend := ""
	if open := strings.Index(text, "("); open >= 0 {
		legend = mapping.Clean(strings.TrimSuffix(strings.TrimSpace(text[open+1:]), ")"), mapping.MaxText)
		text = text[:open]
	}
	words := strings.Fields(text)
	if len(words) == 0 {
		return mapping.Switch{}, fmt.Errorf("a legend needs its switch before it: type dip low* main (HI LO)")
	}
	if usual, ok := usualSwitches[strings.ToLower(words[0])]; ok && len(words) == 1 {
		words = strings.Fields(usual)
	}
	sw := mapping.Switch{Name: mapping.SwitchID(mapping.Clean(words[0], mapping.MaxName)), Legend: legend}
	if strings.ContainsAny(words[0], "=*!+") {
		return sw, fmt.Errorf("a switch's name comes first and without marks, not %q: type dip low* main", mapping.Clean(words[0], mapping.MaxName))
	}
	if len(words) == 1 {
		return sw, fmt.Errorf("%s needs its positions: type %s off* on, a * where it rests, a ! if it springs back", sw.Name, sw.Name)
	}
	for _, w := range words[1:] {
		rest := strings.Contains(w, "*")
		sw.Momentary = sw.Momentary || strings.Contains(w, "!")
		q := mapping.PositionID(mapping.Clean(strings.NewReplacer("*", "", "!", "").Replace(w), mapping.MaxName))
		if strings.ContainsAny(string(q), "=+") {
			return sw, fmt.Errorf("position %q has a = or + in it: leave it out", q)
		}
		sw.Positions = append(sw.Positions, q)
		if rest && sw.Rest != "" {
			return sw, fmt.Errorf("%s has two rest positions: star one only", sw.Name)
		}
		if rest {
			sw.Rest = q
		}
	}
	if sw.Rest == "" {
		sw.Rest = sw.Positions[0]
	}
	return sw, sw.Validate()
}

// switchLine is the inverse of parseSwitch.
func switchLine(sw mapping.Switch) string {
	var b strings.Builder
	b.WriteString(string(sw.Name))
	for _, q := range sw.Positions {
		b.WriteString(" " + string(q))
		switch {
		case q == sw.Rest:
			b.WriteString("*")
		case sw.Momentary:
			b.WriteString("!")
		}
	}
	if sw.Legend != "" {
		b.WriteString(" (" + sw.Legend + ")")
	}
	return b.String()
}
