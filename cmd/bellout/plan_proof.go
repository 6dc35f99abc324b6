package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"bellout/mapping"
	"bellout/mapping/plan"
	"bellout/storage"

	"github.com/spf13/cobra"
)

// proofLine is one check of a harness with what was read, for scripts.
type proofLine struct {
	ID     string  `json:"id"`
	Group  string  `json:"group"`
	Do     string  `json:"do"`
	Red    string  `json:"red,omitempty"`
	Black  string  `json:"black,omitempty"`
	Set    string  `json:"set,omitempty"`
	Expect string  `json:"expect"`
	Unit   string  `json:"unit"`
	Min    float64 `json:"min,omitempty"`
	Max    float64 `json:"max,omitempty"`
	Bad    string  `json:"if_not"`
	Read   string  `json:"read,omitempty"`
	Passes *bool   `json:"passes,omitempty"`
}

func planProofCommand(w *world) *cobra.Command {
	var job, part string
	var ask, asJSON bool
	c := &cobra.Command{
		Use:   "proof FILE",
		Short: "list the checks of the finished harness, with the values to expect",
		Long: `Lists the cold checks of the finished harness and the order of first power, with
the values to expect from this plan. With --job the values that were read stand
beside them; --ask asks for those that are still missing and again for those that
do not pass, one line each, and keeps every answer before it asks for the next.
The last answer counts. An answer is what the meter
shows (0.2, 12k, OL), y or n for a tick; nothing is "later", q ends it. The exit
code is 3 while a value that was read does not pass.

With --part it lists the fewest beeps and silences that show the loom, or one
module, to be wired as planned while it is unplugged; a fault is named: two
cavities swapped, a wire open, two nets joined.`,
		Example: `  bellout plan proof plan.toml
  bellout plan proof plan.toml --job twin --ask
  bellout plan proof plan.toml --part loom --job twin --ask`,
		Args: exactly("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			p, err := readPlan(w, args[0])
			if err != nil {
				return err
			}
			if part != "" {
				if err := checkPart(p, part); err != nil {
					return err
				}
			}
			if ask {
				if job == "" {
					return usageProblem("--ask needs --job JOB to keep the answers in", "for example: bellout plan proof plan.toml --job twin --ask")
				}
				return withJob(job, func(s *storage.Store, kept *mapping.Job) error {
					if part != "" {
						return askPart(c.Context(), w, s, kept, p, part)
					}
					return askProof(c.Context(), w, s, kept, p)
				})
			}
			read, err := valuesRead(job)
			if err != nil {
				return err
			}
			if part != "" {
				return provePart(w, p, part, read, asJSON)
			}
			lines := proofLines(p, read)
			if asJSON {
				err = printJSON(w.out, map[string]any{"checks": lines, "first_power": powerLines(p)})
			} else {
				err = printProof(w.out, p, lines)
			}
			if err == nil && failing(lines) > 0 {
				return findings()
			}
			return err
		},
	}
	f := c.Flags()
	f.StringVar(&job, "job", "", "show the values read that this `JOB` holds")
	f.StringVar(&part, "part", "", "only the wiring of one `PART`: loom, or a module's name")
	f.BoolVar(&ask, "ask", false, "ask for the values that are missing or do not pass")
	f.BoolVar(&asJSON, "json", false, "print the list as JSON")
	return c
}

func proofLines(p plan.Plan, read map[string]string) []proofLine {
	lines := []proofLine{}
	for _, c := range plan.ProofList(p) {
		lines = append(lines, proofLineOf(c, read[c.ID]))
	}
	return lines
}

func proofLineOf(c plan.ProofCheck, read string) proofLine {
	l := proofLine{ID: c.ID, Group: c.Group, Do: c.Do, Red: c.Red, Black: c.Black, Set: c.Set,
		Expect: c.Expect, Unit: c.Unit, Min: c.Min, Max: c.Max, Bad: c.Bad, Read: read}
	if pass, ok := judgeValue(c, read); ok {
		l.Passes = &pass
	}
	return l
}

type powerLine struct {
	Number int     `json:"number"`
	Do     string  `json:"do"`
	Expect string  `json:"expect"`
	Low    float64 `json:"low,omitempty"`
	High   float64 `json:"high,omitempty"`
	Bad    string  `json:"if_not"`
}

func powerLines(p plan.Plan) []powerLine {
	lines := []powerLine{}
	for _, s := range plan.FirstPower(p) {
		lines = append(lines, powerLine{s.Number, s.Do, s.Expect, s.Low, s.High, s.Bad})
	}
	return lines
}

func failing(lines []proofLine) int {
	n := 0
	for _, l := range lines {
		if l.Passes != nil && !*l.Passes {
			n++
		}
	}
	return n
}

// judgeValue says whether a value passes a check; not ok where there is none,
// or where nobody can tell.
func judgeValue(c plan.ProofCheck, said string) (pass, ok bool) {
	if said == "" {
		return false, false
	}
	if c.Unit == "tick" {
		switch strings.ToLower(said) {
		case "y", "yes", "ok":
			return true, true
		case "n", "no":
			return false, true
		}
		return false, false
	}
	v, err := meterValue(said)
	if err != nil || !limited(c) {
		return false, false
	}
	most := c.Max
	if most == 0 {
		most = math.Inf(1)
	}
	return v >= c.Min && v <= most, true
}

