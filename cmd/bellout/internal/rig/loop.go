package rig

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"

	"bellout/inference"
	"bellout/mapping"
)

// Engine is what the rig needs of the reasoning.
type Engine interface {
	Add(readings ...mapping.Reading)
	Next(bench mapping.Bench) (inference.Proposal, bool)
	Result() inference.Result
}

// Journal keeps a job's entries. Append returns only when they are safe, with
// the numbers under which they are kept; all of them are kept or none is.
type Journal interface {
	Append(entries ...mapping.Entry) ([]mapping.Entry, error)
}

// ErrEnded says that the answers ended before the map was done.
var ErrEnded = errors.New("the answers ended before the map was done")

// Rig is one sitting in which a program answers.
type Rig struct {
	Pod     mapping.Pod
	Key     mapping.PodKey // the pod's key in the job
	Session int            // number of this sitting
	Bench   mapping.Bench  // where clips and levers are believed to be
	Engine  Engine         // holds the readings that are there already
	Journal Journal
	Kept    int          // readings kept before this sitting
	Now     func() int64 // milliseconds since 1970, for the log
}

// longestAnswer bounds a line of input: room for thousands of steps.
const longestAnswer = 1 << 20

// Run asks until the engine has nothing more to ask, then writes the map. It
// returns a *Malformed for an answer that cannot be taken, ErrEnded when the
// answers end too early, the context's error when it is cancelled, and else
// the error of the journal or of a stream. Whatever it returns, every answer
// followed by another line of output is in the journal.
func (r *Rig) Run(ctx context.Context, in io.Reader, out io.Writer) error {
	lines := r.read(ctx, in)
	for {
		p, more := r.Engine.Next(r.Bench)
		if !more {
			return write(out, func() ([]byte, error) { return encodeFinal(r.Engine.Result(), r.Kept) })
		}
		sweep := p.Sweep
		kept, err := r.Journal.Append(mapping.Entry{Pod: r.Key, At: r.Now(), Ask: &mapping.Ask{Sweep: sweep}})
		if err != nil {
			return fmt.Errorf("keeping an ask: %w", err)
		}
		sweep.ID = mapping.SweepID(kept[0].Seq)
		if err := write(out, func() ([]byte, error) { return encodeAsk(r.Pod, sweep) }); err != nil {
			return err
		}
		var text answerLine
		select {
		case <-ctx.Done():
			return ctx.Err()
		case text = <-lines:
		}
		if text.err != nil {
			return text.err
		}
		readings, err := decodeAnswer(text.text, sweep)
		if err != nil {
			return err
		}
		if err := r.keep(readings); err != nil {
			return err
		}
		r.Bench = r.Bench.After(r.Pod, sweep)
	}
}

// keep puts the answer to one sweep into the journal, all of it at once, and
// only then lets the engine know.
func (r *Rig) keep(readings []mapping.Reading) error {
	entries := make([]mapping.Entry, len(readings))
	for i := range readings {
		readings[i].Session = r.Session
		entries[i] = mapping.Entry{Pod: r.Key, At: r.Now(), Reading: &readings[i]}
	}
	kept, err := r.Journal.Append(entries...)
	if err != nil {
		return fmt.Errorf("keeping an answer: %w", err)
	}
	for i := range readings {
		readings[i].ID = mapping.ReadingID(kept[i].Seq)
	}
	r.Kept += len(readings)
	r.Engine.Add(readings...)
	return nil
}

func write(out io.Writer, encode func() ([]byte, error)) error {
	text, err := encode()
	if err != nil {
		return err
	}
	if _, err := out.Write(text); err != nil {
		return fmt.Errorf("writing to the rig: %w", err)
	}
	return nil
}

type answerLine struct {
	text []byte
	err  error
}

// read hands over the lines of the input one by one, so that a signal is
// noticed while an answer is awaited. Its goroutine ends with the input or,
// at the latest, with the process.
func (r *Rig) read(ctx context.Context, in io.Reader) <-chan answerLine {
	lines := make(chan answerLine)
	send := func(l answerLine) bool {
		select {
		case lines <- l:
			return true
		case <-ctx.Done():
			return false
		}
	}
	go func() {
		scan := bufio.NewScanner(in)
		scan.Buffer(nil, longestAnswer)
		for scan.Scan() {
			// The scanner reuses its buffer; the receiver keeps the line.
			if !send(answerLine{text: append([]byte(nil), scan.Bytes()...)}) {
				return
			}
		}
		err := scan.Err()
		switch {
		case errors.Is(err, bufio.ErrTooLong):
			err = malformed("the answer is longer than %d bytes: send one object a line", longestAnswer)
		case err == nil:
			err = ErrEnded
		}
		send(answerLine{err: err})
	}()
	return lines
}
