package tui

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// logbook lists every reading ever taken of the pod, the struck-out ones shown
// as such. Nothing is edited here, only struck out, and every strike-out can be
// taken back.
type logbook struct {
	app    *app
	at     int // the reading under the cursor, among those shown
	line   *editor
	noting bool
	words  []string // the filter
	shown  []int    // readings that pass it
	upTo   int      // readings and strikes that shown was made for
	slip   bool     // opened to strike out since a slipped clip
	height int
}

// newSlip opens the log where the run through the present clips began.
func newSlip(a *app) *logbook {
	s := a.ses
	l := &logbook{app: a, slip: true}
	rs := s.work.Readings
	at := len(rs)
	for at > 0 {
		r := rs[at-1]
		if r.Session != s.work.Session || r.Control && r.Outcome == mapping.Sounded {
			break
		}
		if !r.Control && at < len(rs) && !slices.Equal(r.Black, rs[at].Black) {
			break
		}
		at--
	}
	l.at = at
	if at == len(rs) {
		l.at = len(rs) - 1
	}
	a.lookAt("go to the first reading after the clip slipped, then " + a.key(onLog, actSince) + " strikes out from there on")
	return l
}

func (l *logbook) scope() scope         { return onLog }
func (l *logbook) typing() *editor      { return l.line }
func (l *logbook) take(tea.Msg) tea.Cmd { return nil }

func (l *logbook) title() string {
	if l.slip {
		return "the clip had slipped since…"
	}
	if len(l.words) > 0 {
		return "log: " + strings.Join(l.words, " ")
	}
	return "log"
}

func (l *logbook) act(a action) tea.Cmd {
	s := l.app.ses
	l.sift()
	switch a {
	case actOpen:
		text := mapping.Clean(l.line.string(), mapping.MaxNote)
		l.line = nil
		if l.noting {
			l.noting = false
			if r, ok := l.current(); ok && text != "" {
				return s.remark(text, r.ID)
			}
			return nil
		}
		l.words, l.upTo, l.at = strings.Fields(strings.ToLower(text)), -1, 1<<30
		return nil
	case actBack:
		l.line, l.noting = nil, false
		return nil
	case actFilter:
		l.line = &editor{}
		l.line.set(strings.Join(l.words, " "))
		return nil
	case actUp, actDown, actPgUp, actPgDown:
		l.at = min(max(0, len(l.shown)-1), scrolled(l.at, a, l.height))
		return nil
	}
	r, ok := l.current()
	if !ok {
		return nil
	}
	switch a {
	case actNote:
		l.line, l.noting = &editor{}, true
	case actStrike:
		return s.strike("struck out by hand", r.ID)
	case actSweep:
		if r.Sweep == 0 {
			return s.strike("struck out by hand", r.ID)
		}
		var ids []mapping.ReadingID
		for _, o := range s.work.Readings {
			if o.Sweep == r.Sweep {
				ids = append(ids, o.ID)
			}
		}
		return s.strike("its sweep struck out by hand", ids...)
	case actSince:
		cmd := s.strike("the clip had slipped", l.since(r)...)
		s.unsure(true, false)
		if l.slip {
			l.app.drop() // straight back to the bench, where the clip is to be set
		}
		return cmd
	case actRestore:
		return s.restore(r.ID)
	}
	return nil
}

// since lists the readings that stand from one on.
func (l *logbook) since(r mapping.Reading) []mapping.ReadingID {
	var ids []mapping.ReadingID
	w := l.app.ses.work
	for _, o := range w.Readings {
		if _, gone := w.Struck[o.ID]; o.ID >= r.ID && !gone {
			ids = append(ids, o.ID)
		}
	}
	return ids
}

func (l *logbook) current() (mapping.Reading, bool) {
	l.sift()
	if len(l.shown) == 0 {
		return mapping.Reading{}, false
	}
	l.at = max(0, min(l.at, len(l.shown)-1))
	return l.app.ses.work.Readings[l.shown[l.at]], true
}

// sift works out which readings pass the filter, when anything has changed.
func (l *logbook) sift() {
	w := l.app.ses.work
	state := len(w.Readings)*4096 + len(w.Struck)
	if state == l.upTo {
		return
	}
	l.upTo = state
	l.shown = l.shown[:0]
	for i, r := range w.Readings {
		if l.passes(r) {
			l.shown = append(l.shown, i)
		}
	}
	l.at = max(0, min(l.at, len(l.shown)-1))
}

