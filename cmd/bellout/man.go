package main

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"bellout/storage"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func manCommand(w *world, root *cobra.Command) *cobra.Command {
	var out output
	c := &cobra.Command{
		Use:     "man",
		Short:   "print the manual page, made from these commands",
		Example: "  bellout man -o bellout.1 && man ./bellout.1",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			out.makes = paperFile
			return out.write(w, func(to io.Writer) error { return writeMan(to, root) })
		},
	}
	c.Flags().StringVarP(&out.path, "output", "o", "", "write to `FILE` instead of standard output")
	c.Flags().BoolVar(&out.force, "force", false, "replace a file that is there already even if it is no manual page")
	return c
}

const manHead = `.TH BELLOUT 1 "" "bellout" "User Commands"`

// writeMan writes the whole tree of commands as one page for man(1). It bears
// no date: the same program gives the same bytes.
func writeMan(to io.Writer, root *cobra.Command) error {
	b := bufio.NewWriter(to)
	p := func(format string, args ...any) { fmt.Fprintf(b, format+"\n", args...) }
	p(manHead)
	p(".SH NAME\nbellout \\- %s", roff(root.Short))
	p(".SH SYNOPSIS\n.B bellout\n[\\fICOMMAND\\fR] [\\fIOPTIONS\\fR]")
	p(".SH DESCRIPTION")
	paragraphs(p, root.Long)
	p(".SH COMMANDS")
	eachCommand(root, func(c *cobra.Command) {
		p(".SS %s", roff(strings.TrimPrefix(c.UseLine(), "bellout ")))
		if c.Long != "" {
			paragraphs(p, c.Long)
		} else {
			p("%s.", roff(sentence(c.Short)))
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { manFlag(p, f) })
		if c.Example != "" {
			p(".PP\n.nf\n%s\n.fi", roff(c.Example))
		}
	})
	p(".SH EXIT STATUS")
	for _, m := range exitMeanings {
		p(".TP\n.B %d\n%s: %s.", m.code, roff(m.word), roff(m.says))
	}
	p(".SH ENVIRONMENT")
	for _, v := range environment {
		p(".TP\n.B %s\n%s", v.name, roff(v.says))
	}
	p(".SH CAUTIONS")
	for _, c := range cautions {
		p(".PP\n%s", roff(c))
	}
	return b.Flush()
}

// environment lists the variables that the program heeds.
var environment = []struct{ name, says string }{
	{storage.FolderVariable, "The folder in which jobs without a path are kept."},
	{"NO_COLOR", "Any value: no colour on screen. Nothing is told by colour alone."},
	{"TERM", "The value dumb asks for plain lines instead of screens."},
}

// cautions are those that concern every reader (trade practice; a plan prints
// its own where they matter).
var cautions = []string{
	"Unplug the pod from the machine, or take the battery's negative off, before any continuity reading. If in doubt measure DC volts first: it must read 0.",
	"What must be lit, how bright and when, is a matter of local law; check it before riding. This program does not know your law.",
	"Fuses protect wire. Never fit a bigger fuse because one blew. Leave anti-lock brakes, airbags, immobilisers and traction batteries to a qualified vehicle electrician.",
}

func manFlag(p func(string, ...any), f *pflag.Flag) {
	if f.Hidden || f.Name == "help" {
		return
	}
	kind, says := pflag.UnquoteUsage(f)
	name := "\\-\\-" + roff(f.Name)
	if f.Shorthand != "" {
		name = "\\-" + f.Shorthand + ", " + name
	}
	if kind != "" {
		name += " \\fI" + roff(kind) + "\\fR"
	}
	p(".TP\n%s\n%s.", name, roff(sentence(says)))
}

func eachCommand(c *cobra.Command, visit func(*cobra.Command)) {
	for _, child := range c.Commands() {
		if child.Hidden {
			continue
		}
		if !child.HasSubCommands() {
			visit(child)
		}
		eachCommand(child, visit)
	}
}

func paragraphs(p func(string, ...any), text string) {
	for _, part := range strings.Split(strings.TrimSpace(text), "\n\n") {
		p(".PP\n%s", roff(part))
	}
}

// sentence begins with a capital and has no stop at its end.
func sentence(s string) string {
	s = strings.TrimSuffix(strings.TrimSpace(s), ".")
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// roff guards what the formatter would take for its own: backslashes, and dots
// or quotes that begin a line. Hyphens stay hyphens that can be copied.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}
