package tui

import (
	"fmt"
	"strconv"
	"strings"

	"bellout/inference"
	"bellout/mapping"
)

// conditionWords says when a link holds.
func conditionWords(c mapping.Condition) string {
	if len(c) == 0 {
		return "always"
	}
	var parts []string
	for _, t := range c {
		parts = append(parts, string(t.Switch)+" "+strings.ReplaceAll(mapping.List(t.Positions), " and ", " or "))
	}
	return strings.Join(parts, " with ")
}

// linkWords says a link: "1 and 3 joined: dip low; turn left with key on".
func linkWords(l mapping.Link) string {
	var parts []string
	for _, c := range l.When {
		parts = append(parts, conditionWords(c))
	}
	if len(parts) == 0 {
		parts = []string{"always"}
	}
	return fmt.Sprintf("%s and %s joined: %s", l.A, l.B, strings.Join(parts, "; "))
}

func (v said) words() string {
	return mapping.Reading{Outcome: v.outcome, Mode: v.mode, Value: v.value}.OutcomeWords()
}

// taken says what was just entered, so that it can be read back.
func (s *session) taken(vs []said) string {
	k := s.ask
	if k.sweep.Control {
		return "control beep, " + vs[0].words()
	}
	if len(vs) == 1 {
		return fmt.Sprintf("step %d %s", len(k.said)+1, vs[0].words())
	}
	var beeped, odd []string
	for i, v := range vs {
		n := strconv.Itoa(len(k.said) + i + 1)
		switch v.outcome {
		case mapping.Sounded:
			beeped = append(beeped, n)
		case mapping.Silent:
		default:
			odd = append(odd, n+" "+v.words())
		}
	}
	say := "beep at " + mapping.List(beeped)
	if len(beeped) == 0 {
		say = "no beep"
	}
	if len(odd) > 0 {
		say += "; " + strings.Join(odd, ", ")
	}
	return say
}

// story tells a doubt in a sentence: who beeped, who was silent, how often.
func (s *session) story(d inference.Doubt) string {
	type group struct {
		what  string
		times int
		ids   []string
	}
	var groups []group
	for _, id := range d.Readings {
		r, ok := s.byID(id)
		if !ok {
			continue
		}
		verb := map[mapping.Outcome]string{mapping.Sounded: "beeped", mapping.Silent: "were silent"}[r.Outcome]
		if verb == "" {
			verb = "read " + r.OutcomeWords()
		}
		what := fmt.Sprintf("%s and %s %s (%s)", mapping.SideWords(r.Red), mapping.SideWords(r.Black), verb, r.Setting.Words(s.work.Pod))
		if r.Control {
			what = fmt.Sprintf("the control beep on %s was %s", mapping.SideWords(r.Red), r.OutcomeWords())
		}
		found := false
		for i := range groups {
			if groups[i].what == what {
				groups[i].times++
				groups[i].ids = append(groups[i].ids, fmt.Sprint(id))
				found = true
			}
		}
		if !found {
			groups = append(groups, group{what, 1, []string{fmt.Sprint(id)}})
		}
	}
	var parts []string
	for _, g := range groups {
		w := g.what
		if g.times > 1 {
			w += fmt.Sprintf(" %d times", g.times)
		}
		parts = append(parts, w+" [#"+strings.Join(g.ids, " #")+"]")
	}
	return strings.Join(parts, "; ") + "."
}

// suspects says each explanation of a doubt in a line, the likeliest first.
// Those that differ in nothing but the reading share a line.
func (s *session) suspects(cs []inference.Culprit) []string {
	var out []string
	seen := map[string]int{}
	for _, c := range cs {
		if len(c.Readings) != 1 {
			out = append(out, CulpritWords(c))
			continue
		}
		kind := fmt.Sprint(c.Kind, c.Switch, c.Actual)
		if at, ok := seen[kind]; ok {
			out[at] += fmt.Sprintf(" or #%d", c.Readings[0])
			continue
		}
		seen[kind] = len(out)
		out = append(out, CulpritWords(c))
	}
	return out
}

