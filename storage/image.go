package storage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
)

// image is the bytes of a bbolt file. It is read here with every offset
// checked, before bbolt maps the file: bbolt trusts its pages, and on damage
// panics, faults beyond recovery, or dies in a goroutine of its own.
//
// The form is that of bbolt's data file version 2, as its own source gives it
// (internal/common: meta.go, page.go, inode.go), in the byte order of the
// machine.
type image struct {
	b        []byte
	pageSize uint64
	root     uint64
	freelist uint64
	high     uint64 // pages from here on were never used

	used map[uint64]bool
}

const (
	boltMagic   = 0xED0CDAED
	boltVersion = 2

	pageHeader  = 16
	elementSize = 16
	metaSize    = 64
	metaSummed  = 56

	branchPage = 0x01
	leafPage   = 0x02
	metaPage   = 0x04
	freePage   = 0x10

	bucketFlag   = 0x01
	bucketHeader = 16

	minPageSize = 1 << 10
	maxPageSize = 1 << 24
	maxPages    = 1 << 32
)

var (
	errNoBolt = errors.New("it does not begin like one")
	errNested = errors.New("it has a bucket within a bucket")
)

func u16(b []byte) uint64 { return uint64(binary.NativeEndian.Uint16(b)) }
func u32(b []byte) uint64 { return uint64(binary.NativeEndian.Uint32(b)) }
func u64(b []byte) uint64 { return binary.NativeEndian.Uint64(b) }

// sum64 is the checksum of a head.
func sum64(b []byte) uint64 {
	h := fnv.New64a()
	h.Write(b)
	return h.Sum64()
}

// meta is one of the two heads of the file.
type meta struct {
	pageSize, root, freelist, high, txid uint64
}

// readMeta reads the head on the page at an offset. The first result tells
// whether there is one, sound or not.
func readMeta(b []byte, at uint64) (bool, meta, error) {
	if at+pageHeader+metaSize > uint64(len(b)) {
		return false, meta{}, errors.New("it is cut off within its head")
	}
	p, m := b[at:], b[at+pageHeader:at+pageHeader+metaSize]
	if u32(m) != boltMagic {
		return false, meta{}, errNoBolt
	}
	if sum64(m[:metaSummed]) != u64(m[metaSummed:]) {
		return true, meta{}, errors.New("the checksum of its head does not fit")
	}
	if u16(p[8:]) != metaPage {
		return true, meta{}, errors.New("the page of its head is of no known kind")
	}
	if v := u32(m[4:]); v != boltVersion {
		return true, meta{}, fmt.Errorf("its data file version is %d", v)
	}
	out := meta{pageSize: u32(m[8:]), root: u64(m[16:]), freelist: u64(m[32:]), high: u64(m[40:]), txid: u64(m[48:])}
	if s := out.pageSize; s < minPageSize || s > maxPageSize || s&(s-1) != 0 {
		return true, meta{}, fmt.Errorf("its page size is %d", s)
	}
	return true, out, nil
}

// openImage finds the newest sound head and checks that the file is as long as
// that says. One bad head is no damage: a
// power cut while a head was written leaves the other, and the commit that was
// being written had not been acknowledged.
func openImage(b []byte) (*image, error) {
	seen, first, err := readMeta(b, 0)
	var sound []meta
	if err == nil {
		sound = append(sound, first)
	}
	for at := uint64(minPageSize); at <= maxPageSize; at <<= 1 {
		if err == nil && at != first.pageSize {
			continue
		}
		there, m, err2 := readMeta(b, at)
		seen = seen || there
		if err2 == nil && m.pageSize == at {
			sound = append(sound, m)
		}
	}
	if len(sound) == 0 {
		if seen {
			return nil, errors.New("neither of its heads is sound")
		}
		return nil, errNoBolt
	}
	m := sound[0]
	for _, other := range sound[1:] {
		if other.txid > m.txid {
			m = other
		}
	}
	if m.high < 4 || m.high > maxPages || m.high*m.pageSize > uint64(len(b)) {
		return nil, fmt.Errorf("it is cut short: %d bytes of at least %d are there", len(b), m.high*m.pageSize)
	}
	// A power cut can spoil the head that was being written, not the header of
	// its page, which is the same each time. bbolt's check insists on it too.
	for id := range uint64(2) {
		if p := b[id*m.pageSize:]; u64(p) != id || u16(p[8:]) != metaPage {
			return nil, fmt.Errorf("page %d is no head", id)
		}
	}
	return &image{
		b: b, pageSize: m.pageSize, root: m.root, freelist: m.freelist, high: m.high,
		used: map[uint64]bool{0: true, 1: true},
	}, nil
}

// page gives the bytes of a page with those that overflow from it, and marks
// them as used; a page may be used once.
func (im *image) page(id uint64) ([]byte, error) {
	if id < 2 || id >= im.high {
		return nil, fmt.Errorf("page %d is none of its pages", id)
	}
	p := im.b[id*im.pageSize:]
	if u64(p) != id {
		return nil, fmt.Errorf("page %d says it is page %d", id, u64(p))
	}
	over := u32(p[12:])
	if id+over >= im.high {
		return nil, fmt.Errorf("page %d runs over the end", id)
	}
	for i := id; i <= id+over; i++ {
		if im.used[i] {
			return nil, fmt.Errorf("page %d is used twice", i)
		}
		im.used[i] = true
	}
	return p[:(over+1)*im.pageSize], nil
}

