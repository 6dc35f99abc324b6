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
	"runtime/debug"
	"syscall"
	"time"
)

// grace is how long a command may take to end after a signal: time to put the
// terminal in order and to write what is in hand.
const grace = 2 * time.Second

// memory is from where on the collector works harder than usual: the engine lets go of
// large tables faster than they are collected.
const memory = 170 << 20

func main() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memory)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	// A command that waits for input it cannot leave is ended from here. That
	// loses nothing: what was acknowledged is on the disk.
	alive := context.AfterFunc(ctx, func() {
		time.Sleep(grace)
		os.Exit(int(exitInterrupted))
	})
	code := run(ctx, systemWorld(), os.Args[1:])
	alive()
	stop()
	os.Exit(int(code))
}
