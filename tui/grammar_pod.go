package tui

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bellout/mapping"
)

// parseCount reads how many wires a pod has, or their colours one by one; the
// ends are flagged from 1 either way.
func parseCount(text string) ([]mapping.End, error) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	var colours []mapping.End
	if err != nil {
		for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
			base, tracer, cerr := mapping.ParseColours(w)
			if cerr != nil {
				return nil, fmt.Errorf("%q is no number: count the wires and type how many, as 8, or their colours, as BU BUWH GY", mapping.Clean(text, mapping.MaxName))
			}
			colours = append(colours, mapping.End{Base: base, Tracer: tracer})
		}
		n = len(colours)
	}
	if n < 1 || n > mapping.MaxEnds-1 {
		return nil, fmt.Errorf("%d wires are not to be mapped at once: 1 to %d, split a larger pod", n, mapping.MaxEnds-1)
	}
	out := make([]mapping.End, n)
	copy(out, colours)
	for i := range out {
		out[i].ID = mapping.EndID(strconv.Itoa(i + 1))
	}
	return out, nil
}

// amend is one change to a pod that readings already speak of: it only adds or
// names, so that no reading is lost. It returns the changed pod and a sentence.
//
//	end 9 rd/bk        switch flash out* in!     colour 3 blue white
//	body               position dip half after low
//	cavity 3 A4        legend dip HI LO
func amend(pod mapping.Pod, text string) (mapping.Pod, string, error) {
	const how = "type end 9, body, switch flash out* in!, position dip half after low, colour 3 blue white, cavity 3 A4, legend dip HI LO, " +
		"for a slip remove 11 or rename 8 9, or of your meter leads 0.3"
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	rest = strings.TrimSpace(rest)
	p := clonePod(pod)
	say := ""
	var err error
	switch strings.ToLower(word) {
	case "end", "wire":
		say, err = addEnd(&p, rest)
	case "body":
		p.Ends = append(p.Ends, mapping.End{ID: "BODY", Kind: mapping.Body})
		say = "the pod's metal body counts as an end now"
	case "switch":
		say, err = addSwitches(&p, rest)
	case "position", "click":
		say, err = addPosition(&p, strings.Fields(rest))
	case "colour", "color", "cavity", "legend":
		say, err = addMark(&p, strings.ToLower(word), rest)
	default:
		err = fmt.Errorf("%q is no change: %s", mapping.Clean(word, mapping.MaxName), how)
	}
	if err == nil {
		err = p.Validate()
	}
	if err != nil {
		return pod, "", err
	}
	return p, say, nil
}

// meterLineOf reads what is said of the meter itself rather than of the pod:
//
//	leads 0.3        the resistance of the leads, touched together, in ohms
func meterLineOf(text string) (d mapping.Decision, say string, ok bool, err error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if !strings.EqualFold(word, "leads") {
		return d, "", false, nil
	}
	v, err := mapping.ParseDisplay(rest)
	if errors.Is(err, mapping.ErrMegaOrMilli) {
		return d, "", true, err
	}
	if err != nil || v.Over || v.Mode == mapping.Diode {
		return d, "", true, fmt.Errorf("%q is no resistance: type leads and the ohms, as leads 0.3", mapping.Clean(rest, mapping.MaxName))
	}
	d.Kind, d.Value = mapping.LeadOhms, strconv.FormatFloat(v.Value, 'g', -1, 64)
	return d, "leads of " + d.Value + " ohm", true, nil
}

func addEnd(p *mapping.Pod, rest string) (string, error) {
	words := strings.Fields(rest)
	if len(words) == 0 {
		return "", fmt.Errorf("which end? type end and what its flag says, as end 9")
	}
	e := mapping.End{ID: mapping.EndID(mapping.Clean(words[0], mapping.MaxName))}
	if strings.ContainsAny(words[0], "+=") {
		return "", fmt.Errorf("a flag cannot have + or = in it: call it something else than %q", e.ID)
	}
	if _, err := findEnd(*p, words[0]); err == nil {
		return "", fmt.Errorf("there is an end %s already: give the new one a flag of its own", e.ID)
	}
	var err error
	if e.Base, e.Tracer, err = mapping.ParseColours(strings.Join(words[1:], " ")); err != nil {
		return "", err
	}
	p.Ends = append(p.Ends, e)
	return "added end " + string(e.ID) + "; nothing is known of it yet", nil
}

