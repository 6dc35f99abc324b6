package storage

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bellout/mapping"
)

func archiveOf(t testing.TB, entries []mapping.Entry) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := WriteArchive(&buf, entries); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// TestArchiveRoundTrip: any entries, with gaps in their numbers, come back as
// they were, and give the same bytes again; also through a mailer that changes
// the line ends.
func TestArchiveRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var entries []mapping.Entry
		seq := uint64(0)
		for range rapid.IntRange(0, 12).Draw(rt, "n") {
			seq += rapid.Uint64Range(1, 3).Draw(rt, "gap")
			entries = append(entries, number(genEntry().Draw(rt, "entry"), seq))
		}
		text := archiveOf(t, entries)
		for _, form := range [][]byte{text, bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n")), append([]byte("\ufeff"), text...), append(text, "\n\n"...)} {
			back, err := ReadArchive(bytes.NewReader(form))
			if err != nil {
				rt.Fatal(err)
			}
			if d := cmp.Diff(entries, back); d != "" {
				rt.Fatal(d)
			}
			if !bytes.Equal(text, archiveOf(t, back)) {
				rt.Fatal("other bytes the second time")
			}
		}
	})
}

// TestArchiveThroughAJob: job, archive, job, archive.
func TestArchiveThroughAJob(t *testing.T) {
	path := newJob(t, 25)
	want := must(Read(path))(t)
	text := archiveOf(t, want)
	to := filepath.Join(t.TempDir(), "copy"+Extension)
	s := must(restored(to, bytes.NewReader(text)))(t)
	defer s.Close()
	got := must(s.Entries())(t)
	if d := cmp.Diff(want, got); d != "" {
		t.Fatal(d)
	}
	if !bytes.Equal(text, archiveOf(t, got)) {
		t.Fatal("the second archive differs")
	}
	_, err := restored(to, bytes.NewReader(text))
	wantKind(t, err, ErrExists, to)
}

// frozenArchive was put together by a few lines of another language, with a
// CRC-32C and a SHA-256 that share no code with the package.
const frozenArchive = `bellout archive 1
0af45abb {"seq":1,"title":{"name":"old twin"}}
40e184c6 {"seq":4,"remark":{"text":"left side Ω \u202e"}}
end 2 d833f6fe3a0cf468aa204a6e322eb84084428515a502246429ed017b06727076
`

// TestChecksumStandard: the CRC-32C examples of RFC 3720 (iSCSI), appendix B.4.
func TestChecksumStandard(t *testing.T) {
	var rising [32]byte
	for i := range rising {
		rising[i] = byte(i)
	}
	for _, c := range []struct {
		data []byte
		want uint32 // the RFC lists the bytes of the lower end first
	}{
		{make([]byte, 32), 0x8a9136aa},
		{bytes.Repeat([]byte{0xff}, 32), 0x62a8ab43},
		{rising[:], 0x46dd794e},
	} {
		if got := checksum(c.data); got != c.want {
			t.Errorf("% x: got %08x, want %08x", c.data, got, c.want)
		}
	}
}

// TestArchiveForm holds the bytes of the archive: archives are out there.
func TestArchiveForm(t *testing.T) {
	entries := []mapping.Entry{
		{Seq: 1, Title: &mapping.Title{Name: "old twin"}},
		{Seq: 4, Remark: &mapping.Remark{Text: "left side Ω \u202e"}},
	}
	if got := string(archiveOf(t, entries)); got != frozenArchive {
		t.Errorf("got\n%swant\n%s", got, frozenArchive)
	}
}

// TestArchiveDamage: cut anywhere, any byte changed, any line gone, doubled or
// moved: it is refused, and the message names the line.
func TestArchiveDamage(t *testing.T) {
	text := archiveOf(t, must(Read(newJob(t, 6)))(t))
	refused := func(name string, b []byte) {
		t.Helper()
		_, err := ReadArchive(bytes.NewReader(b))
		if !errors.Is(err, ErrArchive) || !strings.HasPrefix(err.Error(), "line ") || strings.Contains(err.Error(), "\n") {
			t.Fatalf("%s: got %v", name, err)
		}
	}
	for i := range len(text) - 1 { // without its last line feed it is whole
		refused(fmt.Sprintf("cut at %d", i), text[:i])
	}
	for i := range text {
		bad := bytes.Clone(text)
		bad[i] ^= 2
		if i == len(text)-1 {
			continue // the last line feed: a stray letter behind the checksum is tried below
		}
		refused(fmt.Sprintf("byte %d", i), bad)
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	lines = lines[:len(lines)-1]
	for i := range lines {
		refused(fmt.Sprintf("without line %d", i+1), bytes.Join(append(append([][]byte{}, lines[:i]...), lines[i+1:]...), nil))
		refused(fmt.Sprintf("line %d twice", i+1), bytes.Join(append(append([][]byte{}, lines[:i+1]...), lines[i:]...), nil))
		if i > 0 {
			bad := append([][]byte{}, lines...)
			bad[i], bad[i-1] = bad[i-1], bad[i]
			refused(fmt.Sprintf("line %d moved", i+1), bytes.Join(bad, nil))
		}
	}
	refused("something behind", append(bytes.Clone(text), 'x'))
	refused("nothing", nil)
	refused("a line without end", bytes.Repeat([]byte("x"), 3<<20))

	// What is refused makes no file.
	dir := t.TempDir()
	path := filepath.Join(dir, "job"+Extension)
	if _, err := restored(path, bytes.NewReader(text[:100])); !errors.Is(err, ErrArchive) {
		t.Fatal(err)
	}
	orphan := archiveOf(t, []mapping.Entry{number(aReading(0), 1)})
	_, err := restored(path, bytes.NewReader(orphan))
	wantKind(t, err, ErrEntry, path)
	if jobs := must(ListJobs(dir))(t); len(jobs) != 0 {
		t.Fatalf("%v", jobs)
	}
	if err := WriteArchive(&bytes.Buffer{}, []mapping.Entry{{Seq: 2, Title: &mapping.Title{}}, {Seq: 2, Title: &mapping.Title{}}}); err == nil {
		t.Fatal("two entries of one number")
	}
}

func FuzzReadArchive(f *testing.F) {
	f.Add([]byte(frozenArchive))
	f.Add([]byte("bellout archive 1\nend 0 \n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		entries, err := ReadArchive(bytes.NewReader(b))
		if err != nil {
			return
		}
		back, err := ReadArchive(bytes.NewReader(archiveOf(t, entries)))
		if d := cmp.Diff(entries, back); err != nil || d != "" {
			t.Fatal(err, d)
		}
	})
}

func FuzzExamine(f *testing.F) {
	b := readBytes(f, newJob(f, 3))
	f.Add(b)
	f.Add(b[:100])
	f.Fuzz(func(_ *testing.T, b []byte) {
		_, _ = examineBytes(b, CurrentSchema)
		_ = salvage(b)
	})
}

// restored is a new job of an archive.
func restored(path string, archive io.Reader) (*Store, error) {
	entries, err := ReadArchive(archive)
	if err != nil {
		return nil, err
	}
	return Restore(path, entries)
}
