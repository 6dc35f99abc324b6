// Package tui is what the builder sees, hears and presses: one file a screen.
//
// It proposes nothing by itself and concludes nothing: an Engine does that, in
// commands that run while the builder is busy at the bench, so that no key
// ever waits for it. It keeps nothing by itself either: a Keeper does, one
// write in flight, and an answer shows as being saved until the Keeper has
// acknowledged it.
//
// Rules of the house for every screen: one thing to do at a time and always in
// the same place; no line wider than the terminal; what does not fit is said
// to be cut; nothing is told by colour alone; text that came from outside is
// cleaned before it is kept and before it is shown; the terminal is asked
// nothing.
//
// There are two ways to the same work: the full screen (app.go and the
// screens) and plain lines (plain.go) for a terminal that has no cursor
// addressing, for a screen reader, or for a script.
package tui
