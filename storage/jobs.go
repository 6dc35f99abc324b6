package storage

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"

	"bellout/mapping"
)

// Extension ends the name of every job file.
const Extension = ".bellout"

// JobState is how a job file looks from outside.
type JobState int

// The states of a job file.
const (
	JobReady   JobState = iota // it can be opened
	JobLocked                  // another process has it open
	JobOlder                   // it will be migrated when it is opened
	JobNewer                   // a newer bellout wrote it
	JobDamaged                 // it can be rebuilt
	JobForeign                 // it is no job
	JobShut                    // you may not read it
	JobLost                    // its file is gone, but its log or backup is there: it can be rebuilt
)

// String gives the word for a state.
func (s JobState) String() string {
	return [...]string{"ready", "open elsewhere", "older", "newer", "damaged", "no job", "not yours to read", "lost"}[s]
}

// JobInfo is one line in the list of jobs. Name is the job's title, or its
// file's name where the title cannot be read. Err says, for a file that cannot
// be opened, why and what to do.
type JobInfo struct {
	Name  string
	Path  string
	State JobState
	Err   error
}

// ListJobs lists the job files of a folder by the names of the files. It waits
// for nobody and changes nothing. A folder that is not there has no jobs.
func ListJobs(dir string) ([]JobInfo, error) {
	files, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, classify(dir, err)
	}
	names := map[string]bool{}
	for _, f := range files {
		name := strings.TrimSuffix(strings.TrimSuffix(f.Name(), backupPath("")), logPath(""))
		if strings.HasSuffix(name, Extension) && !strings.HasPrefix(name, ".") {
			names[name] = true
		}
	}
	var out []JobInfo
	for _, name := range slices.Sorted(maps.Keys(names)) {
		out = append(out, inspect(filepath.Join(dir, name)))
	}
	return out, nil
}

func inspect(path string) JobInfo {
	info := JobInfo{Path: path, Name: strings.TrimSuffix(filepath.Base(path), Extension)}
	f, err := examine(path, CurrentSchema)
	if t := Title(f.entries); t != "" {
		info.Name = t
	}
	if err == nil {
		err = tryLock(path)
	}
	info.Err = err
	switch {
	case errors.Is(err, ErrLocked):
		info.State = JobLocked
	case errors.Is(err, ErrNewer):
		info.State = JobNewer
	case errors.Is(err, ErrDamaged):
		info.State = JobDamaged
	case errors.Is(err, ErrReadOnly):
		info.State = JobShut
	case errors.Is(err, ErrMissing):
		info.State = JobLost
	case err != nil:
		info.State = JobForeign
	case f.schema < CurrentSchema:
		info.State = JobOlder
	}
	return info
}

// tryLock asks once for the lock that readers share, and lets go of it at once.
func tryLock(path string) error {
	opts := bboltOptions(0)
	opts.ReadOnly, opts.Timeout = true, time.Nanosecond
	return classify(path, guarded(path, func() error {
		db, err := bolt.Open(path, fileMode, opts)
		if err != nil {
			return err
		}
		return db.Close()
	}))
}

// Title gives the title that a log ends up with.
func Title(entries []mapping.Entry) string {
	name := ""
	for _, e := range entries {
		if e.Title != nil {
			name = e.Title.Name
		}
	}
	return name
}
