package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/storage"
	"bellout/tui"

	"github.com/spf13/cobra"
)

// screenOptions are the flags of every command that opens the screens.
type screenOptions struct {
	plain  bool
	quiet  bool
	theme  string
	leads  string
	speak  string
	listen string
	pod    string
	plan   string
	keys   []string
}

func (o *screenOptions) register(c *cobra.Command) {
	f := c.Flags()
	f.BoolVar(&o.plain, "plain", false, "questions and answers in lines instead of screens")
	f.BoolVar(&o.quiet, "quiet", false, "no bell")
	f.StringVar(&o.theme, "theme", "", "colours for a `BACKGROUND` dark or light, or none")
	f.StringVar(&o.leads, "leads", "pair", "how the meter is held, offered when a sitting begins: `LEADS` pair or bunch")
	f.StringVar(&o.speak, "speak", "", "speak the instructions through this `COMMAND`, which takes text on its standard input")
	f.StringVar(&o.listen, "listen", "", "hear the meter's beep in the sound that this `COMMAND` writes, or in a WAV file")
	f.StringVar(&o.plan, "plan", defaultPlan, "the plan of the harness in `FILE`")
	f.StringArrayVar(&o.keys, "key", nil, "another key for an action, as `ACTION=KEY`, for a foot switch; may be repeated")
	_ = c.RegisterFlagCompletionFunc("theme", words("dark", "light", "none"))
	_ = c.RegisterFlagCompletionFunc("leads", words("pair", "bunch"))
}

func newJobCommand(w *world) *cobra.Command {
	var o screenOptions
	c := &cobra.Command{
		Use:   "new JOB",
		Short: "begin a job: one machine's worth of work",
		Long: `Makes a new job file and opens it. A name is kept in the folder of jobs
(BELLOUT_DIR); a path, or a name ending in .bellout, stands as it is.`,
		Example: `  bellout new "the old twin"
  bellout new ./twin.bellout`,
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(c *cobra.Command, args []string) error {
			if err := o.check(w); err != nil {
				return err
			}
			return beginJob(c.Context(), w, args[0], o)
		},
	}
	o.register(c)
	return c
}

func openCommand(w *world) *cobra.Command {
	var o screenOptions
	c := &cobra.Command{
		Use:               "open JOB",
		Short:             "go on with a job",
		Args:              exactly("JOB"),
		ValidArgsFunction: completeJob,
		RunE: func(c *cobra.Command, args []string) error {
			if err := o.check(w); err != nil {
				return err
			}
			path, err := jobPath(args[0])
			if err != nil {
				return err
			}
			return openJob(c.Context(), w, path, o)
		},
	}
	o.register(c)
	c.Flags().StringVar(&o.pod, "pod", "", "open the pod of this `NAME`")
	return c
}

// check holds the flags to what there is, before anything is made.
func (o *screenOptions) check(w *world) error {
	if o.theme != "" {
		if err := oneOf("theme", o.theme, "dark", "light", "none"); err != nil {
			return err
		}
	}
	if err := oneOf("leads", o.leads, "pair", "bunch"); err != nil {
		return err
	}
	keys, err := keyMap(o.keys)
	if err != nil {
		return err
	}
	if err := tui.CheckKeys(keys); err != nil {
		return usageProblem("--key: "+err.Error(), "for example: --key beep=f1")
	}
	if !w.terminal && !o.plain {
		return usageProblem("this is no terminal that can be drawn on",
			"--plain asks and answers in lines; bellout rig lets a program answer")
	}
	return nil
}

