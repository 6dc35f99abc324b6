package cmdline

import (
	"slices"
	"strings"
	"testing"
)

func TestSplit(t *testing.T) {
	for line, want := range map[string][]string{
		"rec":                        {"rec"},
		"  rec  -r 16000\t-c 1 ":     {"rec", "-r", "16000", "-c", "1"},
		`say -v "slow voice"`:        {"say", "-v", "slow voice"},
		`say 'a "b" $HOME' c`:        {"say", `a "b" $HOME`, "c"},
		`a\ b c`:                     {"a b", "c"},
		`x ""`:                       {"x", ""},
		`x a"b c"d`:                  {"x", "ab cd"},
		`C:\tools\rec.exe -q`:        {`C:\tools\rec.exe`, "-q"},
		`"C:\my tools\rec.exe"`:      {`C:\my tools\rec.exe`},
		"rec; rm -rf x | y > z && w": {"rec;", "rm", "-rf", "x", "|", "y", ">", "z", "&&", "w"},
	} {
		got, err := Split(line)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %q, %v; wanted %q", line, got, err, want)
		}
	}
	for line, want := range map[string]string{"": "empty", "   ": "empty", `""`: "empty", `a "b`: "not closed", "a 'b": "not closed", "a\nb": "one line"} {
		if got, err := Split(line); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %q, %v", line, got, err)
		}
	}
}
