package plan

import (
	"bytes"
	"encoding/json"
	"fmt"

	"bellout/mapping"
)

// MapText is a map as it stands in a map's file and in the last line of the rig.
type MapText struct {
	Links      []LinkText `json:"links"`
	Unresolved []LinkText `json:"unresolved"`
}

// LinkText is a link of it. An empty When means always.
type LinkText struct {
	Between []string              `json:"between"`
	When    []map[string][]string `json:"when"`
	Grade   string                `json:"grade,omitempty"`
}

// LinkTexts puts links into that form.
func LinkTexts(ls []mapping.Link) []LinkText {
	out := make([]LinkText, 0, len(ls))
	for _, l := range ls {
		x := LinkText{Between: []string{string(l.A), string(l.B)}, Grade: l.Grade.String(), When: make([]map[string][]string, 0, len(l.When))}
		for _, c := range l.When {
			entry := make(map[string][]string, len(c))
			for _, t := range c {
				for _, q := range t.Positions {
					entry[string(t.Switch)] = append(entry[string(t.Switch)], string(q))
				}
			}
			x.When = append(x.When, entry)
		}
		out = append(out, x)
	}
	return out
}

type resultJSON struct {
	Map        *MapText `json:"map"`
	Confidence float64  `json:"confidence,omitempty"`
	Readings   int      `json:"readings,omitempty"`
}

// ReadMap reads a map as the rig writes it, {"map": {"links": [...],
// "unresolved": [...]}}, for a pod. An error is one sentence.
func ReadMap(data []byte, pod mapping.Pod) (mapping.Map, error) {
	if err := checkMapText(data); err != nil {
		return mapping.Map{}, err
	}
	var in resultJSON
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return mapping.Map{}, fmt.Errorf("the map cannot be read (%w): give the last line that bellout rig wrote", err)
	}
	if in.Map == nil {
		return mapping.Map{}, fmt.Errorf(`the map is missing: the file holds {"map": {"links": [...]}}, the last line that bellout rig wrote`)
	}
	var m mapping.Map
	var err error
	if m.Links, err = links(in.Map.Links, pod); err != nil {
		return mapping.Map{}, err
	}
	if m.Unresolved, err = links(in.Map.Unresolved, pod); err != nil {
		return mapping.Map{}, err
	}
	return m, nil
}

func links(in []LinkText, pod mapping.Pod) ([]mapping.Link, error) {
	var out []mapping.Link
	for _, l := range in {
		if len(l.Between) != 2 || l.Between[0] == l.Between[1] {
			return nil, fmt.Errorf("a link is between %q: name two different ends", mapping.Clean(fmt.Sprint(l.Between), mapping.MaxText))
		}
		link := mapping.Link{A: mapping.EndID(l.Between[0]), B: mapping.EndID(l.Between[1])}
		for _, e := range []mapping.EndID{link.A, link.B} {
			if _, ok := pod.End(e); !ok {
				return nil, fmt.Errorf("a link names end %q, which pod %q has not: use the ends of its description", mapping.Clean(string(e), mapping.MaxName), pod.Name)
			}
		}
		if l.Grade != "" {
			g, err := mapping.ParseGrade(l.Grade)
			if err != nil {
				return nil, err
			}
			link.Grade = g
		}
		for _, w := range l.When {
			cond, err := condition(w, pod)
			if err != nil {
				return nil, err
			}
			link.When = append(link.When, cond)
		}
		out = append(out, link)
	}
	return out, nil
}

// condition puts an entry of "when" in the pod's order of switches.
func condition(w map[string][]string, pod mapping.Pod) (mapping.Condition, error) {
	var cond mapping.Condition
	left := len(w)
	for _, sw := range pod.Switches {
		at, ok := w[string(sw.Name)]
		if !ok {
			continue
		}
		left--
		t := mapping.Term{Switch: sw.Name}
		for _, q := range at {
			if sw.Index(mapping.PositionID(q)) < 0 {
				return nil, fmt.Errorf("switch %q has no position %q: use the positions of the pod's description", sw.Name, mapping.Clean(q, mapping.MaxName))
			}
		}
		for _, q := range sw.Positions {
			for _, have := range at {
				if mapping.PositionID(have) == q {
					t.Positions = append(t.Positions, q)
					break
				}
			}
		}
		if len(t.Positions) == 0 {
			return nil, fmt.Errorf("a link waits for switch %q in no position: name at least one", sw.Name)
		}
		cond = append(cond, t)
	}
	if left > 0 {
		return nil, fmt.Errorf("a link waits for a switch that pod %q has not: use the switches of its description", pod.Name)
	}
	return cond, nil
}

// WriteMap writes a map as ReadMap reads it, one link a line.
func WriteMap(m mapping.Map) []byte {
	var b bytes.Buffer
	b.WriteString("{\"map\": {\n \"links\": [")
	writeLinks(&b, m.Links)
	b.WriteString("],\n \"unresolved\": [")
	writeLinks(&b, m.Unresolved)
	b.WriteString("]}}\n")
	return b.Bytes()
}

func writeLinks(b *bytes.Buffer, ls []mapping.Link) {
	for i, l := range LinkTexts(ls) {
		if i > 0 {
			b.WriteByte(',')
		}
		line, err := json.Marshal(l)
		if err != nil {
			continue // strings, lists and maps of strings always marshal
		}
		b.WriteString("\n  ")
		b.Write(line)
	}
	if len(ls) > 0 {
		b.WriteString("\n ")
	}
}