// CulpritWords says one explanation of a doubt.
func CulpritWords(c inference.Culprit) string {
	ids := make([]string, len(c.Readings))
	for i, id := range c.Readings {
		ids[i] = "#" + fmt.Sprint(id)
	}
	which := strings.Join(ids, " ")
	switch c.Kind {
	case inference.SlippedClip:
		return "the clip had slipped for " + which
	case inference.WrongLever:
		return fmt.Sprintf("%s stood at %s, not where it was believed, for %s", c.Switch, c.Actual, which)
	case inference.HalfPressed:
		return "the button was only half pressed at " + which
	case inference.Intermittent:
		return "the contact comes and goes: " + which
	}
	return "one odd reading: " + which
}

func (s *session) byID(id mapping.ReadingID) (mapping.Reading, bool) {
	for _, r := range s.work.Readings {
		if r.ID == id {
			return r, true
		}
	}
	return mapping.Reading{}, false
}

// sweepWords says a sweep in one line.
func sweepWords(pod mapping.Pod, sw mapping.Sweep) string {
	if sw.Control {
		return "control beep: touch red to the clip's own end " + mapping.SideWords(sw.Black)
	}
	var at []string
	for _, st := range sw.Steps {
		at = append(at, st.Words(pod))
	}
	return fmt.Sprintf("red %s, black %s; levers: %s", mapping.SideWords(sw.Red), mapping.SideWords(sw.Black), strings.Join(at, " / "))
}

// move is one lever that has to be brought elsewhere.
type move struct {
	sw       mapping.Switch
	from, to mapping.PositionID // from is empty where nobody vouches for it
}

// moves lists the levers to move from one setting to the next, the buttons to
// hold meanwhile, and those to let go. A nil from means that every lever has to
// be set.
func moves(pod mapping.Pod, from, to mapping.Setting) (levers, hold, free []move) {
	for _, sw := range pod.Switches {
		at := to.At(sw)
		switch {
		case sw.Momentary && at != sw.Rest:
			hold = append(hold, move{sw: sw, to: at})
		case sw.Momentary && from != nil && from.At(sw) != sw.Rest:
			free = append(free, move{sw: sw, from: from.At(sw), to: at})
		case sw.Momentary:
		case from == nil:
			levers = append(levers, move{sw: sw, to: at})
		case from.At(sw) != at:
			levers = append(levers, move{sw: sw, from: from.At(sw), to: at})
		}
	}
	return levers, hold, free
}

// stepWords says what to do for one step, from the one before.
func stepWords(pod mapping.Pod, from, to mapping.Setting) string {
	return moveWords(moves(pod, from, to))
}

func moveWords(levers, hold, free []move) string {
	var parts []string
	for _, m := range levers {
		parts = append(parts, string(m.sw.Name)+" → "+string(m.to))
	}
	for _, m := range hold {
		parts = append(parts, "hold "+string(m.sw.Name)+" "+string(m.to))
	}
	for _, m := range free {
		parts = append(parts, "let go "+string(m.sw.Name))
	}
	if len(parts) == 0 {
		return asTheyAre
	}
	return strings.Join(parts, ", ")
}

// asTheyAre is the step that moves nothing.
const asTheyAre = "levers as they are"

// again says of a step that moves nothing that it is meant: the same reading
// once more.
func again(step int, words string) string {
	if step > 0 && words == asTheyAre {
		return "once more, " + words
	}
	return words
}

// aloud is the instruction in hand as a sentence for a voice.
func (s *session) aloud() string {
	if s.ask == nil {
		return ""
	}
	k := s.ask
	if k.sweep.Control {
		return "Control beep. Touch red to end " + mapping.SideWords(k.sweep.Black) + "."
	}
	return fmt.Sprintf("Red on %s, black on %s. %s.", mapping.SideWords(k.sweep.Red), mapping.SideWords(k.sweep.Black),
		strings.ReplaceAll(s.stepNow(), "→", "to"))
}

// endWords names an end with its colours.
func endWords(pod mapping.Pod, id mapping.EndID) string {
	e, _ := pod.End(id)
	s := mapping.Clean(string(id), mapping.MaxName)
	if e.Base != "" {
		s += " " + e.Colours()
	}
	return s
}
