package plan

import (
	"slices"
	"strings"
	"unicode"

	"bellout/mapping"
)

// riderWord is a word that riders use, and what it means.
type riderWord struct {
	word   string
	groups []Group
	weight int // 1 for a word that means many
}

// riderWords are common practice.
var riderWords = []riderWord{
	{"indicator", []Group{Indicator}, 3}, {"turn", []Group{Indicator}, 3}, {"flasher", []Group{Indicator}, 3}, {"signal", []Group{Indicator}, 3},
	{"headlamp", []Group{Headlamp}, 3}, {"headlight", []Group{Headlamp}, 3}, {"beam", []Group{Headlamp}, 3}, {"dip", []Group{Headlamp}, 3}, {"main", []Group{Headlamp}, 3},
	{"tail", []Group{Rear}, 3}, {"rear", []Group{Rear, Brake}, 3}, {"plate", []Group{Rear}, 3}, {"brake", []Group{Brake}, 3}, {"braking", []Group{Brake}, 3}, {"stop", []Group{Brake}, 3},
	{"horn", []Group{Horn}, 3}, {"ignition", []Group{Ignition}, 3}, {"spark", []Group{Ignition}, 3}, {"engine", []Group{Ignition}, 3}, {"pump", []Group{Ignition}, 3},
	{"starter", []Group{Motor, Start}, 3}, {"start", []Group{Motor, Start}, 3}, {"crank", []Group{Motor, Start}, 3},
	{"instruments", []Group{Clocks}, 3}, {"clocks", []Group{Clocks}, 3}, {"speedometer", []Group{Clocks}, 3}, {"usb", []Group{Accessory}, 3}, {"socket", []Group{Accessory}, 3}, {"grips", []Group{Accessory}, 3},
	{"position", []Group{Position}, 3}, {"parking", []Group{Position}, 3}, {"warning", []Group{Warning}, 3}, {"hazard", []Group{Indicator}, 3},
	{"lights", []Group{Headlamp, Rear, Position}, 1}, {"lamps", []Group{Headlamp, Rear, Position}, 1},
}

// otherWords are other words for those above.
var otherWords = map[string]string{
	"blinker": "indicator", "blinkers": "indicator", "winker": "indicator", "winkers": "indicator",
	"dash": "instruments", "dashboard": "instruments", "gauges": "instruments", "display": "instruments", "tacho": "instruments", "speedo": "speedometer",
	"dipped": "dip", "hooter": "horn", "cranks": "crank", "cranking": "crank", "starts": "start", "starting": "start", "bulbs": "lamps",
}

// running are the ways to say that something does not stop, staying that it is not off.
var (
	running = []string{"keeps running", "keep running", "keeps turning", "keep turning", "keeps crank", "keeps spinning", "keeps going", "runs on after", "runs on with", "runs on when", "runs with kill", "runs with the kill", "runs with key",
		"runs with the key", "running with the kill", "running with kill", "running with the key", "not stop", "wont stop", "doesnt stop", "dont stop", "cant stop", "cannot stop", "never stop"}
	staying = []string{"stays on", "stay on", "always on", "stuck", "on all the time", "wont turn off", "not turn off", "doesnt turn off",
		"wont switch off", "not switch off", "wont go off", "not go off", "doesnt go off", "never goes off", "wont go out", "not go out", "doesnt go out", "never goes out"}
)

// heardOf is what a symptom says: its words one space apart, and one at either end.
type heardOf string

func hear(symptom string) heardOf {
	text := strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(mapping.Clean(symptom, mapping.MaxText)))
	words := splitWords(text)
	beam := slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"beam", "light", "lights", "lamp", "headlight", "headlamp"}, w)
	})
	for i, w := range words {
		switch same := otherWords[w]; {
		case same != "":
			words[i] = same
		case beam && w == "low":
			words[i] = "dip"
		case beam && w == "high":
			words[i] = "main"
		}
	}
	return heardOf(" " + strings.Join(words, " ") + " ")
}

