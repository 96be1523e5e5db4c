package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"trenchwright/tools/seed"
)

// recordText is a record as a device writes it, with its line's end: of another number or device it has another id.
func recordText(number int, job, device, more string) string {
	sum := sha256.Sum256(fmt.Append(nil, number, " ", device))
	id := []byte("0")
	for _, b := range sum[:25] {
		id = append(id, codeSigns[int(b)%len(codeSigns)])
	}
	return fmt.Sprintf(`{"id":"%s","job":%q,"device":%q,"number":%d,"person":"P","made":"1987-01-01T00:00:00Z","kind":"note","of tomorrow":[1.50,"ü"]%s}`+"\n", id, job, device, number+1, more)
}

// allRecords are the records of a job, asked for in small parts.
func allRecords(t testing.TB, s *Store, job string) []string {
	t.Helper()
	list := []string{}
	for r := (Records{}); ; {
		var err error
		if r, err = s.Records(t.Context(), job, r.Last, 7); err != nil {
			t.Fatal(err)
		}
		if len(r.Lines) == 0 {
			return list
		}
		for _, text := range r.Lines {
			list = append(list, string(text)+"\n")
		}
		if r.Last != int64(len(list)) {
			t.Fatalf("%d records, and the last has the number %d", len(list), r.Last)
		}
	}
}

// Whatever comes again, in whatever order and parts, is there once, as it came; the numbers have no gaps.
func TestRecordsAreKeptOnceAndAsTheyCame(t *testing.T) {
	s := opened(t, t.TempDir())
	seed := seed.Of(t)
	chance := rand.New(rand.NewPCG(seed, 1))
	var made []string
	for n := range 200 {
		made = append(made, recordText(n/2, "yard", fmt.Sprintf("d%d", n%2), ""))
	}
	for left := len(made); left > 0; {
		part := slices.Clone(made[max(0, left-20):min(len(made), left+20)]) // twenty that were sent before come again
		left -= 20
		chance.Shuffle(len(part), func(i, j int) { part[i], part[j] = part[j], part[i] })
		a, err := s.PutRecords(t.Context(), "yard", "", []byte(strings.Join(part, "")))
		if err != nil || len(a.IDs) != len(part) || len(a.Unread) > 0 || a.Last != int64(len(made)-max(0, left)) {
			t.Fatalf("%d of %d acknowledged, last %d: %v %v", len(a.IDs), len(part), a.Last, a.Unread, err)
		}
	}
	got := allRecords(t, s, "yard")
	slices.Sort(got)
	slices.Sort(made)
	if !slices.Equal(got, made) {
		t.Errorf("%d records of %d, or others", len(got), len(made))
	}
	if list, err := s.Jobs(t.Context()); err != nil || len(list) != 0 {
		t.Error("records made a job", list, err)
	}
}

func TestTwoTextsOfOneRecordAreBothKept(t *testing.T) {
	s := opened(t, t.TempDir())
	one, other := recordText(1, "yard", "d", `,"text":"one"`), recordText(1, "yard", "d", `,"text":"other"`)
	for _, text := range []string{one, other, one, other + one} {
		if a, err := s.PutRecords(t.Context(), "yard", "", []byte(text)); err != nil || len(a.IDs) == 0 {
			t.Fatal(a, err)
		}
	}
	if got := allRecords(t, s, "yard"); !slices.Equal(got, []string{one, other}) {
		t.Errorf("%q", got)
	}
}

// What is no record is said line by line, and takes nothing along.
func TestLinesThatAreNoRecords(t *testing.T) {
	s := opened(t, t.TempDir())
	good := recordText(1, "yard", "d", "")
	text := "\n{\n" + good + `{"id":"A1","device":"d","kind":"set"}` + "\n" + strings.Replace(good, `"kind":"note"`, `"kind":""`, 1) + "[]\n" + strings.TrimSuffix(recordText(2, "yard", "d", ""), "\n")
	a, err := s.PutRecords(t.Context(), "yard", "", []byte(text))
	if err != nil || len(a.IDs) != 2 || a.Last != 2 {
		t.Fatal(a, err)
	}
	var lines []int
	for _, u := range a.Unread {
		if u.Why == "" {
			t.Error(u)
		}
		lines = append(lines, u.Line)
	}
	if !slices.Equal(lines, []int{2, 4, 5, 6}) {
		t.Error(a.Unread)
	}
	_, err = s.PutRecords(t.Context(), "../yard", "", []byte(good))
	refusedFor(t, err, Unfit, "../yard")
	_, err = s.PutRecords(t.Context(), "yard", "", bytes.Repeat([]byte(good), MostRecords+1))
	refusedFor(t, err, TooLarge, "2001", "2000")
}

