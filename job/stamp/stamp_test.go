package stamp

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

var day = time.Date(2026, 11, 26, 13, 21, 0, 0, time.UTC)

func revision(id string, parents ...string) Revision {
	return Revision{ID: id, Parents: parents, Author: "Ann", At: day}
}

// What is printed, word by word.
func TestHowAStampReads(t *testing.T) {
	h := History{Revisions: []Revision{revision("a"), revision("b", "a"), revision("c", "b"), revision("d", "c"), revision("e", "elsewhere")}}
	h.Revisions[3].Author, h.Revisions[2].Unsent, h.Revisions[3].Unsent = "", true, true
	h.Issued = []Issue{{"First", "b", "Bo", "7", day.Add(time.Hour)}}
	for _, one := range []struct{ revision, brief, line string }{
		{"a", "state 1, a, NOT ISSUED, 2026-11-26 13:21 UTC by Ann",
			"NOT ISSUED: state 1, a, of the changes up to 2026-11-26 13:21 UTC by Ann; nothing issued before"},
		{"b", "state 2, b, ISSUED as First, 2026-11-26 14:21 UTC", "ISSUED as First: state 2, b, 2026-11-26 14:21 UTC by Bo"},
		{"c", "state 3, c, NOT ISSUED, 2026-11-26 13:21 UTC by Ann, with 1 change not yet sent",
			"NOT ISSUED: state 3, c, of the changes up to 2026-11-26 13:21 UTC by Ann, with 1 change not yet sent; issued before: state 2, First"},
		{"d", "state 4, d, NOT ISSUED, 2026-11-26 13:21 UTC, with 2 changes not yet sent",
			"NOT ISSUED: state 4, d, of the changes up to 2026-11-26 13:21 UTC by somebody who gave no name, with 2 changes not yet sent; issued before: state 2, First"},
		{"e", "state e (its number is not known here), NOT ISSUED, 2026-11-26 13:21 UTC by Ann",
			"NOT ISSUED: state e (its number is not known here), of the changes up to 2026-11-26 13:21 UTC by Ann"},
	} {
		if s := h.Of(one.revision); s.Brief("0123456789abcdef") != one.brief || s.Line("0123456789abcdef", "7") != one.line+". Job 0123456789ab" {
			t.Errorf("%s:\n%s\n%s", one.revision, s.Brief(""), s.Line("", "7"))
		}
	}
	if got, want := h.Of("b").Line("ab", "8"), "ISSUED as First: state 2, b, 2026-11-26 14:21 UTC by Bo. NOT THE BYTES THAT WERE ISSUED: those were planned by core 7, this again by core 8. Job ab"; got != want {
		t.Errorf("by another core: %s", got)
	}
	none, line := Stamp{}, "OF A JOB FILE, 0123456789ab: not known to be issued"
	if none.Known() || none.Brief("0123456789abcdef") != "job file 0123456789ab" || none.Line("0123456789abcdef", "7") != line {
		t.Errorf("a job file by itself says %q, %q", none.Brief("0123456789abcdef"), none.Line("0123456789abcdef", "7"))
	}
}

// An id that a device made tells its time, whatever a server says of when it came, and its last letters.
func TestTheTimeInAnID(t *testing.T) {
	const id = "01ARYZ6S41TSV4RRFFQ69G5FAV" // 2016-07-30T22:36:16.385Z: ULID specification's example of an encoded time, 01ARYZ6S41
	s := History{Revisions: []Revision{{ID: id, At: day}}}.Of(id)
	if want := time.UnixMilli(1469918176385).UTC(); !s.At.Equal(want) || s.Short() != "9G5FAV" {
		t.Errorf("%s of %s, want %s", s.Short(), s.At, want)
	}
	for _, id := range []string{"DEMO-tram-depot", "81ARYZ6S41TSV4RRFFQ69G5FAV", "01ARYZ6S41TSV4RRFFQ69G5FAU", "01aryz6s41tsv4rrffq69g5fav"} {
		if _, ok := madeAt(id); ok {
			t.Errorf("%s is no id with a time in it", id)
		}
	}
	if got := short("a-name-of-twenty-five-let"); got != "a-name-of-twenty-five-l…" {
		t.Errorf("cut to %s", got)
	}
}

// Along any way of changes the number only grows, it is the same for whoever knows the same, in whatever order; rings and gaps
// end it. The slow twin calls itself.
func TestNumbersGrowAlongChanges(t *testing.T) {
	for seed := range uint64(300) {
		random := rand.New(rand.NewPCG(seed, 1))
		var h History
		for i := range 2 + random.IntN(40) {
			r := revision(fmt.Sprint("r", i))
			for range 1 + random.IntN(2) {
				if p := fmt.Sprint("r", random.IntN(max(i, 1))); i > 0 && !slices.Contains(r.Parents, p) {
					r.Parents = append(r.Parents, p)
				}
			}
			h.Revisions = append(h.Revisions, r)
		}
		lost := ""
		if random.IntN(3) == 0 { // somebody does not know of one
			k := random.IntN(len(h.Revisions))
			lost = h.Revisions[k].ID
			h.Revisions = slices.Delete(h.Revisions, k, k+1)
		}
		of := map[string]Revision{}
		for _, r := range h.Revisions {
			of[r.ID] = r
		}
		var slow func(id string) int
		slow = func(id string) int {
			r, ok := of[id]
			if !ok {
				return 0
			}
			n := 1
			for _, p := range r.Parents {
				below := slow(p)
				if below == 0 {
					return 0
				}
				n = max(n, below+1)
			}
			return n
		}
		random.Shuffle(len(h.Revisions), func(i, k int) { h.Revisions[i], h.Revisions[k] = h.Revisions[k], h.Revisions[i] })
		numbers := h.Numbers()
		if len(of) < 14 {
			for id := range of {
				if numbers[id] != slow(id) || h.Of(id).Number != numbers[id] {
					t.Fatalf("seed %d without %q: %s has number %d, slowly %d", seed, lost, id, numbers[id], slow(id))
				}
			}
		}
		for _, r := range h.Revisions {
			for _, p := range r.Parents {
				if n := numbers[r.ID]; n > 0 && n <= numbers[p] {
					t.Fatalf("seed %d: %s made from %s has number %d after %d", seed, r.ID, p, n, numbers[p])
				}
			}
		}
	}
	ring := History{Revisions: []Revision{revision("a", "b"), revision("b", "a"), revision("c", "c"), revision("d", "a")}}
	for id, n := range ring.Numbers() {
		if n != 0 {
			t.Errorf("%s of a ring has number %d", id, n)
		}
	}
	var long History // deeper than anything that calls itself may go
	for i := range 200_000 {
		long.Revisions = append(long.Revisions, revision(fmt.Sprint(i), fmt.Sprint(i-1)))
	}
	long.Revisions[0].Parents = nil
	if n := long.Of("199999").Number; n != 200_000 {
		t.Errorf("200,000 changes deep, and its number is %d", n)
	}
}
