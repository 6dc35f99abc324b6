//go:build !windows

package storage

import (
	"errors"
	"os"
	"syscall"
)

func isFullErrno(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

// syncFolder makes a rename last over a power cut.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if cerr := d.Close(); err == nil {
		err = cerr
	}
	// Some file systems cannot sync a folder; the rename itself has been made.
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		return nil
	}
	return err
}

func isNotFolder(err error) bool { return errors.Is(err, syscall.ENOTDIR) }
