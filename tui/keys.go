package tui

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// action is what a key means. Screens know actions only; this file is the one
// place where keys are turned into them.
type action string

// scope is a place where keys have a meaning: a screen, or everywhere.
type scope string

const (
	everywhere scope = "everywhere"
	onProbe    scope = "probing"
	onPods     scope = "pods"
	onTable    scope = "contact table"
	onDoubts   scope = "doubts"
	onLog      scope = "log"
	onReturn   scope = "coming back"
	onCut      scope = "before the cut"
	onPinout   scope = "pinout"
	onPlan     scope = "harness"
	onText     scope = "reading"
	onForm     scope = "typing"
)

const (
	actHelp    action = "help"
	actBack    action = "back"
	actQuit    action = "quit"
	actSuspend action = "suspend"
	actRetry   action = "save-again"
	actBell    action = "bell"
	actUndo    action = "undo"

	actBeep    action = "beep"
	actSilent  action = "silence"
	actMeter   action = "as-the-meter-shows"
	actNotSure action = "not-sure"
	actReach   action = "cannot-reach"
	actFlicker action = "flicker"
	actLine    action = "type"
	actMode    action = "meter-mode"
	actNote    action = "note"
	actWhy     action = "why"
	actTable   action = "table"
	actDoubts  action = "doubts"
	actKnown   action = "known"
	actLog     action = "log"
	actSlip    action = "slipped"
	actControl action = "control-beep"
	actAmend   action = "change-pod"
	actPinout  action = "pinout"
	actCut     action = "before-cut"
	actLeads   action = "leads"
	actPods    action = "pods"
	actPlan    action = "harness"
	actListen  action = "listen"

	actUp     action = "up"
	actDown   action = "down"
	actLeft   action = "left"
	actRight  action = "right"
	actPgUp   action = "page-up"
	actPgDown action = "page-down"
	actOpen   action = "open"
	actNew    action = "new"

	actRetest   action = "re-test"
	actAside    action = "set-aside"
	actStrike   action = "strike-reading"
	actSweep    action = "strike-sweep"
	actSince    action = "strike-since"
	actRestore  action = "restore"
	actFilter   action = "filter"
	actGoOn     action = "go-on"
	actFate     action = "fate"
	actFace     action = "face"
	actName     action = "name"
	actTerminal action = "terminal"
	actCavity   action = "new-cavity"
	actExport   action = "export"
	actReload   action = "load-again"
	actPart     action = "next-part"
	actLabels   action = "labels"
)

// bound is one action of a scope with its keys and its help. A hint is shown
// at the foot of the screen as well.
type bound struct {
	act  action
	bind key.Binding
	hint string
}

type keymap map[scope][]bound

func on(act action, hint, help string, keys ...string) bound {
	return bound{act: act, hint: hint, bind: key.NewBinding(key.WithKeys(keys...), key.WithHelp(keyNames(keys), help))}
}

