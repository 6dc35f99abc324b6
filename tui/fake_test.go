package tui

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"bellout/inference"
	"bellout/mapping"
)

// fakeEngine plays the grid over all pairs and believes the last reading. It
// is enough to drive the screens by, and knows nothing of the real engine.
type fakeEngine struct {
	pod      mapping.Pod
	readings []mapping.Reading
}

func newFake(p mapping.Pod, r []mapping.Reading) Engine {
	return &fakeEngine{pod: p, readings: slices.Clone(r)}
}

func (f *fakeEngine) Add(r ...mapping.Reading) { f.readings = append(f.readings, r...) }
func (f *fakeEngine) Advance() (int, bool)     { return len(f.readings), false }
func (f *fakeEngine) Fork() Engine             { return newFake(f.pod, f.readings) }
func (f *fakeEngine) Findings() Findings {
	return fakeFindings{&fakeEngine{f.pod, slices.Clone(f.readings)}}
}

func (f *fakeEngine) settings() []mapping.Setting {
	out := []mapping.Setting{f.pod.Rest()}
	for _, sw := range f.pod.Switches {
		for _, q := range sw.Positions {
			if q != sw.Rest {
				out = append(out, f.pod.Rest().With(sw.Name, q))
			}
		}
	}
	return out
}

func (f *fakeEngine) about(s mapping.Setting, a, b mapping.EndID) []mapping.Reading {
	var out []mapping.Reading
	for _, r := range f.readings {
		if len(r.Red) != 1 || len(r.Black) != 1 || r.Control {
			continue
		}
		x, y := r.Red[0], r.Black[0]
		if (x == a && y == b || x == b && y == a) && r.Setting.Words(f.pod) == s.Words(f.pod) {
			out = append(out, r)
		}
	}
	return out
}

func (f *fakeEngine) Next(b mapping.Bench) (inference.Proposal, bool) {
	total := 0
	var first *mapping.Sweep
	for i := range f.pod.Ends {
		for j := i + 1; j < len(f.pod.Ends); j++ {
			x, y := f.pod.Ends[i].ID, f.pod.Ends[j].ID
			var steps []mapping.Setting
			for _, s := range f.settings() {
				if len(f.about(s, x, y)) == 0 {
					steps = append(steps, s)
				}
			}
			total += len(steps)
			if first == nil && len(steps) > 0 {
				first = &mapping.Sweep{Red: []mapping.EndID{y}, Black: []mapping.EndID{x}, Steps: steps,
					Why: mapping.Why{Reason: mapping.Survey, Maps: 9, Bits: 3, Seconds: 20}}
			}
		}
	}
	if first == nil {
		return inference.Proposal{}, false
	}
	return inference.Proposal{Sweep: *first, SecondsLeft: float64(total) * 3, GridSeconds: mapping.GridSeconds(f.pod)}, true
}

type fakeFindings struct{ f *fakeEngine }

func (x fakeFindings) Joined(s mapping.Setting, a, b mapping.EndID) inference.Verdict {
	rs := x.f.about(s, a, b)
	if len(rs) == 0 {
		return inference.Verdict{}
	}
	last := rs[len(rs)-1]
	v := inference.Verdict{Joined: last.Continuity() == mapping.Closed, Grade: mapping.Proved, Bits: 12}
	if last.Continuity() == mapping.Unknown {
		v.Grade = mapping.OpenQuestion
	}
	return v
}

func (x fakeFindings) Why(s mapping.Setting, a, b mapping.EndID) []mapping.ReadingID {
	var out []mapping.ReadingID
	for _, r := range x.f.about(s, a, b) {
		out = append(out, r.ID)
	}
	return out
}

func (x fakeFindings) Summary() inference.Result {
	r := inference.Result{Confidence: 0.3, Commons: map[mapping.SwitchID]inference.Common{}}
	untested := 0
	for i := range x.f.pod.Ends {
		for j := i + 1; j < len(x.f.pod.Ends); j++ {
			a, b := x.f.pod.Ends[i].ID, x.f.pod.Ends[j].ID
			for _, s := range x.f.settings() {
				rs := x.f.about(s, a, b)
				if len(rs) == 0 {
					untested++
					if len(r.OpenInWords) < 3 {
						r.OpenInWords = append(r.OpenInWords, inference.OpenPoint{A: a, B: b, Bits: 1})
						r.Map.Unresolved = append(r.Map.Unresolved, mapping.Link{A: a, B: b})
					}
					continue
				}
				if rs[len(rs)-1].Continuity() == mapping.Closed {
					var c mapping.Condition
					for _, sw := range x.f.pod.Switches {
						if s.At(sw) != sw.Rest {
							c = append(c, mapping.Term{Switch: sw.Name, Positions: []mapping.PositionID{s.At(sw)}})
						}
					}
					r.Map.Links = append(r.Map.Links, mapping.Link{A: a, B: b, When: []mapping.Condition{c}, Grade: mapping.Proved})
				}
				for _, o := range rs[1:] {
					if o.Continuity() != rs[0].Continuity() {
						r.Doubts = append(r.Doubts, inference.Doubt{
							Readings: []mapping.ReadingID{rs[0].ID, o.ID},
							Culprits: []inference.Culprit{{Kind: inference.OddReading, Readings: []mapping.ReadingID{rs[0].ID}, Bits: 4}},
							Retest:   mapping.Sweep{Red: rs[0].Red, Black: rs[0].Black, Steps: []mapping.Setting{s}, Why: mapping.Why{Reason: mapping.Settle}},
						})
						break
					}
				}
			}
		}
	}
	if untested == 0 {
		r.Done, r.Confidence = true, 0.999
	}
	return r
}

