package storage

import (
	"bellout/mapping"
)

// converter carries the first word that could not be found, so that the two
// directions read as lists of fields.
type converter struct{ err error }

func put[T comparable](c *converter, ws words[T], v T) string {
	s, err := ws.write(v)
	if err != nil && c.err == nil {
		c.err = err
	}
	return s
}

func get[T comparable](c *converter, ws words[T], s string) T {
	v, err := ws.read(s)
	if err != nil && c.err == nil {
		c.err = err
	}
	return v
}

// list converts a list of names or numbers; an empty one becomes nil.
func list[T, F ~string | ~uint64](from []F, conv func(F) T) []T {
	if len(from) == 0 {
		return nil
	}
	out := make([]T, len(from))
	for i, f := range from {
		out[i] = conv(f)
	}
	return out
}

func texts[F ~string](from []F) []string { return list(from, func(f F) string { return string(f) }) }
func named[T ~string](from []string) []T { return list(from, func(f string) T { return T(f) }) }
func numbers(from []mapping.ReadingID) []uint64 {
	return list(from, func(f mapping.ReadingID) uint64 { return uint64(f) })
}

func readingIDs(from []uint64) []mapping.ReadingID {
	return list(from, func(f uint64) mapping.ReadingID { return mapping.ReadingID(f) })
}

func fromSetting(s mapping.Setting) settingV1 {
	if s == nil {
		return nil
	}
	out := make(settingV1, len(s))
	for k, v := range s {
		out[string(k)] = string(v)
	}
	return out
}

func toSetting(s settingV1) mapping.Setting {
	if s == nil {
		return nil
	}
	out := make(mapping.Setting, len(s))
	for k, v := range s {
		out[mapping.SwitchID(k)] = mapping.PositionID(v)
	}
	return out
}

func fromEntry(e mapping.Entry) (entryV1, error) {
	c := &converter{}
	d := entryV1{Seq: e.Seq, At: e.At, Pod: string(e.Pod)}
	switch {
	case e.Title != nil:
		d.Title = &titleV1{Name: e.Title.Name}
	case e.Describe != nil:
		d.Describe = c.fromPod(*e.Describe)
	case e.Sitting != nil:
		d.Sitting = &sittingV1{Number: e.Sitting.Number, Leads: put(c, leadsWords(), e.Sitting.Leads)}
	case e.Ask != nil:
		d.Ask = c.fromSweep(e.Ask.Sweep)
	case e.Reading != nil:
		d.Reading = c.fromReading(*e.Reading)
	case e.Strike != nil:
		d.Strike = &strikeV1{Readings: numbers(e.Strike.Readings), Reason: e.Strike.Reason, Undo: e.Strike.Undo}
	case e.Decision != nil:
		x := e.Decision
		d.Decision = &decisionV1{
			Kind: put(c, decisionWords(), x.Kind), End: string(x.End), Readings: numbers(x.Readings), Value: x.Value,
		}
	case e.Remark != nil:
		d.Remark = &remarkV1{Text: e.Remark.Text, Reading: uint64(e.Remark.Reading)}
	case e.Check != nil:
		d.Check = &checkV1{Check: e.Check.Check, Value: e.Check.Value, Pass: e.Check.Pass}
	}
	return d, c.err
}

func (c *converter) fromPod(p mapping.Pod) *podV1 {
	d := &podV1{Name: p.Name}
	for _, e := range p.Ends {
		d.Ends = append(d.Ends, endV1{
			ID: string(e.ID), Kind: put(c, kindWords(), e.Kind),
			Base: string(e.Base), Tracer: string(e.Tracer), Cavity: e.Cavity,
		})
	}
	for _, s := range p.Switches {
		d.Switches = append(d.Switches, switchV1{
			Name: string(s.Name), Positions: texts(s.Positions), Rest: string(s.Rest),
			Momentary: s.Momentary, Legend: s.Legend,
		})
	}
	return d
}

func (c *converter) fromSweep(s mapping.Sweep) *sweepV1 {
	d := &sweepV1{
		Red: texts(s.Red), Black: texts(s.Black), Mode: put(c, modeWords(), s.Mode), Control: s.Control,
		Why: whyV1{
			Reason: put(c, reasonWords(), s.Why.Reason), Maps: s.Why.Maps, Bits: s.Why.Bits,
			Seconds: s.Why.Seconds, Ends: texts(s.Why.Ends), Switches: texts(s.Why.Switches),
		},
	}
	for _, step := range s.Steps {
		d.Steps = append(d.Steps, fromSetting(step))
	}
	return d
}

