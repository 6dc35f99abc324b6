package main

import (
	"bytes"
	"io"
	"path/filepath"
	"strings"

	"bellout/mapping/fixture"
	"bellout/mapping/labels"
	"bellout/mapping/pinout"
	"bellout/mapping/plan"
	"bellout/mapping/podfile"
	"bellout/mapping/sheet"
	"bellout/storage"
)

// fileKind is what a file is, by what stands in it.
type fileKind int

const (
	someFile        fileKind = iota // not ours, or not known for it
	paperFile                       // written by bellout, which can do it again
	jobFile                         // a job, its log or its backup
	archiveFile                     // of a job
	descriptionFile                 // of a pod, or its map
	planFile                        // of a harness
)

// words name a file that paper never replaces.
func (k fileKind) words() string {
	return [...]string{"a file", "paper", "a job", "an archive of a job", "a description of a pod", "a plan"}[k]
}

// kindOf looks at a plain file. One that cannot be read is not ours to replace.
func kindOf(path string) fileKind {
	// Far more than any paper; of a larger file the beginning tells enough.
	const most = 32 << 20
	f, err := openPlain(path)
	if err != nil {
		return someFile
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return someFile
	}
	ending := strings.ToLower(filepath.Ext(path))
	switch {
	case storage.LooksLikeJob(text):
		return jobFile
	case storage.LooksLikeArchive(text):
		return archiveFile
	case len(text) < most && isPaper(text):
		return paperFile
	case ending == ".pod", podfile.LooksLike(text), plan.LooksLikeMap(text), isNotation(text):
		return descriptionFile
	case ending == ".toml", plan.LooksLikePlan(text):
		return planFile
	}
	return someFile
}

// isPaper knows again what the papers begin with, or bear as a mark.
func isPaper(text []byte) bool {
	return pinout.Wrote(text) || sheet.Wrote(text) || labels.Wrote(text) ||
		bytes.HasPrefix(text, []byte(proofHead)) && bytes.Contains(text, []byte("\n"+proofNote+"\n")) ||
		bytes.HasPrefix(text, []byte(manHead+"\n"))
}

func isNotation(text []byte) bool {
	_, err := fixture.Parse(bytes.NewReader(text))
	return err == nil
}
