package tui

import (
	"slices"
	"strings"
	"testing"
)

// In no scope does a key mean two things, and every key has its help.
func TestKeymap(t *testing.T) {
	k := newKeymap(nil)
	for sc := range k {
		seen := map[string]action{}
		scopes := []scope{sc}
		if sc != everywhere && sc != onForm {
			scopes = append(scopes, everywhere)
		}
		for _, s := range scopes {
			for _, b := range k[s] {
				if b.bind.Help().Desc == "" || b.bind.Help().Key == "" {
					t.Errorf("%s: %s has no help", sc, b.act)
				}
				for _, key := range b.bind.Keys() {
					if other, dup := seen[key]; dup {
						t.Errorf("%s: key %q means %s and %s", sc, key, other, b.act)
					}
					seen[key] = b.act
				}
			}
		}
	}
}

// Nothing that strikes out, skips or leaves lies beside an answer key: on the
// bottom row over the space bar, or around ENTER. Capitals need two fingers.
func TestNothingDestructiveBesideTheAnswers(t *testing.T) {
	beside := []string{"x", "c", "v", "b", "n", "m", ",", ".", "'", ";", "]", "\\", "backspace", "delete"}
	harmless := []action{actControl, actNotSure, actMode, actName, actCavity, actExport, actLabels, actNew}
	k := newKeymap(nil)
	for sc, list := range k {
		for _, b := range list {
			for _, key := range b.bind.Keys() {
				if slices.Contains(beside, key) && !slices.Contains(harmless, b.act) {
					t.Errorf("%s: %s lies on %q", sc, b.act, key)
				}
			}
		}
	}
}

// The answers can be laid on a foot switch, and the help follows.
func TestRemappedKeys(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) {
		o.Quiet = true
		o.Keys = map[string][]string{"beep": {"f9"}, "silence": {"z"}}
	})
	r.press("enter", "space")
	if n := len(r.a.ses.work.Readings); n != 0 {
		t.Fatalf("the old keys still answer: %d readings", n)
	}
	r.press("z")
	if n := len(r.a.ses.work.Readings); n != 1 {
		t.Fatalf("the new key does not answer")
	}
	r.press("?")
	r.sees("z the meter was silent", "f9 the meter beeped")
}

// Where the log is empty it names the key that changes the filter, wherever it is laid.
func TestLogNamesItsFilterKey(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Keys = map[string][]string{"filter": {"f7"}} })
	r.press("l", "f7")
	r.enter("nowhere")
	r.sees("no reading here; f7 changes the filter")
}

// Keys that arrive in one piece over a slow link are single keys.
func TestKeysInOnePiece(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("2 3", "enter")
	if rs := r.a.ses.work.Readings; len(rs) != 3 {
		t.Fatalf("%d readings from a line that came in one piece", len(rs))
	}
}

// Keys that would mean two things, or nothing, are refused in one sentence.
func TestKeysRefused(t *testing.T) {
	for _, c := range []struct {
		own  map[string][]string
		want string
	}{
		{map[string][]string{"buzz": {"b"}}, `no action "buzz"`},
		{map[string][]string{"beep": {"u"}}, "both beep and undo"},
		{map[string][]string{"silence": {"enter"}}, "both beep and silence"},
	} {
		if err := newKeymap(c.own).check(c.own); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.own, err, c.want)
		}
	}
	own := map[string][]string{"beep": {"f1"}, "silence": {"f2"}}
	if err := newKeymap(own).check(own); err != nil {
		t.Error(err)
	}
}
