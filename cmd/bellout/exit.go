package main

import (
	"context"
	"errors"
	"io/fs"
)

// exitCode is what the program hands back to whoever started it.
type exitCode int

// The exit codes. README.md prints the same table, and a test compares the two.
const (
	exitOK          exitCode = 0
	exitFailed      exitCode = 1
	exitUsage       exitCode = 2
	exitFindings    exitCode = 3
	exitInput       exitCode = 4
	exitLocked      exitCode = 5
	exitDamaged     exitCode = 6
	exitInterrupted exitCode = 7
)

// exitMeanings is the one table of exit codes, for the man page and the README.
var exitMeanings = []struct {
	code exitCode
	word string
	says string
}{
	{exitOK, "ok", "done, and nothing to look at"},
	{exitFailed, "failed", "something outside gave way: no such file, no right to write, disk full"},
	{exitUsage, "usage", "the command line was not understood"},
	{exitFindings, "findings", "done, and there is something to look at: a doubt, a finding of a plan, a check that does not pass"},
	{exitInput, "input", "a file or an answer that was given is wrong in itself"},
	{exitLocked, "locked", "another bellout has the job open"},
	{exitDamaged, "damaged", "no job file, a damaged one, or one from a newer bellout"},
	{exitInterrupted, "interrupted", "stopped before the end; whatever was acknowledged is kept"},
}

// problem is an error for a person: one sentence, and what to do about it.
// A problem without text ends the program silently, everything having been
// said in the output already.
type problem struct {
	code exitCode
	text string
	more []string // further lines of the same kind, for a file with several mistakes
	hint string
	err  error
}

func (p *problem) Error() string { return p.text }

func (p *problem) Unwrap() error { return p.err }

// usageProblem is a command line that was not understood.
func usageProblem(text, hint string) error {
	return &problem{code: exitUsage, text: text, hint: hint}
}

// inputProblem is a file or an answer that is wrong in itself.
func inputProblem(text, hint string) error {
	return &problem{code: exitInput, text: text, hint: hint}
}

// findings ends a command that did its work and found something.
func findings() error { return &problem{code: exitFindings} }

// explain turns any error into a problem: the one place where causes become
// exit codes and advice.
func explain(err error) *problem {
	var p *problem
	if errors.As(err, &p) {
		return p
	}
	p = &problem{code: exitFailed, text: err.Error(), err: err}
	switch {
	case errors.Is(err, context.Canceled):
		p.code, p.text = exitInterrupted, "stopped before the end"
		p.hint = "what was acknowledged is kept; the same command goes on from there"
	case explainStore(err, p):
	case errors.Is(err, fs.ErrNotExist):
		p.hint = "check the spelling; bellout jobs lists what there is"
	case errors.Is(err, fs.ErrPermission):
		p.hint = "choose a folder that you may write to"
	}
	return p
}
