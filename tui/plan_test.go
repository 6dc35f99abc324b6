package tui

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
	"bellout/mapping/plan"
)

// planOf is a Harness over the example plan, changed as a test wants it.
type planOf struct {
	change func(text string) string
	fail   error
	made   int
}

func (p *planOf) Where() string { return "plan.toml" }

func (p *planOf) Load() (plan.Plan, error) {
	if p.fail != nil {
		return plan.Plan{}, p.fail
	}
	open := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("../testdata/example", name)) }
	text, err := open("plan.toml")
	if err != nil {
		return plan.Plan{}, err
	}
	if p.change != nil {
		text = []byte(p.change(string(text)))
	}
	return plan.Read("plan.toml", text, open)
}

func (p *planOf) Make(log []mapping.Entry) ([]string, error) {
	if len(log) == 0 {
		return nil, errors.New("no log")
	}
	p.made++
	p.fail = nil
	return []string{"plan.toml"}, nil
}

func planned(t *testing.T, h *planOf, keys ...string) *rig {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Harness = h })
	r.a.say("")
	r.press(append([]string{"H"}, keys...)...)
	return r
}

func tied(text string) string {
	return text + "\n[[wire]]\nname = \"x1\"\nfrom = \"W7\"\nto = \"W6\"\nmm2 = 0.5\ncolour = \"BK\"\nlength = 1\n" +
		"\n[[bypass]]\ninterlock = \"side stand switch\"\nhow = \"joined in plug PE\"\n"
}

func planScenes() []scene {
	return []scene{
		{"harness", func(t *testing.T) *rig { return planned(t, &planOf{}) }},
		{"harness-findings", func(t *testing.T) *rig { return planned(t, &planOf{change: tied}) }},
		{"harness-ways", func(t *testing.T) *rig { return planned(t, &planOf{}, "right") }},
		{"harness-what-if", func(t *testing.T) *rig { return planned(t, &planOf{}, "right", "right") }},
		{"harness-proof", func(t *testing.T) *rig { return planned(t, &planOf{}, "right", "right", "right", "enter", "space") }},
		{"harness-roadside", func(t *testing.T) *rig {
			r := planned(t, &planOf{}, "/")
			r.enter("left indicators dead")
			return r
		}},
		{"harness-typing", func(t *testing.T) *rig { return planned(t, &planOf{}, "/", "n", "o") }},
		{"harness-none", func(t *testing.T) *rig { return planned(t, &planOf{fail: fs.ErrNotExist}) }},
		{"harness-mistake", func(t *testing.T) *rig {
			return planned(t, &planOf{change: func(s string) string { return strings.Replace(s, "fuse = 7.5", "fuse = 8", 1) }})
		}},
	}
}

// The proof asks for the fewest readings, keeps each before the next is shown,
// and names two cavities that were swapped.
func TestHarnessProofNamesASwap(t *testing.T) {
	r := planned(t, &planOf{}, "left", "left", "p", "p", "p", "p", "p") // the sixth part: front
	p, err := (&planOf{}).Load()
	if err != nil {
		t.Fatal(err)
	}
	part := plan.Parts(p)[5]
	r.sees(part + ", unplugged")
	swapped := map[string]string{"PF.9": "PF.10", "PF.10": "PF.9"}
	nets := netsOf(p, part)
	list := plan.ProofReadings(p, part)
	for range list {
		h := r.a.top().(*harness)
		beep := false
		for _, a := range h.list()[h.at].Red {
			for _, b := range h.list()[h.at].Black {
				x, y := a, b
				if s := swapped[x]; s != "" {
					x = s
				}
				if s := swapped[y]; s != "" {
					y = s
				}
				beep = beep || nets[x] == nets[y]
			}
		}
		before := len(r.keep.log)
		r.press(map[bool]string{true: "enter", false: "space"}[beep])
		if len(r.keep.log) != before+1 || r.keep.log[before].Check == nil {
			t.Fatal("the answer was not kept at once")
		}
	}
	r.sees("PF.9", "PF.10", "swapped")
	if got := len(r.a.job.Checks); got != len(list) {
		t.Errorf("%d answers of %d readings", got, len(list))
	}
	// once the two are changed over, what differed is read again, and only that
	differed := 0
	for h := r.a.top().(*harness); h.at < len(list); differed++ {
		if beep, ok := h.read()[list[h.at].ID]; !ok || beep == list[h.at].Joined || differed > len(list) {
			t.Fatalf("reading %d is asked for again", h.at+1)
		}
		r.sees("not as planned. Read it again once it is mended")
		r.press(map[bool]string{true: "enter", false: "space"}[list[h.at].Joined])
	}
	r.sees("AS PLANNED")
	if got := len(r.a.job.Checks); differed == 0 || got != len(list)+differed {
		t.Errorf("%d answers of %d readings, of which %d differed", got, len(list), differed)
	}
	r.press("space")
	r.sees("every reading of this part is as planned")
}

