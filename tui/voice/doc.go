// Package voice speaks instructions through whatever speech program the machine
// has: a command line that the user set. It is off unless asked for, and a
// program that fails, hangs or is missing never blocks or breaks the work.
//
// # How to wire it
//
//	v, err := voice.New(argv, voice.OnStdin)       // argv from cmdline.Split
//	defer v.Close()
//	v.Say("Black stays on 1. Red to 3.")           // returns at once
//	v.Wait()                                       // until it has been said
//	if why := v.Trouble(); why != nil { ... }      // one quiet line, once
//
// Say returns at once; what is being said is broken off by the next Say, since
// an old instruction is worse than none. After three failures in a row, or when
// the program cannot be started at all, the voice falls silent for good.
// With AsArgument the text becomes the last argument; with OnStdin it is written
// to the program's standard input with a line break. Never through a shell.
package voice
