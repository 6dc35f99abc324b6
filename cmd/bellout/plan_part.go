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

// The two answers, as they are kept in the job.
const (
	heardBeep    = "beep"
	heardSilence = "silence"
)

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

// partOf checks the name of a part against those that the plan has.
func checkPart(p plan.Plan, name string) error {
	parts := plan.Parts(p)
	if slices.Contains(parts, name) {
		return nil
	}
	return inputProblem(fmt.Sprintf("the plan has no part %q that can be read by itself", name), "it has "+strings.Join(parts, ", "))
}

// heard are the answers that a job holds for the readings of a part.
func heard(list []plan.ProofReading, values map[string]string) map[string]bool {
	out := map[string]bool{}
	for _, r := range list {
		if v, ok := values[r.ID]; ok {
			out[r.ID] = v == heardBeep
		}
	}
	return out
}

// provePart lists the readings of a part with what was read, and names faults.
func provePart(w *world, p plan.Plan, name string, values map[string]string, asJSON bool) error {
	list := plan.ProofReadings(p, name)
	suspects := plan.NameFault(p, name, heard(list, values))
	if asJSON {
		lines, faults := []partLine{}, []suspectLine{}
		for _, r := range list {
			l := partLine{ID: r.ID, Red: r.Red, Black: r.Black, Beeps: r.Joined, Max: r.Max, Say: r.Say, Read: values[r.ID]}
			if l.Read != "" {
				pass := (l.Read == heardBeep) == r.Joined
				l.Passes = &pass
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
		fmt.Fprintf(b, "%s, unplugged: %s to show that it is as planned\n", oneLine(name), count(len(list), "reading"))
		for _, r := range list {
			mark := "[ ]"
			if v, ok := values[r.ID]; ok {
				mark = "[!]"
				if (v == heardBeep) == r.Joined {
					mark = "[x]"
				}
			}
			fmt.Fprintf(b, "%s %-10s %s\n", mark, r.ID, r.Say)
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

// askPart asks for the readings of a part that are still missing, and names the
// fault as soon as there is one.
func askPart(ctx context.Context, w *world, s *storage.Store, job *mapping.Job, p plan.Plan, name string) error {
	list, values := plan.ProofReadings(p, name), lastValues(job.Checks)
	for _, r := range list {
		if values[r.ID] != "" {
			continue
		}
		answer, err := askHeard(ctx, w, r)
		if err != nil {
			return err
		}
		if answer == "" {
			continue
		}
		pass := (answer == heardBeep) == r.Joined
		entry := mapping.Entry{At: w.milliseconds(), Check: &mapping.CheckResult{Check: r.ID, Value: answer, Pass: pass}}
		if _, err := s.Append(entry); err != nil {
			return err
		}
		values[r.ID] = answer
		if pass {
			fmt.Fprintln(w.out, "kept: as planned")
			continue
		}
		fmt.Fprintln(w.out, "kept: not as planned")
		printSuspects(w.out, plan.NameFault(p, name, heard(list, values)))
	}
	if suspects := plan.NameFault(p, name, heard(list, values)); len(suspects) > 0 {
		return findings()
	}
	return nil
}

// askHeard asks for a beep or a silence until it gets one.
func askHeard(ctx context.Context, w *world, r plan.ProofReading) (string, error) {
	fmt.Fprintf(w.out, "%s  %s\n", r.ID, r.Say)
	for {
		fmt.Fprint(w.out, "b or s> ")
		said, rerr := readLine(ctx, w.in)
		switch strings.ToLower(said) {
		case "b", heardBeep:
			return heardBeep, nil
		case "s", heardSilence, "silent":
			return heardSilence, nil
		case "q":
			return "", stoppedProof(w)
		case "":
			if rerr != nil {
				return "", stoppedProof(w)
			}
			return "", nil
		}
		fmt.Fprintln(w.out, "answer b for a beep, s for silence, nothing for later, q to stop")
	}
}

func stoppedProof(w *world) error {
	fmt.Fprintln(w.out)
	return &problem{code: exitInterrupted, text: "stopped before the last check; what was read is kept",
		hint: "the same command goes on from there"}
}
