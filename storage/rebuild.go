package storage

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"slices"

	"bellout/mapping"
)

// Report says what Rebuild found. Entries counts what the new job holds, the
// next three where it came from. Missing are the numbers for which nothing
// sound was found; Orphans those left out because what they speak of is lost.
type Report struct {
	Entries    int
	FromLog    int
	FromBackup int
	FromFile   int
	Missing    []uint64
	Orphans    []uint64
}

// Rebuild makes a new job file of whatever can still be read of a damaged or
// lost one: its text log, its backup, and every sound record that stands
// anywhere in the file itself. Entries keep their numbers. The old files are
// only read.
func Rebuild(from, to string) (Report, error) {
	var rep Report
	found := map[uint64]mapping.Entry{}
	take := func(entries []mapping.Entry) (n int) {
		for _, e := range entries {
			if _, there := found[e.Seq]; !there {
				found[e.Seq] = e
				n++
			}
		}
		return n
	}
	// The log holds acknowledged entries only, so it has the first word; then
	// the backup, which was whole when it was made.
	if _, entries, _, err := readTextLog(logPath(from)); err == nil {
		rep.FromLog = take(entries)
	}
	for _, p := range []string{backupPath(from), from} {
		b, err := readPlain(p)
		if err != nil {
			continue
		}
		f, err := examineBytes(b, CurrentSchema)
		if errors.Is(err, ErrNewer) {
			return Report{}, fail(ErrNewer, p, err)
		}
		n := 0
		if err == nil && f.schema == CurrentSchema {
			n = take(f.entries)
		} else {
			n = take(salvage(b))
		}
		if p == from {
			rep.FromFile = n
		} else {
			rep.FromBackup = n
		}
	}
	if len(found) == 0 {
		none := errors.New("nothing of it can be read, nor of a log or a backup")
		if _, err := os.Stat(from); err == nil {
			return Report{}, fail(ErrNotOurs, from, none)
		}
		return Report{}, fail(ErrMissing, from, none)
	}
	job := emptyJob()
	var entries []mapping.Entry
	next := uint64(1)
	for _, seq := range slices.Sorted(maps.Keys(found)) {
		for ; next < seq && len(rep.Missing) < 1000; next++ {
			rep.Missing = append(rep.Missing, next)
		}
		next = seq + 1
		if job.Apply(found[seq]) != nil {
			rep.Orphans = append(rep.Orphans, seq)
			continue
		}
		entries = append(entries, found[seq])
	}
	rep.Entries = len(entries)
	s, err := create(to, entries, defaults())
	if err != nil {
		return Report{}, err
	}
	return rep, s.Close()
}

// readPlain reads a plain file of a size that a job or its log may have. A pipe
// would wait, and a device may have no end.
func readPlain(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > maxFile {
		return nil, fail(ErrNotOurs, path, errors.New("it is no plain file of the size of a job"))
	}
	return os.ReadFile(path)
}

// salvage looks for sound records on every page that may be a leaf, free ones
// too: in a file that only grows an old copy of a record is as good as the
// new. A number under which two sound records differ (one of them was never
// acknowledged) is left out.
func salvage(b []byte) []mapping.Entry {
	got := map[uint64]mapping.Entry{}
	raw := map[uint64][]byte{}
	bad := map[uint64]bool{}
	collect := func(key, value []byte) {
		e, err := decodeRecord(key, value)
		if err != nil {
			return
		}
		if old, there := raw[e.Seq]; there && !bytes.Equal(old, value) {
			bad[e.Seq] = true
		}
		got[e.Seq], raw[e.Seq] = e, value
	}
	// A page begins at a multiple of the page size; the smallest there is
	// finds them all, whatever the head says or no longer says.
	for at := 0; at+pageHeader <= len(b); at += minPageSize {
		if p := b[at:]; u16(p[8:]) == leafPage {
			salvageLeaf(p, collect)
		}
	}
	var out []mapping.Entry
	for _, seq := range slices.Sorted(maps.Keys(got)) {
		if !bad[seq] {
			out = append(out, got[seq])
		}
	}
	return out
}

// salvageLeaf also looks into buckets that stand inline.
func salvageLeaf(p []byte, collect func(key, value []byte)) {
	count := u16(p[10:])
	if pageHeader+count*elementSize > uint64(len(p)) {
		return
	}
	for i := range count {
		key, value, flags, _, err := element(p, i, false)
		if err != nil {
			continue
		}
		if flags == 0 {
			collect(key, value)
		} else if len(value) >= bucketHeader+pageHeader && u64(value) == 0 {
			salvageLeaf(value[bucketHeader:], collect)
		}
	}
}
