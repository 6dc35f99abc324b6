package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestReadmeHasTheExitCodes keeps the table of README.md the same as the one
// that the program goes by.
func TestReadmeHasTheExitCodes(t *testing.T) {
	text := readme(t)
	for _, m := range exitMeanings {
		if row := fmt.Sprintf("| %d | %s | %s |\n", m.code, m.word, m.says); !strings.Contains(text, row) {
			t.Errorf("README.md lacks the row %q", row)
		}
	}
	_, table, _ := strings.Cut(text, "## Exit codes")
	if got := strings.Count(table, "\n| "); got != len(exitMeanings)+1 {
		t.Errorf("README.md has %d rows of exit codes, the program %d", got-1, len(exitMeanings))
	}
}

// TestReadmeShowsTheScreenAsItIs compares the picture in README.md with the
// golden view of the probing screen.
func TestReadmeShowsTheScreenAsItIs(t *testing.T) {
	view, err := os.ReadFile("../../tui/testdata/views/probe.80x24.txt")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, l := range strings.Split(strings.TrimRight(string(view), "\n"), "\n") {
		lines = append(lines, strings.TrimRight(l, " "))
	}
	if picture := "```\n" + strings.Join(lines, "\n") + "\n```\n"; !strings.Contains(readme(t), picture) {
		t.Error("the picture in README.md is not the screen in tui/testdata/views/probe.80x24.txt: copy it over")
	}
}

// TestReadmeCommandsExist finds every command that README.md shows, with the
// flags it shows.
func TestReadmeCommandsExist(t *testing.T) {
	seen := 0
	for _, line := range strings.Split(readme(t), "\n") {
		command, ok := strings.CutPrefix(strings.TrimSpace(line), "bellout ")
		if !ok {
			continue
		}
		root := newRoot(testWorld(strings.NewReader(""), os.Stderr, os.Stderr))
		c, rest, err := root.Find(strings.Fields(command))
		if err != nil || c == root {
			t.Errorf("README.md shows bellout %s, which is no command", command)
			continue
		}
		seen++
		if err := c.ParseFlags(rest); err != nil {
			t.Errorf("bellout %s: %v", command, err)
		} else if err := c.ValidateArgs(c.Flags().Args()); err != nil {
			t.Errorf("bellout %s: %v", command, err)
		}
	}
	if seen < 10 {
		t.Errorf("only %d commands found in README.md", seen)
	}
}

// TestDevelopersNamesWhatThereIs finds every test, golden view and script that
// DEVELOPERS.md names.
func TestDevelopersNamesWhatThereIs(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var code strings.Builder
	err = filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		b, err := os.ReadFile(path)
		code.Write(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	names := regexp.MustCompile(`\b(Test|Fuzz|Benchmark)[A-Z]\w+`).FindAllString(string(text), -1)
	if len(names) < 30 {
		t.Errorf("only %d tests are named", len(names))
	}
	for _, n := range names {
		if !strings.Contains(code.String(), "func "+n+"(") {
			t.Errorf("DEVELOPERS.md names %s, which there is not", n)
		}
	}
	for _, m := range regexp.MustCompile("view `([a-z-]+)`").FindAllStringSubmatch(string(text), -1) {
		if _, err := os.Stat("../../tui/testdata/views/" + m[1] + ".80x24.txt"); err != nil {
			t.Errorf("DEVELOPERS.md names the view %s: %v", m[1], err)
		}
	}
	for _, m := range regexp.MustCompile(`\b[a-z_]+\.txtar`).FindAllString(string(text), -1) {
		if _, err := os.Stat("testdata/script/" + m); err != nil {
			t.Errorf("DEVELOPERS.md names the script %s: %v", m, err)
		}
	}
}
