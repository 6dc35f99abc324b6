package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"

	"bellout/mapping"

	"github.com/spf13/cobra"
)

// logLine is one entry of a job's log, for scripts.
type logLine struct {
	Entry   uint64          `json:"entry"`
	At      string          `json:"at,omitempty"` // RFC 3339, UTC
	Pod     string          `json:"pod,omitempty"`
	Kind    string          `json:"kind"`
	Say     string          `json:"say"`
	Red     []mapping.EndID `json:"red,omitempty"`
	Black   []mapping.EndID `json:"black,omitempty"`
	Setting mapping.Setting `json:"setting,omitempty"`
	Control bool            `json:"control,omitempty"`
	Outcome string          `json:"outcome,omitempty"`
	Struck  string          `json:"struck,omitempty"` // the reason, if struck out
}

func logCommand(w *world) *cobra.Command {
	var pod string
	var asJSON, struck, all bool
	c := &cobra.Command{
		Use:   "log JOB",
		Short: "print what was read and decided, in order",
		Long: `Prints the readings and decisions of a job in the order in which they were
taken; struck-out readings are shown as such, with the reason.`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			_, job, entries, err := readJob(args[0])
			if err != nil {
				return err
			}
			only := mapping.PodKey("")
			if pod != "" {
				if only, _, err = pickPod(job, entries, pod); err != nil {
					return err
				}
			}
			lines := logLines(job, entries, only, all)
			if struck {
				kept := lines[:0]
				for _, l := range lines {
					if l.Struck != "" {
						kept = append(kept, l)
					}
				}
				lines = kept
			}
			if asJSON {
				return printJSON(w.out, map[string]any{"log": lines})
			}
			return printLog(w.out, lines)
		},
	}
	f := c.Flags()
	f.StringVar(&pod, "pod", "", "only what concerns the pod of this `NAME`")
	f.BoolVar(&struck, "struck", false, "only readings that were struck out")
	f.BoolVar(&all, "asks", false, "the instructions as well")
	f.BoolVar(&asJSON, "json", false, "print the log as JSON")
	return c
}

func logLines(job *mapping.Job, entries []mapping.Entry, only mapping.PodKey, asks bool) []logLine {
	lines := []logLine{}
	pods := map[mapping.PodKey]*mapping.Pod{} // as they were described last
	for _, e := range entries {
		if (only != "" && e.Pod != only) || (e.Ask != nil && !asks) {
			continue
		}
		l := logLine{Entry: e.Seq}
		if e.At != 0 {
			l.At = time.UnixMilli(e.At).UTC().Format(time.RFC3339)
		}
		work := job.Pods[e.Pod]
		if work == nil {
			work = &mapping.PodWork{}
		}
		l.Pod = work.Pod.Name
		describeEntry(&l, work, e)
		if e.Describe != nil {
			pod, odd := e.Describe.KnownColours()
			l.Kind, l.Say = "pod", podSaid(pods[e.Pod], pod)
			if odd != "" {
				l.Say += "; " + odd
			}
			pods[e.Pod] = &pod
		}
		lines = append(lines, l)
	}
	return lines
}

// describeEntry fills in what an entry says.
func describeEntry(l *logLine, work *mapping.PodWork, e mapping.Entry) {
	switch {
	case e.Title != nil:
		l.Kind, l.Say = "title", "the job is called "+e.Title.Name
	case e.Sitting != nil:
		l.Kind, l.Say = "sitting", fmt.Sprintf("sitting %d begins, leads %s", e.Sitting.Number, e.Sitting.Leads)
	case e.Ask != nil:
		l.Kind = "ask"
		l.Say = fmt.Sprintf("%s, %s", instruction(e.Ask.Sweep), mapping.Count(max(1, len(e.Ask.Sweep.Steps)), "step"))
	case e.Reading != nil:
		r := *e.Reading
		r.ID = mapping.ReadingID(e.Seq)
		l.Kind, l.Say = "reading", readingLine(work.Pod, r)
		l.Red, l.Black, l.Control, l.Outcome = r.Red, r.Black, r.Control, r.OutcomeWords()
		if !r.Control {
			l.Setting = r.Setting.Full(work.Pod)
		}
		l.Struck = work.Struck[r.ID]
		if reason, gone := work.Struck[r.ID]; gone && reason == "" {
			l.Struck = "no reason given"
		}
	case e.Strike != nil:
		l.Kind = "strike"
		ids := make([]string, len(e.Strike.Readings))
		for i, id := range e.Strike.Readings {
			ids[i] = fmt.Sprintf("#%d", id)
		}
		l.Say = "struck out " + strings.Join(ids, " ") + ": " + e.Strike.Reason
		if e.Strike.Undo {
			l.Say = "put back " + strings.Join(ids, " ")
		}
	case e.Decision != nil:
		l.Kind, l.Say = "decision", decisionWords(*e.Decision)
	case e.Remark != nil:
		l.Kind, l.Say = "note", e.Remark.Text
		if e.Remark.Reading != 0 {
			l.Say = fmt.Sprintf("on #%d: %s", e.Remark.Reading, e.Remark.Text)
		}
	case e.Check != nil:
		verdict := "does not pass"
		if e.Check.Pass {
			verdict = "passes"
		}
		l.Kind, l.Say = "check", fmt.Sprintf("%s read %s: %s", e.Check.Check, e.Check.Value, verdict)
	}
}

func decisionWords(d mapping.Decision) string {
	about := map[mapping.DecisionKind]string{
		mapping.NameFunction: "function of %s: %s", mapping.SetTerminal: "terminal number of %s: %s",
		mapping.SetNewCavity: "new cavity of %s: %s", mapping.WireFate: "fate of %s: %s",
	}
	if d.Value == "" && d.Kind != mapping.SetAside {
		d.Value = mapping.TakenBack
	}
	if format, ok := about[d.Kind]; ok {
		return fmt.Sprintf(format, d.End, d.Value)
	}
	switch d.Kind {
	case mapping.SetAside:
		if d.Value == mapping.TakenBack {
			return fmt.Sprintf("a doubt about %s is no longer set aside", mapping.Count(len(d.Readings), "reading"))
		}
		return fmt.Sprintf("a doubt about %s is set aside", mapping.Count(len(d.Readings), "reading"))
	case mapping.PlugFace:
		return "plug face: " + d.Value
	case mapping.OhmThreshold:
		return "this meter beeps up to " + d.Value + " ohm"
	case mapping.LeadOhms:
		return "the leads have " + d.Value + " ohm"
	}
	return d.Value
}

func printLog(to io.Writer, lines []logLine) error {
	b := bufio.NewWriter(to)
	for _, l := range lines {
		say := mapping.Clean(l.Say, 0)
		if l.Struck != "" {
			say = "[struck out: " + mapping.Clean(l.Struck, mapping.MaxNote) + "] " + say
		}
		at := l.At
		if at == "" {
			at = "no time"
		}
		fmt.Fprintf(b, "%s  %-8s %s\n", at, l.Kind, say)
	}
	return b.Flush()
}
