package storage

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestListJobs(t *testing.T) {
	dir := t.TempDir()
	if jobs, err := ListJobs(filepath.Join(dir, "none")); err != nil || jobs != nil {
		t.Fatalf("%v %v", jobs, err)
	}
	good := newJob(t, 2)
	put := func(name string, b []byte) { writeBytes(t, filepath.Join(dir, name), b) }
	put("a.bellout", readBytes(t, good))
	put("b.bellout", readBytes(t, good)[:9000])
	put("c.bellout", readBytes(t, filepath.Join(realFiles, future)))
	put("d.bellout", []byte("a note"))
	put("e.bellout", nil)
	put("notes.txt", []byte("a note"))
	put(".half.bellout.123.tmp", []byte("x"))
	put("g.bellout.bak", readBytes(t, good))
	put("h.bellout.log", []byte(logHead+"\n"))
	put("a.bellout.bak", readBytes(t, good))
	if err := os.Mkdir(filepath.Join(dir, "f.bellout"), 0o700); err != nil {
		t.Fatal(err)
	}
	when := time.Unix(1_700_000_000, 0)
	before := map[string]string{}
	for _, f := range must(os.ReadDir(dir))(t) {
		p := filepath.Join(dir, f.Name())
		if err := os.Chtimes(p, when, when); err != nil {
			t.Fatal(err)
		}
		if b, err := os.ReadFile(p); err == nil {
			before[p] = string(b)
		}
	}
	jobs := must(ListJobs(dir))(t)
	want := []struct {
		name  string
		state JobState
		kind  Kind
	}{
		{"old twin", JobReady, ""}, {"b", JobDamaged, ErrDamaged}, {"c", JobNewer, ErrNewer},
		{"d", JobForeign, ErrNotOurs}, {"e", JobDamaged, ErrDamaged}, {"f", JobForeign, ErrNotOurs},
		{"g", JobLost, ErrMissing}, {"h", JobLost, ErrMissing},
	}
	if len(jobs) != len(want) {
		t.Fatalf("%d jobs: %+v", len(jobs), jobs)
	}
	for i, w := range want {
		j := jobs[i]
		if j.Name != w.name || j.State != w.state || w.kind == "" != (j.Err == nil) || w.kind != "" && !errors.Is(j.Err, w.kind) {
			t.Errorf("got %+v (%v), want %+v", j, j.State, w)
		}
	}
	if after := must(os.ReadDir(dir))(t); len(after) != 11 {
		t.Errorf("%d files, there were 11", len(after))
	}
	for p, b := range before {
		if st := must(os.Stat(p))(t); string(readBytes(t, p)) != b || !st.ModTime().Equal(when) {
			t.Errorf("%s was touched", p)
		}
	}
}

func TestDefaultFolder(t *testing.T) {
	home := func() (string, error) { return "/home/me", nil }
	for _, c := range []struct {
		system string
		env    map[string]string
		want   string
	}{
		{"linux", nil, "/home/me/.local/share/bellout"},
		{"linux", map[string]string{"XDG_DATA_HOME": "/data"}, "/data/bellout"},
		{"linux", map[string]string{"XDG_DATA_HOME": "relative"}, "/home/me/.local/share/bellout"},
		{"linux", map[string]string{"XDG_DATA_HOME": "/data", "BELLOUT_DIR": "/jobs"}, "/jobs"},
		{"freebsd", nil, "/home/me/.local/share/bellout"},
		{"darwin", map[string]string{"XDG_DATA_HOME": "/data"}, "/home/me/Library/Application Support/bellout"},
		{"windows", map[string]string{"LocalAppData": "/appdata"}, "/appdata/bellout"},
		{"windows", nil, "/home/me/AppData/Local/bellout"},
	} {
		got, err := defaultFolder(c.system, func(k string) string { return c.env[k] }, home)
		if err != nil || filepath.ToSlash(got) != c.want {
			t.Errorf("%s %v: got %s, %v, want %s", c.system, c.env, got, err, c.want)
		}
	}
	_, err := defaultFolder("linux", func(string) string { return "" }, func() (string, error) { return "", errors.New("no home") })
	if err == nil || !strings.Contains(err.Error(), FolderVariable) {
		t.Error(err)
	}
}

func TestPathFor(t *testing.T) {
	for title, want := range map[string]string{
		"Old twin":              "old-twin",
		"  ../../etc/passwd ":   "etc-passwd",
		"":                      "job",
		"...":                   "job",
		"CON":                   "con-job",
		"com1":                  "com1-job",
		"Grüne Maschine №5":     "grüne-maschine-5",
		"a\x00b\u202ec":         "a-b-c",
		strings.Repeat("é", 99): strings.Repeat("é", 51),
	} {
		if got := PathFor("dir", title); got != filepath.Join("dir", want+Extension) {
			t.Errorf("%q: got %s, want %s", title, got, want)
		}
	}
}
