package storage

// The types of format 1, as they stand in the file. They are frozen: a field
// may be added if it is optional, and nothing else may be changed here.

type entryV1 struct {
	Seq      uint64      `json:"seq"`
	At       int64       `json:"at,omitempty"`
	Pod      string      `json:"pod,omitempty"`
	Title    *titleV1    `json:"title,omitempty"`
	Describe *podV1      `json:"describe,omitempty"`
	Sitting  *sittingV1  `json:"sitting,omitempty"`
	Ask      *sweepV1    `json:"ask,omitempty"`
	Reading  *readingV1  `json:"reading,omitempty"`
	Strike   *strikeV1   `json:"strike,omitempty"`
	Decision *decisionV1 `json:"decision,omitempty"`
	Remark   *remarkV1   `json:"remark,omitempty"`
	Check    *checkV1    `json:"check,omitempty"`
}

type titleV1 struct {
	Name string `json:"name"`
}

type podV1 struct {
	Name     string     `json:"name"`
	Ends     []endV1    `json:"ends,omitempty"`
	Switches []switchV1 `json:"switches,omitempty"`
}

type endV1 struct {
	ID     string `json:"id"`
	Kind   string `json:"kind"`
	Base   string `json:"base,omitempty"`
	Tracer string `json:"tracer,omitempty"`
	Cavity string `json:"cavity,omitempty"`
}

type switchV1 struct {
	Name      string   `json:"name"`
	Positions []string `json:"positions,omitempty"`
	Rest      string   `json:"rest"`
	Momentary bool     `json:"momentary,omitempty"`
	Legend    string   `json:"legend,omitempty"`
}

type sittingV1 struct {
	Number int    `json:"number"`
	Leads  string `json:"leads"`
}

// settingV1 is switch to position; encoding/json sorts the keys.
type settingV1 map[string]string

// sweepV1 has no number of its own: it is that of the entry.
type sweepV1 struct {
	Red     []string    `json:"red,omitempty"`
	Black   []string    `json:"black,omitempty"`
	Mode    string      `json:"mode"`
	Steps   []settingV1 `json:"steps,omitempty"`
	Control bool        `json:"control,omitempty"`
	Why     whyV1       `json:"why"`
}

type whyV1 struct {
	Reason   string   `json:"reason"`
	Maps     int      `json:"maps,omitempty"`
	Bits     float64  `json:"bits,omitempty"`
	Seconds  float64  `json:"seconds,omitempty"`
	Ends     []string `json:"ends,omitempty"`
	Switches []string `json:"switches,omitempty"`
}

// readingV1 has no number of its own: it is that of the entry. Value is in
// ohms or volts, as the mode says.
type readingV1 struct {
	Session int       `json:"session,omitempty"`
	Sweep   uint64    `json:"sweep,omitempty"`
	Step    int       `json:"step,omitempty"`
	Red     []string  `json:"red,omitempty"`
	Black   []string  `json:"black,omitempty"`
	Setting settingV1 `json:"setting,omitempty"`
	Mode    string    `json:"mode"`
	Outcome string    `json:"outcome"`
	Value   float64   `json:"value,omitempty"`
	Control bool      `json:"control,omitempty"`
	Note    string    `json:"note,omitempty"`
}

type strikeV1 struct {
	Readings []uint64 `json:"readings,omitempty"`
	Reason   string   `json:"reason,omitempty"`
	Undo     bool     `json:"undo,omitempty"`
}

type decisionV1 struct {
	Kind     string   `json:"kind"`
	End      string   `json:"end,omitempty"`
	Readings []uint64 `json:"readings,omitempty"`
	Value    string   `json:"value,omitempty"`
}

type remarkV1 struct {
	Text    string `json:"text"`
	Reading uint64 `json:"reading,omitempty"`
}

type checkV1 struct {
	Check string `json:"check"`
	Value string `json:"value,omitempty"`
	Pass  bool   `json:"pass"`
}
