package main

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"bellout/mapping/plan"

	"github.com/spf13/cobra"
)

func planShareCommand(w *world) *cobra.Command {
	var asJSON, why bool
	c := &cobra.Command{
		Use:   "share FILE",
		Short: "hold the plan's sharing of loads over ways against the best one",
		Long: `Shares the loads of a plan over its fused ways anew: fewest broken rules first,
then the smallest fullest way, by an exact search. Loads that hang on one feed
of a pod stay together. It says which way each load is planned on, which way it
is on in the best sharing, and with --why what keeps it off the others.`,
		Example: `  bellout plan share plan.toml --why`,
		Args:    exactly("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := readPlan(w, args[0])
			if err != nil {
				return err
			}
			feeds := sharedFeeds(p)
			if asJSON {
				return printJSON(w.out, map[string]any{"feeds": feeds})
			}
			return printShared(w.out, feeds, why)
		},
	}
	c.Flags().BoolVar(&why, "why", false, "say for each load why it is not on other ways")
	c.Flags().BoolVar(&asJSON, "json", false, "answer as JSON")
	return c
}

type sharedFeed struct {
	Feed  string       `json:"feed"`
	Say   []string     `json:"say"`
	Ways  []sharedWay  `json:"best"`
	Loads []sharedLoad `json:"loads"`
	Exact bool         `json:"exact"`
}

type sharedWay struct {
	Way    string   `json:"way"`
	Fuse   float64  `json:"fuse_a"`
	Steady float64  `json:"steady_a"`
	Peak   float64  `json:"peak_a"`
	Loads  []string `json:"loads"`
}

type sharedLoad struct {
	Load    string   `json:"load"`
	Steady  float64  `json:"steady_a"`
	Peak    float64  `json:"peak_a"`
	Planned string   `json:"planned"`
	Best    string   `json:"best"`
	Refused []string `json:"refused"`
}

func sharedFeeds(p plan.Plan) []sharedFeed {
	planned := map[string]string{}
	for _, x := range plan.Work(p).Ways {
		for _, l := range x.Loads {
			planned[l] = x.Name
		}
	}
	out := []sharedFeed{}
	for _, f := range plan.ShareOut(p) {
		s := sharedFeed{Feed: string(f.Feed), Say: f.Say, Loads: []sharedLoad{}, Exact: f.Best.Exact}
		for i, name := range f.Ways {
			s.Ways = append(s.Ways, sharedWay{name, f.Best.Fuse[i], f.Best.Steady[i], f.Best.Peak[i], []string{}})
		}
		for i, l := range f.Loads {
			way := &s.Ways[f.Best.Way[i]]
			way.Loads = append(way.Loads, l.Name)
			s.Loads = append(s.Loads, sharedLoad{l.Name, l.Steady, l.Peak, planned[l.Name], way.Way, slices.Concat([]string{}, f.Refused(l.Name))})
		}
		out = append(out, s)
	}
	return out
}

func printShared(to io.Writer, feeds []sharedFeed, why bool) error {
	b := bufio.NewWriter(to)
	if len(feeds) == 0 {
		fmt.Fprintln(b, "the plan has no way yet: add [[block.way]] to it")
	}
	for i, f := range feeds {
		if i > 0 {
			fmt.Fprintln(b)
		}
		for _, s := range f.Say {
			fmt.Fprintln(b, s)
		}
		for _, x := range f.Ways {
			if len(x.Loads) == 0 {
				fmt.Fprintf(b, "  %-4s free\n", x.Way)
				continue
			}
			fuse := "no fuse fits"
			if x.Fuse > 0 {
				fuse = plainNumber(x.Fuse) + " A"
			}
			fmt.Fprintf(b, "  %-4s %-5s  %.1f A steady, %.1f A at most: %s\n", x.Way, fuse, x.Steady, x.Peak, strings.Join(x.Loads, ", "))
		}
		for _, l := range f.Loads {
			if l.Planned == l.Best && !why {
				continue
			}
			fmt.Fprintf(b, "  %s: planned on %s, best on %s\n", l.Load, l.Planned, l.Best)
			if why {
				for _, r := range l.Refused {
					fmt.Fprintf(b, "      not on %s\n", r)
				}
			}
		}
	}
	return b.Flush()
}
