package tui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"

	"bellout/mapping"
)

var update = flag.Bool("update", false, "write the golden views anew")

// practiceMeter plays the example pod, so that the practice lines are drawn.
type practiceMeter struct{}

func (practiceMeter) Meter(s mapping.Sweep, step int) (mapping.Outcome, float64) {
	if s.Control || exampleTruth(s.Steps[step], s.Red[0], s.Black[0]) {
		return mapping.Sounded, 0
	}
	return mapping.Silent, 0
}
func (practiceMeter) Coach(mapping.Sweep, int) string { return "" }
func (practiceMeter) Right(m mapping.Map) (right, all int) {
	if len(m.Links) == 3 {
		return 4, 4
	}
	return 1, 4
}

// scene brings one screen up. A new screen joins every size and every golden
// view by one line here.
type scene struct {
	name string
	make func(t *testing.T) *rig
}

// probed is a rig some readings into the example pod.
func probed(t *testing.T, keys ...string) *rig {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true })
	r.a.say("")
	r.enter("1")
	r.enter("2")
	r.press("space")
	r.press(keys...)
	return r
}

func scenes() []scene {
	quiet := func(o *Options) { o.Quiet = true }
	return append([]scene{
		{"describe-name", func(t *testing.T) *rig { return newRig(t, nil, quiet) }},
		{"describe-switches", func(t *testing.T) *rig {
			r := newRig(t, nil, quiet)
			r.enter("left")
			r.enter("8")
			r.enter("y")
			r.enter("dip, turn")
			r.press(strings.Split("horn out* in", "")...)
			return r
		}},
		{"describe-refused", func(t *testing.T) *rig {
			r := newRig(t, nil, quiet)
			r.press("enter")
			r.enter("eight")
			return r
		}},
		{"pods", func(t *testing.T) *rig {
			r := probed(t, "j", "n")
			r.enter("right")
			r.enter("6")
			r.press("enter")
			r.enter("kill, start")
			r.press("enter", "enter", "j")
			return r
		}},
		{"probe-first", func(t *testing.T) *rig { return newRig(t, started(examplePod()), quiet) }},
		{"probe", func(t *testing.T) *rig { return probed(t) }},
		{"probe-line", func(t *testing.T) *rig { return probed(t, "2", " ", "3") }},
		{"probe-refused", func(t *testing.T) *rig { return probed(t, "9", "enter") }},
		{"probe-amend", func(t *testing.T) *rig { return probed(t, "a", "e", "n", "d") }},
		{"probe-control", func(t *testing.T) *rig { return probed(t, "c") }},
		{"probe-practice", func(t *testing.T) *rig {
			r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Player = practiceMeter{} })
			r.press("p", "p")
			return r
		}},
		{"probe-bunch", func(t *testing.T) *rig {
			r := newRig(t, started(bigPod(18, 9)), quiet)
			var red []mapping.EndID
			for _, e := range r.a.ses.work.Pod.Ends[3:] {
				red = append(red, e.ID)
			}
			rest := r.a.ses.work.Pod.Rest()
			r.a.ses.bench.Leads = mapping.BunchLeads
			r.a.settle(r.a.ses.put(mapping.Sweep{Red: red, Black: []mapping.EndID{"A1", "A2"}, Steps: []mapping.Setting{
				rest, rest.With("switch-with-a-long-name-3", "half-way"), rest.With("switch-with-a-long-name-3", "wide-open-position"),
			}}))
			r.press("space")
			return r
		}},
		{"wide-letters", func(t *testing.T) *rig {
			pod := examplePod()
			pod.Name = "左のスイッチ"
			pod.Ends[1].ID, pod.Ends[0].ID = "橙2", "青1"
			pod.Switches[0] = mapping.Switch{Name: "灯火", Positions: []mapping.PositionID{"消灯", "点灯"}, Rest: "消灯"}
			r := newRig(t, started(pod), quiet)
			r.press("space", "t", "right")
			return r
		}},
		{"wide-letters-probe", func(t *testing.T) *rig {
			pod := examplePod()
			pod.Ends[1].ID, pod.Ends[0].ID = "橙2", "青1"
			pod.Switches[0] = mapping.Switch{Name: "灯火", Positions: []mapping.PositionID{"消灯", "点灯"}, Rest: "消灯"}
			return newRig(t, started(pod), quiet)
		}},
		{"probe-done", func(t *testing.T) *rig {
			r := probed(t)
			for r.a.ses.ask != nil {
				r.answerTruth()
			}
			return r
		}},
		{"not-saved", func(t *testing.T) *rig {
			r := probed(t)
			r.keep.fail = errDisk
			r.press("enter")
			return r
		}},
		{"table", func(t *testing.T) *rig { return probed(t, "t", "down", "down") }},
		{"table-why", func(t *testing.T) *rig { return probed(t, "t", "w") }},
		{"table-big", func(t *testing.T) *rig {
			r := newRig(t, started(bigPod(18, 9)), quiet)
			r.enter("1 2")
			r.press("t")
			for range 12 {
				r.press("right")
			}
			return r
		}},
		{"doubts", func(t *testing.T) *rig {
			r := probed(t, "/")
			r.enter("3 1 beep")
			r.press("/")
			r.enter("3 1 silent")
			r.press("d")
			return r
		}},
		{"doubts-none", func(t *testing.T) *rig { return probed(t, "d") }},
		{"known", func(t *testing.T) *rig { return probed(t, "k") }},
		{"log", func(t *testing.T) *rig {
			r := probed(t, "l", "up", "X", "e")
			r.enter("hand slipped")
			return r
		}},
		{"log-filter", func(t *testing.T) *rig {
			r := probed(t, "l", "/")
			r.enter("dip=main")
			return r
		}},
		{"slipped", func(t *testing.T) *rig { return probed(t, "s") }},
		{"coming-back", func(t *testing.T) *rig { return newRig(t, probed(t).keep.log, quiet) }},
		{"before-the-cut", func(t *testing.T) *rig { return probed(t, "g", "right", "enter", "f") }},
		{"pinout", func(t *testing.T) *rig { return probed(t, "o") }},
		{"help", func(t *testing.T) *rig { return probed(t, "?") }},
	}, planScenes()...)
}

