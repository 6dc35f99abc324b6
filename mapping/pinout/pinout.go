// Package pinout turns what is known of a pod into the page that the builder
// works from: end by end its flag, colour, cavities, function, terminal number
// and grade; the contact table of each switch; what is not known, in words; and
// the readings behind every claim.
//
// It promises that nothing is said more surely than it is known: a function is
// proposed from what the contacts do and from the names that the builder gave,
// and where continuity cannot settle a question, the page says "could be
// either" and what would settle it. The builder's word overrules a proposal and
// changes no reading. All outputs are byte-stable: no clock, no locale.
package pinout

import (
	"fmt"

	"bellout/mapping"
)

// Evidence is what stands behind a map. The engine's result gives it through a
// few lines of adaptor; FromMap stands in where there are no readings.
type Evidence interface {
	// Verdict says whether two ends are joined in a setting, and how surely.
	Verdict(s mapping.Setting, a, b mapping.EndID) (joined bool, grade mapping.Grade)
	// Why names the readings that the verdict rests on, in order.
	Why(s mapping.Setting, a, b mapping.EndID) []mapping.ReadingID
	// Common is the end that most contacts of a switch share; known with no end
	// says that it has none.
	Common(sw mapping.SwitchID) (end mapping.EndID, known bool)
}

// Input is everything that a pinout is made from. Job, Date, Revision, By and
// Serial are printed as the builder gives them and may be empty.
type Input struct {
	Job, Date, Revision, By, Serial string

	Work     *mapping.PodWork
	Map      mapping.Map
	Evidence Evidence // nil: FromMap

	Questions []Question            // what is open besides what the map has as unresolved
	Doubts    [][]mapping.ReadingID // readings that cannot all be right, unless set aside
}

// Graded is a grade that is written as its word.
type Graded mapping.Grade

// String gives the word.
func (g Graded) String() string { return mapping.Grade(g).String() }

// MarshalText gives the word.
func (g Graded) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// UnmarshalText reads the word.
func (g *Graded) UnmarshalText(text []byte) error {
	v, err := mapping.ParseGrade(string(text))
	*g = Graded(v)
	return err
}

// The words for what continuity cannot settle.
const (
	Harmless = "could be either, harmless"
	Matters  = "could be either, matters"
)

// Pinout is the page as data. Texts are clean and in the pod's order.
type Pinout struct {
	Pod      string `json:"pod"`
	Job      string `json:"job,omitempty"`
	Date     string `json:"date,omitempty"`
	Revision string `json:"revision,omitempty"`
	By       string `json:"by,omitempty"`
	Serial   string `json:"serial,omitempty"`

	Face       string     `json:"face"` // which face of the plug is meant, or FaceNotStated
	Counts     Counts     `json:"drawn_from"`
	Ends       []End      `json:"ends"`
	Tables     []Table    `json:"tables"`
	Links      []Link     `json:"links"`
	Unresolved []Link     `json:"unresolved"`
	Dead       []string   `json:"dead_ends"`
	Bridged    [][]string `json:"permanently_joined"`
	Notes      []string   `json:"notes"`
	Cautions   []string   `json:"cautions"`
	Readings   []Reading  `json:"readings"`
}

// FaceNotStated stands where nobody has said which face of the plug is meant.
const FaceNotStated = "face not stated"

// Counts says what a pinout was drawn from: readings that stand, readings
// struck out, links by grade, pairs that are not settled, and sets of readings
// that cannot all be right.
type Counts struct {
	Readings  int `json:"readings"`
	StruckOut int `json:"struck_out"`
	Proved    int `json:"proved"`
	Likely    int `json:"likely"`
	Open      int `json:"open"`
	NotTested int `json:"not_tested"`
	Doubts    int `json:"doubts,omitempty"`
}

// String is the line that stands on every page.
func (c Counts) String() string {
	s := fmt.Sprintf("drawn from %d readings", c.Readings)
	if c.StruckOut > 0 {
		s += fmt.Sprintf(" (%d more struck out)", c.StruckOut)
	}
	s += fmt.Sprintf("; links: %d proved, %d likely, %d open, %d not tested", c.Proved, c.Likely, c.Open, c.NotTested)
	switch {
	case c.Doubts == 1:
		s += "; 1 doubt"
	case c.Doubts > 1:
		s += fmt.Sprintf("; %d doubts", c.Doubts)
	}
	return s
}

