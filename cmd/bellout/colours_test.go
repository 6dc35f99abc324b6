package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/storage"
)

// An archive of another program's may call anything a colour: no command
// prints it as it stands, and no job is refused or loses anything for it.
func TestOddColoursAreLeftOut(t *testing.T) {
	t.Setenv(storage.FolderVariable, t.TempDir())
	dir := t.TempDir()
	from, to := filepath.Join(dir, "odd.archive.txt"), filepath.Join(dir, "odd.bellout")
	evil := mapping.Colour("BU\x1b[2J\u0085\nEVIL")
	pod := mapping.Pod{Name: "left", Ends: []mapping.End{{ID: "1", Base: evil}, {ID: "2", Base: "BK", Tracer: evil}, {ID: "3", Base: "gn", Tracer: "YE"}}}
	var archive bytes.Buffer
	err := storage.WriteArchive(&archive, []mapping.Entry{
		{Seq: 1, Title: &mapping.Title{Name: "odd"}}, {Seq: 2, Pod: "left", Describe: &pod}, {Seq: 3, Pod: "left", Describe: &pod},
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(from, archive.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	bellout := func(args ...string) (string, string) {
		var out, errs bytes.Buffer
		if code := run(context.Background(), testWorld(nil, &out, &errs), args); code != exitOK {
			t.Errorf("%q ended with %d: %s", args, code, errs.String())
		}
		return out.String(), errs.String()
	}
	const left = `left out as no colour code: "BU EVIL" of end 1, "BK/BU EVIL" of end 2; say those colours again`
	for _, args := range [][]string{
		{"labels"}, {"labels", "--format", "html"}, {"log"}, {"log", "--json"},
		{"pinout"}, {"pinout", "--format", "csv"}, {"pinout", "--format", "md"}, {"pinout", "--format", "html"}, {"pinout", "--format", "json"},
	} {
		out, _ := bellout(append(args, from)...)
		if strings.ContainsAny(out, "\x1b\u0085") || strings.Contains(out, "\nEVIL") {
			t.Errorf("%q prints what an archive calls a colour: %q", args, out)
		}
		if args[0] == "log" && len(args) == 1 && !strings.Contains(out, left) {
			t.Errorf("the log does not say what was left out: %s", out)
		}
		if args[0] != "log" && !strings.Contains(out, "GN") {
			t.Errorf("%q does not know a colour in another case: %s", args, out)
		}
	}
	if _, errs := bellout("restore", from, to); !strings.Contains(errs, left) {
		t.Errorf("restore does not say what it left out: %q", errs)
	}
	if out, _ := bellout("archive", to); out != archive.String() {
		t.Error("the restored job holds less than the archive")
	}
}