// No line is ever wider than the terminal and nothing panics, on every screen at
// every size from 1x1; from 20x5 up every screen fills no more than it has and
// says something.
func TestEveryScreenAtEverySize(t *testing.T) {
	for _, sc := range scenes() {
		t.Run(sc.name, func(t *testing.T) {
			r := sc.make(t)
			for _, w := range []int{1, 2, 3, 5, 8, 12, 19, 20, 21, 25, 33, 40, 41, 59, 60, 63, 64, 79, 80, 81, 100, 133, 200} {
				for _, h := range []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 16, 20, 24, 25, 40, 60} {
					r.a.route(tea.WindowSizeMsg{Width: w, Height: h})
					lines := strings.Split(r.a.View(), "\n")
					if len(lines) > h {
						t.Fatalf("%dx%d: %d lines", w, h, len(lines))
					}
					said := false
					for i, l := range lines {
						if got := ansi.StringWidth(l); got > w {
							t.Fatalf("%dx%d: line %d is %d wide: %q", w, h, i+1, got, l)
						}
						said = said || strings.TrimSpace(ansi.Strip(l)) != ""
					}
					if w >= 20 && h >= 5 && !said {
						t.Fatalf("%dx%d: an empty screen", w, h)
					}
				}
			}
		})
	}
}

// On the smallest screen that counts the builder still sees where the leads go,
// what to set, and what was last taken or asked.
func TestProbeOnTheSmallestScreen(t *testing.T) {
	r := probed(t)
	r.a.route(tea.WindowSizeMsg{Width: 20, Height: 8})
	r.sees("RED", "BLACK", "SET", "dip")
	r.a.route(tea.WindowSizeMsg{Width: 40, Height: 12})
	r.sees("RED", "BLACK", "SET", "▶", "why:")
}

func TestGoldenViews(t *testing.T) {
	for _, sc := range scenes() {
		for _, size := range [][2]int{{80, 24}, {40, 24}} {
			name := fmt.Sprintf("%s.%dx%d.txt", sc.name, size[0], size[1])
			t.Run(name, func(t *testing.T) {
				r := sc.make(t)
				r.a.route(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				var b strings.Builder
				for _, l := range strings.Split(r.screen(), "\n") {
					b.WriteString(strings.TrimRight(l, " ") + "\n")
				}
				path := filepath.Join("testdata", "views", name)
				if *update {
					if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
						t.Fatal(err)
					}
					if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
						t.Fatal(err)
					}
					return
				}
				want, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				if d := cmp.Diff(string(want), b.String()); d != "" {
					t.Errorf("the view has changed (go test ./tui -update writes it anew):\n%s", d)
				}
			})
		}
	}
}
