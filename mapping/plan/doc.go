// Package plan is the harness as it is to be: feed, fused ways, modules,
// plugs, wires and earths; what is worked out from them, with numbers and
// reasons; and what is proved of them over every setting of every pod.
//
// A plan is written in a text file (Read, Write). Everything else is computed
// from it: Check lists what is wrong, Work gives fuses, sizes, drops and
// balance, Unplug says what dies with a plug or a fuse, ProofList what a
// finished harness should read, Roadside where to look in the dark.
//
// The package imports mapping only, reads no clock and does no I/O: files that
// a plan names are opened by a function that the caller gives. Every output is
// sorted and byte-stable.
package plan
