package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"bellout/mapping"
	"bellout/mapping/plan"

	"github.com/spf13/cobra"
)

func planWhatifCommand(w *world) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "whatif FILE [PLUG|WAY]...",
		Short: "say what dies and what lives with a plug pulled, a fuse out, a plug in the wrong socket",
		Long: `Pulls each plug and takes each way's fuse out, on paper: what then stops in every
setting, what goes on working, and what stops though it is none of that module's
business. Then it tries each plug in the socket of every other one. With names
it does so for those plugs and ways only.`,
		Example: `  bellout plan whatif plan.toml
  bellout plan whatif plan.toml PR W5`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageProblem("bellout plan whatif needs FILE", "for example: bellout plan whatif plan.toml PR")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := readPlan(w, args[0])
			if err != nil {
				return err
			}
			wanted := map[string]bool{}
			for _, name := range args[1:] {
				if err := pullable(p, name); err != nil {
					return err
				}
				wanted[name] = true
			}
			pulls, tries := []pulled{}, []tried{}
			for _, u := range plan.Unplug(p) {
				if len(wanted) == 0 || wanted[u.Where] {
					pulls = append(pulls, pulled{u.Kind, u.Where, notNull(u.Dies), notNull(u.Lives), notNull(u.Beyond)})
				}
			}
			for _, x := range plan.TryPlugs(p) {
				if len(wanted) == 0 || wanted[x.Plug] {
					tries = append(tries, tried{x.Plug, x.Socket, x.Fits, x.Harm, notNull(x.Effects)})
				}
			}
			if asJSON {
				return printJSON(w.out, map[string]any{"pulled": pulls, "wrong_socket": tries})
			}
			return printWhatif(w.out, pulls, tries)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "answer as JSON")
	return c
}

type pulled struct {
	Kind   string   `json:"kind"` // plug or fuse
	Name   string   `json:"name"`
	Dies   []string `json:"dies"`
	Lives  []string `json:"lives"`
	Beyond []string `json:"dies_outside"`
}

type tried struct {
	Plug    string   `json:"plug"`
	Socket  string   `json:"socket"`
	Fits    bool     `json:"fits"`
	Harm    bool     `json:"harm"`
	Effects []string `json:"effects"`
}

// notNull is a list that is never null in JSON.
func notNull(s []string) []string { return append([]string{}, s...) }

func pullable(p plan.Plan, name string) error {
	var known []string
	for _, x := range p.Plugs {
		known = append(known, x.Name)
	}
	for _, x := range p.Block.Ways {
		known = append(known, x.Name)
	}
	for _, k := range known {
		if k == name {
			return nil
		}
	}
	return inputProblem(fmt.Sprintf("the plan has no plug or way %q", oneLine(name)), "it has "+strings.Join(known, ", "))
}

func printWhatif(to io.Writer, pulls []pulled, tries []tried) error {
	b := bufio.NewWriter(to)
	words := func(names []string) string {
		if len(names) == 0 {
			return "nothing"
		}
		return strings.Join(names, ", ")
	}
	for _, u := range pulls {
		verb := "pull plug " + u.Name
		if u.Kind == "fuse" {
			verb = "fuse of " + u.Name + " out"
		}
		fmt.Fprintf(b, "%s\n  dies     %s\n  lives    %s\n", verb, words(u.Dies), words(u.Lives))
		if len(u.Beyond) > 0 {
			fmt.Fprintf(b, "  OUTSIDE  %s\n", words(u.Beyond))
		}
	}
	apart := 0
	for _, x := range tries {
		if !x.Fits {
			apart++
			continue
		}
		harm := ""
		if x.Harm {
			harm = "HARM: "
		}
		fmt.Fprintf(b, "plug %s in the socket of %s: %s%s\n", x.Plug, x.Socket, harm, strings.Join(x.Effects, "; "))
	}
	if apart > 0 {
		fmt.Fprintf(b, "%s into the socket of another: kept apart by housing, ways or keying\n", mapping.Count(apart, "try")+" of a plug")
	}
	return b.Flush()
}
