package rig

import (
	"fmt"
	"strings"

	"bellout/mapping"
)

// Why puts the reason for a sweep into words: one sentence without its stop.
func Why(s mapping.Sweep) string {
	w := s.Why
	switch w.Reason {
	case mapping.Survey:
		return "find out what follows which lever" + about(w)
	case mapping.Separate:
		if w.Maps > 1 {
			return fmt.Sprintf("tell apart %d maps that still fit%s", w.Maps, about(w))
		}
		return "tell apart the maps that still fit" + about(w)
	case mapping.Confirm:
		return "try to prove the best map wrong" + about(w)
	case mapping.Settle:
		return "settle readings that cannot all be right" + about(w)
	case mapping.BiteTest:
		return "make sure that the clip still bites"
	case mapping.Partner:
		return "try a switch that did nothing alone together with the others" + about(w)
	}
	return "asked for out of turn" + about(w)
}

// about names what a sweep is about, if the engine said so.
func about(w mapping.Why) string {
	var parts []string
	if len(w.Ends) > 0 {
		parts = append(parts, counted("end", joinIDs(w.Ends), len(w.Ends)))
	}
	if len(w.Switches) > 0 {
		parts = append(parts, counted("switch", joinIDs(w.Switches), len(w.Switches)))
	}
	if len(parts) == 0 {
		return ""
	}
	return ": " + strings.Join(parts, ", ")
}

func counted(noun, list string, n int) string {
	switch {
	case n == 1:
		return noun + " " + list
	case noun == "switch":
		return "switches " + list
	}
	return noun + "s " + list
}

func joinIDs[T ~string](ids []T) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = string(id)
	}
	return strings.Join(words, " ")
}
