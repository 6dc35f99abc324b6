package storage

import (
	"fmt"
	"io/fs"
	"os"
	"syscall"
	"testing"
)

func TestReasonNamesNoFile(t *testing.T) {
	for _, err := range []error{
		&fs.PathError{Op: "open", Path: "/proc/.x.bellout.1591280593.tmp", Err: syscall.ENOENT},
		&os.LinkError{Op: "rename", Old: ".bellout-1-0", New: "x", Err: syscall.ENOENT},
		fmt.Errorf("on the way: %w", &fs.PathError{Op: "open", Path: "x", Err: syscall.ENOENT}),
		syscall.ENOENT,
	} {
		if got := Reason(err); got != syscall.ENOENT {
			t.Errorf("%v: %v", err, got)
		}
	}
}
