package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/plan"
	"bellout/mapping/sheet/ink"
)

// TestSameBytes: every form of the paper is the same for the same plan.
func TestSameBytes(t *testing.T) {
	small, big := madePlan(1, 3, 6, 2), heron(t)
	if testing.Short() {
		big = small
	}
	forms := map[string]func(Input) ([]byte, error){
		"pdf": PDF, "html": HTML, "text": func(in Input) ([]byte, error) { return Text(in), nil },
	}
	for name, f := range forms {
		in := big
		if name == "html" {
			in = small // the same drawing as the PDF's
		}
		a, err := f(in)
		if err != nil {
			t.Fatal(err)
		}
		b, err := f(in)
		if err != nil || !bytes.Equal(a, b) {
			t.Errorf("%s: other bytes the second time (%v)", name, err)
		}
		if len(a) < 2000 {
			t.Errorf("%s has %d bytes", name, len(a))
		}
	}
}

// TestHTMLStandsAlone: it parses, loads nothing and runs nothing.
func TestHTMLStandsAlone(t *testing.T) {
	page, err := HTML(madePlan(3, 3, 6, 2))
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if slices.Contains([]string{"script", "link", "img", "iframe", "object", "embed", "form"}, e.Name.Local) {
			t.Errorf("it has a %s element", e.Name.Local)
		}
		for _, a := range e.Attr {
			if a.Name.Local == "src" || a.Name.Local == "href" || strings.HasPrefix(a.Name.Local, "on") {
				t.Errorf("%s has %s=%q", e.Name.Local, a.Name.Local, a.Value)
			}
		}
	}
	for _, u := range regexp.MustCompile(`(?:https?:|url\()[^\s"')]{0,30}`).FindAllString(string(page), -1) {
		if !strings.HasPrefix(u, "url(data:font/ttf;base64,") && !strings.HasPrefix(u, "http://www.w3.org/2000/svg") {
			t.Errorf("it points to %q", u)
		}
	}
	if !bytes.Contains(page, []byte("<svg ")) {
		t.Error("no drawing in it")
	}
}

// TestNotSound: a plan with findings says so on every form, at the top; what is
// meant is told with its reason.
func TestNotSound(t *testing.T) {
	in := madePlan(1, 2, 4, 1)
	in.Findings = []plan.Judged{
		{Finding: plan.Finding{Kind: "tied-ways", Where: "W1 and W2", Setting: "dip=main", Say: "two fuses feed one net"}},
		{Finding: plan.Finding{Kind: "dies-outside", Where: "fuse W9: horn"}, Meant: true, Why: "a good reason"},
		{Finding: plan.Finding{Kind: "dies-outside", Where: "fuse W9: tail"}, Meant: true, Why: "a good reason"},
	}
	d, err := newDrawing(in.tidy())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(d.page.Marks, func(m ink.Mark) bool { return strings.Contains(fmt.Sprint(m), "NOT SOUND YET: 1 to settle") }) {
		t.Error("the diagram does not say that the plan is not sound")
	}
	page, err := HTML(in)
	if err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]string{"text": string(Text(in)), "html": string(page)} {
		for _, want := range []string{"FINDINGS", "two fuses feed one net", "dip=main", "fuse W9: horn, tail", "a good reason"} {
			if !strings.Contains(s, want) {
				t.Errorf("%s does not say %q", name, want)
			}
		}
	}
}

