package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/mapping/plan"
	"bellout/storage"
)

// The proof of one part of a harness, the loom or a module, unplugged: the
// fewest readings that show it to be as planned, and the fault that explains
// what was read, by its name.

type partLine struct {
	ID     string   `json:"id"`
	Red    []string `json:"red"`
	Black  []string `json:"black"`
	Beeps  bool     `json:"beeps"` // as planned
	Max    float64  `json:"max_ohms,omitempty"`
	Say    string   `json:"say"`
	Read   string   `json:"read,omitempty"`
	Passes *bool    `json:"passes,omitempty"`
}

type suspectLine struct {
	Kind   string   `json:"kind"`
	Points []string `json:"points"`
	Say    string   `json:"say"`
	Retest string   `json:"retest,omitempty"`
}

// checkPart checks the name of a part against those that the plan has.
func checkPart(p plan.Plan, name string) error {
	parts := plan.Parts(p)
	if slices.Contains(parts, name) {
		return nil
	}
	return inputProblem(fmt.Sprintf("the plan has no part %q that can be read by itself", name), "it has "+strings.Join(parts, ", "))
}

// provePart lists the readings of a part with what was read, and names faults.
func provePart(w *world, p plan.Plan, name string, values map[string]string, asJSON bool) error {
	list := plan.ProofReadings(p, name)
	heard := plan.Heard(list, values)
	suspects := plan.NameFault(p, name, heard)
	if asJSON {
		lines, faults := []partLine{}, []suspectLine{}
		for _, r := range list {
			l := partLine{ID: r.ID, Red: r.Red, Black: r.Black, Beeps: r.Joined, Max: r.Max, Say: r.Say}
			if beep, ok := heard[r.ID]; ok {
				value, pass := r.Answer(beep)
				l.Read, l.Passes = value, &pass
			}
			lines = append(lines, l)
		}
		for _, s := range suspects {
			faults = append(faults, suspectLine(s))
		}
		if err := printJSON(w.out, map[string]any{"part": name, "readings": lines, "suspects": faults}); err != nil {
			return err
		}
	} else {
		b := bufio.NewWriter(w.out)
		fmt.Fprintf(b, "%s, unplugged: %s to show that it is as planned\n", oneLine(name), mapping.Count(len(list), "reading"))
		for i, r := range list {
			mark := "[ ]"
			if beep, ok := heard[r.ID]; ok {
				mark = "[!]"
				if beep == r.Joined {
					mark = "[x]"
				}
			}
			fmt.Fprintf(b, "%s %2d  %s\n", mark, i+1, r.Say)
		}
		printSuspects(b, suspects)
		if err := b.Flush(); err != nil {
			return err
		}
	}
	if len(suspects) > 0 {
		return findings()
	}
	return nil
}

func printSuspects(to io.Writer, suspects []plan.Suspect) {
	for i, s := range suspects {
		word := "or"
		if i == 0 {
			word = "likely"
		}
		fmt.Fprintf(to, "%s: %s", word, s.Say)
		if s.Retest != "" {
			fmt.Fprintf(to, "; to tell: %s", s.Retest)
		}
		fmt.Fprintln(to)
	}
}

// askPart asks for the readings of a part that are still missing or differ from
// the plan, and names the fault as soon as there is one.
func askPart(ctx context.Context, w *world, s *storage.Store, job *mapping.Job, p plan.Plan, name string) error {
	list := plan.ProofReadings(p, name)
	heard := plan.Heard(list, job.LastValues())
	for i, r := range list {
		before, have := heard[r.ID]
		if have && before == r.Joined {
			continue
		}
		fmt.Fprintf(w.out, "%d of %d  %s\n", i+1, len(list), r.Say)
		if have {
			value, _ := r.Answer(before)
			fmt.Fprintf(w.out, "last time: %s, not as planned; read it again once it is mended\n", value)
		}
		beep, answered, err := askHeard(ctx, w)
		if err != nil {
			return err
		}
		if !answered {
			continue
		}
		value, pass := r.Answer(beep)
		entry := mapping.Entry{At: w.milliseconds(), Check: &mapping.CheckResult{Check: r.ID, Value: value, Pass: pass}}
		if _, err := s.Append(entry); err != nil {
			return err
		}
		heard[r.ID] = beep
		if pass {
			fmt.Fprintln(w.out, "kept: as planned")
			continue
		}
		fmt.Fprintln(w.out, "kept: not as planned")
		printSuspects(w.out, plan.NameFault(p, name, heard))
	}
	if suspects := plan.NameFault(p, name, heard); len(suspects) > 0 {
		return findings()
	}
	return nil
}

// askHeard asks until it gets a beep, a silence, or nothing for later.
func askHeard(ctx context.Context, w *world) (beep, answered bool, err error) {
	for {
		fmt.Fprint(w.out, "b or s> ")
		said, rerr := readLine(ctx, w.in)
		switch strings.ToLower(said) {
		case "b", plan.AnswerBeep:
			return true, true, nil
		case "s", plan.AnswerSilence, "silent":
			return false, true, nil
		case "q":
			return false, false, stoppedProof(w)
		case "":
			if rerr != nil {
				return false, false, stoppedProof(w)
			}
			return false, false, nil
		}
		fmt.Fprintln(w.out, "answer b for a beep, s for silence, nothing for later, q to stop")
	}
}

func stoppedProof(w *world) error {
	fmt.Fprintln(w.out)
	return &problem{code: exitInterrupted, text: "stopped before the last check; what was read is kept",
		hint: "the same command goes on from there"}
}
