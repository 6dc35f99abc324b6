package storage

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"
)

// FolderVariable is the environment variable that names the folder of jobs.
const FolderVariable = "BELLOUT_DIR"

// DefaultFolder is where jobs are kept unless somebody says otherwise:
// BELLOUT_DIR if it is set, else the place each system has for a program's
// data. A job is the builder's work and not a cache or a setting, so on Unix
// that is XDG_DATA_HOME (XDG Base Directory Specification 0.8: absolute, else
// ignored; ~/.local/share if not set). The folder need not be there yet.
func DefaultFolder() (string, error) { return defaultFolder(runtime.GOOS, os.Getenv, os.UserHomeDir) }

func defaultFolder(system string, env func(string) string, home func() (string, error)) (string, error) {
	if dir := env(FolderVariable); dir != "" {
		return dir, nil
	}
	sub := []string{".local", "share", "bellout"}
	switch system {
	case "windows":
		if dir := env("LocalAppData"); dir != "" {
			return filepath.Join(dir, "bellout"), nil
		}
		sub = []string{"AppData", "Local", "bellout"}
	case "darwin", "ios":
		sub = []string{"Library", "Application Support", "bellout"}
	default:
		if dir := env("XDG_DATA_HOME"); filepath.IsAbs(dir) {
			return filepath.Join(dir, "bellout"), nil
		}
	}
	dir, err := home()
	if err != nil || dir == "" {
		return "", errors.New("there is no home folder to keep jobs in: set " + FolderVariable + " to a folder")
	}
	return filepath.Join(append([]string{dir}, sub...)...), nil
}

// maxName bounds the name of a file in bytes, well under the 255 of common
// file systems, with room for the endings of its siblings.
const maxName = 100

// PathFor proposes the path of a job by its title: letters and digits, all
// else a hyphen, safe on every system.
func PathFor(dir, title string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(title) {
		if b.Len() > maxName {
			break
		}
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		} else if s := b.String(); s != "" && !strings.HasSuffix(s, "-") {
			b.WriteByte('-')
		}
	}
	name := strings.TrimSuffix(b.String(), "-")
	if name == "" || isDevice(name) {
		name = strings.TrimPrefix(name+"-job", "-")
	}
	return filepath.Join(dir, name+Extension)
}

// isDevice knows the names that Windows keeps for devices, whatever the ending.
func isDevice(name string) bool {
	switch name {
	case "con", "prn", "aux", "nul":
		return true
	}
	return len(name) == 4 && (strings.HasPrefix(name, "com") || strings.HasPrefix(name, "lpt")) && name[3] >= '0' && name[3] <= '9'
}
