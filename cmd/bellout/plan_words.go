package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"bellout/mapping/plan"

	"github.com/spf13/cobra"
)

func planWordsCommand(w *world) *cobra.Command {
	return &cobra.Command{
		Use:   "words",
		Short: "explain every key of a plan file, the points of wires, the library of loads",
		Long: `Prints what a plan file may say, for whoever writes one by hand: its tables and
keys in the order of the file, the points that wires go to, and the library of
typical loads with the source of each figure. A plan is TOML: every text in
"quotes", # begins a remark.`,
		Args: exactly(),
		RunE: func(_ *cobra.Command, _ []string) error { return printPlanWords(w.out) },
	}
}

func printPlanWords(to io.Writer) error {
	b := bufio.NewWriter(to)
	for i, t := range plan.Explain() {
		if i > 0 {
			fmt.Fprintln(b)
		}
		if t.Header == "" {
			fmt.Fprintf(b, "at the top: %s\n", t.Say)
		} else {
			fmt.Fprintf(b, "%s  %s\n", t.Header, t.Say)
		}
		for _, k := range t.Keys {
			fmt.Fprintln(b, strings.TrimRight(fmt.Sprintf("  %-16s  %s", k.Name, k.Say), " "))
		}
	}
	fmt.Fprintf(b, "\npoints that every plan has\n")
	for _, k := range plan.FixedPoints() {
		fmt.Fprintf(b, "  %-26s %s\n", k.Name, k.Say)
	}
	fmt.Fprintf(b, "\nkinds of load: watts at the machine's voltage\n")
	for _, k := range plan.Kinds() {
		figure := plainNumber(k.Watts) + " W"
		if k.Amps > 0 {
			figure = plainNumber(k.Amps) + " A"
		}
		fmt.Fprintf(b, "  %-22s %7s  %-6s  %s\n", k.Name, figure, k.Duty, k.Source)
	}
	return b.Flush()
}
