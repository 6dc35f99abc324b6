package standards

import (
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"bellout/mapping"
)

func reference(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
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

// Source: DIN 72552 parts 1-4 (1971-03), testdata/reference/din72552_terminals.csv
// (C2, some C1; no value there is from memory alone).
func TestTerminalTable(t *testing.T) {
	rows := reference(t, "din72552_terminals.csv")
	if len(rows) != len(Terminals()) {
		t.Errorf("%d terminals, the reference has %d", len(Terminals()), len(rows))
	}
	for _, r := range rows {
		got, ok := FindTerminal(r["terminal"])
		if !ok {
			t.Errorf("terminal %s is missing", r["terminal"])
			continue
		}
		if got.Meaning != r["meaning"] || got.Kind.String() != r["kind"] || strings.Join(got.Older, "; ") != r["older_designation"] {
			t.Errorf("terminal %s: %+v, the reference says %v", r["terminal"], got, r)
		}
	}
}

func TestParseTerminal(t *testing.T) {
	for typed, want := range map[string]string{"56a": "56a", "49A": "49a", " l ": "L", "b+": "B+", "C": "C"} {
		if got, err := ParseTerminal(typed); err != nil || got.Number != want {
			t.Errorf("%q is %q (%v), want %q", typed, got.Number, err, want)
		}
	}
	for typed, want := range map[string]string{
		"56e":   `"56e" is no terminal of DIN 72552`,
		"":      `"" is no terminal`,
		"30/51": `"30/51" is an older designation: write 30 (battery positive, direct)`,
		"54L":   `"54L" is an older designation: write 49a`,
	} {
		if _, err := ParseTerminal(typed); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %q", typed, err, want)
		}
	}
}

type nets = [][]mapping.EndID

// Source: NARM/RSIA (ANSI) contact forms and the function digits of EN 50005,
// testdata/reference/contact_forms.csv (A to D: C2; K, X, Y: C1; Zb: MEM). Each
// row of the reference is played as a switch and its name asked for.
func TestContactForms(t *testing.T) {
	open, pair := nets{}, nets{{"1", "2"}}
	a, b, all := nets{{"1", "2"}}, nets{{"1", "3"}}, nets{{"1", "2", "3"}}
	play := map[string]struct {
		positions []nets
		rest      int
		common    mapping.EndID
		want      string // empty: a steady reading cannot name it
	}{
		"A":          {[]nets{open, pair}, 0, "", "A"},
		"B":          {[]nets{pair, open}, 0, "", "B"},
		"C":          {[]nets{a, b}, 0, "1", "C"},
		"D":          {[]nets{a, all, b}, 0, "1", "D"},
		"K":          {[]nets{a, open, b}, 1, "1", "K"},
		"X":          {[]nets{open, pair}, 0, "", "A"},
		"Y":          {[]nets{pair, open}, 0, "", "B"},
		"Zb":         {[]nets{{{"1", "2"}}, {{"3", "4"}}}, 0, "", "Zb"},
		"early make": {[]nets{open, pair}, 0, "", "A"},
		"late break": {[]nets{pair, open}, 0, "", "B"},
	}
	seen := 0
	for _, r := range reference(t, "contact_forms.csv") {
		c, ok := play[r["form"]]
		if !ok {
			if r["form"] != "E" && r["form"] != "Za" { // no contact table is given for them
				t.Errorf("form %s of the reference is not played", r["form"])
			}
			continue
		}
		seen++
		f, common, ok := FormOf(c.positions, c.rest)
		if !ok || f.Letter != c.want || common != c.common {
			t.Errorf("form %s is named %q with common %q, want %q with %q", r["form"], f.Letter, common, c.want, c.common)
		}
		if r["form"] != f.Letter {
			continue
		}
		if n, _, _ := strings.Cut(r["terminals"], " "); n != fmt.Sprint(f.Ends) && !strings.Contains(r["alias"], "four terminals") {
			t.Errorf("form %s has %d ends, the reference says %s", f.Letter, f.Ends, n)
		}
		if d, _, _ := strings.Cut(r["en50005_digits"], " "); d != f.Digits {
			t.Errorf("form %s has digits %q, the reference says %q", f.Letter, f.Digits, d)
		}
	}
	if seen != len(play) {
		t.Errorf("%d forms played, want %d", seen, len(play))
	}
}

func TestNoForm(t *testing.T) {
	for name, positions := range map[string][]nets{
		"nothing":               {{}, {}},
		"always joined":         {{{"1", "2"}}, {{"1", "2"}}},
		"cumulative lights":     {{}, {{"1", "2"}}, {{"1", "2", "3"}}},
		"ring of three":         {{{"1", "2"}}, {{"2", "3"}}, {{"1", "3"}}},
		"five ends":             {{{"1", "2", "3"}}, {{"4", "5"}}},
		"two pairs in step":     {{}, {{"1", "2"}, {"3", "4"}}},
		"outputs meet, no feed": {{{"2", "3"}}, {{"1", "2"}}},
	} {
		f, common, ok := FormOf(positions, 0)
		if name == "outputs meet, no feed" {
			// Seen from 2 this is a changeover, and it is one.
			if !ok || f.Letter != "C" || common != "2" {
				t.Errorf("%s: %v %q", name, f, common)
			}
			continue
		}
		if ok {
			t.Errorf("%s is called form %s", name, f.Letter)
		}
	}
	if _, _, ok := FormOf(nil, 0); ok {
		t.Error("a switch without positions has a form")
	}
}

func ExampleFormOf() {
	dip := [][][]mapping.EndID{{{"1", "3"}}, {{"1", "2"}}} // low, main
	form, common, _ := FormOf(dip, 0)
	fmt.Println(form.Letter, form.Alias, "common", common)
	// Output: C changeover (SPDT), break before make as far as detents show common 1
}
