//go:build unix

package main

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// Who may read a page is for the builder's umask to say, or for what was there.
func TestPagesKeepToTheUmask(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "page.txt")
	for _, c := range []struct {
		umask      int
		there, are os.FileMode // 0: it was not there
	}{{0o077, 0, 0o600}, {0o022, 0, 0o644}, {0o022, 0o640, 0o640}, {0o077, 0o664, 0o664}} {
		_ = os.Remove(path)
		if c.there != 0 {
			if err := os.WriteFile(path, nil, 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.Chmod(path, c.there); err != nil {
				t.Fatal(err)
			}
		}
		old := syscall.Umask(c.umask)
		_, err := writeAll(nil, []draft{writes(path, "text")})
		syscall.Umask(old)
		if err != nil {
			t.Fatal(err)
		}
		st, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := st.Mode().Perm(); got != c.are {
			t.Errorf("with umask %o over %o: %o, want %o", c.umask, c.there, got, c.are)
		}
	}
}