// End is one line of the pinout. Grade is how sure the function's contact is,
// held down where the name is less sure than the contact. Says is Harmless,
// Matters or empty; Do is what would settle it. Proposed keeps the program's
// own proposal where the builder overruled it.
type End struct {
	ID        string `json:"id"`
	Kind      string `json:"kind"`
	Base      string `json:"base,omitempty"`
	Tracer    string `json:"tracer,omitempty"`
	IEC       string `json:"iec,omitempty"`
	Colour    string `json:"colour,omitempty"`
	OldCavity string `json:"old_cavity,omitempty"`
	NewCavity string `json:"new_cavity,omitempty"`
	Function  string `json:"function"`
	Terminal  string `json:"terminal,omitempty"`
	Grade     Graded `json:"grade"`
	Says      string `json:"says,omitempty"`
	Do        string `json:"do,omitempty"`
	Overruled bool   `json:"overruled,omitempty"`
	Proposed  string `json:"proposed,omitempty"`
	Fate      string `json:"fate,omitempty"`
}

// Link is two ends joined, when, how surely, and the readings behind it. Ohms
// is the highest resistance read across it, the leads' own taken off; nil where
// nobody has read ohms.
type Link struct {
	Between  [2]string           `json:"between"`
	When     string              `json:"when"`
	Grade    Graded              `json:"grade"`
	Ohms     *float64            `json:"ohms,omitempty"`
	Readings []mapping.ReadingID `json:"readings"`
}

// Reading is a reading that a link rests on, in words.
type Reading struct {
	ID   mapping.ReadingID `json:"id"`
	Says string            `json:"says"`
}

// Build works the pinout out. It is total: a pod of which nothing is known
// gives a page that says so.
func Build(in Input) Pinout {
	b := newBuilder(in)
	p := Pinout{
		Pod: b.text(b.pod.Name), Job: b.text(in.Job), Date: b.text(in.Date), Revision: b.text(in.Revision),
		By: b.text(in.By), Serial: b.text(in.Serial), Face: FaceNotStated,
		Dead: []string{}, Bridged: [][]string{},
	}
	if face, ok := b.in.Work.Decided(mapping.PlugFace, ""); ok && b.text(face) != "" {
		p.Face = b.text(face)
	}
	p.Counts = b.counts()
	b.claimAll()
	p.Ends = b.ends()
	p.Tables = b.tables()
	p.Links = b.links(b.known)
	p.Unresolved = b.unresolved()
	for _, e := range b.dead() {
		if b.met(e) {
			p.Dead = append(p.Dead, b.id(e))
		}
	}
	for _, net := range b.bridges() {
		var ids []string
		for _, e := range net {
			ids = append(ids, b.id(e))
		}
		p.Bridged = append(p.Bridged, ids)
	}
	p.Notes = b.pageNotes(p)
	p.Cautions = b.cautions(p)
	p.Readings = b.cited(p)
	return p
}

// fromMap is the evidence of a map alone.
type fromMap struct {
	pod mapping.Pod
	m   mapping.Map
}

// FromMap takes a map at its word: a join has its link's grade, or the weakest
// grade in use where it follows from several; what is not joined is not
// tested, and no reading stands behind anything.
func FromMap(pod mapping.Pod, m mapping.Map) Evidence { return fromMap{pod, m} }

func (f fromMap) Verdict(s mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	if !f.m.Joined(f.pod, s, a, b) {
		return false, mapping.NotTested
	}
	weakest := mapping.Proved
	for _, l := range f.m.Links {
		if !l.Holds(f.pod, s) {
			continue
		}
		if l.A == a && l.B == b || l.A == b && l.B == a {
			return true, l.Grade
		}
		if f.m.Joined(f.pod, s, a, l.A) {
			weakest = min(weakest, l.Grade)
		}
	}
	return true, weakest
}

func (f fromMap) Why(mapping.Setting, mapping.EndID, mapping.EndID) []mapping.ReadingID { return nil }

func (f fromMap) Common(mapping.SwitchID) (mapping.EndID, bool) { return "", false }
