package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"bellout/inference"
	"bellout/mapping"
	"bellout/mapping/pinout"
	"bellout/storage"
	"bellout/tui"
)

// evidence lets a pinout ask the engine's result.
type evidence struct{ r inference.Result }

func (e evidence) Verdict(s mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	v := e.r.Joined(s, a, b)
	return v.Joined, v.Grade
}

func (e evidence) Why(s mapping.Setting, a, b mapping.EndID) []mapping.ReadingID {
	return e.r.Why(s, a, b)
}

func (e evidence) Common(sw mapping.SwitchID) (mapping.EndID, bool) {
	c := e.r.Commons[sw]
	return c.End, c.Known
}

// pageWords are what only the builder can say about a page.
type pageWords struct {
	job, date, revision, by, serial string
}

func buildPinout(words pageWords, work *mapping.PodWork, r inference.Result) pinout.Pinout {
	in := pinoutInput(work, r)
	in.Job, in.Date, in.Revision, in.By, in.Serial = words.job, words.date, words.revision, words.by, words.serial
	return pinout.Build(in)
}

// pinoutInput is what the engine's result says, as plain data.
func pinoutInput(work *mapping.PodWork, r inference.Result) pinout.Input {
	in := pinout.Input{Work: work, Map: r.Map, Evidence: evidence{r}}
	if !r.Done { // else they are within the stop rule; what nobody vouches for the map has
		for _, q := range r.OpenInWords {
			in.Questions = append(in.Questions, pinout.Question{A: q.A, B: q.B, When: q.When, Joined: q.Joined})
		}
	}
	for _, d := range r.Doubts {
		if !work.Aside(d.Readings) {
			in.Doubts = append(in.Doubts, d.Readings)
		}
	}
	return in
}

// pinoutFormats are the forms of a pinout, by the ending of their files.
var pinoutFormats = []string{"txt", "md", "csv", "json", "pdf", "html"}

// formOf is the form of a page that was asked for, else the one that the output's name
// ends in, else text. Text goes without saying among the forms that there are.
func formOf(format, path string, forms ...string) (string, error) {
	switch format {
	case "text":
		return "txt", nil
	case "":
		if end := strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), "."); slices.Contains(forms, end) {
			return end, nil
		}
		return "txt", nil
	}
	return format, oneOf("format", format, slices.Concat([]string{"text"}, forms, []string{"txt"})...)
}

// writePinout writes a pinout in one of pinoutFormats.
func writePinout(to io.Writer, format string, p pinout.Pinout, ascii, raw bool) error {
	glyphs := mapping.UnicodeGlyphs()
	if ascii {
		glyphs = mapping.ASCIIGlyphs()
	}
	switch format {
	case "md":
		return p.WriteMarkdown(to, glyphs)
	case "csv":
		return p.WriteCSV(to, raw)
	case "json":
		return p.WriteJSON(to)
	case "pdf":
		return p.WritePDF(to)
	case "html":
		return p.WriteHTML(to)
	}
	return p.WriteText(to, glyphs)
}

// sheets makes what leaves the screens. Exports go into the current folder,
// where the builder can find them; jobs may lie somewhere out of sight.
type sheets struct {
	job  string
	path string // the job file; empty in practice
	log  func() ([]mapping.Entry, error)
}

// Formats lists what Export can make.
func (s *sheets) Formats() []string { return append(slices.Clone(pinoutFormats), tui.Labels) }

// Text is the pinout for the screen.
func (s *sheets) Text(w *mapping.PodWork, r inference.Result) (string, error) {
	var b strings.Builder
	err := buildPinout(pageWords{job: s.job}, w, r).WriteText(&b, mapping.UnicodeGlyphs())
	return b.String(), err
}

// Export writes the pinout of a pod, or its labels, and says where. Older paper
// of the same pod is replaced: it can be made again at any time.
func (s *sheets) Export(format string, pod mapping.PodKey, w *mapping.PodWork, r inference.Result) (string, error) {
	if !slices.Contains(s.Formats(), format) {
		return "", fmt.Errorf("there is no pinout in the form %q: choose one of %s", format, strings.Join(s.Formats(), ", "))
	}
	name, err := s.fileName(pod, w.Pod.Name)
	if err != nil {
		return "", err
	}
	path := name + "." + format
	if format == tui.Labels {
		path = name + "-labels.pdf"
	}
	to := output{path: path, makes: paperFile, reads: []string{s.path}}
	err = to.write(nil, func(to io.Writer) error {
		if format == tui.Labels {
			return writeLabels(to, "pdf", w.Pod)
		}
		return writePinout(to, format, buildPinout(pageWords{job: s.job}, w, r), false, false)
	})
	var p *problem
	switch {
	case errors.As(err, &p) && p.err == nil:
		return "", fmt.Errorf("%s: move it away, then export again", p.text)
	case errors.As(err, &p):
		return "", fmt.Errorf("%s: %s", p.text, p.hint)
	case err != nil:
		return "", err
	}
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	return path, nil
}

// fileName is the name of a pod's files without their ending. Two pods of a job
// whose names come to the same have different ones, as in the paper of the job.
func (s *sheets) fileName(pod mapping.PodKey, name string) (string, error) {
	stem := "practice"
	if s.path != "" {
		stem = strings.TrimSuffix(filepath.Base(s.path), storage.Extension)
	}
	entries, err := s.log()
	if err != nil {
		return "", err
	}
	job, err := mapping.Fold(entries)
	if err != nil {
		return "", err
	}
	taken := map[string]bool{}
	for _, key := range job.Order {
		unique := planName(job.Pods[key].Pod.Name, taken)
		if key == pod {
			return stem + "-" + unique, nil
		}
	}
	return stem + "-" + planName(name, taken), nil
}
