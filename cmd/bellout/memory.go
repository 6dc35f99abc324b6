package main

import (
	"sync"

	"bellout/mapping"
)

// memoryJob is a job that is kept nowhere: for practice, and for a rig that
// was given no file. It numbers entries as a job file does.
type memoryJob struct {
	mu      sync.Mutex
	entries []mapping.Entry
}

// Append keeps entries in order and returns them with their numbers.
func (m *memoryJob) Append(entries ...mapping.Entry) ([]mapping.Entry, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	kept := make([]mapping.Entry, 0, len(entries))
	for _, e := range entries {
		e.Seq = uint64(len(m.entries) + len(kept) + 1)
		if err := e.Validate(); err != nil {
			return nil, err
		}
		switch {
		case e.Reading != nil:
			r := *e.Reading
			r.ID = mapping.ReadingID(e.Seq)
			e.Reading = &r
		case e.Ask != nil:
			s := e.Ask.Sweep
			s.ID = mapping.SweepID(e.Seq)
			e.Ask = &mapping.Ask{Sweep: s}
		}
		kept = append(kept, e)
	}
	m.entries = append(m.entries, kept...)
	return kept, nil
}

// Entries is the log so far.
func (m *memoryJob) Entries() ([]mapping.Entry, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return append([]mapping.Entry(nil), m.entries...), nil
}

// Close has nothing to do.
func (m *memoryJob) Close() error { return nil }
