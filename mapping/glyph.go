package mapping

// Glyphs are the signs of the contact table: a joined cell and an apart cell
// in each grade, and the tie between joined ends. Each is one column wide and
// told apart by its shape, so that no colour is needed and a photocopy still
// reads; "apart and not tested" never looks like "apart and proved".
type Glyphs struct {
	joined, apart [Proved + 1]string
	Tie           string
}

// UnicodeGlyphs are for screens and paper; every sign is in the fonts that
// come with the printed page.
func UnicodeGlyphs() Glyphs {
	return Glyphs{
		joined: [...]string{NotTested: "·", OpenQuestion: "?", Likely: "○", Proved: "●"},
		apart:  [...]string{NotTested: "·", OpenQuestion: "?", Likely: "-", Proved: " "},
		Tie:    "═",
	}
}

// ASCIIGlyphs are for terminals and files that take nothing else.
func ASCIIGlyphs() Glyphs {
	return Glyphs{
		joined: [...]string{NotTested: ".", OpenQuestion: "?", Likely: "o", Proved: "#"},
		apart:  [...]string{NotTested: ".", OpenQuestion: "?", Likely: "-", Proved: " "},
		Tie:    "=",
	}
}

// Cell is the sign for one cell of the contact table.
func (g Glyphs) Cell(joined bool, grade Grade) string {
	if grade < NotTested || grade > Proved {
		grade = NotTested
	}
	if joined {
		return g.joined[grade]
	}
	return g.apart[grade]
}

// Grade is the sign that stands beside the word for a grade.
func (g Glyphs) Grade(grade Grade) string { return g.Cell(true, grade) }

// Legend explains the signs in one line of fewer than 80 columns.
func (g Glyphs) Legend() string {
	return "joined: " + g.joined[Proved] + " proved " + g.joined[Likely] + " likely   " +
		"apart: blank proved " + g.apart[Likely] + " likely   " +
		g.apart[OpenQuestion] + " open   " + g.apart[NotTested] + " not tested"
}
