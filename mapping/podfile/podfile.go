// Package podfile reads and writes the description of a pod as JSON:
//
//	{"name": "left pod",
//	 "ends": [{"id": "1", "kind": "wire", "colour": "BUWH", "base": "BU", "tracer": "WH", "cavity": "A4"}],
//	 "switches": [{"name": "dip", "positions": ["low", "main"], "rest": "low", "momentary": false, "legend": ""}]}
//
// Only name, ends[].id and switches[].name, positions and rest are required.
// The package promises that what it writes comes back equal, and that writing
// it again gives the same bytes. It refuses what it does not know rather than
// lose it: an unknown or repeated key, text that cannot be shown.
package podfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"bellout/mapping"
)

// maxBytes is far over the largest pod.
const maxBytes = 1 << 20

type endJSON struct {
	ID     string `json:"id"`
	Kind   string `json:"kind,omitempty"`
	Colour string `json:"colour,omitempty"`
	Base   string `json:"base,omitempty"`
	Tracer string `json:"tracer,omitempty"`
	Cavity string `json:"cavity,omitempty"`
}

type switchJSON struct {
	Name      string   `json:"name"`
	Positions []string `json:"positions"`
	Rest      string   `json:"rest"`
	Momentary bool     `json:"momentary,omitempty"`
	Legend    string   `json:"legend,omitempty"`
}

type podJSON struct {
	Name     string       `json:"name"`
	Ends     []endJSON    `json:"ends"`
	Switches []switchJSON `json:"switches"`
}

// Read reads a pod description. An error is one sentence that says what is
// wrong and what to write instead; where the text itself is not well formed, or
// one end by itself is wrong, it names the line.
func Read(r io.Reader) (mapping.Pod, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return mapping.Pod{}, fmt.Errorf("the pod description could not be read: %w", err)
	}
	if len(text) > maxBytes {
		return mapping.Pod{}, fmt.Errorf("the pod description is larger than %d bytes: this is no description of a pod", maxBytes)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if len(bytes.TrimSpace(text)) == 0 {
		return mapping.Pod{}, errors.New(`the pod description is empty: write {"name": "left pod", "ends": [...], "switches": [...]}`)
	}
	if err := checkKeys(text); err != nil {
		return mapping.Pod{}, err
	}
	var in podJSON
	if err := json.Unmarshal(text, &in); err != nil {
		return mapping.Pod{}, explain(text, err)
	}
	return in.pod(text)
}

// pod makes a pod of what was read; the text is for the lines of its ends.
func (in podJSON) pod(text []byte) (mapping.Pod, error) {
	p := mapping.Pod{Name: mapping.Clean(in.Name, mapping.MaxName)}
	if p.Name == "" {
		return mapping.Pod{}, errors.New(`the pod has no name: add "name": "left pod"`)
	}
	if err := shown("the pod's name", in.Name); err != nil {
		return mapping.Pod{}, err
	}
	for i, e := range in.Ends {
		end, err := e.end(i)
		if err != nil {
			return mapping.Pod{}, fmt.Errorf("line %d: %w", lineOfEnd(text, i), err)
		}
		p.Ends = append(p.Ends, end)
	}
	for i, s := range in.Switches {
		if err := shown(fmt.Sprintf("the name of switch %d", i+1), s.Name); err != nil {
			return mapping.Pod{}, err
		}
		sw := mapping.Switch{
			Name: mapping.SwitchID(s.Name), Rest: mapping.PositionID(s.Rest), Momentary: s.Momentary,
			Legend: mapping.Clean(s.Legend, mapping.MaxText),
		}
		for _, q := range s.Positions {
			if err := shown(fmt.Sprintf("a position of switch %q", s.Name), q); err != nil {
				return mapping.Pod{}, err
			}
			sw.Positions = append(sw.Positions, mapping.PositionID(q))
		}
		if s.Rest == "" && len(s.Positions) > 0 {
			return mapping.Pod{}, fmt.Errorf("switch %q says no rest position: add \"rest\": %q or another of its positions", s.Name, mapping.Clean(s.Positions[0], mapping.MaxName))
		}
		if err := shown(fmt.Sprintf("the rest position of switch %q", s.Name), s.Rest); err != nil {
			return mapping.Pod{}, err
		}
		p.Switches = append(p.Switches, sw)
	}
	if err := p.Validate(); err != nil {
		return mapping.Pod{}, err
	}
	return p, nil
}

