package storage

import (
	"fmt"
	"runtime/debug"
)

// guarded runs what calls into bbolt. bbolt answers damage that shows up late
// with a panic, or with a fault on its memory map (a stick pulled out); both
// come back as ErrDamaged. What it runs must not start goroutines.
func guarded(path string, do func() error) (err error) {
	before := debug.SetPanicOnFault(true)
	defer func() {
		debug.SetPanicOnFault(before)
		if r := recover(); r != nil {
			err = fail(ErrDamaged, path, panicError{r})
		}
	}()
	return do()
}

// panicError is a panic that was caught.
type panicError struct{ value any }

func (p panicError) Error() string { return fmt.Sprintf("caught: %v", p.value) }
