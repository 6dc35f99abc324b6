package plan

import (
	"regexp"
	"strings"
	"testing"
)

func sayOf(fs []Finding, kind, where string) string {
	for _, f := range fs {
		if f.Kind == kind && f.Where == where {
			return f.Say
		}
	}
	return ""
}

// TestNoAdviceOfNought: where no fuse and no wire will do, that is said, and
// not "take 0 A".
func TestNoAdviceOfNought(t *testing.T) {
	nought := regexp.MustCompile(`\b(take|of|put one of|:) 0 (A|mm2)\b|\b0 (A|mm2) (is the smallest|would do|in\b|near)`)
	for _, c := range []struct {
		name, kind, where, want string
		change                  func(*Plan)
	}{
		{"insulation", Insulated, "harness", "stands 50 C and the harness is at 60 C: take wire of a higher rating", func(p *Plan) { p.Insulation = 50 }},
		{"hardly any insulation", Insulated, "harness", "stands 20 C and the harness is at 60 C", func(p *Plan) { p.Insulation = 20 }},
		{"no insulation", Insulated, "harness", "stands 0 C and the harness is at 60 C", func(p *Plan) { p.Insulation = 0 }},
		{"just as warm", Insulated, "harness", "stands 60 C and the harness is at 60 C", func(p *Plan) { p.Insulation = 60 }},
		{"a huge load", FuseSmall, "W3", "no fuse both carries that", func(p *Plan) { p.Loads[0].Watts, p.Loads[0].Kind = 5000, "" }},
		{"main fuse for a huge load", MainSmall, "main", "no blade fuse holds that, take fewer loads", func(p *Plan) { p.Loads[0].Watts, p.Loads[0].Kind = 5000, "" }},
		{"no main fuse for a huge load", NoMainFuse, "main", "no blade fuse carries all that is on", func(p *Plan) {
			p.Loads[0].Watts, p.Loads[0].Kind = 5000, "" // on W3
			p.Supply.MainFuse = 0
		}},
		{"no way fuse for a huge load", NoFuse, "W3", "no fuse both carries that", func(p *Plan) {
			p.Loads[0].Watts, p.Loads[0].Kind = 5000, "" // on W3
			p.Block.Ways[2].Fuse = 0
		}},
		{"a huge alternator", ChargeFuse, "charge", "no blade fuse is that large", func(p *Plan) { p.Supply.AlternatorWatts = 1e5 }},
		{"and no fuse for it", ChargeFuse, "charge", "no blade fuse is that large", func(p *Plan) { p.Supply.AlternatorWatts, p.Supply.ChargeFuse = 1e5, 0 }},
	} {
		p := fresh(heron(t))
		c.change(&p)
		fs := Check(p)
		if say := sayOf(fs, c.kind, c.where); !strings.Contains(say, c.want) {
			t.Errorf("%s: %q, want %q; all: %v", c.name, say, c.want, briefly(fs))
		}
		for _, f := range fs {
			if nought.MatchString(f.Say) {
				t.Errorf("%s: %s %s: %s", c.name, f.Kind, f.Where, f.Say)
			}
			if c.kind == Insulated && f.Kind == WireThin {
				t.Errorf("%s: said once more of wire %s", c.name, f.Where)
			}
		}
		w := Work(p)
		reasons := w.Main.Reasons
		for _, way := range w.Ways {
			reasons = append(reasons, way.Reasons...)
		}
		for _, r := range reasons {
			if nought.MatchString(r) {
				t.Errorf("%s: %s", c.name, r)
			}
		}
	}
}

// TestShortsSayWhatIsInTheirPath: no fuse blows that is not there, and no lever
// is blamed that has no say.
func TestShortsSayWhatIsInTheirPath(t *testing.T) {
	for _, c := range []struct {
		name, where, want string
		change            func(*Plan)
	}{
		{"across the battery", "feed", "no fuse is in that path and its wires burn at once, take them apart", func(p *Plan) { p.link("battery.+", "battery.-", Loom) }},
		{"behind the main fuse", "feed", "the fuse blows at once", func(p *Plan) { p.link("main.out", "battery.-", Loom) }},
		{"no main fuse", "feed", "no fuse is in that path and its wires burn at once, take them apart", func(p *Plan) {
			p.Supply.MainFuse = 0
			p.link("main.out", "battery.-", Loom)
		}},
		{"behind a way", "W1", "the fuse blows at once", func(p *Plan) { p.link("W1", "battery.-", Loom) }},
		{"behind the key", "feed", "the fuse blows as soon as the block is live", func(p *Plan) { p.link("block.15", "battery.-", Loom) }},
		{"behind the kill switch", "W1", "the fuse blows as soon as the levers stand so", func(p *Plan) { p.link("right.2", "battery.-", Loom) }},
		{"behind the key, with no main fuse", "feed", "no fuse is in that path and its wires burn as soon as the block is live", func(p *Plan) {
			p.Supply.MainFuse = 0
			p.link("block.15", "battery.-", Loom)
		}},
	} {
		p := fresh(heron(t))
		c.change(&p)
		if say := sayOf(Check(p), ShortToGnd, c.where); !strings.Contains(say, "no load between: "+c.want) {
			t.Errorf("%s: %q, want %q", c.name, say, c.want)
		}
	}
}