// Many bring records at once, some the same ones: each is there once, and whoever waits for news is woken.
func TestManyBringRecordsAtOnce(t *testing.T) {
	s := opened(t, t.TempDir())
	news := s.News(0)
	var wait sync.WaitGroup
	for d := range 30 {
		wait.Go(func() {
			for n := range 10 {
				text := recordText(n, "yard", fmt.Sprintf("d%d", d/2), "")
				if a, err := s.PutRecords(t.Context(), "yard", "", []byte(text)); err != nil || len(a.IDs) != 1 || a.Last < 1 {
					t.Error(a, err)
				}
			}
		})
	}
	wait.Wait()
	select {
	case <-news:
	case <-time.After(10 * time.Second):
		t.Error("nobody was woken")
	}
	if got := allRecords(t, s, "yard"); len(got) != 150 {
		t.Errorf("%d records", len(got))
	}
	if c, err := s.Changes(t.Context(), 0); err != nil || len(c.Jobs) != 0 || !slices.Equal(c.Records, []string{"yard"}) {
		t.Error(c, err)
	}
}

func TestPhotosInPieces(t *testing.T) {
	ctx := t.Context()
	s := opened(t, t.TempDir())
	photo := bytes.Repeat([]byte("twelve bytes"), 300_000) // 3.6 MB
	sum := hashOf(photo)
	piece := func(from, to int) (PhotoHere, error) {
		return s.PutPiece(ctx, Piece{SHA256: sum, Start: int64(from), Total: int64(len(photo)), Bytes: photo[from:to]})
	}
	is := func(h PhotoHere, err error, bytes int, whole bool) {
		t.Helper()
		if err != nil || h != (PhotoHere{int64(bytes), whole}) {
			t.Errorf("%+v %v, not %d %v", h, err, bytes, whole)
		}
	}
	ask := func() (PhotoHere, error) { return s.Photo(ctx, sum) }
	h, err := ask()
	is(h, err, 0, false)
	for at := 0; at < len(photo); at += MostPiece {
		h, err = piece(len(photo)-5, len(photo)) // what lies ahead is left alone
		is(h, err, at, false)
		end := min(at+MostPiece, len(photo))
		h, err = piece(at, end)
		is(h, err, end, end == len(photo))
		h, err = piece(at, end) // its answer was lost
		is(h, err, end, end == len(photo))
	}
	if got, err := s.Attachment(ctx, sum); err != nil || !bytes.Equal(got, photo) {
		t.Error(len(got), err)
	}
	var left int
	if err := s.read.QueryRow("SELECT count(*) FROM pieces").Scan(&left); err != nil || left > 0 {
		t.Error(left, "pieces are left:", err)
	}

	other := hashOf([]byte("another"))
	_, err = s.PutPiece(ctx, Piece{SHA256: other, Total: 7, Bytes: []byte("an")})
	is(PhotoHere{}, err, 0, false)
	_, err = s.PutPiece(ctx, Piece{SHA256: other, Start: 2, Total: 7, Bytes: []byte("OTHER")})
	refusedFor(t, err, Conflict, "damaged on the way", other)
	h, err = s.Photo(ctx, other)
	is(h, err, 0, false)
	for _, bad := range []struct {
		p    Piece
		why  Why
		word string
	}{
		{Piece{SHA256: "x", Total: 1, Bytes: []byte("a")}, Unfit, "SHA-256"},
		{Piece{SHA256: other, Total: MostPhoto + 1, Bytes: []byte("a")}, TooLarge, "64 MiB"},
		{Piece{SHA256: other, Total: MostPhoto, Bytes: make([]byte, MostPiece+1)}, TooLarge, "1 MiB"},
		{Piece{SHA256: other, Total: 7}, Unfit, "no piece"},
		{Piece{SHA256: other, Start: 7, Total: 7, Bytes: []byte("a")}, Unfit, "bytes 7 to 7 of 7"},
		{Piece{SHA256: other, Start: -1, Total: 7, Bytes: []byte("a")}, Unfit, "no piece"},
	} {
		_, err := s.PutPiece(ctx, bad.p)
		refusedFor(t, err, bad.why, bad.word)
	}
}