func (e endJSON) end(i int) (mapping.End, error) {
	if err := shown(fmt.Sprintf("the name of end %d", i+1), e.ID); err != nil {
		return mapping.End{}, err
	}
	out := mapping.End{ID: mapping.EndID(e.ID), Cavity: mapping.Clean(e.Cavity, mapping.MaxName)}
	switch e.Kind {
	case "", "wire":
	case "body":
		out.Kind = mapping.Body
	default:
		return mapping.End{}, fmt.Errorf("end %q is of kind %q: write \"wire\", or \"body\" for the pod's metal", e.ID, mapping.Clean(e.Kind, mapping.MaxName))
	}
	base, tracer, err := colours(e)
	if err != nil {
		return mapping.End{}, fmt.Errorf("end %q: %w", e.ID, err)
	}
	out.Base, out.Tracer = base, tracer
	return out, nil
}

// colours weighs the joined code against base and tracer, which win: the joined
// code of IEC 60757 does not say which of its colours is the base.
func colours(e endJSON) (base, tracer mapping.Colour, err error) {
	one := func(key, typed string) (mapping.Colour, error) {
		a, b, err := mapping.ParseColours(typed)
		if err != nil {
			return "", err
		}
		if b != "" {
			return "", fmt.Errorf("%q holds two colours: write one there and the other in \"base\" or \"tracer\"", key)
		}
		return a, nil
	}
	if base, err = one("base", e.Base); err != nil {
		return "", "", err
	}
	if tracer, err = one("tracer", e.Tracer); err != nil {
		return "", "", err
	}
	first, second, err := mapping.ParseColours(e.Colour)
	if err != nil {
		return "", "", err
	}
	switch {
	case base == "" && tracer == "":
		base, tracer = first, second
	case base == "" && tracer == first:
		base = second
	case base == "":
		base = first
	case tracer == "" && base == first:
		tracer = second
	case tracer == "" && base == second:
		tracer = first
	}
	if base == "" && tracer != "" {
		return "", "", fmt.Errorf("a tracer %s without a base colour: add \"base\"", tracer)
	}
	if base == tracer {
		tracer = ""
	}
	return base, tracer, nil
}

// shown makes sure that a name says on screen what it says in the file, since
// programs send it back as it stands there.
func shown(what, name string) error {
	if got := mapping.Clean(name, mapping.MaxName); got != name {
		return fmt.Errorf("%s, %q, has characters that cannot be shown, spaces too many or more than %d characters: shorten it to plain text", what, got, mapping.MaxName)
	}
	return nil
}

// Write writes a description that Read gives back equal: keys in the order of
// the package comment, one end and one switch a line, the colour joined as
// IEC 60757 has it, and what is not known left out.
func Write(w io.Writer, p mapping.Pod) error {
	var b bytes.Buffer
	line := func(v any) {
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		_ = enc.Encode(v) // strings and a bool: it cannot fail
		b.Truncate(b.Len() - 1)
	}
	b.WriteString("{\n  \"name\": ")
	line(mapping.Clean(p.Name, mapping.MaxName))
	b.WriteString(",\n  \"ends\": [")
	for i, e := range p.Ends {
		b.WriteString(separator(i))
		line(endJSON{
			ID: string(e.ID), Kind: e.Kind.String(), Colour: e.IEC(), Base: string(e.Base), Tracer: string(e.Tracer),
			Cavity: mapping.Clean(e.Cavity, mapping.MaxName),
		})
	}
	b.WriteString("\n  ],\n  \"switches\": [")
	for i, s := range p.Switches {
		out := switchJSON{
			Name: string(s.Name), Rest: string(s.Rest), Momentary: s.Momentary,
			Legend: mapping.Clean(s.Legend, mapping.MaxText),
		}
		for _, q := range s.Positions {
			out.Positions = append(out.Positions, string(q))
		}
		b.WriteString(separator(i))
		line(out)
	}
	if len(p.Switches) > 0 {
		b.WriteString("\n  ")
	}
	b.WriteString("]\n}\n")
	_, err := w.Write(b.Bytes())
	return err
}

func separator(i int) string {
	if i == 0 {
		return "\n    "
	}
	return ",\n    "
}
