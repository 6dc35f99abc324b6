// Package sheet is the paper of a harness plan: the one-page diagram, the build
// sheet, the proof list, the order of first power and the roadside box "how it
// reads when healthy"; as PDF, as one HTML page that needs nothing else, and as
// text of 80 columns. Black on white; nothing is told by colour.
//
// Everything comes from a plan and what package plan works out of it; the
// caller gives what was read of the proof list. No clock, no I/O: the same
// input gives the same bytes. Text from outside is cleaned, and characters that
// the embedded font lacks are drawn as U+ and their number.
//
//	in := sheet.Gather(p, read)      // read: check ID to the value read; nil
//	pdf, err := sheet.PDF(in)
//	page, err := sheet.HTML(in)
//	text := sheet.Text(in)
package sheet
