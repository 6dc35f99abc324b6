package tui

import (
	"fmt"
	"slices"

	"bellout/mapping"
)

// known is the screen for after a month: what we know, what is left, why.
func known(a *app) *reader {
	return &reader{name: "what we know, what is left", text: func(w int) []string { return a.ses.knownText(a, w) }}
}

func (s *session) knownText(a *app, w int) []string {
	sum, pod := s.th.sum, s.work.Pod
	strong := a.th.strong
	if s.th.find == nil {
		return []string{"working it out…"}
	}
	var out []string
	out = append(out, strong.Render("WHERE IT STANDS"))
	out = append(out, wrap(fmt.Sprintf("%s, %s. %s, %s struck out. Sitting %d: %s.", mapping.Count(len(pod.Ends), "end"), mapping.Count(len(pod.Switches), "switch"),
		mapping.Count(len(s.work.Live()), "reading"), fmt.Sprint(len(s.work.Struck)), s.work.Session, leadsWords(s.bench.Leads)), w)...)
	out = append(out, wrap(s.chanceWords()+" "+s.timeWords(), w)...)
	if v, ok := s.work.Decided(mapping.LeadOhms, ""); ok {
		out = append(out, wrap("Leads of "+mapping.Clean(v, mapping.MaxName)+" ohm.", w)...)
	}
	out = append(out, "", strong.Render("WHAT WE KNOW"))
	// What the best map joins without enough behind it is no knowledge.
	links := slices.DeleteFunc(slices.Clone(sum.Map.Links), func(l mapping.Link) bool { return !l.Grade.Known() })
	if len(links) == 0 {
		say := " no join is sure yet"
		if slices.ContainsFunc(s.th.table.rows, func(r contactRow) bool { return len(r.Ties) > 0 }) {
			say = " joins were heard, but not yet which lever makes them: see the table"
		}
		out = append(out, wrap(say, w)...)
	}
	for _, l := range links {
		out = append(out, indent(" "+a.th.glyphs.Grade(l.Grade)+" ", linkWords(l)+" ("+l.Grade.String()+")", w)...)
	}
	for _, sw := range pod.Switches {
		c := sum.Commons[sw.Name]
		switch {
		case c.Known && c.None:
			out = append(out, indent("   ", fmt.Sprintf("%s has no common", sw.Name), w)...)
		case c.Known:
			out = append(out, indent("   ", fmt.Sprintf("%s: its common is %s", sw.Name, c.End), w)...)
		}
	}
	out = append(out, "", strong.Render("WHAT IS LEFT"))
	for _, sw := range sum.SilentOnly {
		out = append(out, indent(" ? ", fmt.Sprintf("%s has changed nothing so far; it may need a partner switch", sw), w)...)
	}
	if n := len(s.openDoubts()); n > 0 {
		out = append(out, indent(" ? ", mapping.Count(n, "doubt")+": readings that cannot all be right", w)...)
	}
	out = append(out, s.leftText(len(openPairs(sum)), w)...)
	if s.standsAt() == settled && len(sum.SilentOnly) == 0 {
		out = append(out, fit(" nothing", w))
	}
	out = append(out, "", strong.Render("WHY"))
	if s.ask != nil {
		out = append(out, wrap("next: "+sweepWords(pod, s.ask.sweep), w)...)
		out = append(out, wrap(s.ask.sweep.Why.Words(), w)...)
	} else {
		out = append(out, wrap("No sweep is in hand: either nothing helps any more, or the next one is being worked out.", w)...)
	}
	switch s.standsAt() {
	case settled:
		out = append(out, wrap("You can stop: less than 1 chance in 200 is left that anything here is wrong.", w)...)
	case moreHands:
		out = append(out, wrap("You can stop: what stands under WHAT IS LEFT takes more hands, and less than 1 chance in 200 is left that anything else here is wrong.", w)...)
	default:
		out = append(out, wrap("If you stop now, what stands under WHAT IS LEFT stays unknown.", w)...)
	}
	if len(s.work.Remarks) > 0 {
		out = append(out, "", strong.Render("YOUR NOTES"))
		for _, r := range s.work.Remarks {
			about := " - " // the job as a whole
			if r.Reading > 0 {
				about = fmt.Sprintf(" #%d ", r.Reading)
			}
			out = append(out, indent(about, mapping.Clean(r.Text, mapping.MaxNote), w)...)
		}
	}
	return out
}

// chanceWords says how far the map can be trusted. While much is left to settle
// the chance of what is beside it says nothing to anybody.
func (s *session) chanceWords() string {
	open := openPairs(s.th.sum)
	switch {
	case len(open) == 0:
		return "Chance that the map is wrong somewhere: " + percent(1-s.th.sum.Confidence) + "."
	case slices.ContainsFunc(open, openPair.vague):
		return mapping.Count(len(open), "pair") + " to settle."
	}
	return mapping.Count(len(open), "pair") + " to settle; chance that something else is wrong: " + percent(1-s.th.sum.Confidence) + "."
}

func (s *session) timeWords() string {
	switch {
	case s.left > 0:
		return fmt.Sprintf("About %s at the bench are left; reading every pair in turn takes %s.", mapping.Minutes(s.left), mapping.Minutes(s.grid))
	case s.left == 0 && s.standsAt() == settled:
		return "Nothing is left to ask."
	}
	return "Reading every pair in turn takes " + mapping.Minutes(s.grid) + "."
}
