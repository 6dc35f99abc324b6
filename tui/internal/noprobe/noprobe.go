// Package noprobe keeps the program from questioning the terminal on start.
//
// bubbletea v1 asks the terminal for its background in a package
// initialisation, waits up to five seconds for an answer and eats what is
// typed meanwhile. Telling lipgloss the answer first stops the question. It
// works because the Go toolchain initialises packages that do not depend on
// each other in the order of their import paths, and
// "bellout/tui/internal/noprobe" sorts before "github.com/charmbracelet". The
// background that is told here is never used: every style names its colours
// itself.
package noprobe

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
