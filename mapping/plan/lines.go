package plan

import (
	"regexp"
	"strconv"
	"strings"
)

// lines knows on which line of a TOML text each table and key stands, under
// names such as "wire[3]", "wire[3].mm2" and "plug[0].fill[2]".
type lines struct {
	at    map[string]int
	order []keyLine
	text  []string
}

type keyLine struct {
	dotted string // without indices: "wire.mm2"
	line   int
}

var (
	headerLine = regexp.MustCompile(`^\s*\[(\[)?\s*([A-Za-z0-9_.\- ]+?)\s*\]`)
	assignLine = regexp.MustCompile(`^\s*([A-Za-z0-9_\-]+)\s*=`)
)

func findLines(text string) *lines {
	l := &lines{at: map[string]int{}, text: strings.Split(text, "\n")}
	count := map[string]int{}
	table, dotted, array := "", "", ""
	items := 0
	for i, line := range l.text {
		if m := headerLine.FindStringSubmatch(line); m != nil && array == "" {
			dotted = m[2]
			table = dotted
			if m[1] != "" {
				table = dotted + "[" + strconv.Itoa(count[dotted]) + "]"
				count[dotted]++
			}
			l.at[table] = i + 1
			continue
		}
		trimmed := strings.TrimSpace(line)
		if array != "" {
			if strings.HasPrefix(trimmed, "{") {
				l.at[array+"["+strconv.Itoa(items)+"]"] = i + 1
				items++
			}
			if strings.HasPrefix(trimmed, "]") {
				array = ""
			}
			continue
		}
		if m := assignLine.FindStringSubmatch(line); m != nil {
			l.at[join(table, m[1])] = i + 1
			l.order = append(l.order, keyLine{join(dotted, m[1]), i + 1})
			if strings.HasSuffix(trimmed, "[") {
				array, items = join(table, m[1]), 0
			}
		}
	}
	return l
}

func join(table, key string) string {
	if table == "" {
		return key
	}
	return table + "." + key
}

// of gives the line of a name, or of the nearest thing around it that is
// known, or 1.
func (l *lines) of(name string) int {
	for name != "" {
		if at, ok := l.at[name]; ok {
			return at
		}
		cut := strings.LastIndexAny(name, ".[")
		if cut < 0 {
			break
		}
		name = name[:cut]
	}
	return 1
}

// ofUnknown gives the line of the k-th key that has a dotted name.
func (l *lines) ofUnknown(dotted string, k int) int {
	seen := 0
	for _, e := range l.order {
		if e.dotted == dotted {
			if seen == k {
				return e.line
			}
			seen++
		}
	}
	last := dotted[strings.LastIndex(dotted, ".")+1:]
	inside := regexp.MustCompile(`(^|[{,\s])` + regexp.QuoteMeta(last) + `\s*=`)
	for i, line := range l.text {
		if inside.MatchString(line) {
			if seen == k {
				return i + 1
			}
			seen++
		}
	}
	for i, line := range l.text {
		if m := headerLine.FindStringSubmatch(line); m != nil && m[2] == dotted {
			return i + 1
		}
	}
	return 1
}

// ofKind gives the line of the first key of a dotted name whose value is
// written as a TOML type: "string", "integer", "float", "bool", "array". 0 if
// there is none.
func (l *lines) ofKind(dotted, kind string) int {
	starts := map[string]string{"string": `"'`, "integer": "+-0123456789", "float": "+-0123456789.in", "bool": "tf", "array": "[", "slice": "[", "table": "{", "map": "{"}[kind]
	for _, e := range l.order {
		_, v, _ := strings.Cut(l.text[e.line-1], "=")
		if v = strings.TrimSpace(v); e.dotted == dotted && v != "" && starts != "" && strings.Contains(starts, v[:1]) {
			return e.line
		}
	}
	return 0
}
