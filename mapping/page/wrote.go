package page

import "bytes"

// producer is the program's name as WritePDF leaves it in a document: UTF-16
// with its mark before it.
const producer = "/Producer (\xfe\xff\x00b\x00e\x00l\x00l\x00o\x00u\x00t)"

// Wrote says whether a text was written by WritePDF or WriteHTML.
func Wrote(text []byte) bool {
	switch {
	case bytes.HasPrefix(text, []byte("%PDF-")):
		return bytes.Contains(text, []byte(producer))
	case bytes.HasPrefix(text, []byte(htmlHead)):
		return bytes.Contains(text, []byte(htmlStyle))
	}
	return false
}
