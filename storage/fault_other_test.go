//go:build !unix

package storage

func childUnprivileged(string) {}
