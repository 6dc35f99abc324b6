package sheet

import (
	"reflect"

	"bellout/mapping"
	"bellout/mapping/plan"
	"bellout/mapping/sheet/ink"
)

// Input is all that the paper shows. The plan has its zero sizes and fuses
// filled in. Read gives the value read for a proof check, by its ID.
type Input struct {
	Plan     plan.Plan
	Worked   plan.Worked
	Views    []plan.PlugView
	Rows     []plan.PlugRow
	Proof    []plan.ProofCheck
	Power    []plan.PowerStep
	Unplug   []plan.WhatIf
	Tries    []plan.PlugTry
	Shared   []plan.SharedFeed
	Findings []plan.Judged
	Read     map[string]string
}

// tidy is the input with every text in it cleaned of what a terminal or a page
// would obey. Equal names stay equal, so what refers to what is kept.
func (in Input) tidy() Input {
	v := reflect.New(reflect.TypeOf(in)).Elem()
	v.Set(reflect.ValueOf(in))
	return cleanValue(v).Interface().(Input)
}

// cleanValue copies a value with all its strings cleaned.
func cleanValue(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.String:
		out.SetString(mapping.Clean(v.String(), mapping.MaxNote))
	case reflect.Struct:
		out.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(cleanValue(v.Field(i)))
			}
		}
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(cleanValue(v.Index(i)))
		}
	case reflect.Array:
		for i := range v.Len() {
			out.Index(i).Set(cleanValue(v.Index(i)))
		}
	case reflect.Map:
		if v.IsNil() {
			return v
		}
		out.Set(reflect.MakeMap(v.Type()))
		for it := v.MapRange(); it.Next(); {
			out.SetMapIndex(cleanValue(it.Key()), cleanValue(it.Value()))
		}
	default:
		return v
	}
	return out
}

// lacking tells whether any text of the input has a character that the paper's
// font lacks.
func (in Input) lacking() bool { return lackingValue(reflect.ValueOf(in)) }

func lackingValue(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String:
		_, missing := ink.Printable(v.String())
		return missing
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && lackingValue(v.Field(i)) {
				return true
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if lackingValue(v.Index(i)) {
				return true
			}
		}
	case reflect.Map:
		for it := v.MapRange(); it.Next(); {
			if lackingValue(it.Key()) || lackingValue(it.Value()) {
				return true
			}
		}
	}
	return false
}
