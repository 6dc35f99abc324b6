package tui

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// part is something that a pod has: an end, a switch, or a position of a switch.
type part struct {
	end mapping.EndID
	sw  mapping.SwitchID
	at  mapping.PositionID
}

func (t part) String() string {
	switch {
	case t.end != "":
		return "end " + string(t.end)
	case t.at != "":
		return fmt.Sprintf("position %s of %s", t.at, t.sw)
	}
	return "switch " + string(t.sw)
}

// changed is the pod after a typed change to it, and a sentence about that.
func changed(w *mapping.PodWork, text string) (mapping.Pod, string, error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	if word = strings.ToLower(word); word == "remove" || word == "rename" {
		return mistaken(w, word, rest)
	}
	return amend(w.Pod, text)
}

// mistaken takes out or renames what was described by mistake, as long as nothing
// that is kept speaks of it: readings and decisions know it by its name, and are
// never changed.
//
//	remove 11      remove horn      remove dip half
//	rename 8 bn    rename horn hooter     rename dip half middle
func mistaken(w *mapping.PodWork, word, rest string) (mapping.Pod, string, error) {
	words := strings.Fields(rest)
	to := ""
	if word == "rename" && len(words) > 1 {
		to = mapping.Clean(words[len(words)-1], mapping.MaxName)
		words = words[:len(words)-1]
	}
	if len(words) < 1 || len(words) > 2 || word == "rename" && to == "" {
		return w.Pod, "", fmt.Errorf("what? type remove 11, remove horn or remove dip half; or rename 8 9, rename horn hooter")
	}
	if strings.ContainsAny(to, "+=*!") {
		return w.Pod, "", fmt.Errorf("a name cannot have + = * or ! in it: call it something else than %q", to)
	}
	t, err := partOf(w.Pod, words)
	if err == nil {
		err = unspoken(w, t)
	}
	if err != nil {
		return w.Pod, "", err
	}
	p := t.renamed(clonePod(w.Pod), to)
	if err := p.Validate(); err != nil {
		return w.Pod, "", err
	}
	if to == "" {
		return p, "taken out: " + t.String(), nil
	}
	return p, t.String() + " is called " + to + " now", nil
}

// partOf finds what is meant: an end where there is one of that name, else a
// switch or a position of it.
func partOf(pod mapping.Pod, words []string) (part, error) {
	if len(words) == 2 {
		sw, q, err := findPosition(pod, words[0], words[1])
		return part{sw: sw, at: q}, err
	}
	if id, err := findEnd(pod, words[0]); err == nil {
		return part{end: id}, nil
	}
	sw, err := findSwitch(pod, words[0])
	if err != nil {
		return part{}, fmt.Errorf("this pod has neither an end nor a switch %q: type its name as it was given", mapping.Clean(words[0], mapping.MaxName))
	}
	return part{sw: sw.Name}, nil
}

// unspoken refuses what a reading or a decision speaks of; a reading speaks of all
// the switches that there were, for each of them stood somewhere.
func unspoken(w *mapping.PodWork, t part) error {
	for _, r := range w.Readings {
		at, set := r.Setting[t.sw]
		names := slices.Contains(r.Red, t.end) || slices.Contains(r.Black, t.end)
		if t.end == "" && set {
			names = t.at == "" || at == t.at
		}
		if names {
			return fmt.Errorf("reading #%d speaks of %s, and readings are never changed: it keeps its place and its name; a note can say what it is", r.ID, t)
		}
	}
	if t.end != "" && slices.ContainsFunc(w.Decisions, func(d mapping.Decision) bool { return d.End == t.end }) {
		return fmt.Errorf("you have named %s or said what becomes of it, and that is kept: it keeps its place and its name", t)
	}
	return nil
}

// renamed is the pod with the part called otherwise, or without it.
func (t part) renamed(p mapping.Pod, to string) mapping.Pod {
	if t.end != "" {
		p.Ends = swapped(p.Ends, func(e mapping.End) bool { return e.ID == t.end }, to == "", func(e *mapping.End) { e.ID = mapping.EndID(to) })
		return p
	}
	if t.at == "" {
		p.Switches = swapped(p.Switches, func(s mapping.Switch) bool { return s.Name == t.sw }, to == "", func(s *mapping.Switch) { s.Name = mapping.SwitchID(to) })
		return p
	}
	for i := range p.Switches {
		sw := &p.Switches[i]
		if sw.Name != t.sw {
			continue
		}
		sw.Positions = swapped(slices.Clone(sw.Positions), func(q mapping.PositionID) bool { return q == t.at }, to == "",
			func(q *mapping.PositionID) { *q = mapping.PositionID(to) })
		if sw.Rest == t.at && to != "" {
			sw.Rest = mapping.PositionID(to)
		}
	}
	return p
}

// swapped takes the one that is meant out of a list of its own, or changes it there.
func swapped[T any](list []T, meant func(T) bool, out bool, change func(*T)) []T {
	if out {
		return slices.DeleteFunc(list, meant)
	}
	if i := slices.IndexFunc(list, meant); i >= 0 {
		change(&list[i])
	}
	return list
}
