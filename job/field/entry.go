package field

import (
	"encoding/json"
	"slices"
	"strings"
)

// entry is a record as a book holds it. What is asked of every record of a place, over and over, stands here, side by side: a million
// records are far more than what a processor keeps at hand, and their texts lie anywhere. The record itself is the caller's.
type entry struct {
	*Record
	ID      string // of the record
	Kind    Kind
	Number  int
	heard   any // what was read of Says: a pointer to the type of its kind
	device  *device
	hash    uint64   // of the id
	after   []uint64 // of the ids in After
	from    mark
	to      mark // of a record that names one place alone: that place
	placed  bool // from and to are places of one leg
	alone   bool // it names one place
	inspect bool // by an inspector
	gone    bool // another record took its place
	again   bool // another record of its id stands
	astray  bool // it says that an end is off at a place that is not among its own (elsewhereOff)
	other   bool // whoever wrote it had other places on its leg than are here
	// Whether the record has what few have: asking the record itself waits for it.
	corrects bool // it names one that it corrects
	pictured bool // it has photos
	planned  bool // it tells what was planned there
}

// enter makes an entry of a record, apart from its places.
func (e *entry) enter(r *Record, hashes []uint64) {
	e.Record, e.ID, e.Kind, e.Number, e.hash = r, r.ID, r.Kind, r.Number, hashOf(r.ID)
	e.alone, e.corrects, e.pictured, e.planned = r.To == "", r.Corrects != "", len(r.Photos) > 0, r.Planned != nil
	e.inspect = r.Role == Inspector || r.Role != "" && strings.Contains(strings.ToLower(r.Role), Inspector)
	e.after = hashes[:0]
	for _, id := range r.After {
		e.after = append(e.after, hashOf(id))
	}
}

// numbered has a record carry its number at the server. The record itself was given by somebody who may still read it.
func (e *entry) numbered(seq int64) {
	if seq == 0 || e.Seq > 0 && e.Seq <= seq {
		return
	}
	r := *e.Record
	r.Seq = seq
	e.Record = &r
}

// hashOf is a short number for an id, eight letters at a time: where two of them differ, the ids do.
func hashOf(id string) uint64 {
	const odd = 0x9e3779b97f4a7c15
	h := uint64(len(id))
	for ; len(id) >= 8; id = id[8:] {
		h = (h ^ (uint64(id[0]) | uint64(id[1])<<8 | uint64(id[2])<<16 | uint64(id[3])<<24 | uint64(id[4])<<32 | uint64(id[5])<<40 | uint64(id[6])<<48 | uint64(id[7])<<56)) * odd
		h ^= h >> 32
	}
	for i := range len(id) {
		h = (h ^ uint64(id[i])) * odd
	}
	return h ^ h>>32
}

const fnvStart = 0xcbf29ce484222325

// fnv goes on with a short number of a text (FNV-1a): records keep such ones, so it stays as it is.
func fnv(h uint64, text string) uint64 {
	for i := range len(text) {
		h = (h ^ uint64(text[i])) * 0x100000001b3
	}
	return h
}

// knew tells whether an entry names another as one that it comes after.
func (e *entry) knew(of *entry) bool {
	return slices.Contains(e.after, of.hash) && slices.Contains(e.After, of.ID)
}

// hear reads what an entry says as its kind says it; false: it says something else, or nothing that can be read. A record without
// anything to read says the zero value. What is handed out is shared, and never changed.
func hear[T any](e *entry) (*T, bool) {
	if says, ok := e.heard.(*T); ok {
		return read(says)
	}
	return hearAs(e, new(T), &scan{})
}

func hearAs[T any](e *entry, says *T, s *scan) (*T, bool) {
	if len(e.Says) > 0 && !s.hears(e.Says, says) {
		*says = *new(T)
		if json.Unmarshal(e.Says, says) != nil {
			says = nil
		}
	}
	e.heard = says
	return read(says)
}

// read tells what could not be read from what could, and hands out the zero value for it.
func read[T any](says *T) (*T, bool) {
	if says == nil {
		return new(T), false
	}
	return says, true
}
