// Package rig lets a program stand in for the builder: it asks for sweeps on
// one stream and takes the answers on another, one JSON object a line.
//
// An ask:
//
//	{"ask": {"id": 7, "red": ["3"], "black": ["1","2"], "mode": "beep",
//	         "steps": [{"turn": "left", "dip": "low"}], "why": "..."}}
//
// and its answer, one reading a step:
//
//	{"id": 7, "readings": ["open"]}
//
// In mode beep a reading is "open" or "closed"; in mode ohms a number or "OL";
// in mode diode the volts from red to black or "OL"; "not sure" anywhere. A
// control beep has "control": true, one end on both sides and neither mode nor
// steps, and takes one reading, "open" or "closed". The last line is the map.
//
// What it promises: an answer is in the journal before the next line is
// written, so that what was acknowledged is never lost; the same pod and the
// same answers give the same lines, byte for byte.
package rig
