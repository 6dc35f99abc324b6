package storage

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"bellout/mapping"
)

// sealedLines makes a whole archive of any payloads, as somebody's own program
// might: every sum is right.
func sealedLines(payloads ...string) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, archiveHead)
	for _, p := range payloads {
		b.Write(lineOf([]byte(p)))
	}
	sum := sha256.Sum256(b.Bytes())
	fmt.Fprintf(&b, "%s %d %s\n", endWord, len(payloads), hex.EncodeToString(sum[:]))
	return b.Bytes()
}

// noPods are descriptions that no pod file and no screen can make; the engine
// relies on there being none.
func noPods() map[string]string {
	var many strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&many, `{"id":"%d","kind":"wire"},`, i)
	}
	two := `"ends":[{"id":"1","kind":"wire"},{"id":"2","kind":"wire"}]`
	return map[string]string{
		"3,000 ends":           `"ends":[` + strings.TrimSuffix(many.String(), ",") + `]`,
		"doubled ends":         `"ends":[{"id":"1","kind":"wire"},{"id":"1","kind":"wire"}]`,
		"doubled positions":    two + `,"switches":[{"name":"dip","positions":["low","low"],"rest":"low"}]`,
		"a rest that is none":  two + `,"switches":[{"name":"dip","positions":["low","main"],"rest":"up"}]`,
		"doubled switches":     two + strings.Replace(`,"switches":[S,S]`, "S", `{"name":"dip","positions":["low","main"],"rest":"low"}`, 2),
		"one end, no position": `"ends":[{"id":"1","kind":"wire"}],"switches":[{"name":"dip","rest":""}]`,
	}
}

func describeLine(pod string) string {
	return `{"seq":2,"pod":"left","describe":{"name":"left",` + pod + `}}`
}

func TestArchiveOfNoPod(t *testing.T) {
	title := `{"seq":1,"title":{"name":"twin"}}`
	sound := describeLine(`"ends":[{"id":"1","kind":"wire"},{"id":"2","kind":"wire"}]`)
	if _, err := ReadArchive(bytes.NewReader(sealedLines(title, sound))); err != nil {
		t.Fatal(err)
	}
	refused := func(name, want string, payloads ...string) {
		path := filepath.Join(t.TempDir(), "job"+Extension)
		_, err := restored(path, bytes.NewReader(sealedLines(payloads...)))
		if !errors.Is(err, ErrArchive) || !strings.HasPrefix(err.Error(), "line 3: ") || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, pod := range noPods() {
		refused(name, "log entry 2 describes what is no pod: ", title, describeLine(pod))
	}
	for _, seq := range []string{"18446744073709551615", "9007199254740993", "4294967297"} {
		refused(seq, "number "+seq+" is higher than any job's", title, `{"seq":`+seq+`,"remark":{"text":"x"}}`)
	}

	// The highest number that is taken leaves room for the work to go on.
	path := filepath.Join(t.TempDir(), "job"+Extension)
	s := must(restored(path, bytes.NewReader(sealedLines(title, `{"seq":4294967296,"remark":{"text":"x"}}`))))(t)
	must(s.Append(aPod(), aReading(0)))(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func TestJobOfNoPod(t *testing.T) {
	for name, pod := range noPods() {
		path := newJob(t, 1)
		without(t, path)
		db := must(bolt.Open(path, fileMode, nil))(t)
		err := db.Update(func(tx *bolt.Tx) error {
			return tx.Bucket(bucketLog()).Put(keyOf(2), encodeRecord([]byte(describeLine(pod))))
		})
		if err := errors.Join(err, db.Close()); err != nil {
			t.Fatal(err)
		}
		_, err = Read(path)
		wantKind(t, err, ErrDamaged, path)
		if !strings.Contains(err.Error(), "entry 2") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAppendOfNoPod: what would not be read back is not written.
func TestAppendOfNoPod(t *testing.T) {
	path := newJob(t, 1)
	s := must(Open(path))(t)
	defer s.Close()
	e := aPod()
	e.Describe.Ends[1].ID = e.Describe.Ends[0].ID
	_, err := s.Append(aReading(1), e)
	wantKind(t, err, ErrEntry, path)
	if got := must(s.Entries())(t); len(got) != 3 {
		t.Errorf("%d entries", len(got))
	}
	_, err = s.Append(mapping.Entry{Pod: leftPod, Remark: &mapping.Remark{Text: "goes on"}})
	if err != nil {
		t.Error(err)
	}
}
