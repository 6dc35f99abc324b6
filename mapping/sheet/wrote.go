package sheet

import (
	"bytes"

	"bellout/mapping/sheet/ink"
)

// Two titles that the paper always has.
const (
	diagramTitle = "The diagram in words"
	buildTitle   = "Build sheet"
)

// Wrote says whether a text is the paper of a plan, in whichever form.
func Wrote(text []byte) bool {
	has := func(s string) bool { return bytes.Contains(text, []byte(s)) }
	switch {
	case bytes.HasPrefix(text, []byte("%PDF-")):
		return ink.WrotePDF(text)
	case bytes.HasPrefix(text, []byte("<!DOCTYPE html>\n")):
		return has(css)
	}
	return has("\n"+bar(diagramTitle)+"\n") && has("\n"+bar(buildTitle)+"\n")
}
