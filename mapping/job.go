package mapping

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Job is what a log of entries amounts to. Decisions and Remarks are those
// about the job itself (the meter, the finished harness), which name no pod.
type Job struct {
	Name      string
	Order     []PodKey
	Pods      map[PodKey]*PodWork
	Checks    []CheckResult
	Decisions []Decision
	Remarks   []Remark
}

// PodWork is all the work on one pod. Readings holds every reading ever taken,
// in order; Struck gives the reason for those struck out.
type PodWork struct {
	Pod       Pod
	Readings  []Reading
	Struck    map[ReadingID]string
	Session   int
	Leads     Leads
	LastAsk   *Sweep
	Decisions []Decision
	Remarks   []Remark
}

// Live gives the readings that are not struck out, in order.
func (w *PodWork) Live() []Reading {
	var out []Reading
	for _, r := range w.Readings {
		if _, gone := w.Struck[r.ID]; !gone {
			out = append(out, r)
		}
	}
	return out
}

// Decided gives the last decision of a kind about an end. An empty value takes
// back what was decided before.
func (w *PodWork) Decided(kind DecisionKind, end EndID) (string, bool) {
	for _, d := range slices.Backward(w.Decisions) {
		if d.Kind == kind && d.End == end {
			return d.Value, d.Value != ""
		}
	}
	return "", false
}

// OhmsOf is the highest value that was read straight across a link in a setting in
// which it holds, less the leads: the worst is what the lamp will see. Readings between
// bunches say nothing of one contact, those in other settings of another one.
func (w *PodWork) OhmsOf(l Link) (worst float64, ok bool) {
	leads := 0.0
	if said, ok := w.Decided(LeadOhms, ""); ok {
		if v, err := strconv.ParseFloat(said, 64); err == nil && v > 0 {
			leads = v
		}
	}
	for _, r := range w.Live() {
		across := len(r.Red) == 1 && len(r.Black) == 1 &&
			(r.Red[0] == l.A && r.Black[0] == l.B || r.Red[0] == l.B && r.Black[0] == l.A)
		if r.Mode != Ohms || r.Outcome != Value || !across || !l.Holds(w.Pod, r.Setting) {
			continue
		}
		worst, ok = max(worst, r.Value-leads), true
	}
	// A thousandth of an ohm is finer than any garage meter.
	return math.Round(worst*1000) / 1000, ok
}

// TakenBack is the value of a SetAside that no longer holds.
const TakenBack = "taken back"

// Aside tells whether the builder has set aside the doubt made of exactly these
// readings, in whatever order they are named.
func (w *PodWork) Aside(readings []ReadingID) bool {
	want := slices.Sorted(slices.Values(readings))
	for _, d := range slices.Backward(w.Decisions) {
		if d.Kind == SetAside && slices.Equal(want, slices.Sorted(slices.Values(d.Readings))) {
			return d.Value != TakenBack
		}
	}
	return false
}

// LastValues gives for each check of the finished harness what was read last.
func (j *Job) LastValues() map[string]string {
	out := map[string]string{}
	for _, c := range j.Checks {
		out[c.Check] = c.Value
	}
	return out
}

// Fold computes a job from its log. A remark or a decision without a pod is
// about the job. Any other entry about a pod that was never described is an
// error: the log is not one of ours.
func Fold(entries []Entry) (*Job, error) {
	j := &Job{Pods: map[PodKey]*PodWork{}}
	for _, e := range entries {
		if err := j.Apply(e); err != nil {
			return nil, err
		}
	}
	return j, nil
}

// Apply adds one more entry to the job.
func (j *Job) Apply(e Entry) error {
	if err := e.Validate(); err != nil {
		return err
	}
	switch {
	case e.Title != nil:
		j.Name = e.Title.Name
		return nil
	case e.Check != nil:
		j.Checks = append(j.Checks, *e.Check)
		return nil
	case e.Describe != nil:
		w := j.Pods[e.Pod]
		if w == nil {
			w = &PodWork{Struck: map[ReadingID]string{}}
			j.Pods[e.Pod] = w
			j.Order = append(j.Order, e.Pod)
		}
		var odd string
		if w.Pod, odd = e.Describe.KnownColours(); odd != "" {
			w.Remarks = append(w.Remarks, Remark{Text: odd})
		}
		return nil
	}
	w := j.Pods[e.Pod]
	switch {
	case w != nil:
	case e.Pod == "" && e.Remark != nil:
		j.Remarks = append(j.Remarks, *e.Remark)
		return nil
	case e.Pod == "" && e.Decision != nil:
		j.Decisions = append(j.Decisions, *e.Decision)
		return nil
	default:
		return fmt.Errorf("log entry %d speaks of pod %q, which was never described", e.Seq, e.Pod)
	}
	w.apply(e)
	return nil
}

func (w *PodWork) apply(e Entry) {
	switch {
	case e.Sitting != nil:
		w.Session, w.Leads = e.Sitting.Number, e.Sitting.Leads
	case e.Ask != nil:
		s := e.Ask.Sweep
		s.ID = SweepID(e.Seq)
		w.LastAsk = &s
	case e.Reading != nil:
		r := *e.Reading
		r.ID = ReadingID(e.Seq)
		w.Readings = append(w.Readings, r)
	case e.Strike != nil:
		for _, id := range e.Strike.Readings {
			if e.Strike.Undo {
				delete(w.Struck, id)
			} else {
				w.Struck[id] = e.Strike.Reason
			}
		}
	case e.Decision != nil:
		w.Decisions = append(w.Decisions, *e.Decision)
	case e.Remark != nil:
		w.Remarks = append(w.Remarks, *e.Remark)
	}
}