// memory keeps a log in memory; fail makes the next writes fail.
type memory struct {
	log  []mapping.Entry
	fail error
}

func (m *memory) Append(es ...mapping.Entry) ([]mapping.Entry, error) {
	if m.fail != nil {
		return nil, m.fail
	}
	out := slices.Clone(es)
	for i := range out {
		out[i].Seq = uint64(len(m.log) + 1)
		m.log = append(m.log, out[i])
	}
	return out, nil
}

// rig is an app under test: keys go in, everything that follows is run to its
// end, and the screen is read back.
type rig struct {
	t    *testing.T
	a    *app
	keep *memory
	keys int
	now  time.Time
	left bool
	bell *bytes.Buffer
}

var errDisk = errors.New("no space left on device")

func newRig(t *testing.T, log []mapping.Entry, change func(*Options)) *rig {
	t.Helper()
	r := &rig{t: t, keep: &memory{log: slices.Clone(log)}, now: time.Unix(1_700_000_000, 0).UTC(), bell: &bytes.Buffer{}}
	o := Options{
		Keeper: r.keep, Log: log, NewEngine: newFake, In: strings.NewReader(""), Out: r.bell,
		Now: func() time.Time { r.now = r.now.Add(time.Second); return r.now },
	}
	if change != nil {
		change(&o)
	}
	a, err := newApp(o)
	if err != nil {
		t.Fatal(err)
	}
	r.a = a
	r.left = a.settle(a.begin())
	return r
}

// keyMsg makes the message of a key by its name.
func keyMsg(name string) tea.KeyMsg {
	for typ, n := range map[tea.KeyType]string{
		tea.KeyEnter: "enter", tea.KeyEsc: "esc", tea.KeyUp: "up", tea.KeyDown: "down", tea.KeyLeft: "left", tea.KeyRight: "right",
		tea.KeyPgUp: "pgup", tea.KeyPgDown: "pgdown", tea.KeyCtrlC: "ctrl+c", tea.KeyCtrlZ: "ctrl+z", tea.KeyCtrlR: "ctrl+r", tea.KeyBackspace: "backspace",
	} {
		if n == name {
			return tea.KeyMsg{Type: typ}
		}
	}
	if name == " " || name == "space" {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// press presses keys by name.
func (r *rig) press(keys ...string) {
	r.t.Helper()
	for _, k := range keys {
		r.keys++
		r.left = r.a.settle(r.a.route(keyMsg(k))) || r.left
	}
}

// enter types a text and ENTER.
func (r *rig) enter(text string) {
	r.t.Helper()
	for _, c := range text {
		r.press(string(c))
	}
	r.press("enter")
}

func (r *rig) screen() string { return ansi.Strip(r.a.View()) }

func (r *rig) sees(want ...string) {
	r.t.Helper()
	flat := strings.Join(strings.Fields(r.screen()), " ")
	for _, w := range want {
		if !strings.Contains(flat, w) {
			r.t.Fatalf("the screen does not say %q:\n%s", w, r.screen())
		}
	}
}

func (r *rig) seesNot(not ...string) {
	r.t.Helper()
	flat := strings.Join(strings.Fields(r.screen()), " ")
	for _, w := range not {
		if strings.Contains(flat, w) {
			r.t.Fatalf("the screen should not say %q:\n%s", w, r.screen())
		}
	}
}

// exampleTruth is an invented pod: dip with its common at 1, and a horn button.
func exampleTruth(s mapping.Setting, a, b mapping.EndID) bool {
	pair := string(min(a, b)) + string(max(a, b))
	switch pair {
	case "13":
		return s["dip"] != "main"
	case "12":
		return s["dip"] == "main"
	case "45":
		return s["horn"] == "in"
	}
	return false
}

func examplePod() mapping.Pod {
	return mapping.Pod{
		Name: "left",
		Ends: []mapping.End{
			{ID: "1", Base: "BU"}, {ID: "2", Base: "BU", Tracer: "WH"}, {ID: "3", Base: "GY"}, {ID: "4", Base: "BN"}, {ID: "5", Base: "BK", Cavity: "A4"},
		},
		Switches: []mapping.Switch{
			{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"},
			{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
		},
	}
}

// bigPod is as large as the trade knows them, with names at the limit.
func bigPod(ends, switches int) mapping.Pod {
	p := mapping.Pod{Name: "a pod with a rather long name of its own"}
	for i := range ends {
		p.Ends = append(p.Ends, mapping.End{ID: mapping.EndID(fmt.Sprintf("A%d", i+1)), Base: mapping.Colours()[i%14], Tracer: mapping.Colours()[(i+3)%14]})
	}
	for i := range switches {
		p.Switches = append(p.Switches, mapping.Switch{
			Name: mapping.SwitchID(fmt.Sprintf("switch-with-a-long-name-%d", i)), Rest: "off",
			Positions: []mapping.PositionID{"off", "half-way", "wide-open-position"},
		})
	}
	return p
}

// started is the log of a described pod.
func started(p mapping.Pod) []mapping.Entry {
	return []mapping.Entry{{Seq: 1, Pod: "left", Describe: &p}}
}

// answerTruth answers the step in hand as the example pod would.
func (r *rig) answerTruth() {
	r.t.Helper()
	k := r.a.ses.ask
	if exampleTruth(k.setting(len(k.said), r.a.ses.work.Pod), k.sweep.Red[0], k.sweep.Black[0]) {
		r.press("enter")
	} else {
		r.press("space")
	}
}
