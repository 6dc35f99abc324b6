package tui

import (
	"bellout/inference"
	"bellout/mapping"
)

// NewEngine is the engine of package inference as this package uses it.
func NewEngine(pod mapping.Pod, readings []mapping.Reading) Engine {
	return engine{inference.NewEngine(pod, readings)}
}

type engine struct{ e *inference.Engine }

func (e engine) Add(r ...mapping.Reading) { e.e.Add(r...) }
func (e engine) Advance() (int, bool)     { return e.e.Advance() }
func (e engine) Fork() Engine             { return engine{e.e.Fork()} }
func (e engine) Findings() Findings       { return findings{e.e.Result()} }
func (e engine) Next(b mapping.Bench) (inference.Proposal, bool) {
	return e.e.Next(b)
}

type findings struct{ inference.Result }

func (f findings) Summary() inference.Result { return f.Result }