func TestDevicesAreLetInAndShutOut(t *testing.T) {
	ctx := t.Context()
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	s, err := Open(t.TempDir(), Options{Now: func() time.Time { return now }})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	code := func() string {
		t.Helper()
		e, err := s.Enrol(ctx)
		if err != nil || len(e.Code) != 8 || !e.Ends.Equal(now.Add(time.Hour)) {
			t.Fatal(e, err)
		}
		return e.Code
	}
	first := code()
	_, _, err = s.LetIn(ctx, first, "phone-1", "  ")
	refusedFor(t, err, Unfit, "no name")
	d, lost, err := s.LetIn(ctx, strings.ToLower(first[:4])+" - "+first[4:], "phone-1", "Gang 1")
	if err != nil || d.ID != "phone-1" || d.Name != "Gang 1" {
		t.Fatal(d, err)
	}
	_, token, err := s.LetIn(ctx, first, "phone-1", "Gang 1") // the answer was lost
	if err != nil || token == lost {
		t.Fatal(err)
	}
	_, err = s.Known(ctx, lost)
	refusedFor(t, err, Unknown, "not known", "saved as a file", "code")
	for what, c := range map[string]string{"used by another": first, "never made": "ABCDEFGH", "empty": ""} {
		if _, _, err = s.LetIn(ctx, c, "phone-2", "Gang 2"); err == nil {
			t.Error(what)
			continue
		}
		refusedFor(t, err, Unfit, "lets nobody in", "another one")
	}
	late := code()
	now = now.Add(time.Hour + time.Millisecond)
	_, _, err = s.LetIn(ctx, late, "phone-2", "Gang 2")
	refusedFor(t, err, Unfit, "has ended")

	if _, err := s.PutRecords(ctx, "yard", "phone-1", []byte(recordText(1, "yard", "phone-1", "")+recordText(2, "yard", "phone-9", ""))); err != nil {
		t.Fatal(err)
	}
	list, err := s.Devices(ctx)
	if err != nil || len(list) != 1 || list[0].Records != 2 || !list[0].Heard.Equal(now) || list[0].ShutOut != nil {
		t.Fatalf("%+v %v", list, err)
	}
	if d, err = s.ShutOut(ctx, "phone-1"); err != nil || d.ShutOut == nil || !d.ShutOut.Equal(now) {
		t.Fatal(d, err)
	}
	_, err = s.Known(ctx, token)
	refusedFor(t, err, Unknown, "shut out", "saved as a file", "code")
	_, err = s.ShutOut(ctx, "nobody")
	refusedFor(t, err, NotThere, "nobody")
	if len(allRecords(t, s, "yard")) != 2 {
		t.Error("what it brought went")
	}
	_, token, err = s.LetIn(ctx, code(), "phone-1", "Gang 1, new phone")
	if err != nil {
		t.Fatal(err)
	}
	if d, err = s.Known(ctx, token); err != nil || d.Name != "Gang 1, new phone" || d.Records != 2 {
		t.Fatal(d, err)
	}
	var secrets int
	if err := s.read.QueryRow("SELECT count(*) FROM devices JOIN enrolments WHERE token = ? OR code = ?", token, late).Scan(&secrets); err != nil || secrets > 0 {
		t.Error("secrets are kept as they are", err)
	}
}

// Whatever is sent as records is taken line by line or named, and nothing is made up.
func FuzzRecordsThatCome(f *testing.F) {
	f.Add([]byte(recordText(1, "yard", "d", "")))
	f.Add([]byte("{}\n[]\n\n\xff\n" + recordText(2, "yard", "d", `,"photos":["x",1]`)))
	f.Add([]byte(recordText(3, "yard", "d", `,"photos":7`) + `{"id":"`))
	f.Fuzz(func(t *testing.T, text []byte) {
		lines, unread := linesOf(text)
		n := 0
		for raw := range bytes.Lines(text) {
			if len(bytes.TrimSpace(raw)) > 0 {
				n++
			}
		}
		if len(lines)+len(unread) != n {
			t.Fatalf("%d taken and %d not, of %d", len(lines), len(unread), n)
		}
		for _, l := range lines {
			if !json.Valid(l.text) || !bytes.Contains(text, l.text) || l.hash != sha256.Sum256(l.text) {
				t.Fatalf("%q is kept as %s", l.text, l.id)
			}
			for _, sum := range l.photos {
				if !isSHA256(sum) {
					t.Fatal(sum)
				}
			}
		}
	})
}
