package storage

import (
	"fmt"

	"bellout/mapping"
)

// word ties a value of mapping to the word that stands for it in the file. The
// words are frozen: a new value gets a new word, an old word keeps its value.
type word[T comparable] struct {
	value T
	text  string
}

type words[T comparable] []word[T]

func (ws words[T]) write(v T) (string, error) {
	for _, w := range ws {
		if w.value == v {
			return w.text, nil
		}
	}
	return "", fmt.Errorf("there is no word for %T %v", v, v)
}

func (ws words[T]) read(text string) (T, error) {
	for _, w := range ws {
		if w.text == text {
			return w.value, nil
		}
	}
	var none T
	return none, fmt.Errorf("%q stands for no %T", text, none)
}

func kindWords() words[mapping.EndKind] {
	return words[mapping.EndKind]{{mapping.Wire, "wire"}, {mapping.Body, "body"}}
}

func leadsWords() words[mapping.Leads] {
	return words[mapping.Leads]{{mapping.PairLeads, "pair"}, {mapping.BunchLeads, "bunch"}}
}

func modeWords() words[mapping.Mode] {
	return words[mapping.Mode]{{mapping.Beep, "beep"}, {mapping.Ohms, "ohms"}, {mapping.Diode, "diode"}}
}

func outcomeWords() words[mapping.Outcome] {
	return words[mapping.Outcome]{
		{mapping.NoOutcome, "none"}, {mapping.Sounded, "sounded"}, {mapping.Silent, "silent"},
		{mapping.Value, "value"}, {mapping.OverRange, "over range"}, {mapping.Flicker, "flicker"},
		{mapping.NotSure, "not sure"}, {mapping.CannotReach, "cannot reach"},
	}
}

func reasonWords() words[mapping.Reason] {
	return words[mapping.Reason]{
		{mapping.Survey, "survey"}, {mapping.Separate, "separate"}, {mapping.Confirm, "confirm"},
		{mapping.Settle, "settle"}, {mapping.BiteTest, "bite test"}, {mapping.Partner, "partner"},
		{mapping.Asked, "asked"},
	}
}

func decisionWords() words[mapping.DecisionKind] {
	return words[mapping.DecisionKind]{
		{mapping.NameFunction, "function"}, {mapping.SetTerminal, "terminal"},
		{mapping.SetNewCavity, "new cavity"}, {mapping.SetAside, "set aside"},
		{mapping.PlugFace, "plug face"}, {mapping.WireFate, "wire fate"},
		{mapping.OhmThreshold, "ohm threshold"}, {mapping.LeadOhms, "lead ohms"},
	}
}
