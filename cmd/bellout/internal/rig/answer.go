package rig

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"

	"bellout/mapping"
)

// Malformed is an answer that cannot be taken: what is wrong with it and what
// to send instead, in one sentence.
type Malformed struct{ Say string }

func (m *Malformed) Error() string { return m.Say }

func malformed(format string, args ...any) error {
	return &Malformed{Say: fmt.Sprintf(format, args...)}
}

const answerShape = `send {"id": 7, "readings": ["open", "closed"]}, one line, one reading a step`

// decodeAnswer reads the answer to a sweep. The readings that it gives carry
// everything but their session and their number in the job.
func decodeAnswer(text []byte, s mapping.Sweep) ([]mapping.Reading, error) {
	id, said, err := splitAnswer(text)
	if err != nil {
		return nil, err
	}
	if id != s.ID {
		return nil, malformed("the answer is to ask %d, but ask %d is open: answer the last ask", id, s.ID)
	}
	steps := s.Steps
	if s.Control {
		steps = []mapping.Setting{nil}
	}
	if len(said) != len(steps) {
		return nil, malformed("the answer to ask %d has %d readings for %d steps: send one reading a step", id, len(said), len(steps))
	}
	out := make([]mapping.Reading, len(steps))
	for i, raw := range said {
		r := mapping.Reading{
			Sweep: s.ID, Step: i, Red: s.Red, Black: s.Black,
			Setting: steps[i], Mode: s.Mode, Control: s.Control,
		}
		if s.Control {
			r.Mode = mapping.Beep
		}
		if r.Outcome, r.Value, err = decodeReading(raw, r.Mode); err != nil {
			return nil, malformed("reading %d of the answer to ask %d %s", i+1, id, err)
		}
		out[i] = r
	}
	return out, nil
}

// splitAnswer takes an answer apart token by token: encoding/json by itself
// would let a repeated key win silently and would not mind the case of keys.
func splitAnswer(text []byte) (mapping.SweepID, []json.RawMessage, error) {
	dec := json.NewDecoder(bytes.NewReader(text))
	if tok, err := dec.Token(); err != nil || tok != json.Delim('{') {
		return 0, nil, malformed("the answer is no JSON object: %s", answerShape)
	}
	var id uint64
	var said []json.RawMessage
	seen := map[string]bool{}
	for dec.More() {
		tok, err := dec.Token()
		key, isKey := tok.(string)
		if err != nil || !isKey {
			return 0, nil, malformed("the answer is broken JSON: %s", answerShape)
		}
		if seen[key] {
			return 0, nil, malformed("the answer says %q twice: say it once", key)
		}
		seen[key] = true
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return 0, nil, malformed("the answer is broken JSON at %q: %s", key, answerShape)
		}
		switch key {
		case "id":
			if id, err = strconv.ParseUint(string(raw), 10, 64); err != nil {
				return 0, nil, malformed(`the answer's "id" is no whole number: repeat the id of the ask`)
			}
		case "readings":
			if bytes.Equal(raw, []byte("null")) || json.Unmarshal(raw, &said) != nil {
				return 0, nil, malformed(`the answer's "readings" are no list: %s`, answerShape)
			}
		default:
			return 0, nil, malformed(`the answer has the unknown key %q: it takes "id" and "readings" only`, key)
		}
	}
	if _, err := dec.Token(); err != nil {
		return 0, nil, malformed("the answer is broken off: %s", answerShape)
	}
	if _, err := dec.Token(); err != io.EOF {
		return 0, nil, malformed("the answer has something after its end: send one object a line")
	}
	for _, key := range []string{"id", "readings"} {
		if !seen[key] {
			return 0, nil, malformed("the answer has no %q: %s", key, answerShape)
		}
	}
	return mapping.SweepID(id), said, nil
}

// decodeReading reads one reading; the error goes on from "reading n of ...".
func decodeReading(raw json.RawMessage, mode mapping.Mode) (mapping.Outcome, float64, error) {
	var word string
	if json.Unmarshal(raw, &word) == nil && len(raw) > 0 && raw[0] == '"' {
		switch {
		case word == "not sure":
			return mapping.NotSure, 0, nil
		case mode == mapping.Beep && word == "closed":
			return mapping.Sounded, 0, nil
		case mode == mapping.Beep && word == "open":
			return mapping.Silent, 0, nil
		case mode != mapping.Beep && word == "OL":
			return mapping.OverRange, 0, nil
		}
		return 0, 0, fmt.Errorf("is %q: %s", word, allowedIn(mode))
	}
	var number float64
	isNumber := len(raw) > 0 && (raw[0] == '-' || raw[0] >= '0' && raw[0] <= '9')
	if mode == mapping.Beep || !isNumber || json.Unmarshal(raw, &number) != nil {
		return 0, 0, fmt.Errorf("is %s: %s", raw, allowedIn(mode))
	}
	if number < 0 && mode == mapping.Ohms || math.IsInf(number, 0) {
		return 0, 0, fmt.Errorf("is %s, which no meter shows: %s", raw, allowedIn(mode))
	}
	if mode == mapping.Diode && number > mapping.MostDiodeVolts {
		return 0, 0, fmt.Errorf("is %s, which means that the pod is live: take its plug off or battery minus off, then read again", raw)
	}
	return mapping.Value, number, nil
}

func allowedIn(mode mapping.Mode) string {
	switch mode {
	case mapping.Ohms:
		return `in mode ohms say a number of ohms, "OL" or "not sure"`
	case mapping.Diode:
		return `in mode diode say the volts from red to black, "OL" or "not sure"`
	}
	return `in mode beep say "open", "closed" or "not sure"`
}