// newKeymap is the usual keymap with the builder's own keys over it. The two
// answers lie far apart, on the two largest keys of any board; beside them
// lies nothing that strikes anything out.
func newKeymap(own map[string][]string) keymap {
	scroll := []bound{
		on(actUp, "", "one line up", "up"),
		on(actDown, "", "one line down", "down"),
		on(actPgUp, "", "a screen up", "pgup"),
		on(actPgDown, "", "a screen down", "pgdown"),
	}
	k := keymap{
		everywhere: {
			on(actHelp, "help", "the keys of this screen", "?"),
			on(actBack, "back", "back to where you were", "esc"),
			on(actUndo, "undo", "take back the last answer or strike-out", "u"),
			on(actBell, "", "bell on or off", "B"),
			on(actRetry, "", "save again after a failed save", "ctrl+r"),
			on(actSuspend, "", "put bellout to sleep; fg wakes it", "ctrl+z"),
			on(actQuit, "quit", "leave; everything is kept", "Q", "ctrl+c"),
		},
		onProbe: {
			on(actBeep, "beep", "the meter beeped", "enter"),
			on(actSilent, "silent", "the meter was silent", " "),
			on(actMeter, "", "practice: as the practice meter shows", "p"),
			on(actLine, "type", "type a line: 3 7, 0.4, OL, or 3 7 dip=main beep (a figure begins it by itself)", "/", "="),
			on(actNotSure, "", "not sure at this step", "n"),
			on(actFlicker, "", "it flickered at this step", "f"),
			on(actReach, "", "cannot reach: the rest of the sweep is left out", "r"),
			on(actNote, "", "a note on the last reading", "e"),
			on(actMode, "", "set the meter to beep, ohms or diode volts", "m"),
			on(actControl, "", "control beep: does the clip still bite?", "c"),
			on(actSlip, "", "the clip had slipped: strike out since here", "s"),
			on(actListen, "", "hands free: hear the meter's beep for this sweep (--listen)", "h"),
			on(actWhy, "", "why this sweep", "w"),
			on(actTable, "table", "contact table", "t"),
			on(actDoubts, "doubts", "readings that cannot all be right", "d"),
			on(actKnown, "known", "what we know, what is left, why", "k"),
			on(actLog, "", "the log of all readings", "l"),
			on(actAmend, "", "add an end, a switch, a position, a colour; remove or rename a slip", "a"),
			on(actLeads, "", "other leads: needle and clip, or both clipped", "L"),
			on(actPinout, "pinout", "the pinout", "o"),
			on(actCut, "before the cut", "before the cut: what is open, which wires to keep", "g"),
			on(actPods, "", "the pods of this job", "j"),
			on(actPlan, "", "the harness: findings of its plan, what if, proof, roadside", "H"),
		},
		onPods: {
			on(actOpen, "open", "work on this pod", "enter"),
			on(actNew, "new pod", "describe another pod", "n"),
			on(actPlan, "harness", "the harness: findings of its plan, what if, proof, roadside", "H"),
			on(actUp, "", "the pod above", "up"),
			on(actDown, "", "the pod below", "down"),
		},
		onTable: {
			on(actUp, "", "a row up", "up"),
			on(actDown, "", "a row down", "down"),
			on(actLeft, "", "an end to the left", "left"),
			on(actRight, "", "an end to the right", "right"),
			on(actWhy, "why", "the readings behind this cell", "w", "enter"),
		},
		onDoubts: append([]bound{
			on(actRetest, "re-test", "take the re-test as the next sweep", "t", "enter"),
			on(actStrike, "strike culprit", "strike out what the likeliest culprit spoiled", "X"),
			on(actAside, "set aside", "set this doubt aside", "A"),
			on(actRight, "next", "the next doubt", "right"),
			on(actLeft, "", "the doubt before", "left"),
		}, scroll...),
		onLog: {
			on(actUp, "", "earlier", "up"),
			on(actDown, "", "later", "down"),
			on(actPgUp, "", "a screen earlier", "pgup"),
			on(actPgDown, "", "a screen later", "pgdown"),
			on(actFilter, "filter", "show only what has these words: 3, dip=low, beep, struck", "/"),
			on(actStrike, "strike", "strike out this reading", "X"),
			on(actSweep, "sweep", "strike out its whole sweep", "W"),
			on(actSince, "since here", "the clip had slipped since here: strike out from here on", "S"),
			on(actRestore, "restore", "take back the strike-out of this reading", "R"),
			on(actNote, "", "a note on this reading", "e"),
		},
		onReturn: {
			on(actBeep, "beep", "the meter beeped", "enter"),
			on(actSilent, "silent", "the meter was silent", " "),
			on(actMeter, "", "practice: as the practice meter shows", "p"),
			on(actGoOn, "go on", "go on without the proving pair", "G"),
			on(actKnown, "known", "what we know, what is left, why", "k"),
			on(actLeads, "leads", "other leads: needle and clip, or both clipped", "L"),
			on(actLine, "type", "a reading of your own: 3 7 dip=main beep (a figure begins it by itself)", "/", "="),
		},
		onCut: append([]bound{
			on(actFate, "fate", "this wire: use, insulate, leave", "enter"),
			on(actFace, "face", "which face of the plug is meant", "f"),
			on(actLabels, "labels", "labels on paper, two of each wire", "x"),
			on(actRight, "", "the next wire", "right"),
			on(actLeft, "", "the wire before", "left"),
		}, scroll...),
		onPinout: append([]bound{
			on(actRight, "more", "to the right, where the page is wider than the screen", "right"),
			on(actName, "name", "name what an end does: 5 horn", "n"),
			on(actTerminal, "", "its terminal number: 5 49a", "t"),
			on(actCavity, "", "its cavity in the new plug: 5 B2", "c"),
			on(actExport, "export", "write it to a file", "x"),
			on(actLeft, "", "to the left", "left"),
		}, scroll...),
		onPlan: append([]bound{
			on(actBeep, "beep", "proof: the meter beeped", "enter"),
			on(actSilent, "silent", "proof: the meter was silent", " "),
			on(actNew, "make a first plan", "make a first plan from the maps of this job", "n"),
			on(actRight, "next", "findings, ways, what if, proof, roadside", "right"),
			on(actLeft, "", "the same, backwards", "left"),
			on(actLine, "what is dead?", "roadside: what is dead, in words", "/"),
			on(actPart, "next part", "proof: the loom, or the next module", "p"),
			on(actReload, "load again", "load the plan again after it was mended", "r"),
		}, scroll...),
		onText: scroll,
		onForm: {
			on(actOpen, "take", "take the line", "enter"),
			on(actBack, "back", "back, nothing changed", "esc"),
		},
	}
	for sc, list := range k {
		k[sc] = slices.Clone(list)
		for i, b := range k[sc] {
			if keys, ok := own[string(b.act)]; ok && len(keys) > 0 {
				k[sc][i] = on(b.act, b.hint, b.bind.Help().Desc, keys...)
			}
		}
	}
	return k
}

