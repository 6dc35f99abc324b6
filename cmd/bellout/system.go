package main

import (
	"os"
	"runtime/debug"

	"bellout/mapping"

	"golang.org/x/term"
)

// isTerminal says whether a file is a terminal.
func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

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
