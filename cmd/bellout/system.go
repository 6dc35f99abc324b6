package main

import (
	"os"
	"runtime/debug"

	"bellout/mapping"

	"golang.org/x/term"
)

// isTerminal says whether a file is a terminal.
func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// columnsOf is how wide a terminal is; 0 for what is none.
func columnsOf(f *os.File) int {
	w, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return w
}

// version is what the Go toolchain wrote into the program.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(unversioned)"
	}
	return info.Main.Version
}

// oneLine makes text that may have come from outside safe for one line of a
// terminal. An error that needs more room is a file, not a sentence.
func oneLine(s string) string {
	const longest = 600
	return mapping.Clean(s, longest)
}
