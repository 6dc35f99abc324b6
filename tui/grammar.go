package tui

import (
	"fmt"
	"strconv"
	"strings"

	"bellout/mapping"
)

// said is what the builder says the meter showed at one step.
type said struct {
	outcome mapping.Outcome
	mode    mapping.Mode
	value   float64 // ohms or volts, as mode has it
}

// line is a typed line, understood: either answers for steps of the sweep in
// hand, or a reading out of turn.
type line struct {
	steps map[int]said // by step, from 0
	turn  *mapping.Reading
}

// parseLine understands what is typed at the bench. mode is what the meter is
// set to; n and cursor are the sweep's steps and the one in hand (n is 0 when
// no sweep is); at is where the levers are believed to stand.
//
//	3 7              it beeped at the third and seventh step, at no other
//	0 or -           it beeped at none
//	3 5~ 6? 8x       flicker at 5, not sure at 6, cannot reach at 8
//	0.4  38r  OL  0.62V   what the meter shows, for the step in hand
//	3 7 dip=main beep     a reading out of turn: red 3, black 7
func parseLine(text string, pod mapping.Pod, mode mapping.Mode, n, cursor int, at mapping.Setting) (line, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' })
	if len(words) == 0 {
		return line{}, fmt.Errorf("nothing typed: say which steps beeped, as 3 7, or 0 for none")
	}
	if outOfTurn(words, pod, mode) {
		r, err := parseTurn(words, pod, mode, at)
		return line{turn: r}, err
	}
	if n == 0 {
		return line{}, fmt.Errorf("no sweep is in hand: a reading out of turn is typed as 3 7 dip=main beep")
	}
	if isMeterLine(words, mode, n) {
		return meterLine(words, mode, n, cursor)
	}
	return stepLine(words, n, cursor)
}

func outOfTurn(words []string, pod mapping.Pod, mode mapping.Mode) bool {
	for _, w := range words {
		if strings.Contains(w, "=") {
			return true
		}
	}
	if len(words) < 3 {
		return false
	}
	_, ok := parseMeter(words[len(words)-1], mode, false)
	if !ok {
		return false
	}
	if mode != mapping.Beep {
		for _, w := range words {
			if _, value := parseMeter(w, mode, false); !value {
				return true
			}
		}
		return false
	}
	return true
}

// parseMeter reads one word as a meter's answer. bare lets a plain whole
// number be a value.
func parseMeter(word string, mode mapping.Mode, bare bool) (said, bool) {
	valueMode := mode
	if mode == mapping.Beep {
		valueMode = mapping.Ohms
	}
	low := strings.ToLower(word)
	switch low {
	case "beep", "beeps", "beeped", "b":
		return said{outcome: mapping.Sounded}, true
	case "silent", "silence", "s":
		return said{outcome: mapping.Silent}, true
	case "flicker", "~":
		return said{outcome: mapping.Flicker, mode: mode}, true
	case "unsure", "?":
		return said{outcome: mapping.NotSure, mode: mode}, true
	case "unreachable", "x":
		return said{outcome: mapping.CannotReach, mode: mode}, true
	case "ol", "o.l", "o.l.", "0l":
		return said{outcome: mapping.OverRange, mode: valueMode}, true
	}
	num, scale, m, unit := low, 1.0, valueMode, false
	for _, u := range []struct {
		suffix string
		scale  float64
		mode   mapping.Mode
	}{
		{"mohm", 1e6, mapping.Ohms}, {"kohm", 1e3, mapping.Ohms}, {"ohms", 1, mapping.Ohms}, {"ohm", 1, mapping.Ohms},
		{"kω", 1e3, mapping.Ohms}, {"mω", 1e6, mapping.Ohms}, {"ω", 1, mapping.Ohms},
		{"r", 1, mapping.Ohms}, {"k", 1e3, mapping.Ohms}, {"m", 1e6, mapping.Ohms},
		{"mv", 1e-3, mapping.Diode}, {"v", 1, mapping.Diode},
	} {
		if cut, ok := strings.CutSuffix(low, u.suffix); ok && cut != "" {
			num, scale, m, unit = cut, u.scale, u.mode, true
			break
		}
	}
	if !unit && !bare && !strings.Contains(num, ".") {
		return said{}, false
	}
	if strings.Trim(num, "0123456789.") != "" {
		return said{}, false
	}
	v, err := strconv.ParseFloat(num, 64)
	if err != nil || v*scale > 1e9 {
		return said{}, false
	}
	return said{outcome: mapping.Value, mode: m, value: v * scale}, true
}

// isMeterLine tells values from step numbers: with the meter on ohms or diode
// every number is a value; with the beeper only what cannot be a step is.
func isMeterLine(words []string, mode mapping.Mode, n int) bool {
	if mode != mapping.Beep {
		return true
	}
	s, ok := parseMeter(words[0], mode, false)
	return ok && (s.outcome != mapping.CannotReach || len(words) == 1)
}

func meterLine(words []string, mode mapping.Mode, n, cursor int) (line, error) {
	if len(words) > n-cursor {
		return line{}, fmt.Errorf("%s for %s left in this sweep: type one value a step",
			count(len(words), "value"), count(n-cursor, "step"))
	}
	out := line{steps: map[int]said{}}
	for i, w := range words {
		s, ok := parseMeter(w, mode, true)
		if !ok {
			return line{}, fmt.Errorf("%q is nothing a meter shows: type it as 0.4, 38r, 4.7k, OL or 0.62V", mapping.Clean(w, mapping.MaxName))
		}
		out.steps[cursor+i] = s
	}
	return out, nil
}

