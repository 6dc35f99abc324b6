package plan

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"bellout/mapping"

	"github.com/BurntSushi/toml"
)

// Opener reads a file that a plan names, such as a pod's map. The name is as
// the plan has it; the caller knows the folder.
type Opener func(name string) ([]byte, error)

// Mistake is one thing wrong in a plan file, with what to do about it.
type Mistake struct {
	File string
	Line int
	Say  string
}

// Error gives "file:line: sentence".
func (m Mistake) Error() string { return fmt.Sprintf("%s:%d: %s", m.File, m.Line, m.Say) }

// Mistakes is everything that was found wrong, in the order of the file.
type Mistakes []Mistake

// Error gives one line for each mistake.
func (ms Mistakes) Error() string {
	var out []string
	for _, m := range ms {
		out = append(out, m.Error())
	}
	return strings.Join(out, "\n")
}

const (
	maxPlanBytes = 1 << 20
	maxMistakes  = 30
)

// Read reads a plan file. The error, if there is one, is of type Mistakes and
// names every mistake with its line; the plan is then of no use. The open
// function may be nil where the plan names no files.
func Read(name string, data []byte, open Opener) (Plan, error) {
	r := &reader{file: mapping.Clean(name, mapping.MaxText), open: open}
	if len(data) > maxPlanBytes {
		r.at(1, "the file is larger than 1 MB, which no plan is: give the plan's own file")
		return Plan{}, r.mistakes
	}
	r.lines = findLines(string(data))
	p := Plan{Volts: 12, Temperature: 60, Insulation: 105, DropPercent: 5}
	md, err := toml.Decode(string(data), &p)
	if err != nil {
		r.syntax(err)
		return Plan{}, r.mistakes
	}
	r.unknown(md.Undecoded())
	clean(reflect.ValueOf(&p).Elem())
	defaults(&p)
	r.pods(&p)
	r.check(&p)
	if len(r.mistakes) > 0 {
		slices.SortStableFunc(r.mistakes, func(a, b Mistake) int { return a.Line - b.Line })
		r.mistakes = slices.Compact(r.mistakes)
		if len(r.mistakes) > maxMistakes {
			n := len(r.mistakes) - maxMistakes
			r.mistakes = append(r.mistakes[:maxMistakes], Mistake{r.file, r.mistakes[maxMistakes].Line,
				fmt.Sprintf("and %d more: mend these first", n)})
		}
		return Plan{}, r.mistakes
	}
	return p, nil
}

// defaults fills in what a plan need not say.
func defaults(p *Plan) {
	for i := range p.Plugs {
		if p.Plugs[i].Rows == 0 {
			p.Plugs[i].Rows = 1
		}
		if p.Plugs[i].Face == "" {
			p.Plugs[i].Face = WireEntry
		}
		if p.Plugs[i].Shrouded == "" {
			p.Plugs[i].Shrouded = NoHalf
		}
	}
	for i := range p.Wires {
		if p.Wires[i].In == "" {
			p.Wires[i].In = Loom
		}
		p.Wires[i].Colour = strings.ToUpper(p.Wires[i].Colour)
		p.Wires[i].Tracer = strings.ToUpper(p.Wires[i].Tracer)
		if p.Wires[i].Name == "" {
			p.Wires[i].Name = "w" + itoa(i+1)
		}
	}
	for i := range p.Block.Ways {
		if p.Block.Ways[i].Feed == "" {
			p.Block.Ways[i].Feed = FromIgnition
		}
	}
}

type reader struct {
	file     string
	lines    *lines
	open     Opener
	mistakes Mistakes
}

func (r *reader) at(line int, format string, args ...any) {
	r.mistakes = append(r.mistakes, Mistake{r.file, line, mapping.Clean(fmt.Sprintf(format, args...), 400)})
}

// on notes a mistake at a named place: "wire[3].mm2".
func (r *reader) on(place, format string, args ...any) {
	r.at(r.lines.of(place), format, args...)
}

var tomlLine = regexp.MustCompile(`line (\d+)`)
var lastKey = regexp.MustCompile(`last key "([^"]*)"`)
var typeClash = regexp.MustCompile(`TOML value has type (\w+); destination has type (\S+)`)

func (r *reader) syntax(err error) {
	var pe toml.ParseError
	if errors.As(err, &pe) {
		r.at(max(pe.Position.Line, 1), "the file cannot be read here (%s): mend this line, every text in \"quotes\"", pe.Message)
		return
	}
	line := 1
	if m := tomlLine.FindStringSubmatch(err.Error()); m != nil {
		line, _ = strconv.Atoi(m[1])
	}
	if line > len(r.lines.text) {
		line = len(r.lines.text)
	}
	key := ""
	if m := lastKey.FindStringSubmatch(err.Error()); m != nil {
		key = m[1]
	}
	if m := typeClash.FindStringSubmatch(err.Error()); m != nil {
		want := map[string]string{"float": "a number", "float64": "a number", "integer": "a whole number", "int": "a whole number", "string": "a text in \"quotes\"", "bool": "true or false", "boolean": "true or false", "slice": "a list in [brackets]"}[m[2]]
		if want == "" {
			want = "something else"
		}
		if at := r.lines.ofKind(key, m[1]); at > 0 {
			line = at // the library counts to the end of the last table
		}
		r.at(line, "%s is of the wrong kind (%s): write %s", key, m[1], want)
		return
	}
	r.at(line, "%s cannot be read: %s", key, strings.TrimPrefix(err.Error(), "toml: "))
}

func (r *reader) unknown(keys []toml.Key) {
	seen := map[string]int{}
	for _, k := range keys {
		dotted := strings.Join(k, ".")
		line := r.lines.ofUnknown(dotted, seen[dotted])
		seen[dotted]++
		hint := "take it out or spell it as the manual does"
		if near := nearest(k[len(k)-1], knownKeys(k[:len(k)-1])); near != "" {
			hint = "did you mean " + near + "?"
		}
		r.at(line, "nothing here is called %q: %s", k[len(k)-1], hint)
	}
}

// knownKeys lists the keys that a table may have.
func knownKeys(table []string) []string {
	t := reflect.TypeFor[Plan]()
	for _, part := range table {
		found := false
		for i := range t.NumField() {
			if t.Field(i).Tag.Get("toml") == part {
				t, found = t.Field(i).Type, true
				if t.Kind() == reflect.Slice {
					t = t.Elem()
				}
				break
			}
		}
		if !found || t.Kind() != reflect.Struct {
			return nil
		}
	}
	var out []string
	for i := range t.NumField() {
		if tag := t.Field(i).Tag.Get("toml"); tag != "-" && tag != "" {
			out = append(out, tag)
		}
	}
	return out
}

// nearest finds the known word that is at most two slips away.
func nearest(word string, known []string) string {
	best, at := "", 3
	for _, k := range known {
		if d := slips(word, k); d < at {
			best, at = k, d
		}
	}
	return best
}

// slips counts letters added, lost, changed or swapped with their neighbour.
func slips(a, b string) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}

// clean makes every text of a plan safe to show.
func clean(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(mapping.Clean(v.String(), mapping.MaxNote))
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).Tag.Get("toml") != "-" {
				clean(v.Field(i))
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			clean(v.Index(i))
		}
	}
}
