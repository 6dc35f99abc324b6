package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"bellout/storage"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// world is all that a command may touch of its surroundings.
type world struct {
	in  io.Reader
	out io.Writer
	err io.Writer

	// terminal says that both ends are a terminal, so that screens may be drawn.
	terminal bool
	columns  int  // of that terminal; 0: not known
	watched  bool // the error stream is one
	getenv   func(string) string
	now      func() time.Time
}

// run does one command line and returns the exit code. It prints the error, if
// any; nothing below it prints errors or exits.
func run(ctx context.Context, w *world, args []string) exitCode {
	out := &watchedWriter{to: w.out}
	if !w.terminal { // the screens want the terminal itself
		around := *w
		around.out = out
		w = &around
	}
	root := newRoot(w)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if out.err != nil && (err == nil || err.Error() == "" || errors.Is(err, out.err)) {
		err = &problem{code: exitFailed, text: fmt.Sprintf("writing standard output: %v", storage.Reason(out.err)),
			hint: "free some space or write elsewhere", err: out.err}
	}
	if err != nil {
		return w.complain(err)
	}
	return exitOK
}

// hushed keeps errors from cobra, which would print them as they are.
type hushed struct{ to io.Writer }

func (h hushed) Write(p []byte) (int, error) {
	_, _ = h.to.Write(p)
	return len(p), nil
}

// watchedWriter remembers the first error: what was not printed is no success,
// whether anybody looked at the error or not.
type watchedWriter struct {
	to  io.Writer
	err error
}

func (o *watchedWriter) Write(p []byte) (int, error) {
	n, err := o.to.Write(p)
	if o.err == nil {
		o.err = err
	}
	return n, err
}

// complain prints an error as one sentence and at most one hint.
func (w *world) complain(err error) exitCode {
	p := explain(err)
	if p.text != "" {
		for _, text := range append([]string{p.text}, p.more...) {
			fmt.Fprintf(w.err, "bellout: %s\n", oneLine(text))
		}
		if p.hint != "" {
			fmt.Fprintf(w.err, "hint: %s\n", oneLine(p.hint))
		}
	}
	return p.code
}

// milliseconds is the clock for the job's log.
func (w *world) milliseconds() int64 { return w.now().UnixMilli() }

// newRoot builds the tree of commands.
func newRoot(w *world) *cobra.Command {
	root := &cobra.Command{
		Use:   "bellout",
		Short: "find out which wire of a switch pod is which, and what to do with it",
		Long: `bellout leads somebody with an unlabelled switch pod and a cheap meter through
the probing, one instruction at a time, works out what joins what, says which
readings cannot all be right, keeps everything, and turns the answer into a
pinout and a harness plan.

Without a command it opens the list of jobs.`,
		Version:           version(),
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		Args:              cobra.ArbitraryArgs,
	}
	root.SetIn(w.in)
	root.SetOut(hushed{w.out})
	root.SetErr(w.err)
	root.SetVersionTemplate("bellout {{.Version}}\n")
	root.SetUsageTemplate(usageTemplate)
	root.SetHelpTemplate("{{with or .Long .Short}}{{. | trimTrailingWhitespaces}}\n\n{{end}}{{.UsageString}}")
	root.SetHelpCommand(helpCommand(root))
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return usageProblem(flagWords(err), c.CommandPath()+" --help shows what it takes")
	})
	root.AddCommand(
		newJobCommand(w), openCommand(w), jobsCommand(w), demoCommand(w), rigCommand(w),
		pinoutCommand(w), labelsCommand(w), tableCommand(w), logCommand(w), doubtsCommand(w),
		archiveCommand(w), restoreCommand(w), podCommand(w), planCommand(w),
		wireCommand(w), roadsideCommand(w), paperCommand(w), completionCommand(w, root), manCommand(w, root),
	)
	root.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(c, args[0])
		}
		return openList(c.Context(), w)
	}
	return root
}

// flagWords puts a wrong flag into words: without the name of the function
// that stumbled over it.
func flagWords(err error) string {
	var bad *pflag.InvalidValueError
	if errors.As(err, &bad) {
		kind := "of the right kind"
		switch bad.GetFlag().Value.Type() {
		case "float64":
			kind = "a number"
		case "int":
			kind = "a whole number"
		case "bool":
			kind = "true or false"
		}
		return fmt.Sprintf("--%s %q is not %s", bad.GetFlag().Name, bad.GetValue(), kind)
	}
	return err.Error()
}

const usageTemplate = `Usage:
  {{if .Runnable}}{{.UseLine}}{{else}}{{.CommandPath}} COMMAND{{end}}
{{- if .HasExample}}

Examples:
{{.Example}}{{end}}
{{- if .HasAvailableSubCommands}}

Commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}{{end}}
{{- if .HasAvailableLocalFlags}}

Flags:
{{.LocalFlags.FlagUsages | trimTrailingWhitespaces}}{{end}}
{{- if .HasAvailableSubCommands}}

{{.CommandPath}} COMMAND --help says more about one command.{{end}}
`

// helpCommand lets "bellout help plan check" work, and a wrong topic is an
// error like any other.
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "say more about a command",
		RunE: func(_ *cobra.Command, args []string) error {
			c, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return unknownCommand(root, strings.Join(args, " "))
			}
			return c.Help()
		},
	}
}

// group is a command that only holds others.
func group(use, short string, children ...*cobra.Command) *cobra.Command {
	g := &cobra.Command{Use: use, Short: short, Args: cobra.ArbitraryArgs}
	g.AddCommand(children...)
	g.RunE = func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return usageProblem(c.CommandPath()+" needs a command after it", c.CommandPath()+" --help lists them")
		}
		return unknownCommand(c, args[0])
	}
	return g
}

// unknownCommand says so, with the nearest commands there are.
func unknownCommand(c *cobra.Command, word string) error {
	hint := c.CommandPath() + " --help lists the commands"
	// Cobra suggests up to this edit distance; zero would suggest nothing.
	c.SuggestionsMinimumDistance = 2
	if near := c.SuggestionsFor(word); len(near) > 0 {
		hint = "did you mean " + c.CommandPath() + " " + strings.Join(near, " or ") + "?"
	}
	return usageProblem(fmt.Sprintf("%s has no command %q", c.CommandPath(), word), hint)
}

// exactly asks for its arguments by name, in the words of the usage line.
func exactly(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		hint := "usage: " + c.UseLine()
		switch {
		case len(args) < len(names):
			return usageProblem(fmt.Sprintf("%s needs %s", c.CommandPath(), names[len(args)]), hint)
		case len(args) > len(names):
			return usageProblem(fmt.Sprintf("%s does not know what to do with %q", c.CommandPath(), args[len(names)]), hint)
		}
		return nil
	}
}

// oneOf checks the value of a flag that takes one of a few words.
func oneOf(flag, value string, allowed ...string) error {
	for _, a := range allowed {
		if a == value {
			return nil
		}
	}
	return usageProblem(fmt.Sprintf("--%s %q is not known", flag, value),
		"it is one of "+strings.Join(allowed, ", "))
}

// words completes a flag or an argument from a fixed list.
func words(list ...string) cobra.CompletionFunc {
	return cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp)
}

// systemWorld is the world of a real process.
func systemWorld() *world {
	return &world{
		in: os.Stdin, out: os.Stdout, err: os.Stderr,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout),
		columns:  columnsOf(os.Stdout),
		watched:  isTerminal(os.Stderr),
		getenv:   os.Getenv, now: time.Now,
	}
}
