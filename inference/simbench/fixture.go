package simbench

import (
	"fmt"
	"strings"

	"bellout/mapping"
)

// ReadPod reads the notation of the trade notes, section 2, for pods made of
// contacts alone; a line `part` is an error, since a component is no contact.
func ReadPod(text string) (*World, error) {
	w := &World{}
	hidden := map[string]int{}
	end := map[string]int{}
	type join struct {
		x, y string
		sw   int
		mask uint32
	}
	var joins []join
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		word, rest, _ := strings.Cut(line, " ")
		switch word {
		case "pod":
			w.Pod.Name, _, _ = strings.Cut(rest, " ")
		case "wires":
			for _, item := range strings.Split(rest, ",") {
				f := strings.Fields(item)
				e := mapping.End{ID: mapping.EndID(f[0])}
				if len(f) > 1 && f[1] == "metal" {
					e.Kind = mapping.Body
				}
				end[f[0]] = len(w.Pod.Ends)
				w.Pod.Ends = append(w.Pod.Ends, e)
			}
		case "fix":
			for _, item := range strings.Split(rest, ",") {
				x, y, _ := strings.Cut(strings.TrimSpace(item), "+")
				joins = append(joins, join{x, y, -1, 0})
			}
		case "sw":
			parts := strings.Split(rest, "|")
			head := strings.Fields(parts[0])
			if len(head) != 3 || !strings.HasPrefix(head[2], "rest=") {
				return nil, fmt.Errorf("switch line %q: want a name, a kind and rest=", line)
			}
			sw := mapping.Switch{Name: mapping.SwitchID(head[0]), Momentary: head[1] == "momentary"}
			sw.Rest = mapping.PositionID(strings.TrimPrefix(head[2], "rest="))
			for q, part := range parts[1:] {
				name, items, _ := strings.Cut(part, ":")
				sw.Positions = append(sw.Positions, mapping.PositionID(strings.TrimSpace(name)))
				for _, item := range strings.Split(items, ",") {
					if x, y, ok := strings.Cut(strings.TrimSpace(item), "+"); ok {
						joins = append(joins, join{x, y, len(w.Pod.Switches), 1 << uint(q)})
					}
				}
			}
			w.Pod.Switches = append(w.Pod.Switches, sw)
		case "part":
			return nil, fmt.Errorf("pod %s has components: %s", w.Pod.Name, line)
		}
	}
	w.Points = len(w.Pod.Ends)
	at := func(name string) (int, error) {
		if i, ok := end[name]; ok {
			return i, nil
		}
		if !strings.HasPrefix(name, "#") {
			return 0, fmt.Errorf("pod %s joins %q, which is no end", w.Pod.Name, name)
		}
		if _, ok := hidden[name]; !ok {
			hidden[name] = w.Points
			w.Points++
		}
		return hidden[name], nil
	}
	for _, j := range joins {
		x, err := at(j.x)
		if err != nil {
			return nil, err
		}
		y, err := at(j.y)
		if err != nil {
			return nil, err
		}
		w.addContact(Contact{x, y, j.sw, j.mask})
	}
	w.Depth = 1
	if len(hidden) > 0 {
		w.Depth, w.Kind = 2, "hidden junction"
	}
	w.index()
	w.describe()
	return w, w.Pod.Validate()
}

// addContact adds a contact, or more positions to one that is there already.
func (w *World) addContact(c Contact) {
	for i, have := range w.Contacts {
		if have.A == c.A && have.B == c.B && have.Switch == c.Switch {
			w.Contacts[i].Mask |= c.Mask
			return
		}
	}
	w.Contacts = append(w.Contacts, c)
}
