package storage

import "bytes"

// LooksLikeJob says whether the bytes of a file, from its beginning, are those
// of a job, sound or damaged, of its backup or of its log. It is meant for
// whoever is about to write over a file: a foreign file of the same database
// counts as well.
func LooksLikeJob(head []byte) bool {
	if there, _, _ := readMeta(head, 0); there {
		return true
	}
	// The first head may be what is damaged. The second stands one page on.
	for size := uint64(minPageSize); size <= maxPageSize; size *= 2 {
		if there, _, _ := readMeta(head, size); there {
			return true
		}
	}
	return bytes.HasPrefix(head, []byte(logHead[:len(logHead)-1]))
}

// LooksLikeArchive says whether the bytes of a file, from its beginning, are
// those of an archive of any version, whole or not.
func LooksLikeArchive(head []byte) bool {
	return bytes.HasPrefix(bytes.TrimPrefix(head, []byte("\ufeff")), []byte(archiveHead[:len(archiveHead)-1]))
}
