package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// narrow is the smallest screen that the work is done on in earnest.
var narrow = tea.WindowSizeMsg{Width: 40, Height: 20}

// A line that is typed on a narrow screen stands under what is asked for.
func TestNarrowPromptsSayWhatToType(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Sheets = &paper{text: "a page"} })
	r.a.route(narrow)
	r.press("o")
	for key, want := range map[string]string{
		"n": "end and what it does, as 5 horn: > ▏", "t": "end and terminal, as 5 49a: > ▏", "c": "end and new cavity, as 5 B2: > ▏", "x": "format (txt, csv): ▏",
	} {
		r.press(key)
		r.sees(want)
		r.press("esc")
	}
	h := planned(t, &planOf{})
	for w, want := range map[int]string{40: "what is dead? ▏", 30: "what is dead? > ▏"} {
		h.a.route(tea.WindowSizeMsg{Width: w, Height: 20})
		h.press("/")
		h.sees(want)
		h.press("esc")
	}
}

// A page that is moved sideways keeps what names its rows, and the key that moves
// it is offered where it moves something.
func TestPinoutKeepsItsFirstColumn(t *testing.T) {
	page := "PINOUT  quay trike, left, a line that is longer than the screen is\n\n" +
		"end     colour  old   new   DIN      function                grade\n" +
		"------------------------------------------------------------------\n" +
		"5       GY/RD               L        left indicators, and    proved\n" +
		"                                     another\n" +
		"6       GY/GN               R        right indicators        proved\n"
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Sheets = &paper{text: page} })
	r.press("o")
	if foot := lastLine(r); strings.Contains(foot, "→") {
		t.Errorf("a page that fits is offered to be moved: %s", foot)
	}
	r.a.route(narrow)
	if foot := lastLine(r); !strings.Contains(foot, "→ more") {
		t.Errorf("the key that moves the page is not offered: %s", foot)
	}
	r.press("right", "right")
	var rows []string
	for _, l := range strings.Split(r.screen(), "\n") {
		if strings.Contains(l, "indicators") {
			rows = append(rows, l)
		}
	}
	if len(rows) != 2 || !strings.HasPrefix(rows[0], "5  ") || !strings.HasPrefix(rows[1], "6  ") {
		t.Errorf("functions at no wire: %q\n%s", rows, r.screen())
	}
	r.sees("end …", "grade", "proved")
	r.seesNot("PINOUT")
}

func lastLine(r *rig) string {
	lines := strings.Split(r.screen(), "\n")
	return lines[len(lines)-1]
}

// What can be typed as a change, and what was wrong with it, is read to its end.
func TestChangeOfThePodOnANarrowScreen(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.a.route(narrow)
	r.press("a")
	r.sees("end 9 · switch flash out* in! · position dip half after low · colour 3 blue")
	r.enter("nonsense")
	r.sees("leads 0.3", "change: nonsense", "BLACK 1", "SET")
}

// What was typed last is in sight on a low screen, however much it is.
func TestDescribeShowsWhatWasTyped(t *testing.T) {
	for _, size := range []tea.WindowSizeMsg{narrow, {Width: 40, Height: 14}} {
		r := newRig(t, nil, nil)
		r.enter("left")
		r.enter("12")
		r.press("enter")
		r.a.route(size)
		for i, sw := range []string{"dip low* main", "lights off* park on", "turn left off* right", "horn out* in!", "kill off* run", "brake out* in!"} {
			r.enter(sw)
			if n := len(r.a.top().(*describe).pod.Switches); n != i+1 {
				t.Fatalf("%d switches after %q", n, sw)
			}
			r.sees("Which switches has it?", "> ▏", sw)
			r.seesNot("▼")
		}
	}
}

// In practice the words around it give way before the step in hand does.
func TestTheStepInHandIsNeverCrowdedOut(t *testing.T) {
	pod := examplePod()
	more, err := parseSwitches("turn, lights, kill, start")
	if err != nil {
		t.Fatal(err)
	}
	pod.Switches = append(pod.Switches, more...)
	r := newRig(t, started(pod), func(o *Options) { o.Player = practiceMeter{} })
	for _, w := range []int{40, 60, 80} {
		for h := 12; h <= 26; h++ {
			r.a.route(tea.WindowSizeMsg{Width: w, Height: h})
			r.sees("▶ 1 dip → low", "2 dip → main", "the meter: silent")
		}
	}
	r.a.route(tea.WindowSizeMsg{Width: 40, Height: 30})
	r.sees("Old hand: ", "score: ", "why: ")
}
