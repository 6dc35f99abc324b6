package mapping

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const testPod = PodKey("left")

func describe(names ...EndID) Entry {
	p := Pod{Name: "left pod"}
	for _, n := range names {
		p.Ends = append(p.Ends, End{ID: n})
	}
	return Entry{Pod: testPod, Describe: &p}
}

func heard(o Outcome) Entry {
	return Entry{Pod: testPod, Reading: &Reading{Red: []EndID{"1"}, Black: []EndID{"2"}, Outcome: o}}
}

func strike(undo bool, reason string, ids ...ReadingID) Entry {
	return Entry{Pod: testPod, Strike: &Strike{Readings: ids, Reason: reason, Undo: undo}}
}

// logOf numbers entries as a store does.
func logOf(entries ...Entry) []Entry {
	for i := range entries {
		entries[i].Seq = uint64(i + 1)
	}
	return entries
}

func fold(t *testing.T, entries ...Entry) *Job {
	t.Helper()
	j, err := Fold(logOf(entries...))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func liveIDs(w *PodWork) (ids []ReadingID) {
	for _, r := range w.Live() {
		ids = append(ids, r.ID)
	}
	return ids
}

func TestFoldReadingsAndStrikes(t *testing.T) {
	log := []Entry{describe("1", "2"), heard(Sounded), heard(Silent), heard(Sounded), strike(false, "slipped", 2, 3)}
	w := fold(t, log...).Pods[testPod]
	if d := cmp.Diff([]ReadingID{4}, liveIDs(w)); d != "" {
		t.Error(d)
	}
	if len(w.Readings) != 3 || w.Struck[2] != "slipped" || w.Struck[3] != "slipped" {
		t.Errorf("a struck reading is kept, with its reason: %+v", w)
	}
	w = fold(t, append(log, strike(true, "", 3))...).Pods[testPod]
	if d := cmp.Diff([]ReadingID{3, 4}, liveIDs(w)); d != "" {
		t.Error(d)
	}
	w = fold(t, append(log, strike(true, "", 3), strike(false, "no, it had", 3))...).Pods[testPod]
	if d := cmp.Diff([]ReadingID{4}, liveIDs(w)); d != "" || w.Struck[3] != "no, it had" {
		t.Error(d, w.Struck)
	}
	// Striking what does not exist, or what is no reading, harms nothing.
	w = fold(t, append(log, strike(false, "?", 1, 99))...).Pods[testPod]
	if d := cmp.Diff([]ReadingID{4}, liveIDs(w)); d != "" {
		t.Error(d)
	}
}

// TestFoldNumbers: a reading and a sweep bear the number of their entry,
// whatever the entry says.
func TestFoldNumbers(t *testing.T) {
	r := heard(Sounded)
	r.Reading.ID = 77
	w := fold(t, describe("1", "2"), Entry{Pod: testPod, Ask: &Ask{Sweep{ID: 55, Mode: Ohms}}}, r).Pods[testPod]
	if w.LastAsk.ID != 2 || w.LastAsk.Mode != Ohms || w.Readings[0].ID != 3 {
		t.Errorf("sweep %d, reading %d", w.LastAsk.ID, w.Readings[0].ID)
	}
	if r.Reading.ID != 77 {
		t.Error("the entry was written to")
	}
}

// TestFoldDescribeAgain: an end added in the middle of the work loses nothing.
func TestFoldDescribeAgain(t *testing.T) {
	j := fold(t, describe("1", "2"), heard(Sounded),
		Entry{Pod: "right", Describe: &Pod{Name: "right pod", Ends: []End{{ID: "1"}, {ID: "2"}}}}, describe("1", "2", "3"), heard(Silent))
	if d := cmp.Diff([]PodKey{"left", "right"}, j.Order); d != "" {
		t.Error(d)
	}
	if w := j.Pods[testPod]; len(w.Pod.Ends) != 3 || len(w.Readings) != 2 {
		t.Errorf("%+v", w)
	}
	if w := j.Pods["right"]; len(w.Readings) != 0 || w.Live() != nil {
		t.Errorf("%+v", w)
	}
}

func TestFoldSittings(t *testing.T) {
	sit := func(n int, l Leads) Entry { return Entry{Pod: testPod, Sitting: &Sitting{n, l}} }
	w := fold(t, describe("1", "2"), sit(1, PairLeads), heard(Sounded), sit(2, BunchLeads)).Pods[testPod]
	if w.Session != 2 || w.Leads != BunchLeads {
		t.Errorf("%+v", w)
	}
}

func TestFoldDecisions(t *testing.T) {
	decide := func(k DecisionKind, e EndID, v string) Entry {
		return Entry{Pod: testPod, Decision: &Decision{Kind: k, End: e, Value: v}}
	}
	w := fold(t, describe("1", "2"), decide(NameFunction, "1", "horn"), decide(SetTerminal, "1", "49a"),
		decide(NameFunction, "2", "feed"), decide(NameFunction, "1", "dip")).Pods[testPod]
	if v, ok := w.Decided(NameFunction, "1"); !ok || v != "dip" {
		t.Errorf("the last word counts, got %q", v)
	}
	if v, ok := w.Decided(SetTerminal, "2"); ok {
		t.Errorf("nobody said %q", v)
	}
	w = fold(t, describe("1", "2"), decide(NameFunction, "1", "horn"), decide(NameFunction, "1", "")).Pods[testPod]
	if v, ok := w.Decided(NameFunction, "1"); ok {
		t.Errorf("%q was taken back", v)
	}
	aside := func(value string, ids ...ReadingID) Entry {
		return Entry{Pod: testPod, Decision: &Decision{Kind: SetAside, Readings: ids, Value: value}}
	}
	w = fold(t, describe("1", "2"), aside("", 4, 3), aside("", 5, 6), aside(TakenBack, 6, 5)).Pods[testPod]
	if !w.Aside([]ReadingID{3, 4}) || w.Aside([]ReadingID{5, 6}) || w.Aside([]ReadingID{3}) {
		t.Errorf("set aside: %+v", w.Decisions)
	}
}

// TestFoldTheJobItself: title, checks, and remarks and decisions of no pod.
func TestFoldTheJobItself(t *testing.T) {
	j := fold(t, Entry{Title: &Title{"old"}}, Entry{Remark: &Remark{Text: "battery is out"}},
		Entry{Decision: &Decision{Kind: LeadOhms, Value: "0.3"}}, describe("1", "2"),
		Entry{Pod: testPod, Remark: &Remark{Text: "half-way click"}},
		Entry{Check: &CheckResult{"earth", "0.1", true}}, Entry{Title: &Title{"new"}})
	want := &Job{
		Name: "new", Order: []PodKey{testPod}, Checks: []CheckResult{{"earth", "0.1", true}},
		Remarks: []Remark{{Text: "battery is out"}}, Decisions: []Decision{{Kind: LeadOhms, Value: "0.3"}},
		Pods: map[PodKey]*PodWork{testPod: {
			Pod: Pod{Name: "left pod", Ends: []End{{ID: "1"}, {ID: "2"}}}, Struck: map[ReadingID]string{},
			Remarks: []Remark{{Text: "half-way click"}},
		}},
	}
	if d := cmp.Diff(want, j); d != "" {
		t.Error(d)
	}
}

func TestFoldRefuses(t *testing.T) {
	two := heard(Sounded)
	two.Title = &Title{}
	for name, log := range map[string][]Entry{
		"a reading before its pod": {heard(Sounded)},
		"a remark on a lost pod":   {{Pod: "lost", Remark: &Remark{Text: "x"}}},
		"a reading of no pod":      {{Reading: &Reading{}}},
		"a strike of no pod":       {{Strike: &Strike{}}},
		"two things at once":       {describe("1", "2"), two},
		"nothing":                  {{}},
		"what is no pod":           {describe("1", "1")},
	} {
		j, err := Fold(logOf(log...))
		if err == nil || j != nil {
			t.Errorf("%s: taken", name)
			continue
		}
		if !strings.Contains(err.Error(), "log entry "+map[bool]string{true: "2", false: "1"}[len(log) == 2]) {
			t.Errorf("%s: does not say which entry: %v", name, err)
		}
	}
}

// TestApplyIsFold: entry by entry gives the same as all at once.
func TestApplyIsFold(t *testing.T) {
	log := logOf(describe("1", "2"), heard(Sounded), strike(false, "slipped", 2), heard(Silent), strike(true, "", 2))
	step, err := Fold(nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range log {
		if err := step.Apply(e); err != nil {
			t.Fatal(err)
		}
		all, err := Fold(log[:i+1])
		if d := cmp.Diff(all, step); err != nil || d != "" {
			t.Fatal(err, d)
		}
	}
	if err := step.Apply(Entry{}); err == nil {
		t.Fatal("an empty entry was taken")
	}
}

// TestOhmsOfALink: the worst reading straight across it while it holds, less the leads.
func TestOhmsOfALink(t *testing.T) {
	pod := Pod{Name: "left pod", Ends: []End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []Switch{{Name: "dip", Positions: []PositionID{"low", "main"}, Rest: "low"}}}
	read := func(ohms float64, at PositionID, red, black []EndID) Entry {
		return Entry{Pod: testPod, Reading: &Reading{Red: red, Black: black, Setting: Setting{"dip": at}, Mode: Ohms, Outcome: Value, Value: ohms}}
	}
	one, two := []EndID{"1"}, []EndID{"2"}
	w := fold(t, Entry{Pod: testPod, Describe: &pod}, Entry{Pod: testPod, Decision: &Decision{Kind: LeadOhms, Value: "0.3"}},
		read(0.2, "main", one, one), read(0.4, "main", one, two), read(0.8, "main", two, one), // leads off
		read(5, "low", one, two), read(7, "main", []EndID{"1", "3"}, two)).Pods[testPod] // another contact, a bunch
	link := Link{A: "1", B: "2", When: []Condition{{{Switch: "dip", Positions: []PositionID{"main"}}}}}
	if got, ok := w.OhmsOf(link); !ok || got != 0.5 {
		t.Errorf("%v %v, want 0.5", got, ok)
	}
	if got, ok := w.OhmsOf(Link{A: "2", B: "3"}); ok {
		t.Errorf("nobody read %v", got)
	}
}
