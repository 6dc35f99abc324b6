// Package mapping holds the words of the trade as types: pods, ends, switches,
// settings, readings, links, maps and their grades.
//
// It stands on the ground: it imports no other package of this project, reads
// no clock and does no I/O. Identities are names as the builder says them
// (EndID, SwitchID, PositionID), so that a reading outlives every later change
// of the pod: a position, a switch or an end can be added in the middle of the
// work and no kept reading has to be rewritten.
package mapping
