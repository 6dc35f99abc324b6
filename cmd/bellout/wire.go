package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bellout/mapping/plan"

	"github.com/spf13/cobra"
)

func wireCommand(w *world) *cobra.Command {
	var ask plan.WireAsk
	var awg string
	var mm2, celsius float64
	var asJSON bool
	c := &cobra.Command{
		Use:   "wire",
		Short: "size a wire for a current over a length, or tell what a size drops",
		Long: `Names the smallest metric and AWG size that carries the current and keeps the
voltage drop, or tells what a named size drops. The length is there and back.
The tables that the figures come from are named in the answer.`,
		Example: `  bellout wire --amps 5 --total-m 3 --volts 12 --drop-percent 3
  bellout wire --amps 5 --total-m 3 --volts 12 --mm2 1.0`,
		Args: exactly(),
		RunE: func(c *cobra.Command, _ []string) error {
			given := c.Flags().Changed
			if !given("amps") || !given("total-m") {
				return usageProblem("bellout wire needs --amps and --total-m", "for example: bellout wire --amps 5 --total-m 3")
			}
			if given("awg") {
				n, err := gauge(awg)
				if err != nil {
					return err
				}
				ask.AWG = &n
			}
			if given("mm2") {
				ask.MM2 = &mm2
			}
			if given("celsius") {
				ask.Celsius = &celsius
			}
			// A named size is asked for its drop; it breaks no limit that
			// nobody set.
			if (ask.AWG != nil || ask.MM2 != nil) && !given("drop-percent") {
				ask.DropPercent = 0
			}
			answer, err := plan.SizeWire(ask)
			if err != nil {
				return inputProblem(err.Error(), "bellout wire --help shows what it takes")
			}
			if asJSON {
				return printJSON(w.out, answer)
			}
			return printWire(w.out, ask, answer)
		},
	}
	f := c.Flags()
	f.Float64Var(&ask.Amps, "amps", 0, "current in `AMPS`")
	f.Float64Var(&ask.TotalM, "total-m", 0, "length there and back in `METRES`")
	f.Float64Var(&ask.Volts, "volts", 12, "supply in `VOLTS`")
	f.Float64Var(&ask.DropPercent, "drop-percent", 3, "most drop allowed, in `PERCENT` of the supply")
	f.StringVar(&awg, "awg", "", "tell what this `GAUGE` drops (24 to 1, 1/0 or 0)")
	f.Float64Var(&mm2, "mm2", 0, "tell what this metric size in `MM2` drops")
	f.Float64Var(&celsius, "celsius", 20, "temperature of the copper in `DEGREES`")
	f.BoolVar(&asJSON, "json", false, "answer as JSON")
	return c
}

// gauge reads an AWG number; 1/0 is written 0 in the tables.
func gauge(s string) (int, error) {
	if s == "1/0" {
		return 0, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		return 0, usageProblem(fmt.Sprintf("--awg %q is no gauge", s), "give a number such as 18")
	}
	return n, nil
}

func printWire(to io.Writer, ask plan.WireAsk, a plan.WireAnswer) error {
	var b strings.Builder
	metric, awg := plainNumber(a.MM2)+" mm2", fmt.Sprintf("AWG %d", a.AWG)
	switch {
	case ask.AWG != nil:
		fmt.Fprintf(&b, "size     %s (the metric size with at least as much copper: %s)\n", awg, metric)
	case ask.MM2 != nil:
		fmt.Fprintf(&b, "size     %s (the gauge with at least as much copper: %s)\n", metric, awg)
	default:
		fmt.Fprintf(&b, "size     %s, or %s\n", metric, awg)
	}
	fmt.Fprintf(&b, "drop     %.3f V, %.2f %% of %s V, over %s m there and back at %s A\n",
		a.VoltsDropped, a.Percent, plainNumber(ask.Volts), plainNumber(ask.TotalM), plainNumber(ask.Amps))
	fmt.Fprintf(&b, "carries  %s A for good, one wire alone in air of 30 C\n", plainNumber(a.AmpsAllowed))
	fmt.Fprintf(&b, "fuse     %s A\n", plainNumber(a.FuseA))
	for _, n := range a.Notes {
		fmt.Fprintf(&b, "note     %s\n", n)
	}
	for _, s := range a.Sources {
		fmt.Fprintf(&b, "source   %s\n", s)
	}
	_, err := io.WriteString(to, b.String())
	return err
}

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// printJSON writes one value as readable JSON.
func printJSON(to io.Writer, v any) error {
	enc := json.NewEncoder(to)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
