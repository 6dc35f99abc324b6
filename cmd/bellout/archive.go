package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/storage"

	"github.com/spf13/cobra"
)

func archiveCommand(w *world) *cobra.Command {
	var out output
	c := &cobra.Command{
		Use:   "archive JOB",
		Short: "write a whole job as plain text that can be restored",
		Long: `Writes everything that a job holds as plain text, a line an entry, with a sum
over each line and over all. bellout restore brings it back identical. A file
that is there already is not replaced unless --force is given; a job, a
description or a plan not even then.`,
		Example:           `  bellout archive left -o left.archive.txt`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(_ *cobra.Command, args []string) error {
			path, _, entries, err := readJob(args[0])
			if err != nil {
				return err
			}
			out.makes, out.reads = archiveFile, []string{path}
			return out.write(w, func(to io.Writer) error { return storage.WriteArchive(to, entries) })
		},
	}
	c.Flags().StringVarP(&out.path, "output", "o", "", "write to `FILE` instead of standard output")
	c.Flags().BoolVar(&out.force, "force", false, "replace a file that is there already")
	return c
}

func restoreCommand(w *world) *cobra.Command {
	var rebuild bool
	c := &cobra.Command{
		Use:   "restore ARCHIVE JOB",
		Short: "make a new job of an archive, or of what is left of a damaged job",
		Long: `Makes a new job file of an archive ("-" is standard input). The archive is taken
whole or not at all. Where JOB is a folder ("jobs/") the new job gets the title
that the archive has for it. With --rebuild the first file is a damaged job: whatever
can still be read of it, of its log and of its backup goes into the new job.
Where the description of a pod is lost, one is made of what its readings name.
A job that is there already is never replaced.`,
		Example: `  bellout restore left.archive.txt left-again
  bellout restore --rebuild left.bellout left-rebuilt.bellout`,
		Args: exactly("ARCHIVE", "JOB"),
		RunE: func(_ *cobra.Command, args []string) error {
			if rebuild {
				to, err := newJobPath(args[1])
				if err != nil {
					return err
				}
				return rebuildJob(w, args[0], to)
			}
			s, to, err := restoreArchive(w, args[0], args[1])
			if err != nil {
				return err
			}
			entries, err := s.Entries()
			if err := closed(err, s.Close()); err != nil {
				return err
			}
			for _, e := range entries {
				if e.Describe == nil {
					continue
				}
				if pod, odd := e.Describe.KnownColours(); odd != "" {
					fmt.Fprintf(w.err, "bellout: note: pod %q: %s\n", mapping.Clean(pod.Name, mapping.MaxName), odd)
				}
			}
			_, err = fmt.Fprintf(w.out, "%s restored into %s\n", mapping.Count(len(entries), "entry"), oneLine(to))
			return err
		},
	}
	c.Flags().BoolVar(&rebuild, "rebuild", false, "take what can still be read of a damaged job")
	return c
}

// restoreArchive makes the new job, and says where. In a folder it goes by its title.
func restoreArchive(w *world, from, name string) (*storage.Store, string, error) {
	to := ""
	if !namesFolder(name) {
		var err error
		if to, err = newJobPath(name); err != nil {
			return nil, "", err
		}
	}
	archive, err := openInput(w, from)
	if err != nil {
		return nil, "", err
	}
	defer archive.Close()
	entries, err := storage.ReadArchive(archive)
	if err != nil {
		return nil, "", restoreProblem(from, err)
	}
	if to == "" {
		to = storage.PathFor(name, storage.Title(entries))
	}
	s, err := storage.Restore(to, entries)
	return s, to, err
}

// restoreProblem tells trouble with the archive from trouble with the new job.
func restoreProblem(archive string, err error) error {
	if !errors.Is(err, storage.ErrArchive) {
		return err
	}
	text := strings.TrimSuffix(err.Error(), ": get a fresh copy of it")
	return &problem{code: exitInput, text: archive + ": " + text, hint: "get a fresh copy of the archive", err: err}
}

func rebuildJob(w *world, from, to string) error {
	report, err := storage.Rebuild(from, to)
	if err != nil {
		return err
	}
	fmt.Fprintf(w.out, "%s in %s: %d from the log, %d from the backup, %d from the file itself\n",
		mapping.Count(report.Entries, "entry"), oneLine(to), report.FromLog, report.FromBackup, report.FromFile)
	if n := len(report.Missing); n > 0 {
		fmt.Fprintf(w.out, "%s could not be read: look through bellout log %s\n", mapping.Count(n, "entry"), oneLine(to))
	}
	for _, made := range report.StandIns {
		fmt.Fprintln(w.out, standInWords(made))
	}
	for _, key := range slices.Sorted(maps.Keys(report.Unsaid)) {
		fmt.Fprintf(w.out, "pod %q has %s about an end or a position that its description lacks: kept, and taken into account once you add it\n",
			mapping.Clean(string(key), mapping.MaxName), mapping.Count(report.Unsaid[key], "reading"))
	}
	if n := len(report.Orphans); n > 0 {
		fmt.Fprintf(w.out, "%s could be read and had no place in the new job, the description of their pod is lost: they are kept in %s\n",
			mapping.Count(n, "entry"), oneLine(report.OrphansIn))
	}
	if len(report.Missing)+len(report.Orphans) > 0 {
		return findings()
	}
	return nil
}

// standInWords says what a description that was made up is good for.
func standInWords(made storage.StandIn) string {
	name := fmt.Sprintf("%q", mapping.Clean(string(made.Pod), mapping.MaxName))
	if made.Later {
		return "the first description of pod " + name + " is lost: a later one of your own stands in its place, no reading is lost with it"
	}
	say := "the description of pod " + name + " is lost, and one was made of what its readings name: a switch rests where it was seen most often and none springs back, compare it with the pod"
	if len(made.LeftOut) > 0 {
		var names []string
		for _, s := range made.LeftOut {
			names = append(names, mapping.Clean(string(s), mapping.MaxName))
		}
		say += "; seen in one position only and left out: " + strings.Join(names, ", ")
	}
	return say
}
