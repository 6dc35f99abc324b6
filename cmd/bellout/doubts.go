package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"bellout/mapping"
	"bellout/tui"

	"github.com/spf13/cobra"
)

// doubtLine is one doubt, for scripts. Bits are rounded to two places.
type doubtLine struct {
	Pod      string              `json:"pod"`
	Readings []mapping.ReadingID `json:"readings"`
	Say      []string            `json:"say"`
	Culprits []culpritLine       `json:"culprits"`
	Retest   *retestLine         `json:"retest,omitempty"`
	SetAside bool                `json:"set_aside"`
}

type culpritLine struct {
	Kind     string              `json:"kind"`
	Readings []mapping.ReadingID `json:"readings"`
	Switch   string              `json:"switch,omitempty"`
	Actual   string              `json:"actual,omitempty"`
	Bits     float64             `json:"bits"`
	Say      string              `json:"say"`
}

type retestLine struct {
	Red     []mapping.EndID   `json:"red"`
	Black   []mapping.EndID   `json:"black"`
	Control bool              `json:"control,omitempty"`
	Steps   []mapping.Setting `json:"steps"`
}

func doubtsCommand(w *world) *cobra.Command {
	var pod string
	var asJSON bool
	c := &cobra.Command{
		Use:   "doubts JOB",
		Short: "say which readings cannot all be right, and what settles it",
		Long: `Names, for every pod of the job, each smallest set of readings that cannot all
be right, what may have gone wrong, and the cheapest reading that settles it.
The exit code is 3 while a doubt stands that nobody has set aside.`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			_, job, entries, err := readJob(args[0])
			if err != nil {
				return err
			}
			keys := job.Order
			if pod != "" {
				key, _, err := pickPod(job, entries, pod)
				if err != nil {
					return err
				}
				keys = []mapping.PodKey{key}
			}
			list := []doubtLine{}
			for _, key := range keys {
				list = append(list, doubtsOf(w, job.Pods[key])...)
			}
			if asJSON {
				err = printJSON(w.out, map[string]any{"doubts": list})
			} else {
				err = printDoubts(w.out, list)
			}
			if err == nil && slices.ContainsFunc(list, func(d doubtLine) bool { return !d.SetAside }) {
				err = findings()
			}
			return err
		},
	}
	c.Flags().StringVar(&pod, "pod", "", "only those of the pod of this `NAME`")
	c.Flags().BoolVar(&asJSON, "json", false, "print the doubts as JSON")
	return c
}

func doubtsOf(w *world, work *mapping.PodWork) []doubtLine {
	var out []doubtLine
	live := work.Live()
	byID := map[mapping.ReadingID]mapping.Reading{}
	for _, r := range live {
		byID[r.ID] = r
	}
	for _, d := range w.infer(work).Doubts {
		line := doubtLine{Pod: work.Pod.Name, Readings: d.Readings, Culprits: []culpritLine{}, SetAside: work.Aside(d.Readings)}
		for _, id := range d.Readings {
			line.Say = append(line.Say, readingLine(work.Pod, byID[id]))
		}
		for _, k := range d.Culprits {
			line.Culprits = append(line.Culprits, culpritLine{
				Kind: culpritWord(k.Kind), Readings: k.Readings, Switch: string(k.Switch), Actual: string(k.Actual),
				Bits: math.Round(k.Bits*100) / 100, Say: tui.CulpritWords(k),
			})
		}
		if len(d.Retest.Red) > 0 {
			line.Retest = retestOf(work.Pod, d.Retest)
		}
		out = append(out, line)
	}
	return out
}

func retestOf(p mapping.Pod, s mapping.Sweep) *retestLine {
	r := &retestLine{Red: s.Red, Black: s.Black, Control: s.Control, Steps: []mapping.Setting{}}
	for _, step := range s.Steps {
		r.Steps = append(r.Steps, step.Full(p))
	}
	return r
}

func printDoubts(to io.Writer, list []doubtLine) error {
	if len(list) == 0 {
		_, err := fmt.Fprintln(to, "no doubts: no readings are known to contradict each other")
		return err
	}
	for _, d := range list {
		aside := ""
		if d.SetAside {
			aside = " (set aside)"
		}
		fmt.Fprintf(to, "%s: these readings cannot all be right%s\n", oneLine(d.Pod), aside)
		for _, s := range d.Say {
			fmt.Fprintf(to, "  %s\n", oneLine(s))
		}
		for i, c := range d.Culprits {
			word := "or"
			if i == 0 {
				word = "likeliest"
			}
			fmt.Fprintf(to, "  %s: %s\n", word, oneLine(c.Say))
		}
		if d.Retest != nil {
			s := mapping.Sweep{Red: d.Retest.Red, Black: d.Retest.Black, Control: d.Retest.Control}
			if _, err := fmt.Fprintf(to, "  re-test: %s, %s\n", oneLine(instruction(s)), mapping.Count(max(1, len(d.Retest.Steps)), "step")); err != nil {
				return err
			}
		}
	}
	return nil
}
