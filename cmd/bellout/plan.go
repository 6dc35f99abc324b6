package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"bellout/mapping/plan"

	"github.com/spf13/cobra"
)

func planCommand(w *world) *cobra.Command {
	return group("plan", "the harness: make a plan, check it, put it on paper, prove it",
		planNewCommand(w), planCheckCommand(w), planShareCommand(w), planWhatifCommand(w),
		planWordsCommand(w),
		planSheetCommand(w), planProofCommand(w))
}

// readPlan reads a plan file; files that it names are looked for beside it.
func readPlan(w *world, path string) (plan.Plan, error) {
	text, err := readInput(w, path, maxPlan)
	if err != nil {
		return plan.Plan{}, err
	}
	folder := filepath.Dir(path)
	p, err := plan.Read(path, text, func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) {
			name = filepath.Join(folder, name)
		}
		return readBeside(name)
	})
	var mistakes plan.Mistakes
	if errors.As(err, &mistakes) && len(mistakes) > 0 {
		lines := strings.Split(mistakes.Error(), "\n")
		return plan.Plan{}, &problem{code: exitInput, text: lines[0], more: lines[1:], err: err,
			hint: "mend the plan file, then try bellout plan check " + path}
	}
	return p, err
}

func planCheckCommand(w *world) *cobra.Command {
	var asJSON, meant bool
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "find what is wrong with a plan, over every setting of every pod",
		Long: `Checks a plan over every setting of every pod and every position of the key, and
every plug and fuse pulled. The exit code is 0 only when nothing is found;
findings that the plan marks as meant do not count. What burns comes first: mend a
short before you read on, much of what follows may be its doing.`,
		Args: exactly("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := readPlan(w, args[0])
			if err != nil {
				return err
			}
			all := plan.CheckAll(p)
			found := plan.Unmeant(all)
			if asJSON {
				lines := []findingLine{}
				for _, f := range found {
					lines = append(lines, findingLineOf(f))
				}
				err = printJSON(w.out, map[string]any{"findings": lines})
			} else {
				err = printFindings(w.out, p, all, meant)
			}
			if err == nil && len(found) > 0 {
				return findings()
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the findings as JSON")
	c.Flags().BoolVar(&meant, "meant", false, "list what the plan marks as meant as well")
	return c
}

// findingLine is a finding as programs read it: these four and no others. The
// path that the current takes is part of what is said.
type findingLine struct {
	Kind    string `json:"kind"`
	Where   string `json:"where"`
	Setting string `json:"setting"`
	Say     string `json:"say"`
}

func findingLineOf(f plan.Finding) findingLine {
	say := f.Say
	if len(f.Path) > 0 {
		say += "; path: " + strings.Join(f.Path, " > ")
	}
	return findingLine{f.Kind, f.Where, f.Setting, say}
}

func printFindings(to io.Writer, p plan.Plan, all []plan.Judged, listMeant bool) error {
	var b strings.Builder
	found := plan.Unmeant(all)
	for _, f := range found {
		fmt.Fprintf(&b, "%s at %s", f.Kind, f.Where)
		if f.Setting != "" {
			fmt.Fprintf(&b, ", with %s", f.Setting)
		}
		fmt.Fprintf(&b, ": %s\n", f.Say)
		if len(f.Path) > 0 {
			fmt.Fprintf(&b, "    path: %s\n", strings.Join(f.Path, " > "))
		}
	}
	for _, x := range p.Bypasses {
		fmt.Fprintln(&b, x.Notice())
	}
	meant := 0
	for _, j := range all {
		if j.Meant {
			meant++
			if listMeant {
				fmt.Fprintf(&b, "meant: %s at %s: %s (%s)\n", j.Kind, j.Where, j.Say, j.Why)
			}
		}
	}
	if len(found) == 0 {
		b.WriteString("nothing found")
	} else {
		fmt.Fprintf(&b, "%d found", len(found))
	}
	if meant > 0 && !listMeant {
		fmt.Fprintf(&b, "; %d more are marked as meant, --meant lists them", meant)
	}
	b.WriteString("\n")
	_, err := io.WriteString(to, b.String())
	return err
}

// defaultPlan is the plan that is looked into when none is named.
const defaultPlan = "plan.toml"

// symptomHint shows a symptom that this very plan has an answer to.
func symptomHint(p plan.Plan) string {
	for _, l := range p.Loads {
		symptom := strings.ToLower(l.Name) + " dead"
		if _, err := plan.Roadside(p, symptom); err == nil {
			return "say what is dead by the name it has in the plan, for example: " + oneLine(symptom)
		}
	}
	return "give the plan its loads first: bellout plan check lists what is missing"
}

func roadsideCommand(w *world) *cobra.Command {
	var file string
	c := &cobra.Command{
		Use:   "roadside [PLAN] SYMPTOM...",
		Short: "say in five lines where to look: fuse, plug, cavity, wire, what to expect",
		Long: `Answers a symptom from the plan in five lines. The plan is the first argument if
that is a file, else --plan, else plan.toml in the current folder.`,
		Example: `  bellout roadside left indicators dead
  bellout roadside harness.toml no horn`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageProblem("bellout roadside needs a SYMPTOM", "for example: bellout roadside left indicators dead")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if st, err := os.Stat(args[0]); err == nil && !st.IsDir() && !c.Flags().Changed("plan") {
				file, args = args[0], args[1:]
			}
			symptom := strings.Join(args, " ")
			if symptom == "" {
				return usageProblem("bellout roadside needs a SYMPTOM after the plan", "for example: left indicators dead")
			}
			if _, err := os.Stat(file); err != nil && !c.Flags().Changed("plan") && file == defaultPlan {
				return usageProblem("there is no "+defaultPlan+" in this folder", "name the plan: bellout roadside PLAN SYMPTOM, or --plan FILE")
			}
			p, err := readPlan(w, file)
			if err != nil {
				return err
			}
			lines, err := plan.Roadside(p, symptom)
			if err != nil {
				return inputProblem(err.Error(), symptomHint(p))
			}
			for _, l := range lines {
				if _, err := fmt.Fprintln(w.out, l); err != nil {
					return err
				}
			}
			return nil
		},
	}
	c.Flags().StringVar(&file, "plan", defaultPlan, "the plan in `FILE`")
	return c
}