func (c *converter) fromReading(r mapping.Reading) *readingV1 {
	return &readingV1{
		Session: r.Session, Sweep: uint64(r.Sweep), Step: r.Step, Red: texts(r.Red), Black: texts(r.Black),
		Setting: fromSetting(r.Setting), Mode: put(c, modeWords(), r.Mode),
		Outcome: put(c, outcomeWords(), r.Outcome), Value: r.Value, Control: r.Control, Note: r.Note,
	}
}

func (d entryV1) entry() (mapping.Entry, error) {
	c := &converter{}
	e := mapping.Entry{Seq: d.Seq, At: d.At, Pod: mapping.PodKey(d.Pod)}
	if d.Title != nil {
		e.Title = &mapping.Title{Name: d.Title.Name}
	}
	if d.Describe != nil {
		e.Describe = c.pod(*d.Describe)
	}
	if d.Sitting != nil {
		e.Sitting = &mapping.Sitting{Number: d.Sitting.Number, Leads: get(c, leadsWords(), d.Sitting.Leads)}
	}
	if d.Ask != nil {
		e.Ask = &mapping.Ask{Sweep: c.sweep(mapping.SweepID(d.Seq), *d.Ask)}
	}
	if d.Reading != nil {
		e.Reading = c.reading(mapping.ReadingID(d.Seq), *d.Reading)
	}
	if x := d.Strike; x != nil {
		e.Strike = &mapping.Strike{Readings: readingIDs(x.Readings), Reason: x.Reason, Undo: x.Undo}
	}
	if x := d.Decision; x != nil {
		e.Decision = &mapping.Decision{
			Kind: get(c, decisionWords(), x.Kind), End: mapping.EndID(x.End), Readings: readingIDs(x.Readings), Value: x.Value,
		}
	}
	if d.Remark != nil {
		e.Remark = &mapping.Remark{Text: d.Remark.Text, Reading: mapping.ReadingID(d.Remark.Reading)}
	}
	if d.Check != nil {
		e.Check = &mapping.CheckResult{Check: d.Check.Check, Value: d.Check.Value, Pass: d.Check.Pass}
	}
	if c.err != nil {
		return mapping.Entry{}, c.err
	}
	return e, e.Validate()
}

func (c *converter) pod(d podV1) *mapping.Pod {
	p := &mapping.Pod{Name: d.Name}
	for _, e := range d.Ends {
		p.Ends = append(p.Ends, mapping.End{
			ID: mapping.EndID(e.ID), Kind: get(c, kindWords(), e.Kind),
			Base: mapping.Colour(e.Base), Tracer: mapping.Colour(e.Tracer), Cavity: e.Cavity,
		})
	}
	for _, s := range d.Switches {
		p.Switches = append(p.Switches, mapping.Switch{
			Name: mapping.SwitchID(s.Name), Positions: named[mapping.PositionID](s.Positions),
			Rest: mapping.PositionID(s.Rest), Momentary: s.Momentary, Legend: s.Legend,
		})
	}
	return p
}

func (c *converter) sweep(id mapping.SweepID, d sweepV1) mapping.Sweep {
	s := mapping.Sweep{
		ID: id, Red: named[mapping.EndID](d.Red), Black: named[mapping.EndID](d.Black),
		Mode: get(c, modeWords(), d.Mode), Control: d.Control,
		Why: mapping.Why{
			Reason: get(c, reasonWords(), d.Why.Reason), Maps: d.Why.Maps, Bits: d.Why.Bits,
			Seconds: d.Why.Seconds, Ends: named[mapping.EndID](d.Why.Ends), Switches: named[mapping.SwitchID](d.Why.Switches),
		},
	}
	for _, step := range d.Steps {
		s.Steps = append(s.Steps, toSetting(step))
	}
	return s
}

func (c *converter) reading(id mapping.ReadingID, d readingV1) *mapping.Reading {
	return &mapping.Reading{
		ID: id, Session: d.Session, Sweep: mapping.SweepID(d.Sweep), Step: d.Step,
		Red: named[mapping.EndID](d.Red), Black: named[mapping.EndID](d.Black), Setting: toSetting(d.Setting),
		Mode: get(c, modeWords(), d.Mode), Outcome: get(c, outcomeWords(), d.Outcome),
		Value: d.Value, Control: d.Control, Note: d.Note,
	}
}
