// Package simbench is the judge of the inference engine: it invents pods,
// plays a person who errs at the bench, prices the work and counts what the
// engine got wrong. It is used by tests and by the campaign benchmark only.
//
// It shares no code with the engine. It has its own nets, its own cost
// arithmetic and its own textbook grid, and takes from package mapping nothing
// but the plain types: pods, settings, readings, sweeps, links and grades. The
// engine is met through the interface Solver alone.
package simbench