func addSwitches(p *mapping.Pod, rest string) (string, error) {
	sws, err := parseSwitches(rest)
	if err != nil {
		return "", err
	}
	var lines, rests []string
	for _, sw := range sws {
		if _, err := findSwitch(*p, string(sw.Name)); err == nil {
			return "", fmt.Errorf("there is a switch %s already: call the new one otherwise", sw.Name)
		}
		p.Switches = append(p.Switches, sw)
		lines, rests = append(lines, switchLine(sw)), append(rests, string(sw.Name)+" "+string(sw.Rest))
	}
	return "added " + strings.Join(lines, ", ") + "; readings so far count as taken with " + strings.Join(rests, ", "), nil
}

func addPosition(p *mapping.Pod, words []string) (string, error) {
	if len(words) != 2 && (len(words) != 4 || words[2] != "after") {
		return "", fmt.Errorf("type position, the switch, its new position and where it comes: position dip half after low")
	}
	sw, err := findSwitch(*p, words[0])
	if err != nil {
		return "", err
	}
	q := mapping.PositionID(mapping.Clean(words[1], mapping.MaxName))
	if _, _, err := findPosition(*p, words[0], words[1]); err == nil {
		return "", fmt.Errorf("%s has a position %s already: call the new one otherwise", sw.Name, q)
	}
	at := len(sw.Positions)
	if len(words) == 4 {
		_, after, err := findPosition(*p, words[0], words[3])
		if err != nil {
			return "", err
		}
		at = sw.Index(after) + 1
	}
	sw.Positions = slices.Insert(slices.Clone(sw.Positions), at, q)
	for i := range p.Switches {
		if p.Switches[i].Name == sw.Name {
			p.Switches[i] = sw
		}
	}
	return switchLine(sw) + ": every reading so far still stands", nil
}

func addMark(p *mapping.Pod, kind, rest string) (string, error) {
	name, text, _ := strings.Cut(rest, " ")
	text = mapping.Clean(text, mapping.MaxText)
	if kind == "legend" {
		sw, err := findSwitch(*p, name)
		if err != nil {
			return "", err
		}
		for i := range p.Switches {
			if p.Switches[i].Name == sw.Name {
				p.Switches[i].Legend = text
			}
		}
		return string(sw.Name) + " shows " + text, nil
	}
	id, err := findEnd(*p, name)
	if err != nil {
		return "", err
	}
	for i := range p.Ends {
		if p.Ends[i].ID != id {
			continue
		}
		if kind == "cavity" {
			cavity := mapping.Clean(text, mapping.MaxName)
			p.Ends[i].Cavity = cavity
			return fmt.Sprintf("end %s is cavity %s%s", id, cavity, shared(*p, id, cavity, func(e mapping.End) string { return e.Cavity })), nil
		}
		if p.Ends[i].Base, p.Ends[i].Tracer, err = mapping.ParseColours(text); err != nil {
			return "", err
		}
		say := "end " + string(id) + " is " + colourWords(p.Ends[i])
		if w := mapping.IECWarning(p.Ends[i].Base, p.Ends[i].Tracer); w != "" {
			say += ". " + w
		}
		return say, nil
	}
	return "", nil
}

// shared remarks upon a cavity that another end has as well: two wires may be
// crimped into one, but mostly it is a slip.
func shared(pod mapping.Pod, id mapping.EndID, cavity string, of func(mapping.End) string) string {
	for _, e := range pod.Ends {
		if cavity != "" && e.ID != id && strings.EqualFold(of(e), cavity) {
			return fmt.Sprintf(". %s is wire %s's as well: two wires in one cavity, or a slip?", cavity, e.ID)
		}
	}
	return ""
}

func clonePod(p mapping.Pod) mapping.Pod {
	p.Ends = slices.Clone(p.Ends)
	p.Switches = slices.Clone(p.Switches)
	return p
}

// colourWords says a wire's colours: "blue, white tracer".
func colourWords(e mapping.End) string {
	switch {
	case e.Kind == mapping.Body:
		return "the pod's metal"
	case e.Base == "":
		return "colour not said"
	case e.Tracer == "":
		return e.Base.Name()
	}
	return e.Base.Name() + ", " + e.Tracer.Name() + " tracer"
}
