package mapping

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestClean(t *testing.T) {
	for _, c := range []struct {
		in, want string
		max      int
	}{
		{"left pod", "left pod", 0},
		{"  a \t\r\n b  ", "a b", 0},
		{"\x1b[31mred\x1b[0m", "red", 0},
		{"\x1b]0;title\x07end", "end", 0},
		{"a\x00b\x08c\x7fd", "abcd", 0},
		{"a\u009b31mb", "a31mb", 0}, // a C1 introducer: what is left of it acts on nothing
		{"a\u202eb\u2066c\u200bd\ufeff", "abcd", 0},
		{"ok\xff\xfe!", "ok!", 0},
		{"häñdle Ω µ →", "häñdle Ω µ →", 0},
		{"\u3164\u2800", "", 0},
		{"abcdef", "abc", 3},
		{"ab cd", "ab", 3},
		{"日本語", "日本", 2},
	} {
		got := Clean(c.in, c.max)
		if got != c.want {
			t.Errorf("%q is %q, want %q", c.in, got, c.want)
		}
	}
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"a b", "\x1b[2J\x1b]8;;x\x07", "\u009b1m", "\u202e\u2028", "e\u0301\u0301", "\x9b31m", "\xc2\x1b[m\x9b"} {
		f.Add(s, 7)
	}
	f.Fuzz(func(t *testing.T, s string, max int) {
		got := Clean(s, max)
		if again := Clean(got, max); again != got {
			t.Fatalf("%q is %q, then %q", s, got, again)
		}
		if !utf8.ValidString(got) || strings.TrimSpace(got) != got || strings.Contains(got, "  ") {
			t.Fatalf("%q is %q", s, got)
		}
		if n := utf8.RuneCountInString(got); max > 0 && n > max {
			t.Fatalf("%d characters, at most %d", n, max)
		}
		for _, r := range got {
			if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Co, r) {
				t.Fatalf("%q lets U+%04X through", got, r)
			}
		}
	})
}

func TestCount(t *testing.T) {
	for want, got := range map[string]string{
		"1 entry": Count(1, "entry"), "2 entries": Count(2, "entry"), "3 switches": Count(3, "switch"), "1 switch": Count(1, "switch"),
		"0 readings": Count(0, "reading"), "4 ways": Count(4, "way"), "12 tries": Count(12, "try"),
	} {
		if got != want {
			t.Errorf("%q instead of %q", got, want)
		}
	}
}
