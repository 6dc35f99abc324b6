package main

import (
	"io"
	"path/filepath"
	"strings"

	"bellout/mapping/plan"
	"bellout/mapping/sheet"

	"github.com/spf13/cobra"
)

func planSheetCommand(w *world) *cobra.Command {
	var out output
	var job string
	c := &cobra.Command{
		Use:   "sheet FILE",
		Short: "put a plan on paper: diagram, build sheet, proof list, order of first power",
		Long: `Writes the paper of a plan as PDF, as one HTML page that needs nothing else, or
as text, by the ending of the output file. With --job the values that were read
while proving the harness stand beside those expected. Paper that is there
already is replaced: it can be made again from the plan at any time.`,
		Example: `  bellout plan sheet plan.toml -o heron.pdf
  bellout plan sheet plan.toml -o heron.html`,
		Args: exactly("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			form := strings.ToLower(filepath.Ext(out.path))
			if out.path == "" || out.path == "-" {
				form = ".txt"
			}
			if form != ".pdf" && form != ".html" && form != ".txt" {
				return usageProblem("the output "+out.path+" ends in none of .pdf, .html, .txt",
					"name it for the form that it is to have, for example -o harness.pdf")
			}
			p, err := readPlan(w, args[0])
			if err != nil {
				return err
			}
			read, err := valuesRead(job)
			if err != nil {
				return err
			}
			out.makes, out.reads = paperFile, args[:1]
			return out.write(w, func(to io.Writer) error { return writeSheet(to, form, p, read) })
		},
	}
	c.Flags().StringVarP(&out.path, "output", "o", "", "write to `FILE`: .pdf, .html or .txt (default: text on standard output)")
	c.Flags().BoolVar(&out.force, "force", false, "replace a file that is there already even if it is no paper of bellout's")
	c.Flags().StringVar(&job, "job", "", "print the values read that this `JOB` holds")
	return c
}

func writeSheet(to io.Writer, form string, p plan.Plan, read map[string]string) error {
	in := sheet.Gather(p, read)
	var text []byte
	var err error
	switch form {
	case ".pdf":
		text, err = sheet.PDF(in)
	case ".html":
		text, err = sheet.HTML(in)
	default:
		text = sheet.Text(in)
	}
	if err != nil {
		return err
	}
	_, err = to.Write(text)
	return err
}

// valuesRead are the last values that a job holds for each check of a plan.
func valuesRead(job string) (map[string]string, error) {
	if job == "" {
		return nil, nil
	}
	_, folded, _, err := readJob(job)
	if err != nil {
		return nil, err
	}
	return folded.LastValues(), nil
}