// beginJob makes a new job file and opens it.
func beginJob(ctx context.Context, w *world, name string, o screenOptions) error {
	path, err := newJobPath(name)
	if err != nil {
		return err
	}
	title := strings.TrimSuffix(name[strings.LastIndexAny(name, `/\`)+1:], storage.Extension)
	s, err := storage.Create(path, mapping.Clean(title, mapping.MaxText))
	switch {
	case errors.Is(err, storage.ErrExists) && empty(path):
		return openJob(ctx, w, path, o)
	case err != nil:
		return err
	}
	if err := closed(nil, s.Close()); err != nil {
		return err
	}
	return openJob(ctx, w, path, o)
}

// empty tells of a job that was left before its first pod was described: to begin
// it is to go on with it.
func empty(path string) bool {
	entries, err := storage.Read(path)
	return err == nil && !slices.ContainsFunc(entries, func(e mapping.Entry) bool { return e.Title == nil })
}

// openJob runs the screens on a job file.
func openJob(ctx context.Context, w *world, path string, o screenOptions) (err error) {
	s, err := storage.Open(path)
	if err != nil {
		return err
	}
	defer func() { err = closed(err, s.Close()) }()
	if n := s.Healed(); n > 0 {
		fmt.Fprintf(w.err, "bellout: put back from the log what the last sitting had acknowledged: %s\n", mapping.Count(n, "entry"))
	}
	return runScreens(ctx, w, s, path, o, nil)
}

// runScreens runs the screens on any journal. With a player the program plays
// pod and meter.
func runScreens(ctx context.Context, w *world, job journal, path string, o screenOptions, player tui.Player) error {
	entries, err := job.Entries()
	if err != nil {
		return err
	}
	folded, err := mapping.Fold(entries)
	if err != nil {
		return err
	}
	keys, err := keyMap(o.keys)
	if err != nil {
		return err
	}
	options := tui.Options{
		Keeper: job, Log: entries, NewEngine: tui.NewEngine, Player: player,
		Keys: keys, Theme: themeFor(w, o.theme), Quiet: o.quiet, Plain: o.plain, Screen: w.terminal, Columns: w.columns,
		In: w.in, Out: w.out, Now: w.now,
		Sheets: &sheets{job: folded.Name, path: path, log: job.Entries},
	}
	if player == nil { // the practice pod hangs on no machine
		if o.plan == "" {
			o.plan = defaultPlan
		}
		options.Harness = harnessFile{w, o.plan}
	}
	if o.leads == "bunch" {
		options.Leads = mapping.BunchLeads
	}
	if o.pod != "" {
		if options.Pod, _, err = pickPod(folded, entries, o.pod); err != nil {
			return err
		}
	}
	if o.speak != "" {
		v, err := openVoice(o.speak)
		if err != nil {
			return err
		}
		defer v.Close()
		options.Speak = func(sentence string) error {
			v.Say(sentence)
			return v.Trouble()
		}
		options.Spoken = v.Wait
	}
	if o.listen != "" {
		ear, stop, err := openEars(ctx, o.listen)
		if err != nil {
			return err
		}
		defer func() {
			if err := stop(); err != nil {
				fmt.Fprintf(w.err, "bellout: %s\n", oneLine(err.Error()))
			}
		}()
		options.Ears = ear
	}
	if path != "" {
		crash := &lateFile{path: path + ".crash.txt"}
		defer crash.Close()
		options.CrashLog = crash
	}
	err = tui.Run(ctx, options)
	if err != nil && ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}

// keyMap reads ACTION=KEY flags.
func keyMap(flags []string) (map[string][]string, error) {
	keys := map[string][]string{}
	for _, f := range flags {
		action, key, ok := strings.Cut(f, "=")
		if !ok || action == "" || key == "" {
			return nil, usageProblem(fmt.Sprintf("--key %q is not of the form ACTION=KEY", f), "for example: --key beep=f1")
		}
		if !slices.Contains(tui.Actions(), action) {
			return nil, usageProblem(fmt.Sprintf("--key %s: there is no action %q", f, action), "it is one of "+strings.Join(tui.Actions(), ", "))
		}
		keys[action] = append(keys[action], key)
	}
	return keys, nil
}

// themeFor finds the theme: the flag, else what the environment says of the
// terminal. The terminal itself is never asked: some answer late, into the
// builder's first keys.
func themeFor(w *world, flag string) string {
	if flag != "" {
		return flag
	}
	if w.getenv("NO_COLOR") != "" {
		return "none"
	}
	// COLORFGBG is "foreground;background"; 7 and 15 are white.
	parts := strings.Split(w.getenv("COLORFGBG"), ";")
	if bg := parts[len(parts)-1]; bg == "7" || bg == "15" {
		return "light"
	}
	return "dark"
}

// lateFile comes into being when something is written to it.
type lateFile struct {
	path string
	file *os.File
}

func (l *lateFile) Write(p []byte) (int, error) {
	if l.file == nil {
		f, err := os.OpenFile(l.path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
		if err != nil {
			return 0, err
		}
		l.file = f
	}
	return l.file.Write(p)
}

// Close closes the file if there is one.
func (l *lateFile) Close() error {
	if l.file == nil {
		return nil
	}
	return l.file.Close()
}
