package plan

import (
	"reflect"
	"slices"
	"strings"
	"testing"
)

// TestEveryKeyIsExplained: what a plan file may say is what Explain lists, table
// by table, no more and no less.
func TestEveryKeyIsExplained(t *testing.T) {
	want := map[string][]string{}
	var walk func(header string, v reflect.Type)
	walk = func(header string, v reflect.Type) {
		for i := range v.NumField() {
			f := v.Field(i)
			tag := f.Tag.Get("toml")
			if tag == "-" {
				continue
			}
			path := strings.Trim(strings.Trim(header, "[]")+"."+tag, ".")
			switch {
			case f.Type.Kind() == reflect.Struct:
				walk("["+path+"]", f.Type)
			case f.Type.Kind() == reflect.Slice && f.Type.Elem().Kind() == reflect.Struct && (header == "" || header == "[block]"):
				walk("[["+path+"]]", f.Type.Elem())
			default:
				want[header] = append(want[header], tag)
			}
		}
	}
	walk("", reflect.TypeFor[Plan]())
	got := map[string][]string{}
	for _, k := range Explain() {
		for _, x := range k.Keys {
			got[k.Header] = append(got[k.Header], x.Name)
		}
	}
	for h, keys := range want {
		if !slices.Equal(keys, got[h]) {
			t.Errorf("%q has the keys %v, explained are %v", h, keys, got[h])
		}
	}
	for h := range got {
		if want[h] == nil {
			t.Errorf("%q is explained and no plan has it", h)
		}
	}
	for _, k := range FixedPoints() {
		for _, p := range strings.Fields(k.Name) {
			name, term, _ := strings.Cut(p, ".")
			q := Plan{Name: "x", Volts: 12, Wires: []Wire{{Name: "w", From: p, To: "E1", In: Loom, Length: 1, MM2: 1}}, Earths: []Earth{{Name: "E1", Main: true}}}
			if _, err := Read("x", Write(q), nil); err != nil {
				t.Errorf("%s.%s is no point: %v", name, term, err)
			}
		}
	}
}
