// Package storage keeps a job: one bbolt file a job, append-only in spirit.
//
// The file holds nothing but the job's log, a list of mapping.Entry in order.
// A strike-out is an entry like any other, and whatever can be computed from
// the log (map, grades, doubts, plan checks) is not stored. The key tree:
//
//	meta/
//	  kind    "bellout job"
//	  schema  the version of this tree, a sealed number
//	  count   how many records the log has, a sealed number
//	log/
//	  <seq>   a record; seq counts from 1, 8 bytes big-endian, so that the
//	          order of the keys is the order of the log
//
// A sealed number is 8 bytes big-endian and their CRC-32C. The count is there
// because bbolt would not notice a page that lost some of its elements.
//
// The schema is written in the transaction that makes the buckets; a file
// without it is refused, never taken for the latest. A record is
//
//	1 byte   format: 1, which says how the payload is to be read
//	n bytes  payload: JSON, one object, by the frozen types of dto.go
//	4 bytes  CRC-32C of the two, big-endian
//
// since bbolt itself would not notice a changed byte in a value. The types of
// dto.go belong to the file: a rename or a new order in mapping leaves them as
// they are. A field added there is optional; any other change of the form is a
// new format and a new schema with a migration (migrate.go).
//
// Beside "job.bellout" stand two files that are written by nobody else:
//
//	job.bellout.bak  a copy through a read transaction, made on a clean close
//	                 and before a migration
//	job.bellout.log  the same entries as plain text, a line each, written after
//	                 the commit; what Open compares the file with, and what
//	                 Rebuild takes first
//
// What this package promises: when Append returns, its entries are on disk;
// a kill, a power cut or a full disk loses nothing that was acknowledged; no
// file makes it panic or hang; a newer, damaged or foreign file is refused
// with advice and not a byte of it is changed. What it refuses to do: rewrite
// an entry, take one away, or guess.
//
// Text is kept as it is given, save that broken UTF-8 becomes U+FFFD and that
// control and direction characters are written as JSON escapes, so that a log
// or an archive is safe to look at. Whoever draws text on a screen cleans it.
package storage
