package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// tight is a store that has little room left, and what makes room again.
type tight struct {
	name string
	open func(t *testing.T) (s *Store, room func())
}

// tights are a database that may have no more pages, and a disk that is full.
func tights() []tight {
	return []tight{
		{"pages", func(t *testing.T) (*Store, func()) {
			s := opened(t, t.TempDir())
			limit := func(most string) {
				var n int64
				if err := s.write.QueryRow("PRAGMA max_page_count = " + most).Scan(&n); err != nil {
					t.Fatal(err)
				}
			}
			limit("600") // of 4 KiB
			return s, func() { limit("1000000") }
		}},
		{"disk", func(t *testing.T) (*Store, func()) {
			dir := t.TempDir()
			if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=6m"); err != nil {
				t.Skipf("NOT CHECKED: a disk of this test's own cannot be mounted here: %v. The limit of pages stands for it", err)
			}
			t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
			return opened(t, dir), func() {
				if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, "size=200m"); err != nil {
					t.Fatal(err)
				}
			}
		}},
	}
}

func isFull(err error) bool {
	var r *Refused
	return errors.As(err, &r) && r.Why == Unusable && strings.Contains(r.Text, "keeps its jobs is full")
}

// A store without room says so in a sentence, acknowledges nothing that it did not keep, keeps what it acknowledged, and goes on where
// it stopped as soon as there is room.
func TestFullDisk(t *testing.T) {
	for _, c := range tights() {
		t.Run(c.name, func(t *testing.T) {
			s, room := c.open(t)
			text := strings.Repeat("x", 20_000)
			batch := func(n int) []byte {
				var all bytes.Buffer
				for i := range 20 {
					all.WriteString(recordText(20*n+i, "yard", "d", fmt.Sprintf(`,"text":%q`, text)))
				}
				return all.Bytes()
			}
			acknowledged, n := 0, 0
			for ; ; n++ {
				a, err := s.PutRecords(t.Context(), "yard", "", batch(n))
				if err != nil {
					if !isFull(err) || len(a.IDs) != 0 {
						t.Fatalf("without room: %v, and %d acknowledged", err, len(a.IDs))
					}
					break
				}
				if acknowledged += len(a.IDs); n > 100 {
					t.Fatal("it never was full")
				}
			}
			photo := bytes.Repeat([]byte("0123456789abcdef"), 12<<20/16)
			sum := sha256.Sum256(photo)
			name := hex.EncodeToString(sum[:])
			piece := func(at int64) (PhotoHere, error) {
				return s.PutPiece(t.Context(), Piece{SHA256: name, Start: at, Total: int64(len(photo)), Bytes: photo[at:min(at+MostPiece, int64(len(photo)))]})
			}
			var here PhotoHere
			var err error
			for err == nil && !here.Whole {
				here, err = piece(here.Bytes)
			}
			if !isFull(err) {
				t.Fatalf("a photo of 12 MB without room: %v", err)
			}
			if got := allRecords(t, s, "yard"); len(got) != acknowledged || acknowledged == 0 {
				t.Fatalf("%d records of %d that were acknowledged", len(got), acknowledged)
			}
			room()
			if a, err := s.PutRecords(t.Context(), "yard", "", batch(n)); err != nil || len(a.IDs) != 20 {
				t.Fatalf("with room again: %v", err)
			}
			if here, err = s.Photo(t.Context(), name); err != nil {
				t.Fatal(err)
			}
			for !here.Whole {
				if here, err = piece(here.Bytes); err != nil {
					t.Fatal(err)
				}
			}
			if got, err := s.Attachment(t.Context(), name); err != nil || !bytes.Equal(got, photo) {
				t.Errorf("the photo came out otherwise: %d bytes, %v", len(got), err)
			}
			if got := allRecords(t, s, "yard"); len(got) != acknowledged+20 || len(slices.Compact(slices.Sorted(slices.Values(got)))) != len(got) {
				t.Errorf("%d records of %d", len(got), acknowledged+20)
			}
		})
	}
}