func stepLine(words []string, n, cursor int) (line, error) {
	out := line{steps: map[int]said{}}
	for i := cursor; i < n; i++ {
		out.steps[i] = said{outcome: mapping.Silent}
	}
	if len(words) == 1 && (words[0] == "0" || words[0] == "-") {
		return out, nil
	}
	for _, w := range words {
		o := mapping.Sounded
		num := w
		switch {
		case strings.HasSuffix(w, "~"):
			o, num = mapping.Flicker, w[:len(w)-1]
		case strings.HasSuffix(w, "?"):
			o, num = mapping.NotSure, w[:len(w)-1]
		case strings.HasSuffix(w, "x"):
			o, num = mapping.CannotReach, w[:len(w)-1]
		}
		k, err := strconv.Atoi(num)
		switch {
		case err != nil:
			return line{}, fmt.Errorf("%q is neither a step nor a meter's answer: type 3 7 for the steps that beeped, 0 for none", mapping.Clean(w, mapping.MaxName))
		case k < 1 || k > n:
			return line{}, fmt.Errorf("this sweep has steps 1 to %d, not %d: type the steps that beeped with a space between; for ohms write %dr", n, k, max(k, 0))
		case k <= cursor:
			return line{}, fmt.Errorf("step %d has its answer already: undo first if it was wrong", k)
		}
		out.steps[k-1] = said{outcome: o}
	}
	return out, nil
}

// parseTurn reads a reading out of turn: two sides, any levers that stand
// elsewhere than believed, and what the meter said.
func parseTurn(words []string, pod mapping.Pod, mode mapping.Mode, at mapping.Setting) (*mapping.Reading, error) {
	const how = "type it as 3 7 dip=main beep: red end, black end, levers that moved, what the meter said"
	r := mapping.Reading{Setting: pod.Rest()}
	for name, pos := range at {
		if sw, ok := pod.Switch(name); ok && sw.Index(pos) >= 0 {
			r.Setting[name] = pos
		}
	}
	s, ok := parseMeter(words[len(words)-1], mode, true)
	if !ok || len(words) < 3 {
		return nil, fmt.Errorf("a reading ends with what the meter said: %s", how)
	}
	r.Outcome, r.Mode, r.Value = s.outcome, s.mode, s.value
	var sides [][]mapping.EndID
	for _, w := range words[:len(words)-1] {
		if name, pos, lever := strings.Cut(w, "="); lever {
			sw, q, err := findPosition(pod, name, pos)
			if err != nil {
				return nil, err
			}
			r.Setting[sw] = q
			continue
		}
		side, err := parseSide(pod, w)
		if err != nil {
			return nil, err
		}
		sides = append(sides, side)
	}
	if len(sides) != 2 {
		return nil, fmt.Errorf("a reading is between two sides, not %d: %s", len(sides), how)
	}
	r.Red, r.Black = sides[0], sides[1]
	if len(r.Red) == 1 && len(r.Black) == 1 && r.Red[0] == r.Black[0] {
		r.Control = true
		return &r, nil
	}
	for _, e := range r.Red {
		for _, f := range r.Black {
			if e == f {
				return nil, fmt.Errorf("end %s is on both leads: name each end on one side only", e)
			}
		}
	}
	return &r, nil
}

func parseSide(pod mapping.Pod, word string) ([]mapping.EndID, error) {
	var out []mapping.EndID
	for _, name := range strings.Split(word, "+") {
		id, err := findEnd(pod, name)
		if err != nil {
			return nil, err
		}
		for _, e := range out {
			if e == id {
				return nil, fmt.Errorf("end %s is named twice on one side: once is enough", id)
			}
		}
		out = append(out, id)
	}
	return out, nil
}

func findEnd(pod mapping.Pod, name string) (mapping.EndID, error) {
	for _, e := range pod.Ends {
		if strings.EqualFold(string(e.ID), name) {
			return e.ID, nil
		}
	}
	var ids []string
	for _, e := range pod.Ends {
		ids = append(ids, string(e.ID))
	}
	return "", fmt.Errorf("there is no end %q here: this pod has %s", mapping.Clean(name, mapping.MaxName), strings.Join(ids, " "))
}

func findSwitch(pod mapping.Pod, name string) (mapping.Switch, error) {
	var names []string
	for _, s := range pod.Switches {
		if strings.EqualFold(string(s.Name), name) {
			return s, nil
		}
		names = append(names, string(s.Name))
	}
	return mapping.Switch{}, fmt.Errorf("there is no switch %q here: this pod has %s", mapping.Clean(name, mapping.MaxName), orNone(names))
}

func findPosition(pod mapping.Pod, name, pos string) (mapping.SwitchID, mapping.PositionID, error) {
	sw, err := findSwitch(pod, name)
	if err != nil {
		return "", "", err
	}
	var all []string
	for _, q := range sw.Positions {
		if strings.EqualFold(string(q), pos) {
			return sw.Name, q, nil
		}
		all = append(all, string(q))
	}
	return "", "", fmt.Errorf("%s has no position %q: it has %s", sw.Name, mapping.Clean(pos, mapping.MaxName), strings.Join(all, " "))
}

func orNone(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, " ")
}

// count says "1 step", "3 steps".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
