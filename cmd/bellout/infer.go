package main

import (
	"fmt"
	"strings"
	"time"

	"bellout/inference"
	"bellout/mapping"
)

// quietFor is how long a command may work before it says how far it is.
const quietFor = time.Second

// infer works out what follows from the readings of a pod. A large job takes half a
// minute: then a terminal is told how far it is, on a line that goes away again.
func (w *world) infer(work *mapping.PodWork) inference.Result {
	live := work.Live()
	e := inference.NewEngine(work.Pod, live)
	width := 0
	for said := w.now(); ; {
		in, more := e.Advance()
		if !more {
			break
		}
		if at := w.now(); w.watched && at.Sub(said) >= quietFor {
			said = at
			line := fmt.Sprintf("%d of %d readings taken in", in, len(live))
			width = max(width, len(line))
			fmt.Fprintf(w.err, "\r%-*s", width, line)
		}
	}
	if width > 0 {
		fmt.Fprintf(w.err, "\r%s\r", strings.Repeat(" ", width))
	}
	return e.Result()
}