// limited tells that a check has limits; what is read where there are none is
// only noted.
func limited(c plan.ProofCheck) bool { return c.Min != 0 || c.Max != 0 }

// settled tells that a check has a value that need not be read again.
func settled(c plan.ProofCheck, said string) bool {
	if c.Unit != "tick" && !limited(c) {
		_, err := meterValue(said)
		return err == nil
	}
	pass, ok := judgeValue(c, said)
	return ok && pass
}

// meterValue is what a meter shows in ohms; over range is more than any.
func meterValue(said string) (float64, error) {
	d, err := mapping.ParseDisplay(said)
	switch {
	case err != nil:
		return 0, err
	case d.Mode == mapping.Diode:
		return 0, fmt.Errorf("%q is volts: set the meter to ohms", mapping.Clean(said, mapping.MaxName))
	case d.Over:
		return math.Inf(1), nil
	}
	return d.Value, nil
}

// What every proof list begins with.
const (
	proofHead = "PROOF LIST  "
	proofNote = "Battery out, loads unplugged unless a line says otherwise, leads zeroed."
)

func printProof(to io.Writer, p plan.Plan, lines []proofLine) error {
	b := bufio.NewWriter(to)
	fmt.Fprintf(b, proofHead+"%s\n"+proofNote+"\n", oneLine(p.Name))
	group := ""
	for _, l := range lines {
		if l.Group != group {
			group = l.Group
			fmt.Fprintf(b, "\n%s\n", group)
		}
		printCheck(b, l)
	}
	fmt.Fprintf(b, "\nFIRST POWER, in this order\n")
	for _, l := range powerLines(p) {
		fmt.Fprintf(b, "%3d. %s\n     expect %s; if not: %s\n", l.Number, l.Do, l.Expect, l.Bad)
	}
	if n := failing(lines); n > 0 {
		fmt.Fprintf(b, "\nnot passed: %s\n", mapping.Count(n, "value"))
	}
	return b.Flush()
}

func printCheck(to io.Writer, l proofLine) {
	mark := "[ ]"
	switch {
	case l.Passes != nil && *l.Passes:
		mark = "[x]"
	case l.Passes != nil:
		mark = "[!]"
	}
	fmt.Fprintf(to, "%s %-14s %s\n", mark, l.ID, l.Do)
	if l.Red != "" {
		where := fmt.Sprintf("red %s, black %s", l.Red, l.Black)
		if l.Set != "" {
			where += ", set " + l.Set
		}
		fmt.Fprintf(to, "    %s\n", where)
	}
	fmt.Fprintf(to, "    expect %s; if not: %s\n", l.Expect, l.Bad)
	if l.Read != "" {
		fmt.Fprintf(to, "    read %s\n", oneLine(l.Read))
	}
}

// askProof goes through the checks that have no value yet, or one that does not
// pass.
func askProof(ctx context.Context, w *world, s *storage.Store, job *mapping.Job, p plan.Plan) error {
	read := job.LastValues()
	for _, c := range plan.ProofList(p) {
		if settled(c, read[c.ID]) {
			continue
		}
		value, pass, err := askCheck(ctx, w, c, read[c.ID])
		if err != nil {
			return err
		}
		if value == "" {
			continue
		}
		entry := mapping.Entry{At: w.milliseconds(), Check: &mapping.CheckResult{Check: c.ID, Value: value, Pass: pass}}
		if _, err := s.Append(entry); err != nil {
			return err
		}
		read[c.ID] = value
		if pass {
			fmt.Fprintln(w.out, "kept: passes")
		} else {
			fmt.Fprintf(w.out, "kept: does not pass; %s\n", c.Bad)
		}
	}
	if n := failing(proofLines(p, read)); n > 0 {
		fmt.Fprintf(w.out, "not passed: %s\n", mapping.Count(n, "value"))
		return findings()
	}
	return nil
}

// askCheck asks until the answer can be understood, and says what was read last
// time. The end of the input and q end the whole proof; what was kept is kept.
func askCheck(ctx context.Context, w *world, c plan.ProofCheck, last string) (value string, pass bool, err error) {
	printCheck(w.out, proofLineOf(c, last))
	for {
		fmt.Fprint(w.out, "read> ")
		said, rerr := readLine(ctx, w.in)
		switch {
		case said == "q" || said == "" && rerr != nil:
			return "", false, stoppedProof(w)
		case said == "":
			return "", false, nil
		}
		if pass, ok := judgeValue(c, said); ok {
			return said, pass, nil
		}
		if settled(c, said) {
			return said, true, nil
		}
		if c.Unit == "tick" {
			fmt.Fprintln(w.out, "answer y or n, nothing for later, q to stop")
		} else if _, err := meterValue(said); err != nil {
			fmt.Fprintf(w.out, "%s; nothing for later, q to stop\n", oneLine(err.Error()))
		}
	}
}
