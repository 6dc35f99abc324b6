package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"bellout/inference"
	"bellout/mapping"
	"bellout/mapping/pinout"
	"bellout/mapping/plan"
	"bellout/mapping/podfile"
	"bellout/storage"

	"github.com/spf13/cobra"
)

func planNewCommand(w *world) *cobra.Command {
	out := output{path: defaultPlan}
	c := &cobra.Command{
		Use:   "new JOB",
		Short: "make a first plan from the maps of a job",
		Long: `Writes a first plan of the harness from what the job knows of its pods: a module
and a plug for each pod, and the loads that usually hang on what was found.
Lengths are guesses and loads typical ones: read it through and mend it. Beside
the plan it writes the description and the map of each pod. A file that is there
already is never replaced unless --force is given, and only by one of its kind.`,
		Example:           `  bellout plan new twin -o twin/plan.toml`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			path, job, _, err := readJob(args[0])
			if err != nil {
				return err
			}
			if len(job.Order) == 0 {
				return inputProblem("the job has no pod yet", "describe and probe one first: bellout open "+args[0])
			}
			out.reads = []string{path}
			wrote, left, err := writeNewPlan(w, job, out)
			if err != nil {
				return err
			}
			for _, path := range wrote {
				fmt.Fprintf(w.out, "%s\n", oneLine(path))
			}
			for _, say := range left {
				fmt.Fprintf(w.out, "%s\n", oneLine(say))
			}
			fmt.Fprintf(w.out, "lengths are guesses and loads typical ones: read the plan through, then bellout plan check %s\n", oneLine(out.path))
			return nil
		},
	}
	c.Flags().StringVarP(&out.path, "output", "o", out.path, "write to `FILE`")
	c.Flags().BoolVar(&out.force, "force", false, "replace files that are there already")
	return c
}

// writeNewPlan writes a first plan of a job with the files that it names, and
// says which, and what it leaves to the builder: all of them or, where one is
// there already, none.
func writeNewPlan(w *world, job *mapping.Job, out output) (wrote, left []string, err error) {
	beside := out
	beside.makes, out.makes = descriptionFile, planFile
	place := func(name string) output {
		beside.path = filepath.Join(filepath.Dir(out.path), name)
		return beside
	}
	var pods []plan.NewPod
	var files []draft
	taken := map[string]bool{}
	for _, key := range job.Order {
		work := job.Pods[key]
		r := w.infer(work)
		name := planName(work.Pod.Name, taken)
		m := r.Map
		m.Unresolved = pinout.Unsettled(pinoutInput(work, r)) // as the pinout counts them
		pod := plan.NewPod{
			Name: name, Module: name, PodFile: name + ".json", MapFile: name + ".map.json",
			Desc: work.Pod, Map: m, Ohms: measured(work, m), Functions: functions(work, r), Insulate: fated(work, "insulate"), Leave: fated(work, "leave"),
		}
		pod.Key, pod.KeyOff = keySwitch(work.Pod)
		pods = append(pods, pod)
		files = append(files,
			draft{place(pod.PodFile), func(to io.Writer) error { return podfile.Write(to, work.Pod) }},
			draft{place(pod.MapFile), func(to io.Writer) error {
				_, err := to.Write(plan.WriteMap(m))
				return err
			}})
	}
	p, left := plan.New(job.Name, pods)
	text := plan.Write(p)
	files = append(files, draft{out, func(to io.Writer) error {
		_, err := to.Write(text)
		return err
	}})
	wrote, err = writeAll(w, files)
	return wrote, left, err
}

// planName makes the name of a pod fit for the points of a plan, "name.end".
func planName(name string, taken map[string]bool) string {
	base := strings.TrimSuffix(filepath.Base(storage.PathFor("", name)), storage.Extension)
	unique := base
	for n := 2; taken[unique]; n++ {
		unique = base + "-" + strconv.Itoa(n)
	}
	taken[unique] = true
	return unique
}

// functions are what the job calls its ends, as far as that is likely at least.
func functions(work *mapping.PodWork, r inference.Result) map[mapping.EndID]plan.Function {
	out := map[mapping.EndID]plan.Function{}
	for _, e := range buildPinout(pageWords{}, work, r).Ends {
		if mapping.Grade(e.Grade).Known() {
			out[mapping.EndID(e.ID)] = plan.Function{What: e.Function, Din: e.Terminal, Either: e.Says == pinout.Harmless}
		}
	}
	return out
}

// fated are the ends of which the builder has decided that.
func fated(work *mapping.PodWork, is string) []mapping.EndID {
	var out []mapping.EndID
	for _, e := range work.Pod.Ends {
		if fate, _ := work.Decided(mapping.WireFate, e.ID); fate == is {
			out = append(out, e.ID)
		}
	}
	return out
}

// measured are the contacts that were read in ohms, as the pinout gives them.
func measured(work *mapping.PodWork, m mapping.Map) []plan.Measured {
	var out []plan.Measured
	for _, l := range m.Links {
		if ohms, ok := work.OhmsOf(l); ok {
			out = append(out, plan.Measured{Between: []string{string(l.A), string(l.B)}, Ohms: ohms})
		}
	}
	return out
}

// keySwitch finds the ignition key by its name, and where it is off.
func keySwitch(p mapping.Pod) (name string, off []string) {
	for _, sw := range p.Switches {
		switch strings.ToLower(string(sw.Name)) {
		case "key", "ignition", "barrel":
			for _, q := range sw.Positions {
				if s := strings.ToLower(string(q)); s == "off" || s == "lock" || s == "park" || s == "out" {
					off = append(off, string(q))
				}
			}
			return string(sw.Name), off
		}
	}
	return "", nil
}