// TestTextSaysAll: every wire, plug, way, load and splice of the plan is in the
// text, and the values read are in their places.
func TestTextSaysAll(t *testing.T) {
	in := heron(t)
	in.Proof = append(in.Proof, plan.ProofCheck{ID: "3-W1", Group: "Ways to earth", Do: "measure", Red: "W1", Black: "E1", Expect: "OL", Bad: "a short"})
	in.Power = append(in.Power, plan.PowerStep{Number: 77, Do: "put in W1", Expect: "lamp stays dark", Amps: 3, Low: 2.2, High: 3.8, Bad: "switch off"})
	in.Read = map[string]string{"3-W1": "OL-read"}
	in.Worked.Reasons = append(in.Worked.Reasons, "Relay R7 has no diode across its coil.")
	text := Text(in)
	checkText(t, text)
	flat := strings.Join(strings.Fields(string(text)), " ")
	for _, want := range []string{"OL-read", "Relay R7 has no diode across its coil.", "a short", "25 November 2026", "revision B", "15 proved",
		"seen from the wire entry", "seen from the mating", "[ ]", "Glasses on", "negative first", "Local roadworthiness", "full lock"} {
		if !strings.Contains(flat, want) {
			t.Errorf("the text does not say %q", want)
		}
	}
	if cells := fmt.Sprint(report(in)); !strings.Contains(cells, "3.0 (2.2 to 3.8)") {
		t.Error("no amps to expect at first power")
	}
	words := map[string]bool{}
	for _, w := range strings.FieldsFunc(string(text), func(r rune) bool { return strings.ContainsRune(" \n,;:()", r) }) {
		words[w] = true
	}
	for _, w := range in.Plan.Wires {
		if !words[w.Name] {
			t.Errorf("wire %s is not in the text", w.Name)
		}
	}
	for _, s := range in.Plan.Splices {
		if !words[s.Name] {
			t.Errorf("splice %s is not in the text", s.Name)
		}
	}
	for _, l := range in.Plan.Loads {
		if !strings.Contains(flat, l.Name) {
			t.Errorf("load %s is not in the text", l.Name)
		}
	}
}

// TestCutListEnds: the live half has the terminals that cannot be touched, the
// other half the pins (common practice).
func TestCutListEnds(t *testing.T) {
	p := heron(t).Plan
	for _, w := range p.Wires {
		for _, point := range []string{w.From, w.To} {
			dev, _, _ := strings.Cut(point, ".")
			for _, pl := range p.Plugs {
				if pl.Name != dev {
					continue
				}
				e := endOf(p, w, point)
				female := strings.Contains(e.kind, "female")
				shrouded := (pl.Shrouded == plan.ModuleHalf) == (w.In == pl.Module)
				if female != shrouded {
					t.Errorf("%s at %s: %+v", w.Name, point, e)
				}
				if (e.seal != "") != strings.Contains(pl.Terminal, "sealed") {
					t.Errorf("%s at %s: seal %q", w.Name, point, e.seal)
				}
			}
		}
	}
}

// TestSpares: 10 to 20 % more wherever a whole number of them does that, one at
// least (common practice).
func TestSpares(t *testing.T) {
	for n := 1; n < 400; n++ {
		more := spares(n) - n
		part := float64(more) / float64(n)
		if more < 1 || part < 0.1 || n >= 5 && part > 0.2+1e-9 {
			t.Errorf("%d in use: %d spare", n, more)
		}
	}
}

// TestContactTables: what is tied in a table is what the map joins.
func TestContactTables(t *testing.T) {
	for _, pod := range heron(t).Plan.Pods {
		for _, tab := range contactTables(pod) {
			for _, sw := range pod.Desc.Switches {
				if !strings.HasPrefix(tab.title, string(sw.Name)) {
					continue
				}
				for i, q := range sw.Positions {
					row := tab.rows[i]
					s := pod.Desc.Rest().With(sw.Name, q)
					for a, ea := range tab.ends {
						for b, eb := range tab.ends[:a] {
							tied := slices.ContainsFunc(row.ties, func(tie []int) bool { return slices.Contains(tie, a) && slices.Contains(tie, b) })
							if tied != pod.Map.Joined(pod.Desc, s, ea, eb) {
								t.Errorf("%s %s at %s: %s and %s tied %v", pod.Name, sw.Name, q, ea, eb, tied)
							}
						}
					}
				}
			}
		}
	}
}

