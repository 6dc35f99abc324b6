package tui

import (
	"errors"
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
	l, err := readLine(text, pod, mode, n, cursor, at)
	if err == nil {
		err = l.notLive()
	}
	return l, err
}

func readLine(text string, pod mapping.Pod, mode mapping.Mode, n, cursor int, at mapping.Setting) (line, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' })
	if len(words) == 0 {
		return line{}, fmt.Errorf("nothing typed: say which steps beeped, as 3 7, or 0 for none")
	}
	if outOfTurn(words, mode) {
		r, err := parseTurn(words, pod, mode, at)
		return line{turn: r}, err
	}
	if n == 0 {
		return line{}, fmt.Errorf("no sweep is in hand: a reading out of turn is typed as 3 7 dip=main beep")
	}
	if isMeterLine(words, mode) {
		return meterLine(words, mode, n, cursor)
	}
	return stepLine(words, n, cursor)
}

func outOfTurn(words []string, mode mapping.Mode) bool {
	for _, w := range words {
		if strings.Contains(w, "=") {
			return true
		}
	}
	if len(words) < 3 {
		return false
	}
	if _, err := parseMeter(words[len(words)-1], mode, false); err != nil {
		return false
	}
	if mode != mapping.Beep {
		for _, w := range words {
			if _, err := parseMeter(w, mode, false); err != nil {
				return true
			}
		}
		return false
	}
	return true
}

// parseMeter reads one word as a meter's answer. bare lets a plain whole
// number be a value.
func parseMeter(word string, mode mapping.Mode, bare bool) (said, error) {
	switch strings.ToLower(word) {
	case "beep", "beeps", "beeped", "b":
		return said{outcome: mapping.Sounded}, nil
	case "silent", "silence", "s":
		return said{outcome: mapping.Silent}, nil
	case "flicker", "~":
		return said{outcome: mapping.Flicker, mode: mode}, nil
	case "unsure", "?":
		return said{outcome: mapping.NotSure, mode: mode}, nil
	case "unreachable", "x":
		return said{outcome: mapping.CannotReach, mode: mode}, nil
	}
	d, err := mapping.ParseDisplay(word)
	if err != nil {
		return said{}, err
	}
	if !d.Over && d.Mode == mapping.Beep && !bare && !strings.Contains(word, ".") {
		return said{}, errors.New("a plain number may be a step")
	}
	out := said{outcome: mapping.Value, mode: d.Mode, value: d.Value}
	if d.Over {
		out.outcome = mapping.OverRange
	}
	if d.Mode == mapping.Beep {
		out.mode = mode
		if mode == mapping.Beep {
			out.mode = mapping.Ohms
		}
	}
	return out, nil
}

// isMeterLine tells values from step numbers: with the meter on ohms or diode
// every number is a value; with the beeper only what cannot be a step is.
func isMeterLine(words []string, mode mapping.Mode) bool {
	if mode != mapping.Beep {
		return true
	}
	s, err := parseMeter(words[0], mode, false)
	return err == nil && (s.outcome != mapping.CannotReach || len(words) == 1)
}

func meterLine(words []string, mode mapping.Mode, n, cursor int) (line, error) {
	if len(words) > n-cursor {
		return line{}, fmt.Errorf("%s for %s left in this sweep: type one value a step",
			mapping.Count(len(words), "value"), mapping.Count(n-cursor, "step"))
	}
	out := line{steps: map[int]said{}}
	for i, w := range words {
		s, err := parseMeter(w, mode, true)
		if err != nil {
			return line{}, err
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
		_, shown := mapping.ParseDisplay(w)
		switch {
		case errors.Is(shown, mapping.ErrMegaOrMilli):
			return line{}, shown
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
	s, err := parseMeter(words[len(words)-1], mode, true)
	if errors.Is(err, mapping.ErrMegaOrMilli) {
		return nil, err
	}
	if err != nil || len(words) < 3 {
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

// called finds what is called by a name: to the letter, else, where only one is,
// without regard to capitals. Else it gives the names that there are.
func called[T any, N ~string](list []T, nameOf func(T) N, name string) (found T, ok bool, names []string) {
	near := 0
	for _, x := range list {
		own := string(nameOf(x))
		if own == name {
			return x, true, nil
		}
		if strings.EqualFold(own, name) {
			found, near = x, near+1
		}
		names = append(names, own)
	}
	return found, near == 1, names
}

func findEnd(pod mapping.Pod, name string) (mapping.EndID, error) {
	e, ok, ids := called(pod.Ends, func(e mapping.End) mapping.EndID { return e.ID }, name)
	if !ok {
		return "", fmt.Errorf("there is no end %q here: this pod has %s", mapping.Clean(name, mapping.MaxName), strings.Join(ids, " "))
	}
	return e.ID, nil
}

func findSwitch(pod mapping.Pod, name string) (mapping.Switch, error) {
	sw, ok, names := called(pod.Switches, func(sw mapping.Switch) mapping.SwitchID { return sw.Name }, name)
	if !ok {
		return mapping.Switch{}, fmt.Errorf("there is no switch %q here: this pod has %s", mapping.Clean(name, mapping.MaxName), orNone(names))
	}
	return sw, nil
}

func findPosition(pod mapping.Pod, name, pos string) (mapping.SwitchID, mapping.PositionID, error) {
	sw, err := findSwitch(pod, name)
	if err != nil {
		return "", "", err
	}
	q, ok, all := called(sw.Positions, func(q mapping.PositionID) mapping.PositionID { return q }, pos)
	if !ok {
		return "", "", fmt.Errorf("%s has no position %q: it has %s", sw.Name, mapping.Clean(pos, mapping.MaxName), strings.Join(all, " "))
	}
	return sw.Name, q, nil
}

func orNone(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, " ")
}
