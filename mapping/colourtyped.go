package mapping

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// otherNames are words for a colour beside the table's own: English variants,
// and what looms are called in the trade (common practice).
var otherNames = []struct {
	name string
	code Colour
}{
	{"gray", "GY"}, {"slate", "GY"}, {"purple", "VT"}, {"mauve", "VT"}, {"lilac", "VT"},
	{"amber", "OG"}, {"cyan", "TQ"},
}

// shades say how light a colour is, which the standard has no code for.
var shades = []string{"light", "dark", "pale", "sky", "bright", "deep"}

// fillers join the two colours of a wire in what people type.
var fillers = []string{"with", "and", "a", "an", "the", "tracer", "stripe", "trace", "wire", "line"}

// ParseColours reads what somebody types for a wire's colour, base before
// tracer: a code or two ("BU", "buwh", "BU WH", "BU/WH"), words ("blue/white",
// "light green with a red tracer", "white on blue"), or as much of a word as
// leaves no doubt ("br"). "" is a wire whose colour nobody has said. A letter
// that could be several colours is asked back in one sentence: "B" is black,
// brown or blue in different looms.
func ParseColours(typed string) (base, tracer Colour, err error) {
	text := strings.ToLower(Clean(typed, MaxText))
	if text == "" {
		return "", "", nil
	}
	var found []Colour
	swap := false
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch {
		case w == "on" && len(found) == 1:
			swap = true
			continue
		case slices.Contains(fillers, w), slices.Contains(shades, w):
			continue
		}
		c, err := colourWord(w)
		if err != nil {
			return "", "", err
		}
		found = append(found, c...)
	}
	if swap && len(found) == 2 {
		slices.Reverse(found)
	}
	switch {
	case len(found) == 1:
		return found[0], "", nil
	case len(found) == 2 && found[0] != found[1]:
		return found[0], found[1], nil
	case len(found) == 2:
		return found[0], "", nil
	case len(found) > 2:
		return "", "", fmt.Errorf("%q has %d colours: write the base and one tracer, such as BU/WH", Clean(typed, MaxName), len(found))
	}
	return "", "", noColour(typed)
}

func noColour(typed string) error {
	return fmt.Errorf("%q is no colour: write codes such as BU or BU/WH (%s), or words such as blue/white", Clean(typed, MaxName), codeList())
}

// colourWord reads one word: a code, two codes joined, a name, or the
// beginning of a name.
func colourWord(w string) ([]Colour, error) {
	up := strings.ToUpper(w)
	if Colour(up).Order() > 0 {
		return []Colour{Colour(up)}, nil
	}
	if len(up) == 4 {
		a, b := Colour(up[:2]), Colour(up[2:])
		if a.Order() > 0 && b.Order() > 0 {
			return []Colour{a, b}, nil
		}
	}
	var fits []Colour
	for _, c := range colourTable {
		if strings.HasPrefix(c.name, w) {
			fits = append(fits, c.code)
		}
	}
	for _, o := range otherNames {
		if strings.HasPrefix(o.name, w) && !slices.Contains(fits, o.code) {
			fits = append(fits, o.code)
		}
	}
	switch len(fits) {
	case 0:
		return nil, noColour(w)
	case 1:
		return fits, nil
	}
	var words []string
	for _, c := range fits {
		words = append(words, fmt.Sprintf("%s (%s)", c.Name(), c))
	}
	last := len(words) - 1
	return nil, fmt.Errorf("%q could be %s or %s: which is it?", up, strings.Join(words[:last], ", "), words[last])
}
