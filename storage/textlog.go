package storage

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	bolt "go.etcd.io/bbolt"

	"bellout/mapping"
)

// textLog is the plain-text log beside the job file. The job file is the
// truth and is synced before Append returns; the log is written after that and
// synced on close only, so it costs no bench time. It is for the day on which
// the job file is harmed, and its own trouble never stops the work: a nil log
// takes everything and keeps nothing.
type textLog struct{ f *os.File }

func (l *textLog) write(payloads [][]byte) {
	if l == nil || l.f == nil || len(payloads) == 0 {
		return
	}
	var buf bytes.Buffer
	for _, p := range payloads {
		buf.Write(lineOf(p))
	}
	if _, err := l.f.Write(buf.Bytes()); err != nil {
		// A torn line may stand there now; the next Open mends it.
		_ = l.f.Close()
		l.f = nil
	}
}

func (l *textLog) close() {
	if l == nil || l.f == nil {
		return
	}
	_ = l.f.Sync()
	_ = l.f.Close()
	l.f = nil
}

// readTextLog gives the entries of a log up to the first line that is not
// sound, and whether all lines were.
func readTextLog(path string) (payloads [][]byte, entries []mapping.Entry, whole bool, err error) {
	b, err := readPlain(path)
	if err != nil {
		return nil, nil, false, err
	}
	n := 0
	for ; len(b) > 0; n++ {
		line, rest, ended := bytes.Cut(b, []byte("\n"))
		if !ended {
			return payloads, entries, false, nil
		}
		b = rest
		if n == 0 {
			if string(line) != logHead {
				return nil, nil, false, nil
			}
			continue
		}
		payload, e, err := parseLine(line)
		if err != nil || len(entries) > 0 && e.Seq <= entries[len(entries)-1].Seq {
			return payloads, entries, false, nil
		}
		payloads, entries = append(payloads, payload), append(entries, e)
	}
	return payloads, entries, n > 0, nil // an empty file lacks its head
}

// openLog brings the job file and its log together. A log that goes on where
// the file ends holds entries that were acknowledged and then lost (a head of
// the file was harmed, or an older copy put back): they are put back. A log
// that tells another story is set aside under a name of its own.
func (s *Store) openLog(entries []mapping.Entry) error {
	s.job, _ = mapping.Fold(entries)
	path := logPath(s.path)
	have := make([][]byte, 0, len(entries))
	for _, e := range entries {
		p, err := encodePayload(e)
		if err != nil {
			return fail(ErrDamaged, s.path, err)
		}
		have = append(have, p)
	}
	logged, more, whole, err := readTextLog(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil // it cannot be read: work without it
	}
	same := 0
	for same < min(len(have), len(logged)) && bytes.Equal(have[same], logged[same]) {
		same++
	}
	if same == len(have) && len(logged) > same {
		kept, err := s.putBack(more[same:])
		if err == nil {
			have, same = append(have, logged[same:]...), len(logged)
			s.healed, s.changed = kept, true
		} else if !errors.Is(err, ErrEntry) {
			return err
		}
	}
	if same < len(logged) {
		setAside(path)
	}
	if same < len(logged) || !whole {
		if replaceFile(path, func(w io.Writer) error { return writeLog(w, have) }) != nil {
			return nil
		}
		same = len(have)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, fileMode)
	if err != nil {
		return nil
	}
	s.log = &textLog{f: f}
	s.log.write(have[same:])
	return nil
}

func writeLog(w io.Writer, payloads [][]byte) error {
	if _, err := fmt.Fprintln(w, logHead); err != nil {
		return err
	}
	for _, p := range payloads {
		if _, err := w.Write(lineOf(p)); err != nil {
			return err
		}
	}
	return nil
}

// putBack appends entries under the numbers they have.
func (s *Store) putBack(entries []mapping.Entry) (int, error) {
	err := guarded(s.path, func() error {
		return s.db.Update(func(tx *bolt.Tx) error {
			_, _, err := s.put(tx, entries, true)
			return err
		})
	})
	if err != nil {
		s.refold()
		return 0, classify(s.path, err)
	}
	return len(entries), nil
}

// setAside moves a log away under the first name that is free.
func setAside(path string) {
	for i := 1; i < 1000; i++ {
		to := fmt.Sprintf("%s.%d", path, i)
		if _, err := os.Lstat(to); errors.Is(err, fs.ErrNotExist) {
			_ = os.Rename(path, to)
			return
		}
	}
}
