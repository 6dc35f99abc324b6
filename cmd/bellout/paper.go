package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"bellout/mapping"
	"bellout/mapping/plan"
	"bellout/storage"

	"github.com/spf13/cobra"
)

func paperCommand(w *world) *cobra.Command {
	var folder, planPath string
	var said pageWords
	var force bool
	c := &cobra.Command{
		Use:   "paper JOB",
		Short: "write everything that goes on paper, from the readings on, into one folder",
		Long: `Writes the pinout of every pod of a job in every form and, with --plan, the
diagram, build sheet, proof list and order of first power of the harness. JOB may
be an archive. Paper that is there already is replaced: it can be made again at
any time. Where something else has one of the names nothing is written.`,
		Example:           `  bellout paper twin --plan twin/plan.toml -o twin/paper`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			path, job, _, err := readJob(args[0])
			if err != nil {
				return err
			}
			var p plan.Plan
			if planPath != "" {
				if p, err = readPlan(w, planPath); err != nil {
					return err
				}
			}
			if err := os.MkdirAll(folder, 0o755); err != nil {
				return &problem{code: exitFailed, text: fmt.Sprintf("making the folder %s: %v", folder, storage.Reason(err)),
					hint: "choose another folder", err: err}
			}
			said.job = job.Name
			files := pinoutFiles(w, job, said)
			if planPath != "" {
				files = append(files, planFiles(p, job.LastValues())...)
			}
			for i, f := range files {
				files[i].to = output{path: filepath.Join(folder, f.to.path), force: force, makes: paperFile, reads: []string{path, planPath}}
			}
			if _, err := writeAll(w, files); err != nil {
				return err
			}
			_, err = fmt.Fprintf(w.out, "%d files in %s, from %s\n", len(files), oneLine(folder), oneLine(path))
			return err
		},
	}
	f := c.Flags()
	f.StringVarP(&folder, "output", "o", "paper", "write into `FOLDER`")
	f.BoolVar(&force, "force", false, "replace files that are there already even if they are no paper of bellout's")
	f.StringVar(&planPath, "plan", "", "the plan of the harness in `FILE`")
	f.StringVar(&said.date, "date", "", "`DATE` to print on the pinouts; no clock is read")
	f.StringVar(&said.revision, "revision", "", "`REVISION` to print on the pinouts")
	f.StringVar(&said.by, "by", "", "`NAME` of who took the readings")
	return c
}

// pinoutFiles are the pinouts of all pods of a job, in every form.
func pinoutFiles(w *world, job *mapping.Job, said pageWords) []draft {
	var files []draft
	taken := map[string]bool{}
	for _, key := range job.Order {
		work := job.Pods[key]
		page := buildPinout(said, work, w.infer(work))
		name := "pinout-" + planName(work.Pod.Name, taken)
		for _, form := range pinoutFormats {
			files = append(files, draft{output{path: name + "." + form}, func(to io.Writer) error {
				return writePinout(to, form, page, false, false)
			}})
		}
	}
	return files
}

// planFiles are the papers of a plan.
func planFiles(p plan.Plan, read map[string]string) []draft {
	files := []draft{{output{path: "proof.txt"}, func(to io.Writer) error { return printProof(to, p, proofLines(p, read)) }}}
	for _, form := range []string{".pdf", ".html", ".txt"} {
		files = append(files, draft{output{path: "harness" + form}, func(to io.Writer) error { return writeSheet(to, form, p, read) }})
	}
	return files
}