func (h heardOf) words() []string { return strings.Fields(string(h)) }

// says tells whether one of some phrases is said; the last word of each may go on.
func (h heardOf) says(phrases ...string) bool {
	return slices.ContainsFunc(phrases, func(p string) bool { return strings.Contains(string(h), " "+p) })
}

// starter and engine tell whether a symptom speaks of one of them; a lamp of the engine's is not meant.
func (h heardOf) starter() bool { return h.says("starter", "crank") }

func (h heardOf) engine() bool {
	return h.says("engine", "motor ", "bike", "ignition", "spark", "kill") && !h.says("engine light", "engine lamp", "ignition light", "ignition lamp")
}

// thing tells whether a symptom names something that a rider has a word for.
func (h heardOf) thing() bool {
	return slices.ContainsFunc(h.words(), func(w string) bool {
		return slices.ContainsFunc(riderWords, func(x riderWord) bool { return alike(w, x.word) })
	})
}

// runsOn tells whether something is said not to stop; what stops by itself does.
func (h heardOf) runsOn() bool {
	return h.says(running...) || strings.HasSuffix(string(h), " runs on ") ||
		h.says("by itself", "on its own") && !h.says("stops", "dies", "cuts", "quits", "shuts", "goes o", "turns off", "switches off")
}

// lasting tells whether something is said to be on unasked.
func (h heardOf) lasting() bool {
	return h.runsOn() || h.says(staying...) || h.says("glow", "stays lit", "stay lit") || strings.HasSuffix(string(h), " on ") && !h.says("come on", "comes on", "coming on", "not on", "switch on", "turn on", "go on ", "goes on ")
}

func splitWords(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// alike compares words, plural aside.
func alike(a, b string) bool {
	return strings.TrimSuffix(a, "s") == strings.TrimSuffix(b, "s")
}

// pick chooses the loads that a symptom speaks of: those whose names have most of its words,
// and of those groups that a rider's word means. The score says how well they fit.
func (r *road) pick(said heardOf) (out []int, best int) {
	words := said.words()
	if said.runsOn() || said.engine() || said.starter() { // to stop is no brake lamp then
		words = slices.DeleteFunc(words, func(w string) bool { return alike(w, "stop") })
	}
	for li, l := range r.n.loads {
		if l.load < 0 || r.f.best[li] == nil && !l.stops || !said.byName(l.name) {
			continue
		}
		score := r.score(r.p.Loads[l.load], words)
		switch {
		case score == 0 || score < best:
		case score > best:
			best, out = score, []int{li}
		default:
			out = append(out, li)
		}
	}
	return out, best
}

// byName tells whether a load may be meant: of what goes by no other word, its name has it.
func (h heardOf) byName(load string) bool {
	for _, w := range []string{"telltale", "oil", "neutral"} {
		if slices.Contains(h.words(), w) && h.says(w+" l", "telltale") && !slices.Contains(splitWords(load), w) {
			return false
		}
	}
	return true
}

// score says how well a load fits some words, 0 for not at all.
func (r *road) score(load Load, words []string) int {
	score := 0
	for _, w := range words {
		switch has := func(text string) bool {
			return slices.ContainsFunc(splitWords(text), func(own string) bool { return alike(w, own) })
		}; {
		case has(load.Name) && !alike(w, "lamp"): // its own name says most
			score += 4
		case has(load.Module):
			score += 2
		}
		for _, x := range riderWords {
			if (w == x.word || x.weight > 1 && alike(w, x.word)) && slices.Contains(x.groups, load.GroupOf()) { // one light is a certain one
				score += x.weight
			}
		}
		if (w == "left" || w == "right") && load.GroupOf() == Indicator && !slices.Contains(splitWords(load.Name), w) {
			return 0 // the other side's
		}
	}
	return score
}
