package plan

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"bellout/mapping"
)

// Write gives the plan as its text file. What is zero is left out; the order
// is the model's, so the same plan always gives the same bytes, and Read of
// them gives the same plan.
func Write(p Plan) []byte {
	var b bytes.Buffer
	table(&b, "", reflect.ValueOf(p))
	return b.Bytes()
}

// table writes the plain keys of a struct, then its tables.
func table(b *bytes.Buffer, name string, v reflect.Value) {
	t := v.Type()
	for i := range v.NumField() {
		tag := t.Field(i).Tag.Get("toml")
		f := v.Field(i)
		if tag == "-" || isTable(name, f) || f.IsZero() && (name != "" || f.Kind() != reflect.Float64) {
			continue // the plan's own figures are written even at 0: they have defaults
		}
		fmt.Fprintf(b, "%s = ", tag)
		value(b, f, true)
		b.WriteByte('\n')
	}
	for i := range v.NumField() {
		tag := t.Field(i).Tag.Get("toml")
		f := v.Field(i)
		if tag == "-" || f.IsZero() || !isTable(name, f) {
			continue
		}
		full := join(name, tag)
		if f.Kind() == reflect.Struct {
			fmt.Fprintf(b, "\n[%s]\n", full)
			table(b, full, f)
			continue
		}
		for k := range f.Len() {
			fmt.Fprintf(b, "\n[[%s]]\n", full)
			table(b, full, f.Index(k))
		}
	}
}

// isTable tells whether a field gets its own header: structs, and lists of
// structs on the first two levels down to the block's ways.
func isTable(parent string, f reflect.Value) bool {
	if f.Kind() == reflect.Struct {
		return true
	}
	return f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct && (parent == "" || parent == "block")
}

func value(b *bytes.Buffer, f reflect.Value, top bool) {
	switch f.Kind() {
	case reflect.String:
		b.WriteString(quote(f.String()))
	case reflect.Bool:
		b.WriteString(strconv.FormatBool(f.Bool()))
	case reflect.Int:
		b.WriteString(strconv.FormatInt(f.Int(), 10))
	case reflect.Float64:
		x := f.Float()
		s := strconv.FormatFloat(x, 'f', -1, 64)
		if math.Abs(x) >= 1e15 {
			s = strconv.FormatFloat(x, 'e', -1, 64)
		}
		b.WriteString(s)
	case reflect.Struct:
		b.WriteString("{ ")
		first := true
		for i := range f.NumField() {
			tag := f.Type().Field(i).Tag.Get("toml")
			if tag == "-" || f.Field(i).IsZero() {
				continue
			}
			if !first {
				b.WriteString(", ")
			}
			first = false
			b.WriteString(tag + " = ")
			value(b, f.Field(i), false)
		}
		b.WriteString(" }")
	case reflect.Slice:
		long := top && f.Type().Elem().Kind() == reflect.Struct
		b.WriteByte('[')
		for i := range f.Len() {
			switch {
			case long:
				b.WriteString("\n  ")
			case i > 0:
				b.WriteString(", ")
			}
			value(b, f.Index(i), false)
			if long {
				b.WriteByte(',')
			}
		}
		if long {
			b.WriteByte('\n')
		}
		b.WriteByte(']')
	}
}

// quote writes a TOML basic string. Text is cleaned once more on its way out.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range mapping.Clean(s, mapping.MaxNote) {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case !unicode.IsPrint(r):
			fmt.Fprintf(&b, `\U%08X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
