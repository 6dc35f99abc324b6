package storage

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bellout/mapping"
)

// genText draws text with the runes that break formats: controls, direction
// marks, line separators, plane 14 tags, quotes, wide letters.
func genText() *rapid.Generator[string] {
	odd := []rune("a Zé中\u202e\u2028\u2029\u0000\u001b\u009b\u007f\u0085\ufeff\u200b\U000E0041😀\"\\<>&\n\r\tΩ\ufffd")
	return rapid.OneOf(rapid.String(), rapid.StringOfN(rapid.SampledFrom(odd), 0, 12, -1))
}

func genName[T ~string]() *rapid.Generator[T] {
	return rapid.Map(genText(), func(s string) T { return T(s) })
}

// slicesOf draws slices; an empty one is nil, as it is read back.
func slicesOf[T any](g *rapid.Generator[T]) *rapid.Generator[[]T] {
	return rapid.Map(rapid.SliceOfN(g, 0, 4), func(s []T) []T {
		if len(s) == 0 {
			return nil
		}
		return s
	})
}

func genFloat() *rapid.Generator[float64] {
	return rapid.Float64().Filter(func(f float64) bool { return !math.IsNaN(f) && !math.IsInf(f, 0) && !(f == 0 && math.Signbit(f)) })
}

func genSetting() *rapid.Generator[mapping.Setting] {
	return rapid.Map(rapid.MapOfN(genName[mapping.SwitchID](), genName[mapping.PositionID](), 0, 4),
		func(m map[mapping.SwitchID]mapping.PositionID) mapping.Setting {
			if len(m) == 0 {
				return nil
			}
			return m
		})
}

func genWord[T comparable](ws words[T]) *rapid.Generator[T] {
	return rapid.Map(rapid.SampledFrom(ws), func(w word[T]) T { return w.value })
}

func genIDs() *rapid.Generator[[]mapping.ReadingID] {
	return slicesOf(rapid.Map(rapid.Uint64(), func(u uint64) mapping.ReadingID { return mapping.ReadingID(u) }))
}

// genPod draws what may be described, with names of any runes.
func genPod() *rapid.Generator[*mapping.Pod] {
	return rapid.Custom(func(t *rapid.T) *mapping.Pod {
		p := &mapping.Pod{Name: genText().Draw(t, "name")}
		for _, id := range genDistinct(2, 4).Draw(t, "ends") {
			p.Ends = append(p.Ends, mapping.End{
				ID: mapping.EndID(id), Kind: genWord(kindWords()).Draw(t, "kind"),
				Base: genName[mapping.Colour]().Draw(t, "base"), Tracer: genName[mapping.Colour]().Draw(t, "tracer"),
				Cavity: genText().Draw(t, "cavity"),
			})
		}
		for _, name := range genDistinct(0, 4).Draw(t, "switches") {
			s := mapping.Switch{
				Name: mapping.SwitchID(name), Positions: named[mapping.PositionID](genDistinct(2, 4).Draw(t, "positions")),
				Momentary: rapid.Bool().Draw(t, "momentary"), Legend: genText().Draw(t, "legend"),
			}
			s.Rest = rapid.SampledFrom(s.Positions).Draw(t, "rest")
			p.Switches = append(p.Switches, s)
		}
		return p
	})
}

func genDistinct(least, most int) *rapid.Generator[[]string] {
	some := genText().Filter(func(s string) bool { return s != "" })
	return rapid.SliceOfNDistinct(some, least, most, func(s string) string { return s })
}

