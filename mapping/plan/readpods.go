package plan

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/mapping/podfile"
)

// pods fills in Desc and Map of every pod, from its files or from what stands
// inline.
func (r *reader) pods(p *Plan) {
	for i := range p.Pods {
		place := fmt.Sprintf("pod[%d]", i)
		pod := &p.Pods[i]
		inline := len(pod.Switches)+len(pod.Contacts)+len(pod.Ends) > 0
		switch {
		case inline && (pod.PodFile != "" || pod.MapFile != ""):
			r.on(place, "pod %q has both files and a table of its own: keep one of the two", pod.Name)
		case pod.PodFile != "" || pod.MapFile != "":
			r.podFiles(place, pod)
		case len(pod.Ends) == 0:
			r.on(place, "pod %q has no ends: name pod_file and map_file, or write ends, switches and contacts here", pod.Name)
		default:
			r.inlinePod(place, pod)
		}
	}
}

func (r *reader) podFiles(place string, pod *Pod) {
	if pod.PodFile == "" || pod.MapFile == "" {
		r.on(place, "pod %q names only one file: name both pod_file and map_file", pod.Name)
		return
	}
	data, ok := r.openFile(place+".pod_file", pod.PodFile)
	if !ok {
		return
	}
	desc, err := podfile.Read(bytes.NewReader(data))
	if err != nil {
		r.on(place+".pod_file", "%s: %v", pod.PodFile, err)
		return
	}
	pod.Desc = desc
	data, ok = r.openFile(place+".map_file", pod.MapFile)
	if !ok {
		return
	}
	if pod.Map, err = ReadMap(data, desc); err != nil {
		r.on(place+".map_file", "%s: %v", pod.MapFile, err)
	}
}

func (r *reader) openFile(place, name string) ([]byte, bool) {
	if r.open == nil {
		r.on(place, "%s cannot be opened from here: write the pod's table into the plan", name)
		return nil, false
	}
	data, err := r.open(name)
	if err != nil {
		r.on(place, "%s cannot be opened (%v): put it beside the plan or mend the name", name, err)
		return nil, false
	}
	return data, true
}

func (r *reader) inlinePod(place string, pod *Pod) {
	desc, m, err := pod.inline()
	if err != nil {
		where := place
		var e placed
		if errors.As(err, &e) {
			where = place + "." + e.place
		}
		r.on(where, "pod %q: %v", pod.Name, err)
		return
	}
	pod.Desc, pod.Map = desc, m
}

// placed is a mistake at a place inside a pod.
type placed struct {
	place string
	say   string
}

func (e placed) Error() string { return e.say }

// inline makes description and map of what stands in the plan. An end named
// BODY is the pod's metal.
func (p Pod) inline() (mapping.Pod, mapping.Map, error) {
	desc := mapping.Pod{Name: p.Name}
	for _, e := range p.Ends {
		end := mapping.End{ID: mapping.EndID(e)}
		if e == "BODY" {
			end.Kind = mapping.Body
		}
		desc.Ends = append(desc.Ends, end)
	}
	for _, s := range p.Switches {
		sw := mapping.Switch{Name: mapping.SwitchID(s.Name), Rest: mapping.PositionID(s.Rest), Momentary: s.Momentary}
		for _, q := range s.Positions {
			sw.Positions = append(sw.Positions, mapping.PositionID(q))
		}
		desc.Switches = append(desc.Switches, sw)
	}
	if err := desc.Validate(); err != nil {
		return desc, mapping.Map{}, err
	}
	var m mapping.Map
	for i, c := range p.Contacts {
		place := fmt.Sprintf("contacts[%d]", i)
		l, err := c.link(desc)
		if err != nil {
			return desc, m, placed{place, err.Error()}
		}
		same := slices.IndexFunc(m.Links, func(o mapping.Link) bool { return o.A == l.A && o.B == l.B })
		switch {
		case same < 0:
			m.Links = append(m.Links, l)
		case len(l.When) == 0 || len(m.Links[same].When) == 0:
			m.Links[same].When = nil
		default:
			m.Links[same].When = append(m.Links[same].When, l.When...)
			m.Links[same].Grade = min(m.Links[same].Grade, l.Grade)
		}
	}
	return desc, m, nil
}

func (c InlineContact) link(desc mapping.Pod) (mapping.Link, error) {
	if len(c.Join) != 2 || c.Join[0] == c.Join[1] {
		return mapping.Link{}, fmt.Errorf(`a contact joins %q: write join = ["1", "2"], two different ends`, c.Join)
	}
	a, b := -1, -1
	for i, e := range desc.Ends {
		if string(e.ID) == c.Join[0] {
			a = i
		}
		if string(e.ID) == c.Join[1] {
			b = i
		}
	}
	if a < 0 || b < 0 {
		return mapping.Link{}, fmt.Errorf("a contact joins %s, not both of them ends of this pod: use names out of ends", strings.Join(c.Join, " and "))
	}
	l := mapping.Link{A: desc.Ends[min(a, b)].ID, B: desc.Ends[max(a, b)].ID}
	if c.Grade != "" {
		g, err := mapping.ParseGrade(c.Grade)
		if err != nil {
			return l, fmt.Errorf("%w: write one of these", err)
		}
		l.Grade = g
	}
	entry := map[string][]string{}
	for _, w := range splitWhen(c.When) {
		entry[w.name] = w.at
	}
	if len(entry) == 0 {
		return l, nil
	}
	cond, err := condition(entry, desc)
	if err != nil {
		return l, err
	}
	l.When = []mapping.Condition{cond}
	return l, nil
}
