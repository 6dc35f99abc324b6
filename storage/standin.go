package storage

import (
	"cmp"
	"maps"
	"slices"
	"strconv"

	"bellout/mapping"
)

// StandIn is a description that was made because the pod's own is lost. Later
// says that it is one that the builder gave later on; else it was made of what
// the asks and the readings name: every rest is the position that was seen most
// often, and no switch is known to spring back. LeftOut are switches that were
// seen in one position only, of which no description can be made.
type StandIn struct {
	Pod     mapping.PodKey
	Later   bool
	LeftOut []mapping.SwitchID
}

// standIns adds a description for every pod that is spoken of before one can
// be read, under a number of which nothing is left: the lost description had
// one of those. A pod for which none can be made stays as it is.
func standIns(found map[uint64]mapping.Entry) (out []StandIn) {
	seqs := slices.Sorted(maps.Keys(found))
	first := map[mapping.PodKey]uint64{}
	job := emptyJob()
	for _, seq := range seqs {
		key := found[seq].Pod
		if job.Apply(found[seq]) != nil && key != "" && first[key] == 0 {
			first[key] = seq
		}
	}
	for _, key := range slices.Sorted(maps.Keys(first)) {
		seq := first[key] - 1
		for ; seq > 0; seq-- {
			if _, taken := found[seq]; !taken {
				break
			}
		}
		if seq == 0 {
			continue
		}
		made := StandIn{Pod: key}
		var about []mapping.Entry
		var pod *mapping.Pod
		for _, seq := range seqs {
			if e := found[seq]; e.Pod == key {
				about = append(about, e)
				if pod == nil {
					pod = e.Describe
				}
			}
		}
		if made.Later = pod != nil; !made.Later {
			pod, made.LeftOut = podOf(key, about)
		}
		if e := (mapping.Entry{Seq: seq, Pod: key, Describe: pod}); e.Validate() == nil {
			found[seq] = e
			out = append(out, made)
		}
	}
	return out
}

// seen counts what the entries about a pod name.
type seen struct {
	ends     map[mapping.EndID]bool
	switches map[mapping.SwitchID][]mapping.PositionID // in the order in which they were first seen
	times    map[mapping.SwitchID]map[mapping.PositionID]int
}

// podOf makes a description of what the entries about a pod name.
func podOf(key mapping.PodKey, entries []mapping.Entry) (*mapping.Pod, []mapping.SwitchID) {
	s := seen{map[mapping.EndID]bool{}, map[mapping.SwitchID][]mapping.PositionID{}, map[mapping.SwitchID]map[mapping.PositionID]int{}}
	for _, e := range entries {
		switch {
		case e.Ask != nil:
			s.sides(e.Ask.Sweep.Red, e.Ask.Sweep.Black)
			for _, step := range e.Ask.Sweep.Steps {
				s.setting(step)
			}
		case e.Reading != nil:
			s.sides(e.Reading.Red, e.Reading.Black)
			s.setting(e.Reading.Setting)
		case e.Decision != nil && e.Decision.End != "":
			s.ends[e.Decision.End] = true
		}
	}
	p := &mapping.Pod{Name: string(key)}
	for _, id := range slices.SortedFunc(maps.Keys(s.ends), byNumber) {
		end := mapping.End{ID: id}
		if id == "BODY" { // the screens' own flag for the pod's metal
			end.Kind = mapping.Body
		}
		p.Ends = append(p.Ends, end)
	}
	var leftOut []mapping.SwitchID
	for _, name := range slices.Sorted(maps.Keys(s.switches)) {
		sw := mapping.Switch{Name: name, Positions: s.switches[name]}
		if len(sw.Positions) < 2 {
			leftOut = append(leftOut, name)
			continue
		}
		sw.Rest = slices.MaxFunc(sw.Positions, func(a, b mapping.PositionID) int {
			return cmp.Compare(s.times[name][a], s.times[name][b])
		})
		p.Switches = append(p.Switches, sw)
	}
	return p, leftOut
}

func (s *seen) sides(sides ...[]mapping.EndID) {
	for _, ids := range sides {
		for _, id := range ids {
			s.ends[id] = true
		}
	}
}

func (s *seen) setting(at mapping.Setting) {
	for name, q := range at {
		if s.times[name] == nil {
			s.times[name] = map[mapping.PositionID]int{}
		}
		if s.times[name][q] == 0 {
			s.switches[name] = append(s.switches[name], q)
		}
		s.times[name][q]++
	}
}

// byNumber sorts flags as a builder counts them: 2 before 10, numbers before
// names.
func byNumber(a, b mapping.EndID) int {
	x, xerr := strconv.Atoi(string(a))
	y, yerr := strconv.Atoi(string(b))
	switch {
	case xerr == nil && yerr == nil && x != y:
		return cmp.Compare(x, y)
	case (xerr == nil) != (yerr == nil):
		return map[bool]int{true: -1, false: 1}[xerr == nil]
	}
	return cmp.Compare(a, b)
}

// unsaid counts the readings about what a pod's description lacks; the record
// that added it may be one of those that are lost.
func unsaid(job *mapping.Job) map[mapping.PodKey]int {
	out := map[mapping.PodKey]int{}
	for key, w := range job.Pods {
		for _, r := range w.Readings {
			lacks := false
			for _, id := range slices.Concat(r.Red, r.Black) {
				_, there := w.Pod.End(id)
				lacks = lacks || !there
			}
			for _, sw := range w.Pod.Switches {
				lacks = lacks || sw.Index(r.Setting.At(sw)) < 0
			}
			if lacks {
				out[key]++
			}
		}
	}
	return out
}
