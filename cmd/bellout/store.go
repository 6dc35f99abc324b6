package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/storage"

	"github.com/spf13/cobra"
)

// journal is a job that entries are kept in: a job file, or a memoryJob.
type journal interface {
	Append(entries ...mapping.Entry) ([]mapping.Entry, error)
	Entries() ([]mapping.Entry, error)
	Close() error
}

// explainStore gives trouble with a job file its exit code, and parts the
// sentence from the advice. It reports whether it was that.
func explainStore(err error, p *problem) bool {
	var e *storage.Error
	if !errors.As(err, &e) {
		return false
	}
	says, advice, _ := strings.Cut(string(e.Kind), ": ")
	p.text, p.hint = e.Path+" "+says, advice
	if e.Cause != nil {
		p.text += " (" + storage.Reason(e.Cause).Error() + ")"
	}
	switch e.Kind {
	case storage.ErrLocked:
		p.code = exitLocked
	case storage.ErrNewer, storage.ErrDamaged, storage.ErrNotOurs, storage.ErrUpgrade:
		p.code = exitDamaged
	case storage.ErrEntry, storage.ErrArchive:
		p.code = exitInput
	}
	if e.Kind == storage.ErrDamaged {
		p.hint = "bellout restore --rebuild " + e.Path + " NEW-FILE takes what can still be read into a new job"
	}
	return true
}

// jobPath finds the file of a job that is there already: a path as it stands,
// else a name in the current folder or in the folder of jobs.
func jobPath(arg string) (string, error) {
	for _, path := range jobPlaces(arg) {
		if st, err := os.Stat(path); err == nil && !st.IsDir() {
			return path, nil
		}
	}
	return "", &problem{code: exitFailed, text: fmt.Sprintf("there is no job %q", arg),
		hint: "bellout jobs lists those there are; bellout new " + arg + " begins one"}
}

func jobPlaces(arg string) []string {
	places := []string{arg, arg + storage.Extension}
	if filepath.Base(arg) == arg {
		if dir, err := storage.DefaultFolder(); err == nil {
			places = append(places, filepath.Join(dir, arg), filepath.Join(dir, arg+storage.Extension),
				storage.PathFor(dir, arg))
		}
	}
	return places
}

// namesFolder says whether an argument can only mean a folder.
func namesFolder(arg string) bool {
	base := filepath.Base(arg)
	return arg != "" && (base == "." || base == ".." || os.IsPathSeparator(arg[len(arg)-1]))
}

func folderProblem(arg string) error {
	return usageProblem(arg+" is a folder", "name the job in it, for example "+filepath.Join(arg, "twin"+storage.Extension))
}

// newJobPath is where a new job goes: a path as it stands, else under its name
// in the folder of jobs.
func newJobPath(arg string) (string, error) {
	switch {
	case strings.TrimSpace(arg) == "" || filepath.Base(arg) == storage.Extension:
		return "", usageProblem(fmt.Sprintf("%q is no name for a job", arg), "give it a name, for example twin"+storage.Extension)
	case namesFolder(arg):
		return "", folderProblem(arg)
	}
	if filepath.Base(arg) != arg || filepath.Ext(arg) == storage.Extension {
		if filepath.Ext(arg) == "" {
			arg += storage.Extension
		}
		return arg, nil
	}
	dir, err := storage.DefaultFolder()
	if err != nil {
		return "", err
	}
	return storage.PathFor(dir, arg), nil
}

// readJob reads a job without taking it from another bellout that has it open.
// An archive is read as the job that it was made from.
func readJob(arg string) (string, *mapping.Job, []mapping.Entry, error) {
	path, err := jobPath(arg)
	if err != nil {
		return "", nil, nil, err
	}
	entries, err := storage.Read(path)
	switch {
	case errors.Is(err, storage.ErrUpgrade):
		entries, err = readOld(path)
	case errors.Is(err, storage.ErrNotOurs) && kindOf(path) == archiveFile:
		entries, err = readArchive(path)
	}
	if err != nil {
		return "", nil, nil, err
	}
	job, err := mapping.Fold(entries)
	return path, job, entries, err
}

func readArchive(path string) ([]mapping.Entry, error) {
	f, err := openPlain(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	entries, err := storage.ReadArchive(f)
	if err != nil {
		return nil, restoreProblem(path, err)
	}
	return entries, nil
}

// readOld opens a job of an older bellout once for writing, which brings it up
// to date.
func readOld(path string) ([]mapping.Entry, error) {
	s, err := storage.Open(path)
	if err != nil {
		return nil, err
	}
	entries, err := s.Entries()
	return entries, closed(err, s.Close())
}

// closed is the end of a command that had a job open: trouble in closing it fails
// the command, and is told beside what else went wrong.
func closed(err, cerr error) error {
	if cerr == nil {
		return err
	}
	trouble := explain(cerr)
	if explainStore(cerr, trouble) {
		trouble.text = "the job is whole, only its backup was not made: " + trouble.text
	}
	if err == nil {
		return trouble
	}
	told := *explain(err)
	if told.text == "" { // it ends without a word
		return trouble
	}
	told.more = append(slices.Clone(told.more), trouble.text)
	return &told
}

// withJob opens a job for writing, hands it over with what it amounts to, and
// closes it.
func withJob(name string, do func(s *storage.Store, job *mapping.Job) error) (err error) {
	path, err := jobPath(name)
	if err != nil {
		return err
	}
	s, err := storage.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = closed(err, s.Close()) }()
	entries, err := s.Entries()
	if err != nil {
		return err
	}
	job, err := mapping.Fold(entries)
	if err != nil {
		return err
	}
	return do(s, job)
}

// pickPod finds one pod of a job: by its key or its name, or the one that was
// worked on last.
func pickPod(job *mapping.Job, entries []mapping.Entry, name string) (mapping.PodKey, *mapping.PodWork, error) {
	if len(job.Order) == 0 {
		return "", nil, &problem{code: exitInput, text: "the job has no pod yet",
			hint: "describe one: bellout open JOB, or bellout rig --job JOB --pod FILE"}
	}
	if name == "" {
		last := job.Order[len(job.Order)-1]
		for _, e := range entries {
			if e.Pod != "" {
				last = e.Pod
			}
		}
		return last, job.Pods[last], nil
	}
	var names []string
	for _, key := range job.Order {
		if w := job.Pods[key]; string(key) == name || w.Pod.Name == name {
			return key, w, nil
		} else {
			names = append(names, w.Pod.Name)
		}
	}
	return "", nil, inputProblem(fmt.Sprintf("the job has no pod %q", name), "it has "+strings.Join(names, ", "))
}

// completeJob offers the jobs that there are for the first argument.
func completeJob(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var names []string
	if dir, err := storage.DefaultFolder(); err == nil {
		files, _ := filepath.Glob(filepath.Join(dir, "*"+storage.Extension))
		for _, f := range files {
			names = append(names, strings.TrimSuffix(filepath.Base(f), storage.Extension))
		}
	}
	return names, cobra.ShellCompDirectiveDefault
}
