package mapping

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// reference reads a table of testdata/reference as rows by column name.
func reference(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

// Source: IEC 60757:2021 table 1, testdata/reference/iec60757_colours.csv, C2.
func TestColourTable(t *testing.T) {
	rows := reference(t, "iec60757_colours.csv")
	all := Colours()
	single := 0
	for i, r := range rows {
		if r["reserved_combination"] == "yes" {
			if r["code"] != JoinIEC("YE", "GN") || r["code"] != JoinIEC("GN", "YE") {
				t.Errorf("%s: green with yellow joins as %s", r["code"], JoinIEC("YE", "GN"))
			}
			continue
		}
		single++
		if i >= len(all) || string(all[i]) != r["code"] {
			t.Fatalf("place %d of the table is not %s", i+1, r["code"])
		}
		if all[i].Order() != i+1 {
			t.Errorf("%s has place %d, want %d", r["code"], all[i].Order(), i+1)
		}
		if name, _, _ := strings.Cut(r["colour"], " "); all[i].Name() != name {
			t.Errorf("%s is called %q, want %q", r["code"], all[i].Name(), name)
		}
	}
	if single != len(all) {
		t.Errorf("%d colours, the standard has %d", len(all), single)
	}
}

// Source: IEC 60757:2021 clause 5.1 and the 1983 edition's example and note,
// testdata/reference/iec60757_rules.csv (C2; plus sign and GNYE C1).
func TestJoiningRules(t *testing.T) {
	words := func(s string) (out []Colour) {
		for _, w := range strings.Fields(strings.NewReplacer(" and ", " ", " with ", " ").Replace(s)) {
			base, _, err := ParseColours(w)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, base)
		}
		return out
	}
	checked := 0
	for _, r := range reference(t, "iec60757_rules.csv") {
		in, want := r["example_input"], r["expected"]
		switch {
		case want == "RDBU", in == "rd":
			if got := JoinIEC(words(in)...); got != want {
				t.Errorf("%s: %s, want %s", in, got, want)
			}
		case strings.HasPrefix(want, "BK+"):
			if got := CoreList("BU", "GNYE", "BK", "BN", "BK"); got != want {
				t.Errorf("cores of %s: %s, want %s", in, got, want)
			}
		case strings.HasPrefix(want, "GNYE"):
			c := words(in)
			if got := JoinIEC(c...); got != "GNYE" || IECWarning(c[0], c[1]) == "" {
				t.Errorf("%s: %s, want GNYE and a warning", in, got)
			}
		case strings.HasPrefix(want, "base=GN"):
			base, tracer, err := ParseColours("green/red")
			e := End{Base: base, Tracer: tracer}
			if err != nil || e.Colours() != "GN/RD" || e.IEC() != "RDGN" {
				t.Errorf("green with red: %s, joined %s, %v", e.Colours(), e.IEC(), err)
			}
		default:
			t.Errorf("rule %q is checked by nothing", r["rule"])
		}
		checked++
	}
	if checked != 6 {
		t.Errorf("%d rules checked, want 6", checked)
	}
	// Trap 1 of testdata/reference/README.md: the joined code loses the base.
	if a, b := JoinIEC("RD", "WH"), JoinIEC("WH", "RD"); a != "RDWH" || a != b {
		t.Errorf("red with white: %s and %s, want RDWH twice", a, b)
	}
	if IECWarning("GN", "RD") != "" {
		t.Error("a warning about green with red")
	}
}

func TestTypedColours(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		{"", ""}, {"bu", "BU"}, {"BUWH", "BU/WH"}, {"bu wh", "BU/WH"}, {"BU-WH", "BU/WH"},
		{"blue/white", "BU/WH"}, {" Blue  with a white tracer", "BU/WH"}, {"white on blue", "BU/WH"},
		{"light green", "GN"}, {"gray", "GY"}, {"purple/yellow", "VT/YE"}, {"r", "RD"}, {"w/r", "WH/RD"},
		{"br", "BN"}, {"or", "OG"}, {"GNYE", "GN/YE"}, {"\x1b[31mred\x1b[0m", "RD"}, {"turq", "TQ"}, {"wh wh", "WH"},
	} {
		base, tracer, err := ParseColours(c.typed)
		if got := (End{Base: base, Tracer: tracer}).Colours(); err != nil || got != c.want {
			t.Errorf("%q is %q (%v), want %q", c.typed, got, err, c.want)
		}
	}
	for _, c := range []struct{ typed, want string }{
		{"B", `"B" could be black (BK), brown (BN) or blue (BU): which is it?`},
		{"g/w", `"G" could be green (GN), grey (GY) or gold (GD): which is it?`},
		{"bl", `"BL" could be black (BK) or blue (BU): which is it?`},
		{"p", `"P" could be pink (PK) or violet (VT): which is it?`},
		{"xq", `"xq" is no colour: write codes such as BU or BU/WH`},
		{"7", `"7" is no colour`},
		{"red/white/blue", `"red/white/blue" has 3 colours`},
	} {
		_, _, err := ParseColours(c.typed)
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.typed, err, c.want)
		}
	}
}

// Whatever is shown can be typed back, and joining does not mind the order.
func TestColoursComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.Permutation(Colours()).Draw(t, "colours")
		e := End{Base: list[0]}
		if rapid.Bool().Draw(t, "tracer") {
			e.Tracer = list[1]
		}
		base, tracer, err := ParseColours(strings.ToLower(e.Colours()))
		if err != nil || base != e.Base || tracer != e.Tracer {
			t.Fatalf("%s came back as %s %s: %v", e.Colours(), base, tracer, err)
		}
		b2, t2, err := SplitColours(string(e.Base) + string(e.Tracer))
		if err != nil || b2 != e.Base || t2 != e.Tracer {
			t.Fatalf("%s split as %s %s: %v", e.Colours(), b2, t2, err)
		}
		if JoinIEC(e.Base, e.Tracer) != JoinIEC(e.Tracer, e.Base) {
			t.Fatalf("joining %s minds the order", e.Colours())
		}
	})
}

// What another program calls a colour is read if it can be, else left out with
// a word; the description itself stays as it is.
func TestKnownColours(t *testing.T) {
	p := Pod{Ends: []End{{ID: "1", Base: "blue", Tracer: "wh"}, {ID: "2", Base: "B"}, {ID: "3", Base: "BU", Tracer: "\x1b[2J"}, {ID: "4", Base: "RD"}}}
	got, odd := p.KnownColours()
	var colours []string
	for _, e := range got.Ends {
		colours = append(colours, e.Colours())
	}
	if want := []string{"BU/WH", "", "", "RD"}; !slices.Equal(colours, want) {
		t.Errorf("%q, want %q", colours, want)
	}
	if want := `left out as no colour code: "B" of end 2, "BU/" of end 3; say those colours again`; odd != want {
		t.Errorf("%q, want %q", odd, want)
	}
	if p.Ends[0].Base != "blue" {
		t.Error("the description itself was changed")
	}
	j := fold(t, Entry{Pod: testPod, Describe: &p})
	if w := j.Pods[testPod]; len(w.Remarks) != 1 || w.Remarks[0].Text != odd || w.Pod.Ends[1].Base != "" {
		t.Errorf("%+v", w)
	}
	again, odd := got.KnownColours()
	if odd != "" || !slices.Equal(again.Ends, got.Ends) {
		t.Errorf("%+v, %q", again, odd)
	}
}
