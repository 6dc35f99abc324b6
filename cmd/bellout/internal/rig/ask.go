package rig

import (
	"bytes"
	"encoding/json"

	"bellout/mapping"
)

// ask is one sweep as it goes over the wire.
type ask struct {
	ID      mapping.SweepID   `json:"id"`
	Control bool              `json:"control,omitempty"`
	Red     []mapping.EndID   `json:"red"`
	Black   []mapping.EndID   `json:"black"`
	Mode    string            `json:"mode,omitempty"`
	Steps   []mapping.Setting `json:"steps,omitempty"`
	Why     string            `json:"why,omitempty"`
}

// encodeAsk writes a sweep as one line. Every step names the position of every
// switch of the pod, whether the sweep spelled it out or not.
func encodeAsk(pod mapping.Pod, s mapping.Sweep) ([]byte, error) {
	a := ask{ID: s.ID, Control: s.Control, Red: s.Red, Black: s.Black}
	if !s.Control {
		a.Mode = modeWord(s.Mode)
		a.Why = s.Why.Words()
		for _, step := range s.Steps {
			a.Steps = append(a.Steps, step.Full(pod))
		}
	}
	return line(map[string]ask{"ask": a})
}

func modeWord(m mapping.Mode) string {
	switch m {
	case mapping.Ohms:
		return "ohms"
	case mapping.Diode:
		return "diode"
	}
	return "beep"
}

// line encodes one value as one line of JSON. Keys of objects come sorted, so
// the bytes are stable.
func line(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