// TestContactTableText shows crossing ties, grades and two-switch rows.
func TestContactTableText(t *testing.T) {
	pod := plan.Pod{Name: "p", Desc: mapping.Pod{
		Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}, {ID: "4"}},
		Switches: []mapping.Switch{
			{Name: "turn", Positions: []mapping.PositionID{"left", "off"}, Rest: "off"},
			{Name: "kill", Positions: []mapping.PositionID{"off", "run"}, Rest: "off"},
		}},
		Map: mapping.Map{Links: []mapping.Link{
			{A: "1", B: "3", Grade: mapping.Proved, When: []mapping.Condition{{{Switch: "turn", Positions: []mapping.PositionID{"left"}}}}},
			{A: "2", B: "4", Grade: mapping.Likely, When: []mapping.Condition{{{Switch: "turn", Positions: []mapping.PositionID{"left"}}}}},
			{A: "1", B: "2", Grade: mapping.OpenQuestion, When: []mapping.Condition{{
				{Switch: "turn", Positions: []mapping.PositionID{"off"}}, {Switch: "kill", Positions: []mapping.PositionID{"run"}}}}},
		}}}
	got := strings.Join(podLines(pod), "\n")
	want := `
p: turn    1  2  3  4
left       *-----*
              o-----o
off (rest)

p: kill    1  2
off (rest)
run        ?--?

p: two or more together 1  2
turn off + kill run     ?--?`
	if got != want {
		t.Errorf("got\n%s\nwanted\n%s", got, want)
	}
}

// TestShare: columns get all that they like where there is room, and never more
// than there is.
func TestShare(t *testing.T) {
	for _, room := range []float64{10, 40, 80, 200} {
		like, least := []float64{5, 60, 30, 9}, []float64{5, 8, 12, 9}
		got := share(like, least, room)
		sum := 0.0
		for i, w := range got {
			sum += w
			if w > like[i]+1e-9 || room >= 34 && w < least[i]-1e-6 {
				t.Errorf("room %v: %v", room, got)
			}
		}
		if sum > room+1e-6 || room >= 104 && math.Abs(sum-104) > 1e-9 {
			t.Errorf("room %v: %v, %v in all", room, got, sum)
		}
	}
}

// TestOnce: what every row says is said once, and nothing is lost.
func TestOnce(t *testing.T) {
	tab := table{head: []string{"", "Do", "Set", "Read", "If not"}, rows: [][]string{
		{tick, "same", "", blank, "a"}, {tick, "same", "", blank, "b"}}}
	got := tab.once("Do", "Set", "If not")
	if fmt.Sprint(got.head, got.under, got.rows) != fmt.Sprint([]string{"", "Read", "If not"}, []string{"Do: same"}, [][]string{{tick, blank, "a"}, {tick, blank, "b"}}) {
		t.Errorf("%v %v %v", got.head, got.under, got.rows)
	}
	if len(tab.head) != 5 || len(tab.rows[0]) != 5 {
		t.Error("the table itself was changed")
	}
}

// TestPagesStayInside: no mark of the later pages leaves its page, and no line
// of text is smaller than the diagram's smallest.
func TestPagesStayInside(t *testing.T) {
	in := heron(t)
	for i := range 60 {
		in.Proof = append(in.Proof, plan.ProofCheck{ID: fmt.Sprint("9-", i), Group: "Many", Do: strings.Repeat("a thing to do ", 1+i%9), Expect: "OL", Bad: "unwell"})
	}
	for n, p := range pagesOf(in.tidy()) {
		checkPage(t, n+2, p)
	}
}

// TestBypassInCapitals: an interlock that the plan goes around stands in
// capitals at the head of every form, and on the diagram.
func TestBypassInCapitals(t *testing.T) {
	in := madePlan(1, 2, 4, 1)
	in.Plan.Bypasses = []plan.Bypass{{Interlock: "side stand switch", How: "its two wires are joined in plug PE"}}
	const want = "BYPASSED: SIDE STAND SWITCH. ITS TWO WIRES ARE JOINED IN PLUG PE."
	d, err := newDrawing(in.tidy())
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(d.page.Marks, func(m ink.Mark) bool {
		x, ok := m.(ink.Text)
		return ok && x.Bold && strings.Contains(x.S, "BYPASSED: SIDE STAND SWITCH")
	}) {
		t.Error("the diagram's head does not say it")
	}
	page, err := HTML(in)
	if err != nil {
		t.Fatal(err)
	}
	if _, after, ok := strings.Cut(string(page), "<h1>"); !ok || !strings.Contains(after[:min(len(after), 600)], want) {
		t.Error("the page in HTML does not begin with it")
	}
	if text := string(Text(in)); !strings.Contains(strings.Join(strings.Fields(text[:400]), " "), want) {
		t.Errorf("the text does not begin with it:\n%s", text[:400])
	}
	in.Plan.Bypasses = nil
	if strings.Contains(string(Text(in)), "BYPASSED:") {
		t.Error("a plan without a bypass speaks of one")
	}
}
