package simbench

import (
	"fmt"
	"math/rand/v2"

	"bellout/mapping"
)

// Judge compares what a solver concludes with what the pod is. What is wrong only in
// settings that need more buttons held than the leads leave hands for, no reading could
// have shown; it is wrong all the same, and counted apart besides.
func Judge(w *World, leads mapping.Leads, s Solver) Score {
	out := Score{
		Seed: w.Seed, Ends: len(w.Pod.Ends), Switches: len(w.Pod.Switches), Depth: w.Depth,
		Grid: GridSeconds(w.Pod), Bits: w.Bits(), Confidence: s.Confidence(),
	}
	m := s.Map()
	links, open := compile(w.Pod, m.Links), compile(w.Pod, m.Unresolved)
	out.judgeMap(w, leads, links, open)
	out.judgeLinks(w, m, links)
	out.judgeVerdicts(w, s)
	return out
}

func covered(open []compiled, a, b int, lever []int) bool {
	for _, u := range open {
		if (u.a == a && u.b == b || u.a == b && u.b == a) && u.holds(lever) {
			return true
		}
	}
	return false
}

// judgeMap holds the predicted nets against the true ones, setting by setting.
func (out *Score) judgeMap(w *World, leads mapping.Leads, links, open []compiled) {
	n := len(w.Pod.Ends)
	rest := w.Lever(nil)
	for _, lever := range Judged(w) {
		truth, said := w.NetsAt(lever), closure(n, links, lever)
		out.Settings++
		wide := said
		if len(open) > 0 {
			wide = closure(n, append(links[:len(links):len(links)], open...), lever)
		}
		wrong := false
		inReach := len(heldButtons(w.Pod, rest, lever)) <= hands(leads)
		near := offRest(rest, lever) <= 2
		for a := range n {
			for b := a + 1; b < n; b++ {
				right := (truth[a] == truth[b]) == (said[a] == said[b])
				if right && !near {
					continue
				}
				cov := len(open) > 0 && covered(open, a, b, lever)
				if near {
					out.Claims++
					if cov {
						out.Unresolved++
					}
				}
				if right {
					continue
				}
				wrong = true
				if !cov {
					out.WrongSure++
					if inReach {
						out.SureInReach++
					}
					if (wide[a] == wide[b]) == (said[a] == said[b]) {
						out.WrongFree++
					}
					if out.FirstWrong == "" {
						out.FirstWrong = fmt.Sprintf("%s+%s said %s, is %s, in %v", w.pointName(a), w.pointName(b),
							joinWord(said[a] == said[b]), joinWord(truth[a] == truth[b]), w.Setting(lever))
					}
				}
			}
		}
		if wrong {
			out.WrongSettings++
			if inReach {
				out.WrongInReach++
			}
		}
	}
}

func joinWord(joined bool) string {
	if joined {
		return "joined"
	}
	return "open"
}

func offRest(rest, lever []int) int {
	n := 0
	for k := range rest {
		if lever[k] != rest[k] {
			n++
		}
	}
	return n
}

// judgeLinks counts links graded proved that do not hold as stated.
func (out *Score) judgeLinks(w *World, m mapping.Map, links []compiled) {
	if len(links) != len(m.Links) {
		out.ProvedFalse++
		out.FirstFalse = "a link names an end that the pod has not"
		return
	}
	judged := Judged(w)
	truth := make([][]int, len(judged))
	for i, lever := range judged {
		truth[i] = w.NetsAt(lever)
	}
	for i, l := range m.Links {
		if l.Grade != mapping.Proved {
			continue
		}
		out.Proved++
		for k, lever := range judged {
			if links[i].holds(lever) && truth[k][links[i].a] != truth[k][links[i].b] {
				out.ProvedFalse++
				if out.FirstFalse == "" {
					out.FirstFalse = fmt.Sprintf("link %s-%s is graded proved but is open in %v", l.A, l.B, w.Setting(lever))
				}
				break
			}
		}
	}
}

// mostVerdicts bounds how many two-switch claims are asked of the solver.
const mostVerdicts = 2000

// judgeVerdicts asks the solver's grade of every claim at rest and with one
// switch moved, and of up to mostVerdicts with two switches moved, and counts
// those graded proved that are false.
func (out *Score) judgeVerdicts(w *World, s Solver) {
	rest := w.Lever(nil)
	r := rand.New(rand.NewPCG(uint64(w.Seed), 0x766572))
	n := len(w.Pod.Ends)
	all := nearRest(w.Pod, rest, 2)
	two := 0
	for _, lever := range all {
		if offRest(rest, lever) == 2 {
			two += n * (n - 1) / 2
		}
	}
	keep := 1.0
	if two > mostVerdicts {
		keep = mostVerdicts / float64(two)
	}
	for _, lever := range all {
		truth := w.NetsAt(lever)
		setting := w.Setting(lever)
		far := offRest(rest, lever) == 2
		for a := range n {
			for b := a + 1; b < n; b++ {
				if far && r.Float64() >= keep {
					continue
				}
				joined, grade := s.Verdict(setting, w.Pod.Ends[a].ID, w.Pod.Ends[b].ID)
				if grade != mapping.Proved {
					continue
				}
				out.Proved++
				if joined != (truth[a] == truth[b]) {
					out.ProvedFalse++
					if out.FirstFalse == "" {
						out.FirstFalse = fmt.Sprintf("%s+%s proved %s, is not, in %v", w.pointName(a), w.pointName(b), joinWord(joined), setting)
					}
				}
			}
		}
	}
}