// passes tells whether a reading has every word of the filter: an end's flag,
// lever=position, or any word of its line.
func (l *logbook) passes(r mapping.Reading) bool {
	if len(l.words) == 0 {
		return true
	}
	w := l.app.ses.work
	text := strings.ToLower(l.row(r))
	for _, f := range l.words {
		name, pos, lever := strings.Cut(f, "=")
		switch {
		case lever:
			sw, ok := w.Pod.Switch(mapping.SwitchID(name))
			if !ok || !strings.EqualFold(string(r.Setting.At(sw)), pos) {
				return false
			}
		case slices.ContainsFunc(append(slices.Clone(r.Red), r.Black...), func(e mapping.EndID) bool { return strings.EqualFold(string(e), f) }):
		case isEnd(w.Pod, f), !strings.Contains(text, f):
			return false
		}
	}
	return true
}

// when says at what time an entry was kept, by the builder's own clock.
func (a *app) when(seq uint64) string {
	i := sort.Search(len(a.log), func(i int) bool { return a.log[i].Seq >= seq })
	if i == len(a.log) || a.log[i].Seq != seq || a.log[i].At == 0 {
		return ""
	}
	return time.UnixMilli(a.log[i].At).In(a.o.Now().Location()).Format("2006-01-02 15:04, ")
}

func isEnd(pod mapping.Pod, name string) bool {
	_, err := findEnd(pod, name)
	return err == nil
}

func (l *logbook) row(r mapping.Reading) string {
	w := l.app.ses.work
	s := fmt.Sprintf("#%d %s", r.ID, r.Words(w.Pod))
	if reason, gone := w.Struck[r.ID]; gone {
		s += " [struck out: " + reason + "]"
	} else if uint64(r.ID) > l.app.acked {
		s += " [saving]"
	}
	for _, m := range w.Remarks {
		if m.Reading == r.ID {
			s += " note: " + mapping.Clean(m.Text, mapping.MaxText)
		}
	}
	return s
}

func (l *logbook) view(w, h int) []string {
	l.sift()
	var foot []string
	if l.line != nil {
		prompt := "show only: "
		if l.noting {
			prompt = "note: "
		}
		foot = []string{l.line.view(prompt, w)}
	} else if r, ok := l.current(); ok && h >= 8 {
		foot = append([]string{strings.Repeat("─", min(w, 76))}, wrap(l.row(r)+fmt.Sprintf("  (%ssitting %d, sweep #%d)", l.app.when(uint64(r.ID)), r.Session, r.Sweep), w)...)
		if l.slip {
			foot = append(foot, fit(fmt.Sprintf("%s strikes out %s from #%d on", l.app.key(onLog, actSince), mapping.Count(len(l.since(r)), "reading"), r.ID), w))
		}
		if most := max(2, h/3); len(foot) > most {
			foot = append(foot[:most-1:most-1], "…")
		}
	}
	room := max(1, h-len(foot))
	l.height = room
	if len(l.shown) == 0 {
		return append([]string{fit("no reading here; "+l.app.key(onLog, actFilter)+" changes the filter", w)}, foot...)
	}
	out := l.rows(w, room)
	for len(out) < h-len(foot) {
		out = append(out, "")
	}
	return append(out, foot...)
}

// rows draws only what is in sight: the log may be thousands of lines long.
func (l *logbook) rows(w, room int) []string {
	rs := l.app.ses.work.Readings
	n := len(l.shown)
	first := max(0, min(around(l.at, room), n-room))
	last := min(n, first+room)
	out := make([]string, 0, room)
	for i := first; i < last; i++ {
		mark := "  "
		if i == l.at {
			mark = "▶ "
		}
		r := rs[l.shown[i]]
		text := l.row(r)
		if _, gone := l.app.ses.work.Struck[r.ID]; gone {
			text = "× " + text
		} else {
			text = "  " + text
		}
		if i == l.at {
			text = l.app.th.strong.Render(fit(text, w-2))
		}
		out = append(out, fit(mark+text, w))
	}
	if room >= 3 && first > 0 && l.at != first {
		out[0] = fit("  ▲ "+mapping.Count(first+1, "earlier reading"), w)
	}
	if room >= 3 && last < n && l.at != last-1 {
		out[len(out)-1] = fit("  ▼ "+mapping.Count(n-last+1, "later reading"), w)
	}
	return out
}
