package main

import (
	"context"
	"fmt"

	"bellout/inference"
	"bellout/mapping"

	"github.com/spf13/cobra"
)

func demoCommand(w *world) *cobra.Command {
	var o screenOptions
	var auto bool
	c := &cobra.Command{
		Use:   "demo",
		Short: "learn the method on a practice pod; the program plays pod and meter",
		Long: `A practice pod of nine wires with a hidden junction, a link that makes no sense
and one wrong reading in store. In a terminal you answer, with an old hand
looking on and a score in bench minutes; without one, or with --auto, the demo
plays itself through and prints the pinout. Nothing is kept.`,
		Args: exactly(),
		RunE: func(c *cobra.Command, _ []string) error {
			if auto || !w.terminal && !o.plain {
				return demoPlay(c.Context(), w)
			}
			return demoScreen(c.Context(), w, o)
		},
	}
	o.register(c)
	c.Flags().BoolVar(&auto, "auto", false, "play it through without asking")
	return c
}

// startPractice describes the practice pod in a job that is kept nowhere.
func startPractice(leads mapping.Leads) (*practice, *memoryJob, error) {
	meter, err := newPractice()
	if err != nil {
		return nil, nil, err
	}
	job := &memoryJob{}
	_, err = job.Append(
		mapping.Entry{Title: &mapping.Title{Name: "practice"}},
		mapping.Entry{Pod: podKey, Describe: &meter.pod.Pod},
		mapping.Entry{Pod: podKey, Sitting: &mapping.Sitting{Number: 1, Leads: leads}},
	)
	return meter, job, err
}

// demoPlay plays the practice pod through and prints the pinout.
func demoPlay(ctx context.Context, w *world) error {
	meter, job, err := startPractice(mapping.BunchLeads)
	if err != nil {
		return err
	}
	pod := meter.pod.Pod
	fmt.Fprintf(w.out, "Practice pod: %s.\n", meter.pod.About)
	if err := printPod(w.out, pod); err != nil {
		return err
	}
	fmt.Fprintf(w.out, "Before any continuity reading: pod unplugged, or the battery's negative off.\n")
	play := &selfPlay{
		out: w.out, meter: meter, job: job,
		engine: inference.NewEngine(pod, nil),
		bench:  mapping.Bench{Leads: mapping.BunchLeads, Levers: pod.Rest()},
	}
	if err := play.play(ctx); err != nil {
		return err
	}
	entries, err := job.Entries()
	if err != nil {
		return err
	}
	folded, err := mapping.Fold(entries)
	if err != nil {
		return err
	}
	work := folded.Pods[podKey]
	result := inference.Infer(pod, work.Live())
	play.score(result)
	fmt.Fprintln(w.out)
	return buildPinout(pageWords{job: "practice"}, work, result).WriteText(w.out, mapping.UnicodeGlyphs())
}

// demoScreen lets the builder answer, with the old hand looking on.
func demoScreen(ctx context.Context, w *world, o screenOptions) error {
	if err := o.check(w); err != nil {
		return err
	}
	leads := mapping.PairLeads
	if o.leads == "bunch" {
		leads = mapping.BunchLeads
	}
	meter, job, err := startPractice(leads)
	if err != nil {
		return err
	}
	o.pod = string(podKey)
	return runScreens(ctx, w, job, "", o, meter)
}
