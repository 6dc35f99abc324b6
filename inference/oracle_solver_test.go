package inference

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/inference/simbench"

	"github.com/crillab/gophersat/solver"
)

// TestExplanationAgainstSolver: the price of the cheapest explanation (which of
// a few maps, which readings odd, when the clip was off, which lever stood
// elsewhere) found by a general pseudo-Boolean solver is the engine's. The
// solver is told the prices of single events and which may follow which, and
// nothing of the engine's search. Source: github.com/crillab/gophersat v1.4.0.
// One solver at a time: it is not safe for two.
func TestExplanationAgainstSolver(t *testing.T) {
	solved, odd := 0, 0
	for seed := range int64(20) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 3, MaxEnds: 5, MinSwitches: 1, MaxSwitches: 1})
		readings := noisyReadings(t, w, seed, 5)
		p := newProblem(w.Pod, readings)
		raw := slices.Clone(p.obs)
		if len(raw) > 12 {
			raw = raw[:12]
		}
		r := rand.New(rand.NewPCG(uint64(seed), 9))
		maps := []*hyp{tellEngine(p, w.TrueLinks())}
		for range 2 {
			maps = append(maps, tellEngine(p, randomMap(r, w.Pod, 1+r.IntN(3))))
		}
		want := math.Inf(1)
		for _, h := range maps {
			want = math.Min(want, p.prior(h)+p.explain(h, raw, nil))
		}
		got, ok := solveExplanation(p, maps, raw)
		if !ok {
			t.Fatalf("seed %d: the solver finds no explanation at all", seed)
		}
		solved++
		if want > p.prior(maps[0])+1e-9 {
			odd++
		}
		if math.Abs(got-want) > 0.02 { // prices are told in thousandths
			t.Errorf("seed %d: engine %.3f bits, solver %.3f", seed, want, got)
		}
	}
	t.Logf("%d cases, %d of them with something odd", solved, odd)
	if odd < 4 {
		t.Errorf("only %d cases had anything to explain", odd)
	}
}

// pbCase collects the constraints and costs of one case.
type pbCase struct {
	vars   int
	cons   []solver.PBConstr
	lits   []solver.Lit
	prices []int
}

func (c *pbCase) fresh() int {
	c.vars++
	return c.vars
}

// one wants exactly one of some variables.
func (c *pbCase) one(vs []int) {
	c.cons = append(c.cons, solver.PropClause(vs...), solver.AtMost(slices.Clone(vs), 1))
}

// pay makes two variables together cost some bits, or forbids them together.
func (c *pbCase) pay(a, b int, bits float64) {
	if math.IsInf(bits, 1) {
		c.cons = append(c.cons, solver.PropClause(-a, -b))
		return
	}
	if bits <= 0 {
		return
	}
	v := c.fresh()
	c.cons = append(c.cons, solver.PropClause(-a, -b, v))
	c.lits = append(c.lits, solver.IntToLit(int32(v)))
	c.prices = append(c.prices, int(math.Round(1000*bits)))
}

func solveExplanation(p *problem, maps []*hyp, raw []obs) (float64, bool) {
	c := &pbCase{}
	var m []int
	for _, h := range maps {
		v := c.fresh()
		m = append(m, v)
		c.pay(v, v, p.prior(h))
	}
	c.one(m)
	states := p.states
	var before []int
	for i := range raw {
		o := &raw[i]
		var now []int
		for _, f := range states {
			v := c.fresh()
			now = append(now, v)
			for j, h := range maps {
				c.pay(m[j], v, p.faultPrice(h, o, f))
			}
		}
		c.one(now)
		newClip := i > 0 && o.epoch != raw[i-1].epoch
		failed := i > 0 && raw[i-1].control && !raw[i-1].closed
		for to, g := range states {
			begin := 0.0
			if g.slip || g.lever >= 0 {
				begin = p.enterPrice(g, o)
			}
			if i == 0 {
				c.pay(now[to], now[to], begin)
				continue
			}
			for from, f := range states {
				end := 0.0
				if f.slip || f.lever >= 0 {
					end = p.leavePrice(f, o, newClip, failed)
				}
				price := end + begin
				if from == to { // or it lasts
					switch {
					case f.slip && failed:
					case f.slip && newClip:
						price = math.Min(price, 1)
					case f.slip, f.lever >= 0 && o.moved>>f.lever&1 == 0:
						price = 0
					}
				}
				c.pay(before[from], now[to], price)
			}
		}
		before = now
	}
	pb := solver.ParsePBConstrs(c.cons)
	pb.SetCostFunc(c.lits, c.prices)
	cost := solver.New(pb).Minimize()
	return float64(cost) / 1000, cost >= 0
}
