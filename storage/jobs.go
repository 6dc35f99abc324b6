package storage

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
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
	JobForeign                 // it is no job, or cannot be read
)

// String gives the word for a state.
func (s JobState) String() string {
	return [...]string{"ready", "open elsewhere", "older", "newer", "damaged", "no job"}[s]
}

// JobInfo is one line in the list of jobs. Name is the job's title, or its
// file's name where the title cannot be read. Err says, for a file that cannot
// be opened, why and what to do.
type JobInfo struct {
	Name    string
	Path    string
	Written time.Time
	State   JobState
	Err     error
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
	var out []JobInfo
	for _, f := range files {
		if strings.HasSuffix(f.Name(), Extension) && !strings.HasPrefix(f.Name(), ".") {
			out = append(out, inspect(filepath.Join(dir, f.Name())))
		}
	}
	return out, nil
}

func inspect(path string) JobInfo {
	info := JobInfo{Path: path, Name: strings.TrimSuffix(filepath.Base(path), Extension)}
	if st, err := os.Stat(path); err == nil {
		info.Written = st.ModTime()
	}
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
