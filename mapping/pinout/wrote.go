package pinout

import (
	"bytes"
	"strings"

	"bellout/mapping/page"
)

// The heads between which every pinout in plain text has its parts.
const (
	tablesHead = "CONTACT TABLES  (other switches at rest)"
	linksHead  = "LINKS AND THE READINGS BEHIND THEM"
)

// Wrote says whether a text is a pinout, in whichever form.
func Wrote(text []byte) bool {
	starts := func(s string) bool { return bytes.HasPrefix(text, []byte(s)) }
	switch {
	case starts("PINOUT  "):
		return bytes.Contains(text, []byte("\n"+tablesHead+"\n")) && bytes.Contains(text, []byte("\n"+linksHead+"\n"))
	case starts("# Pinout: "):
		return bytes.Contains(text, []byte("\n"+markdownHead+"\n"))
	case starts(strings.Join(csvHead, ",") + "\n"):
		return true
	case starts("{"):
		p, err := ReadJSON(bytes.NewReader(text))
		return err == nil && bytes.Contains(text, []byte(`"drawn_from":`)) && p.Pod != ""
	}
	return page.Wrote(text)
}
