package main

import (
	"io"

	"bellout/mapping"
	"bellout/mapping/labels"

	"github.com/spf13/cobra"
)

func labelsCommand(w *world) *cobra.Command {
	var out output
	var pod, format string
	c := &cobra.Command{
		Use:   "labels JOB",
		Short: "write the labels for a pod's wires, two of each: one each side of the cut",
		Long: `Writes a flag for each side of the cut of every wire: the pod, the end, its colour
and the cavity of the old plug. As pdf or html they are drawn on A4 to be cut
out and folded round the wire; as text it is a label a line.`,
		Example: `  bellout labels left
  bellout labels left -o flags.pdf`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			form, err := formOf(format, out.path, "pdf", "html")
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
			out.makes, out.reads = paperFile, []string{path}
			return out.write(w, func(to io.Writer) error { return writeLabels(to, form, work.Pod) })
		},
	}
	f := c.Flags()
	f.StringVar(&pod, "pod", "", "the pod of this `NAME` (default: the one worked on last)")
	f.StringVar(&format, "format", "", "`FORM` text, pdf or html")
	f.StringVarP(&out.path, "output", "o", "", "write to `FILE` instead of standard output")
	f.BoolVar(&out.force, "force", false, "replace a file that is there already even if it is no paper of bellout's")
	_ = c.RegisterFlagCompletionFunc("format", words("text", "pdf", "html"))
	return c
}

// writeLabels writes the labels of a pod as txt, pdf or html.
func writeLabels(to io.Writer, form string, pod mapping.Pod) error {
	list := labels.Of(pod)
	switch form {
	case "pdf":
		return labels.WritePDF(to, list)
	case "html":
		return labels.WriteHTML(to, list)
	}
	return labels.WriteText(to, list)
}
