// Command bellout leads a builder through the probing of an unlabelled switch
// pod and turns the readings into a pinout and a harness plan.
//
// This package only wires: the words are in mapping, the reasoning in
// inference, the job files in storage, the screens in tui.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, systemWorld(), os.Args[1:])
	stop()
	os.Exit(int(code))
}
