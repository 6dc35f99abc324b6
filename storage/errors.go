package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	berrors "go.etcd.io/bbolt/errors"
)

// Kind is what went wrong with a job file, as half a sentence that says what
// to do. Compare with errors.Is.
type Kind string

// Error makes a Kind usable as the target of errors.Is.
func (k Kind) Error() string { return "the job file " + string(k) }

// The kinds of trouble with a job file.
const (
	ErrLocked   Kind = "is open in another bellout: close it there, then try again"
	ErrNewer    Kind = "was written by a newer bellout and was left as it is: use that one"
	ErrDamaged  Kind = "is damaged and was left as it is: rebuild it into a new file from what can still be read, its log and its backup"
	ErrNotOurs  Kind = "is no bellout job: check the name"
	ErrReadOnly Kind = "may not be written there: give yourself the right to read and write the file and its folder, or choose another folder"
	ErrFull     Kind = "could not be written because the disk is full: free some space and try again, all that was kept before is safe"
	ErrExists   Kind = "is there already: open it, or choose another name"
	ErrMissing  Kind = "is not there: check the name, or begin a new job"
	ErrUpgrade  Kind = "could not be brought up to this bellout's form and was left as it is: keep a copy and report this"
	ErrClosed   Kind = "was closed already: open it again"
	ErrEntry    Kind = "did not take the entry and nothing was written: put right what is said here and enter it again"
	ErrArchive  Kind = "is no whole bellout archive and nothing was taken from it: get a fresh copy of it"
)

// Error is trouble with one job file: its kind, its path and the cause.
type Error struct {
	Kind  Kind
	Path  string
	Cause error
}

// Error is one sentence, with what to do in it.
func (e *Error) Error() string {
	s := fmt.Sprintf("%q %s", e.Path, string(e.Kind))
	if e.Cause != nil {
		s += " (" + Reason(e.Cause).Error() + ")"
	}
	return s
}

// Reason is what went wrong without the path that the system puts into its
// errors: it is said already, may be that of a temporary file, and may hold
// anything.
func Reason(err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		return pe.Err
	case errors.As(err, &le):
		return le.Err
	}
	return err
}

// Unwrap gives the kind and the cause to errors.Is and errors.As.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.Kind}
	}
	return []error{e.Kind, e.Cause}
}

func fail(kind Kind, path string, cause error) error {
	return &Error{Kind: kind, Path: path, Cause: cause}
}

// classify gives an error of the system or of bbolt its kind. What it cannot
// name stays as it is, with the path.
func classify(path string, err error) error {
	var known *Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &known):
		return err
	case errors.Is(err, berrors.ErrTimeout):
		return fail(ErrLocked, path, nil) // the kind says it: that the wait ran out is no news
	case errors.Is(err, berrors.ErrMaxSizeReached), isFull(err):
		return fail(ErrFull, path, err)
	case errors.Is(err, berrors.ErrInvalid), errors.Is(err, berrors.ErrChecksum), errors.Is(err, berrors.ErrVersionMismatch):
		return fail(ErrDamaged, path, err)
	case errors.Is(err, berrors.ErrDatabaseNotOpen):
		return fail(ErrClosed, path, err)
	case errors.Is(err, fs.ErrNotExist):
		return fail(ErrMissing, path, err)
	case errors.Is(err, fs.ErrExist):
		return fail(ErrExists, path, err)
	case errors.Is(err, fs.ErrPermission), isReadOnly(err):
		return fail(ErrReadOnly, path, err)
	}
	return fmt.Errorf("%q could not be used: %w", path, err)
}

// isFull also reads the text, since bbolt 1.5 drops the cause when the file
// cannot grow ("file resize error: %s").
func isFull(err error) bool {
	return isFullErrno(err) || strings.Contains(err.Error(), "no space left on device")
}