// check refuses keys of the builder's own that name no action, or that leave a
// key with two meanings in one place.
func (k keymap) check(own map[string][]string) error {
	known := Actions()
	for _, act := range slices.Sorted(maps.Keys(own)) {
		if !slices.Contains(known, act) {
			return fmt.Errorf("there is no action %q to lay on a key: it is one of %s", mapping.Clean(act, mapping.MaxName), strings.Join(known, " "))
		}
	}
	for _, sc := range slices.Sorted(maps.Keys(k)) {
		seen := map[string]action{}
		for _, b := range append(slices.Clone(k[sc]), k[everywhere]...) {
			for _, key := range b.bind.Keys() {
				other, dup := seen[key]
				if dup && other != b.act && sc != onForm {
					return fmt.Errorf("key %s would mean both %s and %s: lay one of them on another key", keyNames([]string{key}), other, b.act)
				}
				seen[key] = b.act
			}
		}
	}
	return nil
}

// CheckKeys says in one sentence what is wrong with keys of the builder's own,
// before they are used in Options.Keys.
func CheckKeys(own map[string][]string) error { return newKeymap(own).check(own) }

// Actions lists what can be laid on other keys, in order of the alphabet.
func Actions() []string {
	var out []string
	for _, list := range newKeymap(nil) {
		for _, b := range list {
			if !slices.Contains(out, string(b.act)) {
				out = append(out, string(b.act))
			}
		}
	}
	slices.Sort(out)
	return out
}

// action turns a key into what it means in a scope, or "".
func (k keymap) action(sc scope, m tea.KeyMsg) action {
	for _, s := range []scope{sc, everywhere} {
		for _, b := range k[s] {
			if key.Matches(m, b.bind) {
				return b.act
			}
		}
	}
	return ""
}

// of gives the name of the key of an action as the screens print it.
func (k keymap) of(sc scope, act action) string {
	for _, s := range []scope{sc, everywhere} {
		for _, b := range k[s] {
			if b.act == act {
				return keyNames(b.bind.Keys()[:1])
			}
		}
	}
	return ""
}

// key names the key of an action for a sentence; in plain lines there are no
// keys and the action's own word is what is typed.
func (a *app) key(sc scope, act action) string {
	if a.o.Plain {
		return string(act)
	}
	return a.keys.of(sc, act)
}

// keyNames writes keys as they are called.
func keyNames(keys []string) string {
	s := ""
	for i, k := range keys {
		if i > 0 {
			s += " or "
		}
		switch k {
		case " ":
			s += "SPACE"
		case "enter":
			s += "ENTER"
		case "esc":
			s += "ESC"
		case "up":
			s += "↑"
		case "down":
			s += "↓"
		case "left":
			s += "←"
		case "right":
			s += "→"
		case "pgup":
			s += "PgUp"
		case "pgdown":
			s += "PgDn"
		default:
			s += k
		}
	}
	return s
}
