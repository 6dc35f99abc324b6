package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"bellout/mapping"
	"bellout/storage"

	"github.com/spf13/cobra"
)

// jobLine is one job in the list of jobs, for scripts. Its name is what the
// commands take; its title is there where it is another.
type jobLine struct {
	Name     string    `json:"name"`
	Title    string    `json:"title,omitempty"`
	Path     string    `json:"path"`
	State    string    `json:"state"`
	Pods     []podLine `json:"pods"`
	Readings int       `json:"readings"`
	Trouble  string    `json:"trouble,omitempty"`
}

type podLine struct {
	Name     string `json:"name"`
	Ends     int    `json:"ends"`
	Readings int    `json:"readings"`
}

func jobsCommand(w *world) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "jobs [FOLDER]",
		Short: "list the jobs there are",
		Long: `Lists the job files of a folder, by default the folder of jobs: BELLOUT_DIR if
that is set, else the place that the system has for a program's data. The first
column is what every command takes for a JOB; a title that is another stands
beside it.`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			dir, err := jobsFolder(args)
			if err != nil {
				return err
			}
			if len(args) > 0 { // the folder of jobs itself may not be there yet
				if _, err := os.Stat(dir); err != nil {
					return &problem{code: exitFailed, text: fmt.Sprintf("reading %s: %v", dir, storage.Reason(err)), hint: "check the name of the folder", err: err}
				}
			}
			list, err := jobLines(dir)
			if err != nil {
				return err
			}
			if asJSON {
				return printJSON(w.out, map[string]any{"folder": dir, "jobs": list})
			}
			return printJobs(w.out, dir, list)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON")
	return c
}

func jobsFolder(args []string) (string, error) {
	if len(args) > 0 {
		return args[0], nil
	}
	return storage.DefaultFolder()
}

func jobLines(dir string) ([]jobLine, error) {
	infos, err := storage.ListJobs(dir)
	if err != nil {
		return nil, err
	}
	list := []jobLine{}
	for _, info := range infos {
		j := jobLine{Name: jobName(info.Path), Path: info.Path, State: info.State.String(), Pods: []podLine{}}
		if info.Name != strings.TrimSuffix(filepath.Base(info.Path), storage.Extension) {
			j.Title = info.Name
		}
		if info.Err != nil {
			j.Trouble = oneLine(info.Err.Error())
		}
		if entries, err := storage.Read(info.Path); err == nil {
			if job, err := mapping.Fold(entries); err == nil {
				for _, key := range job.Order {
					p := job.Pods[key]
					j.Pods = append(j.Pods, podLine{p.Pod.Name, len(p.Pod.Ends), len(p.Readings)})
					j.Readings += len(p.Readings)
				}
			}
		}
		list = append(list, j)
	}
	return list, nil
}

// jobName is the shortest that the commands take for a job from here: the name
// of its file, or its path where that name would find another file or none.
func jobName(path string) string {
	name := strings.TrimSuffix(filepath.Base(path), storage.Extension)
	found, err := jobPath(name)
	if err != nil {
		return path
	}
	a, err1 := os.Stat(found)
	b, err2 := os.Stat(path)
	if err1 != nil || err2 != nil || !os.SameFile(a, b) {
		return path
	}
	return name
}

func printJobs(to io.Writer, dir string, list []jobLine) error {
	if len(list) == 0 {
		_, err := fmt.Fprintf(to, "no jobs in %s; bellout new NAME begins one\n", oneLine(dir))
		return err
	}
	tab := tabwriter.NewWriter(to, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tab, "job\ttitle\tpods\treadings\tstate\tfile")
	for _, j := range list {
		fmt.Fprintf(tab, "%s\t%s\t%d\t%d\t%s\t%s\n", oneLine(j.Name), oneLine(j.Title), len(j.Pods), j.Readings, j.State, oneLine(j.Path))
	}
	return tab.Flush()
}
