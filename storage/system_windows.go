package storage

import (
	"errors"
	"syscall"
)

// Windows error numbers, as the Windows system error code list gives them.
const (
	errorWriteProtect   = syscall.Errno(19)
	errorHandleDiskFull = syscall.Errno(39)
	errorDiskFull       = syscall.Errno(112)
)

func isFullErrno(err error) bool {
	return errors.Is(err, errorDiskFull) || errors.Is(err, errorHandleDiskFull)
}

func isReadOnly(err error) bool { return errors.Is(err, errorWriteProtect) }

// syncFolder does nothing: a folder cannot be synced on Windows.
func syncFolder(string) error { return nil }

// isNotFolder also takes "path not found" (3), which Windows says there.
func isNotFolder(err error) bool {
	return errors.Is(err, syscall.ENOTDIR) || errors.Is(err, syscall.Errno(3))
}
