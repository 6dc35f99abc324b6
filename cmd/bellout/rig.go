package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"bellout/cmd/bellout/internal/rig"
	"bellout/inference"
	"bellout/mapping"
	"bellout/mapping/podfile"
	"bellout/storage"

	"github.com/spf13/cobra"
)

// rigOptions is the command line of the rig.
type rigOptions struct {
	pod   string
	name  string
	leads string
	job   string
}

func rigCommand(w *world) *cobra.Command {
	var o rigOptions
	c := &cobra.Command{
		Use:   "rig (--pod FILE | --job FILE) [--leads pair|bunch]",
		Short: "let a program answer: asks on standard output, answers on standard input",
		Long: `Asks for sweeps on standard output and takes the answers on standard input, one
JSON object a line, so that a jig or a simulated pod can stand in for the
builder.

An ask is {"ask": {"id": 7, "red": ["3"], "black": ["1","2"], "mode": "beep",
"steps": [{"turn": "left", "dip": "low"}, ...], "why": "..."}}; its answer is
{"id": 7, "readings": ["open", "closed", ...]}, one reading a step. In mode ohms
a reading is a number or "OL", in mode diode the volts from red to black or
"OL"; "not sure" is allowed anywhere. A control beep has "control": true and
takes one reading. The last line is the map.

With --job every answer is kept before the next line is written, and the same
command with --job alone goes on from there.`,
		Example: `  bellout rig --pod left.json --leads pair
  bellout rig --pod left.json --leads bunch --job left.bellout
  bellout rig --job left.bellout`,
		Args: exactly(),
		RunE: func(c *cobra.Command, _ []string) error {
			if o.leads != "" {
				if err := oneOf("leads", o.leads, "pair", "bunch"); err != nil {
					return err
				}
			}
			return runRig(c.Context(), w, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.pod, "pod", "", "description of the pod in `FILE`: JSON, or *.pod notation")
	f.StringVar(&o.leads, "leads", "", "how the meter is held: `LEADS` pair (one end a side) or bunch (default: as before, else pair)")
	f.StringVar(&o.job, "job", "", "keep every answer in the job `FILE`, and go on from what it holds")
	f.StringVar(&o.name, "name", "", "`NAME` of the pod in a job of several (default: the one worked on last)")
	_ = c.RegisterFlagCompletionFunc("leads", words("pair", "bunch"))
	return c
}

func runRig(ctx context.Context, w *world, o rigOptions) (err error) {
	var pod mapping.Pod
	if o.pod == "-" {
		return usageProblem("--pod - would take the answers for a description: they come on standard input", "write the description to a file and name it")
	}
	if o.pod != "" {
		if pod, err = readPodFile(w, o.pod); err != nil {
			return err
		}
	}
	if o.pod == "" && o.job == "" {
		return usageProblem("bellout rig needs --pod FILE, or --job FILE to go on from", "for example: bellout rig --pod left.json --leads pair")
	}
	job, err := rigJournal(o, pod)
	if err != nil {
		return err
	}
	defer func() { err = closed(err, job.Close()) }()
	r, err := seatRig(w, job, o, pod)
	if err != nil {
		return err
	}
	return rigEnd(r.Run(ctx, w.in, w.out), r, o)
}

// rigJournal opens the job file, or makes it where there is none yet.
func rigJournal(o rigOptions, pod mapping.Pod) (journal, error) {
	if o.job == "" {
		return &memoryJob{}, nil
	}
	if namesFolder(o.job) {
		return nil, folderProblem(o.job)
	}
	_, err := os.Stat(o.job)
	if !errors.Is(err, fs.ErrNotExist) {
		return storage.Open(o.job)
	}
	if o.pod == "" {
		return nil, &problem{code: exitFailed, text: o.job + " is not there",
			hint: "check the name, or give --pod FILE to begin a new job"}
	}
	return storage.Create(o.job, pod.Name)
}

// seatRig begins a sitting on the pod: the one that was given, described first
// if the job does not have it, or the one that the job has.
func seatRig(w *world, job journal, o rigOptions, given mapping.Pod) (*rig.Rig, error) {
	entries, err := job.Entries()
	if err != nil {
		return nil, err
	}
	folded, err := mapping.Fold(entries)
	if err != nil {
		return nil, err
	}
	var key mapping.PodKey
	var work *mapping.PodWork
	var begin []mapping.Entry
	if o.pod != "" {
		key, work, err = pickPod(folded, entries, given.Name)
		switch {
		case err != nil:
			key, work = mapping.PodKey(given.Name), &mapping.PodWork{Pod: given}
			begin = append(begin, mapping.Entry{Pod: key, At: w.milliseconds(), Describe: &given})
		case !samePod(work.Pod, given):
			return nil, inputProblem(fmt.Sprintf("the job describes pod %q otherwise than %s", given.Name, o.pod),
				"leave out --pod to go on with the job's own description, or use another job")
		}
	} else if key, work, err = pickPod(folded, entries, o.name); err != nil {
		return nil, err
	}
	leads := work.Leads
	switch o.leads {
	case "bunch":
		leads = mapping.BunchLeads
	case "pair":
		leads = mapping.PairLeads
	}
	// A fresh pod lies as its maker left it. After a break nobody vouches for
	// the levers, nor for the clips.
	bench := mapping.Bench{Leads: leads}
	if work.Session == 0 {
		bench.Levers = work.Pod.Rest()
	}
	sitting := mapping.Sitting{Number: work.Session + 1, Leads: leads}
	begin = append(begin, mapping.Entry{Pod: key, At: w.milliseconds(), Sitting: &sitting})
	if _, err := job.Append(begin...); err != nil {
		return nil, err
	}
	return &rig.Rig{
		Pod: work.Pod, Key: key, Session: sitting.Number, Bench: bench,
		Engine: inference.NewEngine(work.Pod, work.Live()), Journal: job,
		Kept: len(work.Readings), Now: w.milliseconds,
	}, nil
}

// samePod compares two descriptions as they would be written down.
func samePod(a, b mapping.Pod) bool {
	var x, y bytes.Buffer
	return podfile.Write(&x, a) == nil && podfile.Write(&y, b) == nil && bytes.Equal(x.Bytes(), y.Bytes())
}

// rigEnd puts the end of a sitting into the words of the command line.
func rigEnd(err error, r *rig.Rig, o rigOptions) error {
	var bad *rig.Malformed
	switch {
	case errors.As(err, &bad):
		return inputProblem(bad.Say, "") // one line, as the protocol promises
	case !errors.Is(err, rig.ErrEnded) && !errors.Is(err, context.Canceled):
		return err
	case o.job == "":
		return &problem{code: exitInterrupted, err: err,
			text: fmt.Sprintf("stopped before the map was done, after %s", mapping.Count(r.Kept, "reading")),
			hint: "with --job FILE they would be kept"}
	}
	return &problem{code: exitInterrupted, err: err,
		text: fmt.Sprintf("stopped before the map was done; kept: %s", mapping.Count(r.Kept, "reading")),
		hint: "bellout rig --job " + o.job + " goes on from there"}
}