// element gives the key and the rest of the i-th element of a page.
func element(p []byte, i uint64, branch bool) (key, value []byte, flags, child uint64, err error) {
	at := pageHeader + i*elementSize
	e := p[at : at+elementSize]
	var pos, ksize, vsize uint64
	if branch {
		pos, ksize, child = u32(e), u32(e[4:]), u64(e[8:])
	} else {
		flags, pos, ksize, vsize = u32(e), u32(e[4:]), u32(e[8:]), u32(e[12:])
	}
	from := at + pos
	if from+ksize+vsize > uint64(len(p)) || ksize == 0 {
		return nil, nil, 0, 0, fmt.Errorf("element %d of page %d points outside", i, u64(p))
	}
	return p[from : from+ksize], p[from+ksize : from+ksize+vsize], flags, child, nil
}

// visitor is told of every plain value, with the names of the buckets it is in.
type visitor func(path []string, key, value []byte) error

// walk checks every page that can be reached and hands out what they hold, in
// the order of the keys.
func (im *image) walk(visit visitor) error {
	if err := im.tree(im.root, nil, nil, nil, visit); err != nil {
		return err
	}
	return im.checkFree()
}

// tree walks the tree under a page, whose keys are at least low and under high.
func (im *image) tree(id uint64, path []string, low, high []byte, visit visitor) error {
	p, err := im.page(id)
	if err != nil {
		return err
	}
	flags, count := u16(p[8:]), u16(p[10:])
	if pageHeader+count*elementSize > uint64(len(p)) {
		return fmt.Errorf("page %d cannot hold %d elements", id, count)
	}
	switch {
	case flags == leafPage:
		return im.leaf(p, count, path, low, high, visit)
	case flags != branchPage || count == 0:
		return fmt.Errorf("page %d is of no known kind", id)
	}
	for i := range count {
		key, _, _, child, err := element(p, i, true)
		if err != nil {
			return err
		}
		next := high
		if i+1 < count {
			if next, _, _, _, err = element(p, i+1, true); err != nil {
				return err
			}
		}
		if bytes.Compare(key, low) < 0 || next != nil && bytes.Compare(key, next) >= 0 {
			return fmt.Errorf("the keys of page %d are out of order", id)
		}
		if err := im.tree(child, path, key, next, visit); err != nil {
			return err
		}
	}
	return nil
}

// leaf hands out the elements of a leaf page. bbolt lays them out one behind
// the other: where they take more than the page has, some share bytes, and a
// small file could hold more than anybody can read.
func (im *image) leaf(p []byte, count uint64, path []string, low, high []byte, visit visitor) error {
	var last []byte
	room := len(p)
	for i := range count {
		key, value, flags, _, err := element(p, i, false)
		if err != nil {
			return err
		}
		if bytes.Compare(key, low) < 0 || high != nil && bytes.Compare(key, high) >= 0 ||
			last != nil && bytes.Compare(key, last) <= 0 {
			return fmt.Errorf("the keys of page %d are out of order", u64(p))
		}
		last = key
		if room -= len(key) + len(value); room < 0 {
			return fmt.Errorf("the elements of page %d share bytes", u64(p))
		}
		switch {
		case flags == 0:
			err = visit(path, key, value)
		case flags == bucketFlag && len(path) > 0:
			err = errNested
		case flags == bucketFlag:
			err = im.bucket(value, []string{string(key)}, visit)
		default:
			err = fmt.Errorf("element %d of page %d is of no known kind", i, u64(p))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// bucket walks a bucket: a tree of its own, or, while it is small, a leaf page
// that stands inline behind the bucket's header. A job has none within another,
// so that no file can lead deeper than this.
func (im *image) bucket(value []byte, path []string, visit visitor) error {
	if len(value) < bucketHeader {
		return fmt.Errorf("bucket %q is cut off", path)
	}
	if root := u64(value); root != 0 {
		return im.tree(root, path, nil, nil, visit)
	}
	p := value[bucketHeader:]
	if len(p) < pageHeader || u64(p) != 0 || u16(p[8:]) != leafPage || pageHeader+u16(p[10:])*elementSize > uint64(len(p)) {
		return fmt.Errorf("bucket %q is of no known kind", path)
	}
	return im.leaf(p, u16(p[10:]), path, nil, nil, visit)
}

// checkFree reads the list of free pages. Every page is in use or free, once.
func (im *image) checkFree() error {
	p, err := im.page(im.freelist)
	if err != nil {
		return fmt.Errorf("the list of free pages: %w", err)
	}
	count, at := u16(p[10:]), uint64(pageHeader)
	if u16(p[8:]) != freePage {
		return errors.New("the list of free pages is none")
	}
	if count == 0xFFFF { // then the first number is the count
		count, at = u64(p[at:]), at+8
	}
	if count > uint64(len(p)) || at+8*count > uint64(len(p)) {
		return errors.New("the list of free pages is cut off")
	}
	for i := range count {
		id := u64(p[at+8*i:])
		if id >= im.high || im.used[id] {
			return fmt.Errorf("page %d is free and in use", id)
		}
		im.used[id] = true
	}
	for id := range im.high {
		if !im.used[id] {
			return fmt.Errorf("page %d is neither free nor in use", id)
		}
	}
	return nil
}
