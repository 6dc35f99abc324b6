package tui

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"bellout/inference"
	"bellout/mapping"
)

// paper is a made-up Sheets.
type paper struct {
	text string
	fail error
	done []string
}

func (p *paper) Formats() []string { return []string{"txt", "csv"} }
func (p *paper) Text(*mapping.PodWork, inference.Result) (string, error) {
	return p.text, p.fail
}
func (p *paper) Export(format string, pod mapping.PodKey, _ *mapping.PodWork, _ inference.Result) (string, error) {
	p.done = append(p.done, format+" of "+string(pod))
	return "left." + format, p.fail
}

// A page wider than the screen is scrolled, and what is cut is said to be.
func TestPinoutScrollsBothWays(t *testing.T) {
	wide := "end  colour  old  function                               grade\n" + strings.Repeat("5    BK      A4   horn, pair with 4                      proved\n", 40)
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Sheets = &paper{text: wide} })
	r.a.route(tea.WindowSizeMsg{Width: 40, Height: 20})
	r.press("o")
	r.sees("5 BK A4 horn", "…", "more lines")
	r.seesNot("proved")
	r.press("right", "right", "right")
	r.sees("proved", "…")
	for _, l := range strings.Split(r.screen(), "\n") {
		if ansi.StringWidth(l) > 40 {
			t.Errorf("too wide: %q", l)
		}
	}
	r.press("left", "left", "left")
	r.sees("5 BK A4")
}

func TestExport(t *testing.T) {
	p := &paper{text: "a page"}
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Sheets = p })
	r.press("o", "x")
	r.enter("doc")
	r.sees(`there is no format "doc": choose txt, csv`)
	r.press("backspace", "backspace", "backspace")
	r.enter("csv")
	r.sees("written: left.csv")
	p.fail = errors.New("read-only folder")
	r.press("x", "enter")
	r.sees("read-only folder")
	p.fail = nil
	r.press("esc", "g", "x")
	r.sees("written: left.labels")
	if strings.Join(p.done, "; ") != "csv of left; txt of left; labels of left" {
		t.Errorf("exported %v", p.done)
	}
	r.press("esc", "o", "t")
	r.enter("9 49a")
	r.sees(`no end "9"`)
	r.press("esc", "t")
	r.enter("5 31b")
	if v, _ := r.a.ses.work.Decided(mapping.SetTerminal, "5"); v != "31b" {
		t.Errorf("terminal %q", v)
	}
}
