package tui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"sync"

	_ "bellout/tui/internal/noprobe" // before bubbletea: the terminal is asked nothing

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// Run works on a job until the builder leaves, the input ends or the context is
// done (so that a hang-up signal restores the terminal too). Whatever has been
// answered is on disk when it returns without an error.
//
// With Options.Plain, or on a terminal that cannot address its cursor, it talks
// in lines. The full screen needs Options.Screen.
func Run(ctx context.Context, o Options) error {
	if o.Keeper == nil || o.NewEngine == nil || o.In == nil || o.Out == nil || o.Now == nil {
		return errors.New("tui: Keeper, NewEngine, In, Out and Now are required")
	}
	book := &ledger{keeper: o.Keeper}
	o.Keeper = book
	if n := len(o.Log); n > 0 {
		book.last = o.Log[n-1].Seq
	}
	if o.Plain || os.Getenv("TERM") == "dumb" {
		return runPlain(ctx, o)
	}
	if !o.Screen {
		return errors.New("this is no terminal that can be drawn on: use --plain for questions and answers in lines")
	}
	o.Out = steadyOutput(o.Out)
	a, err := newApp(o)
	if err != nil {
		return err
	}
	with := []tea.ProgramOption{tea.WithAltScreen(), tea.WithInput(o.In), tea.WithOutput(o.Out), tea.WithContext(ctx)}
	if ctx.Done() != nil {
		// Whoever can end the context watches the signals. Two watchers are one
		// too many: bubbletea's would hand its message to a loop that has ended
		// with the context, and wait for ever.
		with = append(with, tea.WithoutSignalHandler())
	}
	p := tea.NewProgram(watched{a, o.CrashLog}, with...)
	_, err = p.Run()
	left := a.finish()
	switch {
	case err != nil && ctx.Err() != nil:
		return errors.Join(context.Cause(ctx), left)
	case err != nil:
		return errors.Join(fmt.Errorf("the screen stopped: %w", err), left)
	}
	return left
}

// finish writes what is still in the queue when the program ends by a signal.
func (a *app) finish() error {
	for _, batch := range a.queue {
		if _, err := a.o.Keeper.Append(batch...); err != nil {
			return fmt.Errorf("%s could not be saved: %w", mapping.Count(a.unsaved(), "entry"), err)
		}
	}
	a.queue = nil
	return nil
}

// ledger makes a batch that is handed in twice count once: at the end of the
// program it is not known whether the write in flight got through.
type ledger struct {
	mu     sync.Mutex
	keeper Keeper
	last   uint64
}

// Append passes the batch on with its numbers taken out: the keeper gives them.
func (l *ledger) Append(entries ...mapping.Entry) ([]mapping.Entry, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(entries) == 0 || entries[len(entries)-1].Seq <= l.last {
		return entries, nil
	}
	send := append([]mapping.Entry(nil), entries...)
	for i := range send {
		send[i].Seq = 0
	}
	got, err := l.keeper.Append(send...)
	if err == nil {
		l.last = entries[len(entries)-1].Seq
	}
	return got, err
}

// steadyOutput lets the bell and the drawing share one output. A terminal stays
// a terminal: bubbletea asks a file for its size.
func steadyOutput(w io.Writer) io.Writer {
	if f, ok := w.(*os.File); ok {
		return &steadyFile{File: f}
	}
	return &steadyWriter{w: w}
}

type steadyFile struct {
	*os.File
	mu sync.Mutex
}

func (s *steadyFile) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.File.Write(p)
}

type steadyWriter struct {
	mu sync.Mutex
	w  io.Writer
}

func (s *steadyWriter) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.w.Write(p)
}

// watched keeps the trace of a panic before bubbletea restores the terminal:
// what it prints itself scrolls away.
type watched struct {
	*app
	log io.Writer
}

func (w watched) Init() tea.Cmd { return w.cmd(w.app.Init()) }

func (w watched) Update(m tea.Msg) (tea.Model, tea.Cmd) {
	defer w.trace()
	cmd := w.route(m)
	return w, w.cmd(cmd)
}

func (w watched) View() string {
	defer w.trace()
	return w.app.View()
}

// cmd watches a command, and those that it turns out to be made of.
func (w watched) cmd(c tea.Cmd) tea.Cmd {
	if c == nil || w.log == nil {
		return c
	}
	return func() tea.Msg {
		defer w.trace()
		m := c()
		if batch, ok := m.(tea.BatchMsg); ok {
			for i := range batch {
				batch[i] = w.cmd(batch[i])
			}
		}
		return m
	}
}

func (w watched) trace() {
	if r := recover(); r != nil {
		if w.log != nil {
			_, _ = fmt.Fprintf(w.log, "panic: %v\n\n%s\n", r, debug.Stack())
		}
		panic(r)
	}
}
