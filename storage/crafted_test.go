package storage

import (
	"bytes"
	"encoding/binary"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"
)

// within fails the test if do takes longer than anybody would wait.
func within(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { do(); close(done) }()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatalf("%s does not end", what)
	}
}

// leafOf gives the page of a leaf with elements of one kind, each of which has
// the bytes from its place in body to the end, the first so many for its key.
func leafOf(flags uint32, body []byte, keys ...[2]int) []byte {
	p := make([]byte, pageHeader+len(keys)*elementSize)
	binary.NativeEndian.PutUint16(p[8:], leafPage)
	binary.NativeEndian.PutUint16(p[10:], uint16(len(keys)))
	for i, k := range keys {
		e := p[pageHeader+i*elementSize:]
		binary.NativeEndian.PutUint32(e, flags)
		binary.NativeEndian.PutUint32(e[4:], uint32(len(p)-pageHeader-i*elementSize+k[0]))
		binary.NativeEndian.PutUint32(e[8:], uint32(k[1]))
		binary.NativeEndian.PutUint32(e[12:], uint32(len(body)-k[0]-k[1]))
	}
	return append(p, body...)
}

// twofold is an inline bucket whose two elements are the same bucket, and so
// on: a walk that follows both takes two to the depth steps.
func twofold(depth int) []byte {
	inside := leafOf(0, nil)
	for range depth {
		inside = leafOf(bucketFlag, append([]byte("ba"), append(make([]byte, bucketHeader), inside...)...), [2]int{1, 1}, [2]int{0, 2})
	}
	return append(make([]byte, bucketHeader), inside...)
}

// craft makes a file of bbolt's whose log holds one value, and changes its page
// in a way that no checksum guards.
func craft(t *testing.T, value []byte, change func(page []byte)) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job"+Extension)
	otherDatabase(t, path, func(tx *bolt.Tx) error {
		b, err := tx.CreateBucket(bucketLog())
		if err != nil {
			return err
		}
		return b.Put([]byte("x"), value)
	})
	file := readBytes(t, path)
	at := bytes.Index(file, append([]byte("x"), value...))
	change(file[at-at%pageSizeOf(file):])
	return writeBytes(t, path, file)
}

func TestBucketsThatShareBytes(t *testing.T) {
	path := craft(t, twofold(40), func(page []byte) { page[pageHeader] = bucketFlag })
	var err error
	within(t, "Read", func() { _, err = Read(path) })
	wantKind(t, err, ErrNotOurs, path)
	within(t, "Rebuild", func() { _, err = Rebuild(path, filepath.Join(t.TempDir(), "new"+Extension)) })
	wantKind(t, err, ErrNotOurs, path)
}

func TestValuesThatShareBytes(t *testing.T) {
	body := bytes.Repeat([]byte("y"), 1000)
	var keys [][2]int
	for i := range 20 {
		keys = append(keys, [2]int{0, i + 1})
	}
	leaf := leafOf(0, body, keys...)
	path := craft(t, leaf, func(page []byte) { copy(page[pageHeader-6:], leaf[pageHeader-6:]) })
	_, err := Read(path)
	wantKind(t, err, ErrDamaged, path)
	if !strings.Contains(err.Error(), "share bytes") {
		t.Error(err)
	}
}

// TestSalvageOfEndlessElements: every sixteen bytes are the element of a value
// that is half of the file.
func TestSalvageOfEndlessElements(t *testing.T) {
	const size = 1 << 20
	b := bytes.Repeat(leafOf(0, nil, [2]int{})[pageHeader:], size/elementSize)
	for at := 0; at < size; at += elementSize {
		binary.NativeEndian.PutUint32(b[at+4:], elementSize)
		binary.NativeEndian.PutUint32(b[at+8:], keyBytes)
		binary.NativeEndian.PutUint32(b[at+12:], size/2)
	}
	for at := 0; at < size; at += minPageSize {
		binary.NativeEndian.PutUint16(b[at+8:], leafPage)
		binary.NativeEndian.PutUint16(b[at+10:], 30000)
	}
	within(t, "salvage", func() {
		if got := salvage(b); len(got) > 0 {
			t.Errorf("%d entries", len(got))
		}
	})
}

func TestOtherProgramsNestBuckets(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job"+Extension)
	otherDatabase(t, path, func(tx *bolt.Tx) error {
		b, err := tx.CreateBucket([]byte("accounts"))
		if err != nil {
			return err
		}
		_, err = b.CreateBucket([]byte("2026"))
		return err
	})
	_, err := Read(path)
	wantKind(t, err, ErrNotOurs, path)
	if !strings.Contains(err.Error(), "something else") {
		t.Error(err)
	}
}
