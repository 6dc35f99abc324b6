package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"bellout/mapping"
	"bellout/tui"

	"github.com/spf13/cobra"
)

func pinoutCommand(w *world) *cobra.Command {
	var out output
	var said pageWords
	var pod, format string
	var ascii, raw bool
	c := &cobra.Command{
		Use:   "pinout JOB",
		Short: "write the pinout of a pod: end by end, with the grade of every claim",
		Long: `Writes what is known of a pod: end by end its colour, cavities, function,
terminal number and grade; the contact tables; the readings behind every link;
what is not known. Without --format the form follows the ending of the output
file, else it is text. A page that is there already is replaced, since it can be
made again from the job at any time; anything else is not, unless --force is
given. A job, an archive, a description or a plan is not replaced even then.`,
		Example: `  bellout pinout left
  bellout pinout left --pod "left pod" --format pdf -o left.pdf --date 2026-11-25`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			form, err := formOf(format, out.path, pinoutFormats[1:]...)
			if err != nil {
				return err
			}
			path, job, entries, err := readJob(args[0])
			if err != nil {
				return err
			}
			_, work, err := pickPod(job, entries, pod)
			if err != nil {
				return err
			}
			said.job = job.Name
			page := buildPinout(said, work, w.infer(work))
			out.makes, out.reads = paperFile, []string{path}
			return out.write(w, func(to io.Writer) error { return writePinout(to, form, page, ascii, raw) })
		},
	}
	f := c.Flags()
	f.StringVar(&pod, "pod", "", "the pod of this `NAME` (default: the one worked on last)")
	f.StringVar(&format, "format", "", "`FORM` text, md, csv, json, pdf or html")
	f.StringVarP(&out.path, "output", "o", "", "write to `FILE` instead of standard output")
	f.BoolVar(&out.force, "force", false, "replace a file that is there already even if it is no paper of bellout's")
	f.StringVar(&said.date, "date", "", "`DATE` to print on the page; no clock is read")
	f.StringVar(&said.revision, "revision", "", "`REVISION` to print on the page")
	f.StringVar(&said.by, "by", "", "`NAME` of who took the readings")
	f.StringVar(&said.serial, "serial", "", "`SERIAL` or description of the pod")
	f.BoolVar(&ascii, "ascii", false, "plain ASCII signs in text and md")
	f.BoolVar(&raw, "raw", false, "csv: do not guard cells that a spreadsheet would run as formulas")
	_ = c.RegisterFlagCompletionFunc("format", words("text", "md", "csv", "json", "pdf", "html"))
	return c
}

func tableCommand(w *world) *cobra.Command {
	var pod string
	var ascii, asJSON bool
	var width int
	c := &cobra.Command{
		Use:   "table JOB",
		Short: "print the contact tables of a pod, and what is still open",
		Long: `Prints the contact table of each switch as workshop diagrams do: positions down,
ends across, joined ends tied, each cell with the sign of its grade.`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			if width < 20 {
				return usageProblem(fmt.Sprintf("--width %d is too narrow for a table", width), "give 20 columns or more")
			}
			_, job, entries, err := readJob(args[0])
			if err != nil {
				return err
			}
			_, work, err := pickPod(job, entries, pod)
			if err != nil {
				return err
			}
			page := buildPinout(pageWords{job: job.Name}, work, w.infer(work))
			if asJSON {
				return printJSON(w.out, map[string]any{"pod": page.Pod, "drawn_from": page.Counts,
					"tables": page.Tables, "links": page.Links, "unresolved": page.Unresolved, "notes": page.Notes})
			}
			glyphs := mapping.UnicodeGlyphs()
			if ascii {
				glyphs = mapping.ASCIIGlyphs()
			}
			b := bufio.NewWriter(w.out)
			say := func(head, text string) { fmt.Fprintln(b, strings.Join(tui.Wrapped(head, text, width), "\n")) }
			say("", fmt.Sprintf("%s: %s", page.Pod, page.Counts))
			say("", glyphs.Legend())
			for _, t := range page.Tables {
				fmt.Fprintln(b)
				say("", t.Switch+commonWords(t.Common))
				for _, line := range t.Draw(glyphs, width) {
					fmt.Fprintln(b, line)
				}
			}
			if len(page.Notes) > 0 {
				fmt.Fprintln(b, "\nstill open, and notes")
				for _, n := range page.Notes {
					say("* ", n)
				}
			}
			return b.Flush()
		},
	}
	f := c.Flags()
	f.StringVar(&pod, "pod", "", "the pod of this `NAME` (default: the one worked on last)")
	f.BoolVar(&ascii, "ascii", false, "plain ASCII signs")
	f.BoolVar(&asJSON, "json", false, "print the tables as JSON")
	f.IntVar(&width, "width", 80, "`COLUMNS` that a line may have")
	return c
}

func commonWords(common string) string {
	switch common {
	case "none":
		return ", no common"
	case "not settled", "":
		return ""
	}
	return ", common " + common
}
