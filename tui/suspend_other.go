//go:build !unix

package tui

// canSuspend: there is no job control here.
func canSuspend() bool { return false }
