package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bellout/mapping"
	"bellout/storage"
	"bellout/tui"
)

// openList lists the jobs and opens the one that is chosen. Without a terminal
// it only lists them.
func openList(ctx context.Context, w *world) error {
	dir, err := storage.DefaultFolder()
	if err != nil {
		return err
	}
	list, err := jobLines(dir)
	if err != nil {
		return err
	}
	if !w.terminal {
		return printJobs(w.out, dir, list)
	}
	width := cmp.Or(w.columns, 80)
	say := func(head, text string) string { return strings.Join(tui.Wrapped(head, text, width), "\n") }
	for i, j := range list {
		fmt.Fprintln(w.out, say(fmt.Sprintf("%3d  ", i+1),
			fmt.Sprintf("%s  (%s, %s, %s)", oneLine(cmp.Or(j.Title, j.Name)), mapping.Count(len(j.Pods), "pod"), mapping.Count(j.Readings, "reading"), j.State)))
	}
	ask := "Number of a job, or a name for a new one"
	if len(list) == 0 {
		fmt.Fprintln(w.out, say("", "No jobs yet in "+oneLine(dir)+"."))
		ask = "Type a name for a new one"
	}
	fmt.Fprint(w.out, say("", ask+"; ENTER alone leaves:")+" ")
	answer, err := readLine(ctx, w.in)
	switch {
	case answer == "" && (err == nil || errors.Is(err, io.EOF)):
		fmt.Fprintln(w.out)
		return nil
	case answer == "":
		return err
	}
	o := screenOptions{leads: "pair"}
	if n, err := strconv.Atoi(answer); err == nil {
		if n < 1 || n > len(list) {
			return inputProblem(fmt.Sprintf("there is no job %d in the list", n), "begin again and choose from 1 to "+strconv.Itoa(len(list)))
		}
		return openJob(ctx, w, list[n-1].Path, o)
	}
	if path, ok := chosen(list, answer); ok {
		return openJob(ctx, w, path, o)
	}
	return beginJob(ctx, w, answer, o)
}

// chosen finds a job of the list by its name, or by its title where no other
// job has that.
func chosen(list []jobLine, answer string) (path string, ok bool) {
	var titled []string
	for _, j := range list {
		if j.Name == answer {
			return j.Path, true
		}
		if j.Title == answer {
			titled = append(titled, j.Path)
		}
	}
	if len(titled) == 1 {
		return titled[0], true
	}
	return "", false
}

// readLine reads one line and not a byte more: what follows belongs to the
// screens. It is left when the context ends.
func readLine(ctx context.Context, in io.Reader) (string, error) {
	type read struct {
		text string
		err  error
	}
	done := make(chan read, 1)
	go func() {
		text, err := lineOf(in)
		done <- read{mapping.Clean(text, mapping.MaxText), err}
	}()
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case r := <-done:
		return r.text, r.err
	}
}

func lineOf(in io.Reader) (string, error) {
	const longest = 4096
	var b strings.Builder
	one := make([]byte, 1)
	for {
		n, err := in.Read(one)
		if n == 1 && one[0] == '\n' {
			return b.String(), nil
		}
		// The rest of a line that is too long is no answer to the next question.
		if b.Len() < longest {
			b.Write(one[:n])
		}
		if err != nil {
			return b.String(), err
		}
	}
}
