package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"

	"bellout/mapping"
	"bellout/mapping/fixture"
	"bellout/mapping/podfile"

	"github.com/spf13/cobra"
)

func podCommand(w *world) *cobra.Command {
	return group("pod", "look at descriptions of pods", podCheckCommand(w))
}

func podCheckCommand(w *world) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "say whether a pod description is in order, and what it describes",
		Long: `Reads a pod description (JSON, or the notation of *.pod fixtures) and says what
it describes, or in one sentence what is wrong with it. With --json it prints
the description in its full form.`,
		Example: `  bellout pod check left.json`,
		Args:    exactly("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			pod, err := readPodFile(w, args[0])
			if err != nil {
				return err
			}
			if asJSON {
				return podfile.Write(w.out, pod)
			}
			return printPod(w.out, pod)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the description as JSON")
	return c
}

// readPodFile reads a pod description: JSON, or fixture notation where the
// name ends in .pod. "-" is standard input, as JSON.
func readPodFile(w *world, path string) (mapping.Pod, error) {
	text, err := readInput(w, path, maxDescription)
	if err != nil {
		return mapping.Pod{}, err
	}
	var pod mapping.Pod
	if filepath.Ext(path) == ".pod" && !bytes.HasPrefix(bytes.TrimSpace(text), []byte("{")) {
		var f *fixture.Fixture
		if f, err = fixture.Parse(bytes.NewReader(text)); err == nil {
			pod = f.Pod
		}
	} else {
		pod, err = podfile.Read(bytes.NewReader(text))
	}
	if err != nil {
		return mapping.Pod{}, &problem{code: exitInput, text: path + ": " + err.Error(), err: err,
			hint: "mend the description, then try bellout pod check " + path}
	}
	return pod, nil
}

func printPod(to io.Writer, p mapping.Pod) error {
	var b bytes.Buffer
	total := 1
	for _, sw := range p.Switches {
		total *= len(sw.Positions)
	}
	fmt.Fprintf(&b, "%s: %s, %s, %s\n", p.Name, mapping.Count(len(p.Ends), "end"), mapping.Count(len(p.Switches), "switch"), mapping.Count(total, "setting"))
	for _, e := range p.Ends {
		fmt.Fprintf(&b, "  end %-6s %s\n", e.ID, endWords(e))
		if says := mapping.IECWarning(e.Base, e.Tracer); says != "" {
			fmt.Fprintf(&b, "      note: %s\n", says)
		}
	}
	for _, sw := range p.Switches {
		fmt.Fprintf(&b, "  switch %s\n", switchWords(sw))
	}
	fmt.Fprintf(&b, "The textbook grid takes %s.\n", mapping.Minutes(mapping.GridSeconds(p)))
	_, err := to.Write(b.Bytes())
	return err
}

func endWords(e mapping.End) string {
	if e.Kind == mapping.Body {
		return "the metal body"
	}
	s := "wire"
	if e.Base != "" {
		s = e.Base.Name()
		if e.Tracer != "" {
			s += " with a " + e.Tracer.Name() + " tracer"
		}
	}
	if e.Cavity != "" {
		s += ", cavity " + e.Cavity
	}
	return s
}

func switchWords(sw mapping.Switch) string {
	s := string(sw.Name) + ":"
	for _, q := range sw.Positions {
		s += " " + string(q)
	}
	s += "; rests at " + string(sw.Rest)
	if sw.Momentary {
		s += ", springs back"
	}
	if sw.Legend != "" {
		s += ", legend " + sw.Legend
	}
	return s
}
