package storage

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bellout/mapping"
)

// The archive is plain text, a line an entry:
//
//	bellout archive 1
//	6f1c2ab0 {"seq":1,"title":{"name":"the old twin"}}
//	...
//	end 118 <SHA-256 of all the lines before, each ended by a line feed>
//
// The eight digits are the CRC-32C of the JSON behind them, so that a changed
// line is named by its number; the last line shows that nothing is missing. A
// mailer's carriage returns do no harm. The job's text log has the same lines
// under another head and no last line.
const (
	archiveHead = "bellout archive 1"
	logHead     = "bellout log 1"
	endWord     = "end"
)

func lineOf(payload []byte) []byte {
	line := fmt.Appendf(nil, "%08x ", checksum(payload))
	return append(append(line, payload...), '\n')
}

func parseLine(line []byte) ([]byte, mapping.Entry, error) {
	sum, payload, ok := bytes.Cut(line, []byte(" "))
	if !ok || len(sum) != 8 {
		return nil, mapping.Entry{}, errors.New("it is no entry")
	}
	want, err := strconv.ParseUint(string(sum), 16, 32)
	if err != nil || uint32(want) != checksum(payload) {
		return nil, mapping.Entry{}, errors.New("it was changed or cut, its checksum does not fit")
	}
	e, err := decodePayload(payload)
	if err == nil && e.Seq > maxTaken {
		err = fmt.Errorf("the entry's number %d is higher than any job's", e.Seq)
	}
	return payload, e, err
}

// WriteArchive writes a job's entries as plain text; the same entries give the
// same bytes. They bear their numbers, growing from one entry to the next.
func WriteArchive(w io.Writer, entries []mapping.Entry) error {
	h := sha256.New()
	buf := bufio.NewWriter(w)
	both := io.MultiWriter(buf, h)
	if _, err := fmt.Fprintln(both, archiveHead); err != nil {
		return err
	}
	var last uint64
	for _, e := range entries {
		if e.Seq <= last {
			return fmt.Errorf("entry %d comes after entry %d: number the entries in their order", e.Seq, last)
		}
		last = e.Seq
		payload, err := encodePayload(e)
		if err != nil {
			return fmt.Errorf("entry %d cannot be archived: %w", e.Seq, err)
		}
		if _, err := both.Write(lineOf(payload)); err != nil {
			return err
		}
	}
	if _, err := fmt.Fprintf(buf, "%s %d %s\n", endWord, len(entries), hex.EncodeToString(h.Sum(nil))); err != nil {
		return err
	}
	return buf.Flush()
}

// ReadArchive reads what WriteArchive wrote. It is taken whole or not at all:
// an error names the line.
func ReadArchive(r io.Reader) ([]mapping.Entry, error) {
	entries, n, err := readArchive(r)
	if err != nil {
		return nil, because{ErrArchive, fmt.Sprintf("line %d: %v: it %s", n, err, string(ErrArchive))}
	}
	return entries, nil
}

func newScanner(r io.Reader) *bufio.Scanner {
	sc := bufio.NewScanner(r)
	sc.Buffer(nil, maxPayload+64)
	return sc
}

func readArchive(r io.Reader) (entries []mapping.Entry, n int, err error) {
	sc, h := newScanner(r), sha256.New()
	ended := false
	for sc.Scan() {
		n++
		line := bytes.TrimSuffix(sc.Bytes(), []byte("\r"))
		switch {
		case n == 1:
			line = bytes.TrimPrefix(line, []byte("\ufeff"))
			if string(line) != archiveHead {
				return nil, n, fmt.Errorf("it should read %q", archiveHead)
			}
		case ended && len(line) > 0:
			return nil, n, errors.New("something stands behind the end")
		case ended:
			continue
		case bytes.HasPrefix(line, []byte(endWord+" ")):
			want := fmt.Sprintf("%s %d %s", endWord, len(entries), hex.EncodeToString(h.Sum(nil)))
			if strings.TrimRight(string(line), " ") != want {
				return nil, n, errors.New("lines before it are missing, added or changed")
			}
			ended = true
			continue
		default:
			_, e, err := parseLine(line)
			if err != nil {
				return nil, n, err
			}
			if len(entries) > 0 && e.Seq <= entries[len(entries)-1].Seq {
				return nil, n, fmt.Errorf("entry %d is out of order", e.Seq)
			}
			entries = append(entries, e)
		}
		h.Write(line)
		h.Write([]byte("\n"))
	}
	if err := sc.Err(); errors.Is(err, bufio.ErrTooLong) {
		return nil, n + 1, errors.New("it is longer than any entry")
	} else if err != nil {
		return nil, n + 1, err
	}
	if !ended {
		return nil, n, errors.New("the end is missing")
	}
	return entries, n, nil
}
