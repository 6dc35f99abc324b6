package storage

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math"
	"unicode"
	"unicode/utf8"

	"bellout/mapping"
)

const (
	formatV1 = 1
	crcBytes = 4
	keyBytes = 8

	// maxPayload bounds one entry, so that a pasted book does not become a
	// note and a line of an archive can be read in one piece.
	maxPayload = 1 << 20

	// A number that no job reaches is no number of an entry; from outside it is
	// taken up to maxTaken only, so that there is always room to go on from it.
	maxSeq   = 1 << 53
	maxTaken = 1 << 32
)

func keyOf(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// seal and unseal write and read a number that says if it was changed.
func seal(n uint64) []byte {
	return binary.BigEndian.AppendUint32(keyOf(n), checksum(keyOf(n)))
}

func unseal(b []byte) (uint64, error) {
	if len(b) != keyBytes+crcBytes || checksum(b[:keyBytes]) != binary.BigEndian.Uint32(b[keyBytes:]) {
		return 0, errors.New("it is missing or was changed")
	}
	return binary.BigEndian.Uint64(b), nil
}

func checksum(b []byte) uint32 { return crc32.Checksum(b, crc32.MakeTable(crc32.Castagnoli)) }

// encodePayload writes an entry as one line of JSON, the same bytes for the
// same entry.
func encodePayload(e mapping.Entry) ([]byte, error) {
	if err := e.Validate(); err != nil {
		return nil, err
	}
	if r := e.Reading; r != nil && (math.IsNaN(r.Value) || math.IsInf(r.Value, 0)) {
		return nil, errors.New("the reading's value is no number: enter ohms or volts, or over range")
	}
	d, err := fromEntry(e)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(d); err != nil {
		return nil, err
	}
	out := escapeUnseen(bytes.TrimSuffix(buf.Bytes(), []byte("\n")))
	if len(out) > maxPayload {
		return nil, fmt.Errorf("it takes %d bytes and %d is the most: shorten the text", len(out), maxPayload)
	}
	return out, nil
}

// escapeUnseen writes control and format characters (bidi overrides, C1
// controls, zero-width space) as JSON escapes. In JSON they stand in strings
// only, so the meaning is the same.
func escapeUnseen(b []byte) []byte {
	var out []byte
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		switch {
		case !unicode.In(r, unicode.Cc, unicode.Cf):
			out = append(out, b[i:i+n]...)
		case r > 0xFFFF: // the tag characters of plane 14 need a surrogate pair
			r -= 0x10000
			out = fmt.Appendf(out, `\u%04x\u%04x`, 0xD800+(r>>10), 0xDC00+(r&0x3FF))
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		i += n
	}
	return out
}

// decodePayload is the inverse of encodePayload. An unknown field is an error:
// what is not understood must not be dropped in silence.
func decodePayload(b []byte) (mapping.Entry, error) {
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	var d entryV1
	if err := dec.Decode(&d); err != nil {
		return mapping.Entry{}, err
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return mapping.Entry{}, errors.New("there is something behind the entry")
	}
	if d.Seq == 0 {
		return mapping.Entry{}, errors.New("the entry has no number")
	}
	if d.Seq > maxSeq {
		return mapping.Entry{}, fmt.Errorf("the entry's number %d is higher than any job's", d.Seq)
	}
	return d.entry()
}

// encodeRecord gives the value that is kept under an entry's key.
func encodeRecord(payload []byte) []byte {
	rec := make([]byte, 0, 1+len(payload)+crcBytes)
	rec = append(rec, formatV1)
	rec = append(rec, payload...)
	return binary.BigEndian.AppendUint32(rec, checksum(rec))
}

// openRecord checks a record and gives its payload.
func openRecord(rec []byte) ([]byte, error) {
	if len(rec) < 1+crcBytes {
		return nil, fmt.Errorf("its record has %d bytes only", len(rec))
	}
	body := rec[:len(rec)-crcBytes]
	if checksum(body) != binary.BigEndian.Uint32(rec[len(body):]) {
		return nil, errors.New("its checksum does not fit")
	}
	if body[0] != formatV1 {
		return nil, fmt.Errorf("its format is %d", body[0])
	}
	return body[1:], nil
}

// decodeRecord gives the entry under a key.
func decodeRecord(key, rec []byte) (mapping.Entry, error) {
	if len(key) != keyBytes {
		return mapping.Entry{}, fmt.Errorf("a key of the log has %d bytes", len(key))
	}
	seq := binary.BigEndian.Uint64(key)
	payload, err := openRecord(rec)
	if err != nil {
		return mapping.Entry{}, fmt.Errorf("entry %d: %w", seq, err)
	}
	e, err := decodePayload(payload)
	if err != nil {
		return mapping.Entry{}, fmt.Errorf("entry %d: %w", seq, err)
	}
	if e.Seq != seq {
		return mapping.Entry{}, fmt.Errorf("entry %d stands in the place of %d", e.Seq, seq)
	}
	return e, nil
}