// In plain lines the word does what the key does.
func TestHarnessInLines(t *testing.T) {
	var out strings.Builder
	h := &planOf{}
	err := Run(context.Background(), Options{
		Keeper: &memory{}, Log: started(examplePod()), NewEngine: newFake, Plain: true, Quiet: true, Harness: h,
		In: strings.NewReader("harness\nharness left indicators dead\nharness the moon\nquit\n"), Out: &out, Now: time.Now,
	})
	if err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{"NOTHING FOUND", "PLUG PL pulled", "Main fuse 20 A", "Fuse: ", "Plug: "} {
		if !strings.Contains(flat, want) {
			t.Errorf("the lines do not say %q:\n%s", want, out.String())
		}
	}
}

// netsOf is what a part's own wires join, computed here from the plan's wires
// alone.
func netsOf(p plan.Plan, part string) map[string]int {
	root := map[string]string{}
	var find func(string) string
	find = func(x string) string {
		if root[x] == "" || root[x] == x {
			root[x] = x
			return x
		}
		return find(root[x])
	}
	for _, w := range p.Wires {
		if w.In == part {
			root[find(w.From)] = find(w.To)
		}
	}
	out, number := map[string]int{}, map[string]int{}
	for x := range root {
		f := find(x)
		if number[f] == 0 {
			number[f] = len(number) + 1
		}
		out[x] = number[f]
	}
	return out
}

// Undo on this screen gives the last answer of the proof again and leaves the
// pods' readings alone.
func TestHarnessUndo(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Harness = &planOf{} })
	r.press("enter", "H", "left", "left", "enter")
	struck := len(r.a.ses.work.Struck)
	r.press("u")
	r.sees("reading 1 again")
	r.press("space", "u", "u")
	r.sees("nothing was answered on this screen")
	if len(r.a.ses.work.Struck) != struck {
		t.Error("a pod's reading was struck out from the harness's screen")
	}
	if c := r.a.job.Checks; len(c) != 2 || c[0].Check != c[1].Check || c[0].Value == c[1].Value {
		t.Errorf("%+v", c)
	}
}

// A plan is made where there is none, and never over one that is there.
func TestHarnessMakesAPlanOnce(t *testing.T) {
	h := &planOf{fail: fs.ErrNotExist}
	r := planned(t, h)
	r.sees("There is no plan yet in plan.toml", "n makes a first one")
	r.press("n")
	r.sees("NOTHING FOUND")
	r.press("n")
	r.sees("never written over")
	if h.made != 1 {
		t.Errorf("made %d times", h.made)
	}
}

// A mistake shows with its line, and what was mended is seen on loading again.
func TestHarnessMistakeAndReload(t *testing.T) {
	h := &planOf{change: func(s string) string { return strings.Replace(s, "fuse = 7.5", "fuse = 8", 1) }}
	r := planned(t, h)
	r.sees("cannot be used as it is", "plan.toml:", "no blade fuse of 8 A", "r loads it again")
	r.press("enter", "space", "/", "p", "right", "u")
	h.change = nil
	r.press("r")
	r.a.route(tea.WindowSizeMsg{Width: 80, Height: 24})
	if r.a.top().(*harness).made == nil {
		t.Error("the mended plan was not loaded")
	}
}

// What was answered before a reload may be at another place of the list after it:
// there is nothing to undo then, and nothing breaks where there is no list.
func TestHarnessUndoAfterReload(t *testing.T) {
	spoilt := func(s string) string { return strings.Replace(s, "fuse = 7.5", "fuse = 8", 1) }
	h := &planOf{}
	r := planned(t, h, "left", "left", "enter")
	for _, change := range []func(string) string{spoilt, nil} {
		h.change = change
		r.press("r", "u")
		r.sees("nothing was answered on this screen")
		if screen := r.a.top().(*harness); len(screen.gone) > 0 {
			t.Errorf("undo still points to %v", screen.gone)
		}
	}
	r.press("enter", "u")
	r.sees("answer reading 2 again")
}

// Answers stay with their readings when the plan is changed.
func TestHarnessAnswersStayWithTheirReadings(t *testing.T) {
	h := &planOf{}
	r := planned(t, h, "left", "left", "enter")
	h.change = func(s string) string {
		return strings.Replace(s, "[[wire]]", "[[wire]]\nname = \"x1\"\nfrom = \"battery.-\"\nto = \"E1\"\nmm2 = 1\ncolour = \"BK\"\nlength = 1\n\n[[wire]]", 1)
	}
	r.press("r")
	r.sees("1 of 62 read", "▶[ ] 1 battery.- to E1")
	for _, p := range r.a.top().(*harness).list() {
		if _, ok := r.a.top().(*harness).read()[p.ID]; ok && !strings.HasPrefix(p.Say, "battery.+ to main.in:") {
			t.Errorf("nobody read %s", p.Say)
		}
	}
}

// Without a plan set up the key says so.
func TestHarnessElsewhere(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true })
	r.press("H")
	r.sees("leave and use the plan command")
}
