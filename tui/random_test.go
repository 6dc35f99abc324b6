package tui

import (
	"fmt"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bellout/mapping"
)

// Whatever keys are pressed, in whatever order: nothing panics, what is on disk
// is what is shown, no kept reading is ever changed, and it opens again.
func TestAnyKeys(t *testing.T) {
	var keys []string
	for _, list := range newKeymap(nil) {
		for _, b := range list {
			for _, k := range b.bind.Keys() {
				if k != "Q" && k != "ctrl+c" && k != "ctrl+z" {
					keys = append(keys, k)
				}
			}
		}
	}
	lines := []string{"3 7", "1", "0", "0.4", "OL", "4 5 horn=in beep", "3 3 silent", "end 9", "position dip half after low", "switch kill off* run", "5 horn", "dip=main", "struck", "right", "8", "dip, turn", "remove 9", "rename 9 x", "remove kill", "remove dip half"}
	rapid.Check(t, func(rt *rapid.T) {
		log := started(examplePod())
		if rapid.Bool().Draw(rt, "empty") {
			log = nil
		}
		r := newRig(t, log, func(o *Options) { o.Quiet = true; o.Player = practiceMeter{} })
		for i := range rapid.IntRange(1, 25).Draw(rt, "keys") {
			if rapid.IntRange(0, 5).Draw(rt, fmt.Sprint("typed", i)) == 0 {
				l := rapid.SampledFrom(lines).Draw(rt, fmt.Sprint("line", i))
				if r.a.top().typing() == nil {
					r.press("/")
				}
				if r.a.top().typing() != nil {
					r.enter(l)
				}
				continue
			}
			if rapid.IntRange(0, 19).Draw(rt, fmt.Sprint("disk", i)) == 0 {
				if r.keep.fail == nil {
					r.keep.fail = errDisk
				} else {
					r.keep.fail = nil
				}
			}
			r.press(rapid.SampledFrom(keys).Draw(rt, fmt.Sprint("key", i)))
			r.a.route(tea.WindowSizeMsg{Width: 20 + 13*(i%6), Height: 5 + 4*(i%6)})
			r.a.View()
		}
		r.keep.fail = nil
		r.press("ctrl+r")
		if r.a.unsaved() != 0 {
			rt.Fatalf("%d entries are not on disk", r.a.unsaved())
		}
		kept, err := mapping.Fold(r.keep.log)
		if err != nil {
			rt.Fatal(err)
		}
		if d := cmp.Diff(r.a.job, kept); d != "" {
			rt.Fatalf("shown and kept differ:\n%s", d)
		}
		newRig(t, r.keep.log, nil)
	})
}

// Numbers that the keeper gives out of step are noticed at once.
func TestKeeperOutOfStep(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.keep.log = append(r.keep.log, mapping.Entry{})
	r.press("enter")
	r.sees("NOT SAVED", "leave and open the job again")
}
