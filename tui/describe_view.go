package tui

import (
	"fmt"
	"strconv"
	"strings"

	"bellout/mapping"
)

func (d *describe) view(w, h int) []string {
	th := d.app.th
	q := [...][2]string{
		{"What do you call this pod?", "left, right, barrel… ENTER alone: " + d.freeName()},
		{"How many wires come out of it?", "They get the flags 1, 2, 3… Put numbered tape on them now, or take the plug's cavity numbers. Colours can wait, or come in place of the number: BU BUWH GY"},
		{"Is its metal body an end? y or n", "y if a probe gets at bare metal. ENTER alone: n"},
		{"Which switches has it?", "dip low* main   (* where it rests)     horn out* in!   (! springs back)\nA usual one needs its name only: dip, turn, horn, kill, start, flash, lights, hazard, brake, clutch. -dip takes it out. ENTER alone: that is all."},
		{"How are the leads held? 1 or 2", "1  black is a clip, red a needle\n2  both are clipped; several ends may be bunched on one clip\nENTER alone: " + strconv.Itoa(int(d.leads)+1)},
	}[d.at]
	out := []string{fmt.Sprintf("question %d of 5", d.at+1)}
	for _, l := range wrap(q[0], w) {
		out = append(out, th.strong.Render(l))
	}
	out = append(out, d.line.view("> ", w))
	var how []string
	for _, l := range strings.Split(q[1], "\n") {
		how = append(how, wrap(l, w)...)
	}
	taken := d.taken(w)
	if len(out)+len(how)+len(taken)+2 <= h {
		return append(append(append(append(out, ""), how...), ""), taken...)
	}
	// Too low a screen: words of help give way first, then what was taken longest ago.
	out = out[1:]
	const least = 2
	if room := max(least, h-len(out)-len(taken)); len(how) > room {
		how = append(how[:room-1:room-1], more(how[room-1], w))
	}
	out = append(out, how...)
	if room := max(1, h-len(out)); len(taken) > room {
		cut := len(taken) - room + 1
		taken = append([]string{fit("  ▲ "+mapping.Count(cut, "more line"), w)}, taken[cut:]...)
	}
	return append(out, taken...)
}

// taken is what has been said so far.
func (d *describe) taken(w int) []string {
	var out []string
	if d.at > askName {
		out = append(out, wrap("so far: "+d.pod.Name, w)...)
	}
	if d.at > askWires {
		body := ""
		if d.body {
			body = " and BODY"
		}
		var seen []string
		for _, e := range d.ends {
			if e.Base != "" {
				seen = append(seen, string(e.ID)+" "+e.Colours())
			}
		}
		out = append(out, wrap(strings.TrimRight(fmt.Sprintf("  ends 1 to %d%s  %s", len(d.ends), body, strings.Join(seen, ", ")), " "), w)...)
	}
	for _, sw := range d.pod.Switches {
		out = append(out, wrap("  "+switchLine(sw), w)...)
	}
	return out
}