// genEntry draws any entry about the left pod (or the job), without a number.
func genEntry() *rapid.Generator[mapping.Entry] {
	ends := slicesOf(genName[mapping.EndID]())
	return rapid.Custom(func(t *rapid.T) mapping.Entry {
		e := mapping.Entry{At: rapid.Int64().Draw(t, "at"), Pod: leftPod}
		switch rapid.IntRange(0, 8).Draw(t, "kind") {
		case 0:
			e.Title = &mapping.Title{Name: genText().Draw(t, "title")}
		case 1:
			e.Describe = genPod().Draw(t, "pod")
		case 2:
			e.Sitting = &mapping.Sitting{Number: rapid.Int().Draw(t, "number"), Leads: genWord(leadsWords()).Draw(t, "leads")}
		case 3:
			e.Ask = &mapping.Ask{Sweep: mapping.Sweep{
				Red: ends.Draw(t, "red"), Black: ends.Draw(t, "black"), Mode: genWord(modeWords()).Draw(t, "mode"),
				Steps: slicesOf(genSetting()).Draw(t, "steps"), Control: rapid.Bool().Draw(t, "control"),
				Why: mapping.Why{
					Reason: genWord(reasonWords()).Draw(t, "reason"), Maps: rapid.Int().Draw(t, "maps"),
					Bits: genFloat().Draw(t, "bits"), Seconds: genFloat().Draw(t, "seconds"),
					Ends: ends.Draw(t, "why ends"), Switches: slicesOf(genName[mapping.SwitchID]()).Draw(t, "why switches"),
				},
			}}
		case 4:
			e.Reading = &mapping.Reading{
				Session: rapid.Int().Draw(t, "session"), Sweep: mapping.SweepID(rapid.Uint64().Draw(t, "sweep")),
				Step: rapid.Int().Draw(t, "step"), Red: ends.Draw(t, "red"), Black: ends.Draw(t, "black"),
				Setting: genSetting().Draw(t, "setting"), Mode: genWord(modeWords()).Draw(t, "mode"),
				Outcome: genWord(outcomeWords()).Draw(t, "outcome"), Value: genFloat().Draw(t, "value"),
				Control: rapid.Bool().Draw(t, "control"), Note: genText().Draw(t, "note"),
			}
		case 5:
			e.Strike = &mapping.Strike{Readings: genIDs().Draw(t, "readings"), Reason: genText().Draw(t, "reason"), Undo: rapid.Bool().Draw(t, "undo")}
		case 6:
			e.Decision = &mapping.Decision{
				Kind: genWord(decisionWords()).Draw(t, "kind"), End: genName[mapping.EndID]().Draw(t, "end"),
				Readings: genIDs().Draw(t, "readings"), Value: genText().Draw(t, "value"),
			}
		case 7:
			e.Remark = &mapping.Remark{Text: genText().Draw(t, "text"), Reading: mapping.ReadingID(rapid.Uint64().Draw(t, "reading"))}
		case 8:
			e.Check = &mapping.CheckResult{Check: genText().Draw(t, "check"), Value: genText().Draw(t, "value"), Pass: rapid.Bool().Draw(t, "pass")}
		}
		return e
	})
}

// number gives an entry its number, as Append does.
func number(e mapping.Entry, seq uint64) mapping.Entry {
	e.Seq = seq
	if e.Reading != nil {
		r := *e.Reading
		r.ID = mapping.ReadingID(seq)
		e.Reading = &r
	}
	if e.Ask != nil {
		e.Ask = &mapping.Ask{Sweep: e.Ask.Sweep}
		e.Ask.Sweep.ID = mapping.SweepID(seq)
	}
	return e
}

func TestRecordRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := number(genEntry().Draw(t, "entry"), rapid.Uint64Range(1, maxSeq).Draw(t, "seq"))
		payload, err := encodePayload(e)
		if err != nil {
			t.Fatal(err)
		}
		back, err := decodeRecord(keyOf(e.Seq), encodeRecord(payload))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(e, back); d != "" {
			t.Fatal(d)
		}
		again, err := encodePayload(back)
		if err != nil || !bytes.Equal(payload, again) {
			t.Fatalf("other bytes the second time: %v\n%s\n%s", err, payload, again)
		}
		for _, r := range string(payload) {
			if r < ' ' || r == 0x7f || r >= 0x80 && r <= 0x9f || r >= 0x202a && r <= 0x202e || r == 0x2028 {
				t.Fatalf("%U stands plainly in %s", r, payload)
			}
		}
	})
}

// TestEveryBitOfARecordCounts: CRC-32C finds every single changed bit, and
// every other shortening of a record is an error too.
func TestEveryBitOfARecordCounts(t *testing.T) {
	payload := must(encodePayload(number(aReading(1), 7)))(t)
	rec := encodeRecord(payload)
	for i := range rec {
		for bit := range 8 {
			bad := bytes.Clone(rec)
			bad[i] ^= 1 << bit
			if _, err := decodeRecord(keyOf(7), bad); err == nil {
				t.Fatalf("bit %d of byte %d may be changed", bit, i)
			}
		}
		if _, err := decodeRecord(keyOf(7), rec[:i]); err == nil {
			t.Fatalf("may be cut at %d", i)
		}
	}
	if _, err := decodeRecord(keyOf(8), rec); err == nil {
		t.Fatal("may stand under another key")
	}
}

// TestEveryFieldIsKept fills every field that mapping has, by reflection, so
// that a field added there and forgotten here is noticed.
func TestEveryFieldIsKept(t *testing.T) {
	kinds := reflect.TypeFor[mapping.Entry]()
	for i := range kinds.NumField() {
		f := kinds.Field(i)
		if f.Type.Kind() != reflect.Pointer {
			continue
		}
		e := mapping.Entry{At: 5, Pod: leftPod}
		v := reflect.New(f.Type.Elem())
		fillIn(v.Elem())
		reflect.ValueOf(&e).Elem().Field(i).Set(v)
		if p := e.Describe; p != nil { // no two of anything in a pod have one name
			p.Ends[1].ID, p.Switches[1].Name = "2", "2"
			p.Switches[0].Positions[1], p.Switches[1].Positions[1] = "2", "2"
		}
		e = number(e, 9)
		back, err := decodePayload(must(encodePayload(e))(t))
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if d := cmp.Diff(e, back); d != "" {
			t.Errorf("%s is not kept whole:\n%s", f.Name, d)
		}
	}
}

