package tui

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// describe asks for the little that must be known before the first beep: how
// many wires, the body or not, the switches, and how the leads are held. One
// question at a time in one place; all the rest can come later.
type describe struct {
	app   *app
	line  *editor
	at    questionAt
	pod   mapping.Pod
	ends  []mapping.End
	body  bool
	leads mapping.Leads
	asked bool // whether to leave with the answers lost
}

// questionAt is the question in hand.
type questionAt int

const (
	askName questionAt = iota
	askWires
	askBody
	askSwitches
	askLeads
)

func newDescribe(a *app) *describe {
	return &describe{app: a, line: &editor{}, leads: a.o.Leads}
}

func (d *describe) scope() scope         { return onForm }
func (d *describe) title() string        { return "describe a pod" }
func (d *describe) typing() *editor      { return d.line }
func (d *describe) take(tea.Msg) tea.Cmd { return nil }

// leaving asks once before answers are lost: a pod is kept as a whole, with the
// last question.
func (d *describe) leaving() bool {
	if d.at == askName || d.asked {
		return true
	}
	d.asked = true
	d.app.lookAt("leaving now loses what you have answered about this pod: answer on, or leave once more")
	return false
}

func (d *describe) act(a action) tea.Cmd {
	d.asked = false
	switch a {
	case actBack:
		if d.at == askName {
			d.app.pop()
			return nil
		}
		d.app.say("") // what was wrong with an answer is no longer asked
		d.at--
		d.line.set("")
		return nil
	case actOpen:
		cmd, err := d.answer(strings.TrimSpace(d.line.string()))
		if err != nil {
			return d.app.refuse(err)
		}
		return cmd
	}
	return nil
}

// answer takes the line; what is not understood stays in it.
func (d *describe) answer(text string) (tea.Cmd, error) {
	d.app.say("")
	switch d.at {
	case askName:
		d.pod.Name = mapping.Clean(text, mapping.MaxName)
		if d.pod.Name == "" {
			d.pod.Name = d.freeName()
		}
		if d.app.job.Pods[mapping.PodKey(d.pod.Name)] != nil {
			return nil, fmt.Errorf("this job has a pod %q already: give this one another name", d.pod.Name)
		}
	case askWires:
		ends, err := parseCount(text)
		if err != nil {
			return nil, err
		}
		d.ends = ends
	case askBody:
		switch strings.ToLower(text) {
		case "", "n", "no":
			d.body = false
		case "y", "yes":
			d.body = true
		default:
			return nil, fmt.Errorf("%q is neither y nor n: does a probe get at the pod's bare metal?", mapping.Clean(text, mapping.MaxName))
		}
		if n := len(d.ends); n == 1 && !d.body {
			return nil, fmt.Errorf("one wire alone has nothing to be joined to: count the body in with y, or %s and count again", d.app.key(onForm, actBack))
		}
	case askSwitches:
		if text != "" {
			return nil, d.addSwitches(text)
		}
	case askLeads:
		switch text {
		case "":
		case "1":
			d.leads = mapping.PairLeads
		case "2":
			d.leads = mapping.BunchLeads
		default:
			return nil, fmt.Errorf("%q is neither 1 nor 2: how are the leads held?", mapping.Clean(text, mapping.MaxName))
		}
		return d.finish()
	}
	d.at++
	d.line.set("")
	return nil, nil
}

func (d *describe) freeName() string {
	for i := 1; ; i++ {
		if name := "pod " + strconv.Itoa(i); d.app.job.Pods[mapping.PodKey(name)] == nil {
			return name
		}
	}
}

// addSwitches adds what a line describes; "-dip" takes one out again.
func (d *describe) addSwitches(text string) error {
	if name, out := strings.CutPrefix(text, "-"); out {
		sw, err := findSwitch(d.pod, strings.TrimSpace(name))
		if err != nil {
			return err
		}
		for i := range d.pod.Switches {
			if d.pod.Switches[i].Name == sw.Name {
				d.pod.Switches = append(d.pod.Switches[:i:i], d.pod.Switches[i+1:]...)
				break
			}
		}
		d.line.set("")
		return nil
	}
	sws, err := parseSwitches(text)
	if err != nil {
		return err
	}
	p := d.whole()
	p.Switches = append(p.Switches[:len(p.Switches):len(p.Switches)], sws...)
	if err := p.Validate(); err != nil {
		return err
	}
	d.pod.Switches = p.Switches
	d.line.set("")
	return nil
}

func (d *describe) whole() mapping.Pod {
	p := d.pod
	p.Ends = d.ends
	if d.body {
		p.Ends = append(p.Ends[:len(p.Ends):len(p.Ends)], mapping.End{ID: "BODY", Kind: mapping.Body})
	}
	return p
}

// finish keeps the pod and goes to the bench.
func (d *describe) finish() (tea.Cmd, error) {
	p := d.whole()
	if err := p.Validate(); err != nil {
		return nil, err
	}
	key := mapping.PodKey(p.Name)
	save := d.app.put(key, mapping.Entry{Describe: &p})
	d.app.o.Leads = d.leads
	return tea.Batch(save, d.app.open(key)), nil
}
