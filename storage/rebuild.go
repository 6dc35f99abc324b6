package storage

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bellout/mapping"
)

// Report says what Rebuild found. Entries counts what the new job holds, the
// next three where it came from. Missing are the numbers for which nothing
// sound was found, whether or not a stand-in has one of them now. Orphans are
// those that were read and left out because what they speak of is lost; they
// are kept as an archive in OrphansIn. Unsaid counts the readings of each pod
// that name an end or a position which its description has not: they are kept,
// and tell nothing until somebody adds it.
type Report struct {
	Entries    int
	FromLog    int
	FromBackup int
	FromFile   int
	Missing    []uint64
	StandIns   []StandIn
	Orphans    []uint64
	OrphansIn  string
	Unsaid     map[mapping.PodKey]int
}

// Rebuild makes a new job file of whatever can still be read of a damaged or
// lost one: its text log, its backup, and every sound record that stands
// anywhere in the file itself. Entries keep their numbers. Where the description
// of a pod is lost one is made, so that the readings are not lost with it. The
// old files are only read.
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
	if b, err := readPlain(logPath(from)); err == nil {
		rep.FromLog = take(salvageLog(b))
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
	rep.Missing = missing(slices.Sorted(maps.Keys(found)))
	rep.StandIns = standIns(found)
	job := emptyJob()
	var entries, orphans []mapping.Entry
	for _, seq := range slices.Sorted(maps.Keys(found)) {
		if job.Apply(found[seq]) != nil {
			rep.Orphans, orphans = append(rep.Orphans, seq), append(orphans, found[seq])
			continue
		}
		entries = append(entries, found[seq])
	}
	rep.Entries, rep.Unsaid = len(entries), unsaid(job)
	if len(orphans) > 0 {
		rep.OrphansIn = orphansPath(to)
		if err := writeNew(rep.OrphansIn, orphans); err != nil {
			return Report{}, err
		}
	}
	s, err := create(to, entries, defaults())
	if err != nil {
		if rep.OrphansIn != "" {
			_ = os.Remove(rep.OrphansIn)
		}
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

// missing lists the numbers that are not there, a thousand at the most.
func missing(seqs []uint64) (out []uint64) {
	next := uint64(1)
	for _, seq := range seqs {
		for ; next < seq && len(out) < 1000; next++ {
			out = append(out, next)
		}
		next = seq + 1
	}
	return out
}

func orphansPath(to string) string {
	return strings.TrimSuffix(to, Extension) + ".left-out.archive.txt"
}

// writeNew writes an archive where no file is yet.
func writeNew(path string, entries []mapping.Entry) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return classify(path, err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if err != nil {
		return classify(path, err)
	}
	err = errors.Join(WriteArchive(f, entries), f.Sync(), f.Close())
	if err != nil {
		err = errors.Join(classify(path, err), os.Remove(path))
	}
	return err
}

// salvageLog takes every sound line of a text log; one that is not takes
// nothing else with it.
func salvageLog(b []byte) (out []mapping.Entry) {
	head, rest, _ := bytes.Cut(b, []byte("\n"))
	if string(head) != logHead {
		return nil
	}
	for line := range bytes.SplitSeq(rest, []byte("\n")) {
		if _, e, err := parseLine(line); err == nil && (len(out) == 0 || e.Seq > out[len(out)-1].Seq) {
			out = append(out, e)
		}
	}
	return out
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
	// finds them all, whatever the head says or no longer says. Pages that were
	// written by bbolt share nothing, so that a few times the file is read at
	// the most; what shares more was made to be read for ever.
	room := 8 * len(b)
	for at := 0; at+pageHeader <= len(b); at += minPageSize {
		if p := b[at:]; u16(p[8:]) == leafPage {
			salvageLeaf(p, true, &room, collect)
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

// salvageLeaf collects the records of a leaf, and those of the buckets that
// stand inline at the top, until it has no room left. No job has a bucket
// within a bucket.
func salvageLeaf(p []byte, top bool, room *int, collect func(key, value []byte)) {
	count := u16(p[10:])
	if pageHeader+count*elementSize > uint64(len(p)) {
		return
	}
	for i := range count {
		key, value, flags, _, err := element(p, i, false)
		if *room -= elementSize + len(key) + len(value); *room < 0 {
			return
		}
		switch {
		case err != nil:
		case flags == 0:
			collect(key, value)
		case top && len(value) >= bucketHeader+pageHeader && u64(value) == 0:
			salvageLeaf(value[bucketHeader:], false, room, collect)
		}
	}
}
