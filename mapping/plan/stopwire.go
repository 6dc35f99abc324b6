package plan

import "fmt"

// StopFed is voltage on the stop wire of an ignition that is stopped by earthing it.
const StopFed = "stop-wire-fed"

// stopWire looks at an ignition that makes its own current: nothing may feed it, and it is at
// earth whenever it is not meant to run.
func (p *prover) stopWire(i int, s *state, l loadEdge) {
	n := p.n
	if s.live[s.root[l.plus]] {
		p.note(i, StopFed, l.name, func(st *state) (string, []string) {
			return fmt.Sprintf("the stop wire of %s is live here, and earthing it would be a short: it goes to the kill contact and to nothing else", l.name), n.feedPath(st, l)
		})
	}
	if p.works[l.load] == nil || meant(p.works[l.load], s.set) != s.stopped(l) {
		return
	}
	p.note(i, NotAsMeant, l.name, func(st *state) (string, []string) {
		if st.stopped(l) {
			return fmt.Sprintf("%s is meant to run here and its stop wire is at earth: look for swapped wires or cavities", l.name), n.path(st, l.name+".+", "battery.-")
		}
		return fmt.Sprintf("%s runs on here and is not meant to: its stop wire does not reach earth", l.name), nil
	})
}
