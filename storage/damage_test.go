package storage

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	bolt "go.etcd.io/bbolt"
)

// pageKinds asks bbolt itself what each page under the high-water mark is.
func pageKinds(t testing.TB, path string) []string {
	t.Helper()
	db := must(bolt.Open(path, fileMode, &bolt.Options{ReadOnly: true, PreLoadFreelist: true}))(t)
	defer db.Close()
	var kinds []string
	err := db.View(func(tx *bolt.Tx) error {
		for id := 0; ; id++ {
			info, err := tx.Page(id)
			if err != nil || info == nil {
				return err
			}
			for range info.OverflowCount + 1 {
				kinds = append(kinds, info.Type)
			}
			id += info.OverflowCount
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return kinds
}

func pageSizeOf(b []byte) int { return int(u32(b[pageHeader+8:])) }

// newerHead is the page of the head with the higher transaction number.
func newerHead(b []byte) int {
	txid := func(page int) uint64 { return u64(b[page*pageSizeOf(b)+pageHeader+48:]) }
	if txid(1) > txid(0) {
		return 1
	}
	return 0
}

func otherDatabase(t testing.TB, path string, fill func(*bolt.Tx) error) {
	t.Helper()
	db := must(bolt.Open(path, fileMode, nil))(t)
	if err := db.Update(fill); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

type damageCase struct {
	name string
	data []byte
	want string // the kind, or "ok" and the number of entries
}

func damageCases(t testing.TB, path string, entries int) []damageCase {
	whole := readBytes(t, path)
	size := pageSizeOf(whole)
	kinds := pageKinds(t, path)
	ok := fmt.Sprintf("ok\t%d", entries)
	var cases []damageCase
	add := func(name string, data []byte, want string) { cases = append(cases, damageCase{name, data, want}) }

	for cut := 0; cut <= len(whole); cut += size {
		for _, at := range []int{cut, cut + size/2} {
			want := "damaged"
			if at < pageHeader+metaSize && at > 0 {
				want = "not ours"
			}
			if at >= len(kinds)*size {
				want = ok
			}
			if at <= len(whole) {
				add(fmt.Sprintf("cut at %d", at), whole[:at], want)
			}
		}
	}
	for id := 0; id*size < len(whole); id++ {
		want := "damaged"
		switch {
		case id >= len(kinds), id >= 2 && kinds[id] == "free":
			want = ok
		}
		for name, fill := range map[string]byte{"zeroed": 0, "all ones": 0xff} {
			bad := bytes.Clone(whole)
			copy(bad[id*size:(id+1)*size], bytes.Repeat([]byte{fill}, size))
			add(fmt.Sprintf("page %d %s", id, name), bad, want)
		}
	}
	for id := range 2 {
		torn := bytes.Clone(whole)
		clear(torn[id*size+pageHeader+20:][:metaSize-20])
		want := ok
		if id == newerHead(whole) {
			want = fmt.Sprintf("ok\t%d", entries-1) // one commit behind
		}
		add(fmt.Sprintf("head %d torn", id), torn, want)
	}
	both := bytes.Clone(whole)
	clear(both[:2*size])
	add("both heads zeroed", both, "not ours")
	torn := bytes.Clone(whole)
	torn[pageHeader+20]++
	torn[size+pageHeader+20]++
	add("both heads torn", torn, "damaged")
	flipped := bytes.Clone(whole)
	at := bytes.LastIndex(flipped, []byte("clip held by hand"))
	flipped[at] ^= 1
	add("one byte of a note", flipped, "damaged")
	add("text", []byte("left pod: blue is the horn, I think\n"), "not ours")
	add("long text", bytes.Repeat([]byte("left pod: blue is the horn, I think\n"), 1000), "not ours")
	add("picture", append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 20000)...), "not ours")
	add("empty", nil, "damaged")

	for name, fill := range map[string]func(*bolt.Tx) error{
		"no buckets": func(*bolt.Tx) error { return nil },
		"wrong bucket": func(tx *bolt.Tx) error {
			b, err := tx.CreateBucket([]byte("accounts"))
			if err != nil {
				return err
			}
			return b.Put(keyKind(), []byte(kindText))
		},
		"no version": func(tx *bolt.Tx) error {
			b, err := tx.CreateBucket(bucketMeta())
			if err != nil {
				return err
			}
			return b.Put(keyKind(), []byte(kindText))
		},
		"from the future": func(tx *bolt.Tx) error {
			b, err := tx.CreateBucket(bucketMeta())
			if err != nil {
				return err
			}
			return errors2(b.Put(keyKind(), []byte(kindText)), b.Put(keySchema(), seal(2)))
		},
	} {
		p := filepath.Join(t.TempDir(), "x")
		otherDatabase(t, p, fill)
		add(name, readBytes(t, p), map[string]string{"no version": "damaged", "from the future": "newer"}[name])
		if cases[len(cases)-1].want == "" {
			cases[len(cases)-1].want = "not ours"
		}
	}
	return cases
}

func errors2(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

// TestDamage opens every damaged file in a child, since bbolt can take the
// process with it, and makes sure that a refused file was not changed.
func TestDamage(t *testing.T) {
	path := newJob(t, 150)
	original := must(Read(path))(t)
	cases := damageCases(t, path, len(original))
	dir := t.TempDir()
	var paths []string
	for i, c := range cases {
		paths = append(paths, writeBytes(t, filepath.Join(dir, fmt.Sprintf("%03d%s", i, Extension)), c.data))
	}
	out, err := child(t, "open", paths...).CombinedOutput()
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if err != nil || len(lines) != len(cases) {
		t.Fatalf("the child died (%v) at case %q:\n%s", err, cases[min(len(lines), len(cases))-1].name, out)
	}
	for i, c := range cases {
		_, got, _ := strings.Cut(lines[i], "\t")
		if !strings.HasPrefix(got, c.want+"\t") {
			t.Errorf("%s: got %s, want %s", c.name, got, c.want)
		}
		if !strings.HasPrefix(c.want, "ok") && !bytes.Equal(readBytes(t, paths[i]), c.data) {
			t.Errorf("%s: the refused file was changed", c.name)
		}
		if strings.HasPrefix(got, "ok") {
			back := must(Read(paths[i]))(t)
			n := min(len(back)-1, len(original)) // one was added by the child
			if d := cmp.Diff(original[:n], back[:n]); d != "" {
				t.Errorf("%s: %s", c.name, d)
			}
		}
	}
	t.Logf("%d cases, a file of %d pages", len(cases), len(pageKinds(t, path)))
}

// TestDamageIsHealed: the newest head is harmed, so that bbolt alone would
// open one commit behind in silence; the text log puts the entry back.
func TestDamageIsHealed(t *testing.T) {
	path := newJob(t, 30)
	want := must(Read(path))(t)
	b := readBytes(t, path)
	clear(b[newerHead(b)*pageSizeOf(b)+pageHeader+20:][:metaSize-20])
	writeBytes(t, path, b)
	if n := len(must(Read(path))(t)); n != len(want)-1 {
		t.Fatalf("%d entries in the harmed file, the test needs %d", n, len(want)-1)
	}
	s := must(Open(path))(t)
	if s.Healed() != 1 {
		t.Fatalf("healed %d", s.Healed())
	}
	if d := cmp.Diff(want, must(s.Entries())(t)); d != "" {
		t.Fatal(d)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestEveryByte changes byte after byte of a file. Either it is noticed, or
// nothing that is kept is any different, or the file falls back to the commit
// before (a head was hit).
func TestEveryByte(t *testing.T) {
	path := newJob(t, 60)
	b := readBytes(t, path)
	want := must(Read(path))(t)
	noticed, same, behind := 0, 0, 0
	for i := range len(pageKinds(t, path)) * pageSizeOf(b) {
		inPage := i % pageSizeOf(b)
		if inPage >= pageHeader && i%53 != 0 && (i >= 2*pageSizeOf(b) || inPage >= pageHeader+metaSize) {
			continue // every byte of the heads and the pages' headers, a sample of the rest
		}
		b[i] ^= 1 << (i % 8)
		f, err := examineBytes(b, CurrentSchema)
		b[i] ^= 1 << (i % 8)
		switch {
		case err != nil:
			noticed++
		case reflect.DeepEqual(f.entries, want):
			same++
		case i < 2*pageSizeOf(b) && reflect.DeepEqual(f.entries, want[:len(want)-1]):
			behind++
		default:
			t.Fatalf("byte %d: changed without notice", i)
		}
	}
	t.Logf("noticed %d, harmless %d, one commit behind %d", noticed, same, behind)
	if noticed == 0 || behind == 0 {
		t.Fatal("the test hit nothing")
	}
}

// TestForgedPages damages pages at random and makes the heads fit again.
// examine must not panic; what it lets through must not harm bbolt.
func TestForgedPages(t *testing.T) {
	path := newJob(t, 80)
	whole := readBytes(t, path)
	size, pages := pageSizeOf(whole), len(pageKinds(t, path))
	rng := rand.New(rand.NewPCG(1, 2))
	dir := t.TempDir()
	var through []string
	rounds := 1500
	refused := 0
	for i := range rounds {
		b := bytes.Clone(whole)
		for range 1 + rng.IntN(3) {
			page := rng.IntN(pages)
			at := page * size
			switch rng.IntN(4) {
			case 0: // a field of a head or of a page's header
				at += rng.IntN(pageHeader + metaSize)
			case 1: // an element
				at += pageHeader + rng.IntN(30*elementSize)
			default:
				at += rng.IntN(size)
			}
			switch rng.IntN(3) {
			case 0:
				b[at] = byte(rng.Uint32())
			case 1:
				b[at]++
			default:
				binary.NativeEndian.PutUint32(b[at&^3:], uint32(rng.IntN(pages+2)))
			}
		}
		for page := range 2 {
			m := b[page*size+pageHeader:]
			binary.NativeEndian.PutUint64(m[metaSummed:], sum64(m[:metaSummed]))
		}
		if _, err := examineBytes(b, CurrentSchema); err != nil {
			refused++
			continue
		}
		if len(through) < 60 {
			through = append(through, writeBytes(t, filepath.Join(dir, fmt.Sprintf("%d%s", i, Extension)), b))
		}
	}
	out, err := child(t, "open", through...).CombinedOutput()
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if err != nil || len(lines) != len(through) {
		t.Fatalf("the child died: %v\n%s", err, out)
	}
	for _, l := range lines {
		if !strings.Contains(l, "\tok\t") {
			t.Errorf("let through and then: %s", l)
		}
	}
	t.Logf("%d forged files, %d refused, %d of the others opened", rounds, refused, len(through))
}

// TestFreeList: a page that is free and in use would be overwritten by the
// next commit.
func TestFreeList(t *testing.T) {
	path := newJob(t, 60)
	whole, kinds := readBytes(t, path), pageKinds(t, path)
	list, leaf := slices.Index(kinds, "freelist"), slices.Index(kinds, "leaf")
	at := list * pageSizeOf(whole)
	count := u16(whole[at+10:])
	if list < 0 || leaf < 0 || count < 2 {
		t.Fatalf("pages %v, %d free", kinds, count)
	}
	for name, id := range map[string]uint64{
		"in use": uint64(leaf), "a head": 0, "outside": uint64(len(kinds)), "twice": u64(whole[at+pageHeader+8:]),
	} {
		bad := bytes.Clone(whole)
		binary.NativeEndian.PutUint64(bad[at+pageHeader:], id)
		// The page that is no more on the list is of no account here.
		if _, err := examineBytes(bad, CurrentSchema); err == nil || !strings.Contains(err.Error(), "is free and in use") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
