package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"

	"bellout/mapping"
	"bellout/mapping/fixture"
)

// simPod stands in for a jig with a pod and a meter that never errs. It takes
// the rig's lines apart by itself, knows the protocol from its description
// only, and holds the rig to it.
type simPod struct {
	pod   *fixture.Fixture
	leads mapping.Leads
	bench mapping.Bench

	asks     int
	readings int
	seconds  float64 // at the bench, by the cost table
	said     []string
	last     *simMap
}

type simAsk struct {
	ID      *uint64             `json:"id"`
	Control bool                `json:"control"`
	Red     []mapping.EndID     `json:"red"`
	Black   []mapping.EndID     `json:"black"`
	Mode    string              `json:"mode"`
	Steps   []map[string]string `json:"steps"`
	Why     string              `json:"why"`
}

type simLink struct {
	Between []mapping.EndID       `json:"between"`
	When    []map[string][]string `json:"when"`
	Grade   string                `json:"grade"`
}

type simMap struct {
	Map struct {
		Links      []simLink `json:"links"`
		Unresolved []simLink `json:"unresolved"`
	} `json:"map"`
	Confidence *float64 `json:"confidence"`
	Readings   *int     `json:"readings"`
}

func newSimPod(path string, leads mapping.Leads) (*simPod, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	pod, err := fixture.Parse(file)
	if err != nil {
		return nil, err
	}
	return &simPod{pod: pod, leads: leads, bench: mapping.Bench{Leads: leads, Levers: pod.Pod.Rest()}}, nil
}

// answer takes one line of the rig and gives the reply. After the map, done is
// true.
func (s *simPod) answer(line []byte) (reply []byte, done bool, err error) {
	var in struct {
		Ask *simAsk `json:"ask"`
		simMap
	}
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return nil, false, fmt.Errorf("%w in %s", err, line)
	}
	if in.Ask == nil {
		if in.Confidence == nil || in.Readings == nil || in.Map.Links == nil || in.Map.Unresolved == nil {
			return nil, true, fmt.Errorf("the map lacks something: %s", line)
		}
		s.last = &in.simMap
		return nil, true, nil
	}
	sweep, err := s.sweep(*in.Ask)
	if err != nil {
		return nil, false, fmt.Errorf("%w in %s", err, line)
	}
	s.asks++
	s.seconds += mapping.SweepSeconds(s.pod.Pod, s.bench, sweep)
	s.bench = s.bench.After(s.pod.Pod, sweep)
	words := []string{"closed"}
	if !sweep.Control {
		words = words[:0]
		for _, step := range sweep.Steps {
			word := "open"
			if s.pod.Read(sweep.Red, sweep.Black, step) == mapping.Sounded {
				word = "closed"
			}
			words = append(words, word)
		}
	}
	s.readings += len(words)
	s.said = append(s.said, words...)
	reply, err = json.Marshal(map[string]any{"id": *in.Ask.ID, "readings": words})
	return append(reply, '\n'), false, err
}

// sweep holds an ask to the protocol and to what a builder can do.
func (s *simPod) sweep(a simAsk) (mapping.Sweep, error) {
	pod := s.pod.Pod
	switch {
	case a.ID == nil:
		return mapping.Sweep{}, errors.New("an ask has no id")
	case len(a.Red) == 0 || len(a.Black) == 0:
		return mapping.Sweep{}, errors.New("a side has no end")
	case s.leads == mapping.PairLeads && (len(a.Red) > 1 || len(a.Black) > 1):
		return mapping.Sweep{}, errors.New("a side has several ends with leads pair")
	}
	for _, e := range slices.Concat(a.Red, a.Black) {
		if _, ok := pod.End(e); !ok {
			return mapping.Sweep{}, fmt.Errorf("there is no end %q", e)
		}
	}
	if a.Control {
		if len(a.Steps) > 0 || !slices.Equal(a.Red, a.Black) {
			return mapping.Sweep{}, errors.New("a control beep has one end on both sides and no steps")
		}
		return mapping.Sweep{Red: a.Red, Black: a.Black, Control: true}, nil
	}
	if a.Mode != "beep" || a.Why == "" || len(a.Steps) == 0 {
		return mapping.Sweep{}, errors.New("an ask lacks mode, why or steps")
	}
	sweep := mapping.Sweep{Red: a.Red, Black: a.Black}
	for _, e := range a.Red {
		if slices.Contains(a.Black, e) {
			return mapping.Sweep{}, fmt.Errorf("end %q is on both sides", e)
		}
	}
	for _, step := range a.Steps {
		setting, held := mapping.Setting{}, 0
		if len(step) != len(pod.Switches) {
			return mapping.Sweep{}, errors.New("a step does not name every switch")
		}
		for name, at := range step {
			sw, ok := pod.Switch(mapping.SwitchID(name))
			if !ok || sw.Index(mapping.PositionID(at)) < 0 {
				return mapping.Sweep{}, fmt.Errorf("there is no %s %s", name, at)
			}
			if sw.Momentary && mapping.PositionID(at) != sw.Rest {
				held++
			}
			setting[sw.Name] = mapping.PositionID(at)
		}
		if held > s.leads.MostHeld() {
			return mapping.Sweep{}, fmt.Errorf("%d buttons are to be held at once", held)
		}
		sweep.Steps = append(sweep.Steps, setting)
	}
	return sweep, nil
}

// judge compares the map with the pod in every setting, by a closure of its
// own, and says where they differ first.
func (s *simPod) judge() error {
	var wrong error
	settings(s.pod.Pod, func(at mapping.Setting) bool {
		group := map[mapping.EndID]int{}
		for i, e := range s.pod.Pod.Ends {
			group[e.ID] = i
		}
		for _, l := range s.last.Map.Links {
			if len(l.Between) != 2 || !holds(l.When, at) {
				continue
			}
			from, to := group[l.Between[0]], group[l.Between[1]]
			for e, g := range group {
				if g == from {
					group[e] = to
				}
			}
		}
		for _, a := range s.pod.Pod.Ends {
			for _, b := range s.pod.Pod.Ends {
				if got, want := group[a.ID] == group[b.ID], s.pod.Joined(at, a.ID, b.ID); got != want {
					wrong = fmt.Errorf("with %v: %s-%s joined: map says %v, pod says %v", at, a.ID, b.ID, got, want)
					return false
				}
			}
		}
		return true
	})
	return wrong
}

func holds(when []map[string][]string, at mapping.Setting) bool {
	if len(when) == 0 {
		return true
	}
	for _, entry := range when {
		all := true
		for name, positions := range entry {
			all = all && slices.Contains(positions, string(at[mapping.SwitchID(name)]))
		}
		if all {
			return true
		}
	}
	return false
}
