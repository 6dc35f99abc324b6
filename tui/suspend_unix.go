//go:build unix

package tui

import "golang.org/x/sys/unix"

// canSuspend tells whether somebody is there to wake the program again: a shell
// with job control puts what it runs into a group other than the session's own.
// A program that is the first of its terminal would sleep for ever.
func canSuspend() bool {
	session, err := unix.Getsid(0)
	return err == nil && session != unix.Getpgrp()
}