func fillIn(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fillIn(v.Field(i))
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fillIn(v.Index(0))
		fillIn(v.Index(1))
	case reflect.Map:
		m := reflect.MakeMap(v.Type())
		k, e := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fillIn(k)
		fillIn(e)
		m.SetMapIndex(k, e)
		v.Set(m)
	case reflect.String:
		v.SetString("Ω 1")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(1)
	case reflect.Uint64:
		v.SetUint(3)
	case reflect.Float64:
		v.SetFloat(0.1)
	default:
		panic("no value for " + v.Type().String())
	}
}

// TestEveryConstantHasAWord reads the constants of mapping from its source, so
// that one added there and forgotten here is noticed before it is refused at
// the bench.
func TestEveryConstantHasAWord(t *testing.T) {
	have := map[string]int{
		"EndKind": len(kindWords()), "Leads": len(leadsWords()), "Mode": len(modeWords()),
		"Outcome": len(outcomeWords()), "Reason": len(reasonWords()), "DecisionKind": len(decisionWords()),
	}
	count := map[string]int{}
	for _, file := range []string{"pod.go", "sweep.go", "reading.go", "entry.go"} {
		f := must(parser.ParseFile(token.NewFileSet(), "../mapping/"+file, nil, 0))(t)
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			first, ok := g.Specs[0].(*ast.ValueSpec)
			if !ok {
				continue
			}
			if id, ok := first.Type.(*ast.Ident); ok {
				count[id.Name] += len(g.Specs)
			}
		}
	}
	for name, n := range have {
		if count[name] != n {
			t.Errorf("%s has %d constants in mapping and %d words here", name, count[name], n)
		}
	}
}

// TestWordsAreFrozen: these bytes stand in files out there. A failure means
// that the change needs a new format, not that the test needs a new line.
func TestWordsAreFrozen(t *testing.T) {
	for _, c := range []struct {
		e    mapping.Entry
		want string
	}{
		{mapping.Entry{Title: &mapping.Title{Name: "a"}}, `{"seq":2,"title":{"name":"a"}}`},
		{aPod(), `{"seq":2,"at":1700000000000,"pod":"left","describe":{"name":"left pod","ends":[{"id":"1","kind":"wire","base":"BU","tracer":"WH"},{"id":"2","kind":"wire","base":"RD"},{"id":"BODY","kind":"body"}],"switches":[{"name":"dip","positions":["low","high"],"rest":"low","legend":"LO HI"},{"name":"horn","positions":["out","in"],"rest":"out","momentary":true}]}}`},
		{aReading(1), `{"seq":2,"at":1700000000001,"pod":"left","reading":{"session":1,"sweep":3,"step":1,"red":["1"],"black":["2","BODY"],"setting":{"dip":"high","horn":"out"},"mode":"ohms","outcome":"value","value":1.4,"note":"clip held by hand"}}`},
		{mapping.Entry{Pod: leftPod, Sitting: &mapping.Sitting{Number: 2, Leads: mapping.BunchLeads}}, `{"seq":2,"pod":"left","sitting":{"number":2,"leads":"bunch"}}`},
		{mapping.Entry{Pod: leftPod, Strike: &mapping.Strike{Readings: []mapping.ReadingID{4}, Reason: "slipped"}}, `{"seq":2,"pod":"left","strike":{"readings":[4],"reason":"slipped"}}`},
	} {
		c.e.Seq = 2
		if got := string(must(encodePayload(c.e))(t)); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
	var all []string
	for _, ws := range [][]string{
		texts2(kindWords()), texts2(leadsWords()), texts2(modeWords()), texts2(outcomeWords()), texts2(reasonWords()), texts2(decisionWords()),
	} {
		all = append(all, strings.Join(ws, ","))
	}
	want := "wire,body;pair,bunch;beep,ohms,diode;none,sounded,silent,value,over range,flicker,not sure,cannot reach;" +
		"survey,separate,confirm,settle,bite test,partner,asked;" +
		"function,terminal,new cavity,set aside,plug face,wire fate,ohm threshold,lead ohms"
	if got := strings.Join(all, ";"); !strings.HasPrefix(got, want[:20]) || got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func texts2[T comparable](ws words[T]) (out []string) {
	for _, w := range ws {
		out = append(out, w.text)
	}
	return out
}
