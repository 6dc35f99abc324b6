package main

import (
	"errors"
	"io/fs"
	"os"

	"bellout/mapping"
	"bellout/mapping/plan"
)

// harnessFile is the plan that the screens show: a file of the builder's, read
// anew each time, and never written over.
type harnessFile struct {
	w    *world
	path string
}

func (h harnessFile) Where() string { return h.path }

func (h harnessFile) Load() (plan.Plan, error) {
	if _, err := os.Stat(h.path); errors.Is(err, fs.ErrNotExist) {
		return plan.Plan{}, fs.ErrNotExist
	}
	p, err := readPlan(h.w, h.path)
	var said *problem
	if errors.As(err, &said) {
		var mistakes plan.Mistakes
		if errors.As(said.err, &mistakes) {
			return p, mistakes
		}
		return p, errors.New(said.text)
	}
	return p, err
}

func (h harnessFile) Make(log []mapping.Entry) ([]string, error) {
	job, err := mapping.Fold(log)
	if err != nil {
		return nil, err
	}
	quiet := *h.w
	quiet.watched = false // how far it is would be written across the screens
	// What is left to the builder stands in the plan's note as well.
	wrote, _, err := writeNewPlan(&quiet, job, output{path: h.path})
	return wrote, err
}
