package tui

import (
	"strings"
	"testing"

	"bellout/mapping"
)

// What nothing kept speaks of can be taken out or renamed; the rest keeps its
// place and its name, and the sentence says why.
func TestMistaken(t *testing.T) {
	pod := examplePod()
	pod.Switches[0].Positions = append(pod.Switches[0].Positions, "flash")
	kill, _ := parseSwitch("kill off* run")
	pod.Switches = append(pod.Switches, kill) // since the reading
	w := &mapping.PodWork{Pod: pod, Readings: []mapping.Reading{
		{ID: 7, Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Setting: mapping.Setting{"dip": "main", "horn": "out"}},
	}, Decisions: []mapping.Decision{{Kind: mapping.NameFunction, End: "5", Value: "horn"}}}
	for _, c := range []struct{ text, want, left string }{
		{"remove 4", "taken out: end 4", "1 2 3 5 | dip low* main flash | horn out* in! | kill off* run"},
		{"Remove KILL", "taken out: switch kill", "1 2 3 4 5 | dip low* main flash | horn out* in!"},
		{"remove dip flash", "taken out: position flash of dip", "1 2 3 4 5 | dip low* main | horn out* in! | kill off* run"},
		{"rename 4 bn", "end 4 is called bn now", "1 2 3 bn 5 | dip low* main flash | horn out* in! | kill off* run"},
		{"rename kill stop", "switch kill is called stop now", "1 2 3 4 5 | dip low* main flash | horn out* in! | stop off* run"},
		{"rename dip low dipped", "position low of dip is called dipped now", "1 2 3 4 5 | dip dipped* main flash | horn out* in! | kill off* run"},
		{"remove 2", "!reading #7 speaks of end 2, and readings are never changed", ""},
		{"rename 1 9", "!reading #7 speaks of end 1", ""},
		{"remove dip", "!reading #7 speaks of switch dip", ""},
		{"rename horn hooter", "!reading #7 speaks of switch horn", ""},
		{"rename dip main high", "!reading #7 speaks of position main of dip", ""},
		{"remove horn out", "!reading #7 speaks of position out of horn", ""},
		{"remove kill run", "!1 position(s): name at least two", ""},
		{"remove 5", "!you have named end 5", ""},
		{"rename 4 3", "!two ends named", ""},
		{"rename 4 a+b", "!a name cannot have", ""},
		{"remove start", "!neither an end nor a switch \"start\"", ""},
		{"remove", "!type remove 11", ""},
		{"rename 4", "!type remove 11", ""},
	} {
		p, say, err := changed(w, c.text)
		if want, refused := strings.CutPrefix(c.want, "!"); refused {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%q: %q %v, want a refusal with %q", c.text, say, err, want)
			}
			continue
		}
		got := ""
		for _, e := range p.Ends {
			got += string(e.ID) + " "
		}
		for _, sw := range p.Switches {
			got += "| " + switchLine(sw) + " "
		}
		if err != nil || say != c.want || strings.TrimSpace(got) != c.left {
			t.Errorf("%q: %q %v, left %s", c.text, say, err, got)
		}
		if len(pod.Ends) != 5 || pod.Ends[3].ID != "4" || switchLine(pod.Switches[0]) != "dip low* main flash" {
			t.Fatalf("%q changed the pod that was there", c.text)
		}
	}
}

// A wire that was added by mistake goes again, and undo brings it back.
func TestRemoveAtTheBench(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true })
	r.press("space", "a")
	r.enter("end 11")
	r.press("a")
	r.enter("remove 11")
	r.sees("taken out: end 11")
	if _, is := r.a.ses.work.Pod.End("11"); is {
		t.Fatal("it is there still")
	}
	r.press("space", "u", "u")
	r.sees("undone: the change of the pod")
	if _, is := r.a.ses.work.Pod.End("11"); !is {
		t.Fatal("undo did not bring it back")
	}
	r.press("a")
	r.enter("rename 2 x")
	r.sees("readings are never changed")
	if out, _ := talk(t, started(examplePod()), "change remove 4\nquit\n", nil); !strings.Contains(out, "taken out: end 4") {
		t.Errorf("in lines:\n%s", out)
	}
}

// Two wires in one cavity are remarked upon, not refused.
func TestTwoWiresInOneNewCavity(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Sheets = &paper{text: "a page"} })
	r.press("o", "c")
	r.enter("1 B2")
	r.seesNot("as well")
	r.press("c")
	r.enter("2 b2")
	r.sees("2: b2. b2 is wire 1's as well: two wires in one cavity, or a slip?")
	if v, _ := r.a.ses.work.Decided(mapping.SetNewCavity, "2"); v != "b2" {
		t.Errorf("it was not kept: %q", v)
	}
	r.press("c")
	r.enter("2 B3")
	r.seesNot("as well")
}
