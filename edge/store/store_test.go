package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/view/jobtext"
)

// clock is a time that goes on by a second whenever it is asked.
func clock() func() time.Time {
	var lock sync.Mutex
	at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	return func() time.Time {
		lock.Lock()
		defer lock.Unlock()
		at = at.Add(time.Second)
		return at
	}
}

func opened(t testing.TB, dir string) *Store {
	t.Helper()
	s, err := Open(dir, Options{Now: clock()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// demoJob is an invented job, and what it is as text.
func demoJob(t testing.TB, name string) job.Job {
	t.Helper()
	text, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name, bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

// rough is the text of a job that somebody has only begun.
func rough(id, name string) []byte {
	return fmt.Appendf(nil, `{"format":1,"id":%q,"name":%q,"owner":"works"}`, id, name)
}

func save1(t testing.TB, s *Store, d Draft) Saved {
	t.Helper()
	saved, err := s.Save(t.Context(), d)
	if err != nil {
		t.Fatal(err)
	}
	return saved
}

// refusedFor is the refusal in err, which has to be one of that kind and to speak.
func refusedFor(t testing.TB, err error, why Why, words ...string) {
	t.Helper()
	var r *Refused
	if !errors.As(err, &r) || r.Why != why || r.Text == "" || r.Try == "" {
		t.Fatalf("%v is no refusal of the kind %q", err, why)
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%q is not in %q", w, err)
		}
	}
}

func TestSavingAndReading(t *testing.T) {
	s := opened(t, t.TempDir())
	j := demoJob(t, "tram-depot")
	first := save1(t, s, Draft{ID: "r1", Author: "engineer", Device: "office", Note: "first", Content: job.CanonicalJSON(j)})
	want := Revision{Seq: 1, ID: "r1", Job: "tram-depot", Parents: []string{}, Author: "engineer", Device: "office", Note: "first",
		At: time.Date(2026, 3, 2, 8, 0, 1, 0, time.UTC), Hash: job.Hash(j)}
	if diff := cmp.Diff(Saved{Revision: want, Heads: []string{"r1"}, New: true}, first); diff != "" {
		t.Error(diff)
	}
	got, err := s.Content(t.Context(), "r1")
	if err != nil || !bytes.Equal(got, job.CanonicalJSON(j)) {
		t.Errorf("the content is another: %v", err)
	}
	// the same job written otherwise is the same content
	var again bytes.Buffer
	again.WriteString("\n ")
	again.Write(job.CanonicalJSON(j))
	same := save1(t, s, Draft{ID: "r1", Job: "tram-depot", Author: "engineer", Device: "office", Note: "first", Content: again.Bytes()})
	if same.New || same.Revision.Seq != 1 || !cmp.Equal(same.Revision.At, want.At) {
		t.Errorf("sent again: %+v", same)
	}
	if r, err := s.Revision(t.Context(), "r1"); err != nil || !cmp.Equal(r, want) {
		t.Errorf("%v %v", r, err)
	}
}

func TestTwoHeadsAndTheirMerge(t *testing.T) {
	s := opened(t, t.TempDir())
	j := demoJob(t, "hand-troughs")
	text := func(change func(*job.Job)) []byte {
		k, _ := job.FromJSON(job.CanonicalJSON(j))
		change(&k)
		return job.CanonicalJSON(k)
	}
	save1(t, s, Draft{ID: "r1", Content: text(func(*job.Job) {})})
	save1(t, s, Draft{ID: "a", Parents: []string{"r1"}, Content: text(func(k *job.Job) { k.Owner = "A"; k.Name = "both, A" })})
	saved := save1(t, s, Draft{ID: "b", Parents: []string{"r1"}, Content: text(func(k *job.Job) {
		k.Name = "both, B"
		k.Supplies[0].Saw.Kerf = job.Known(6 * measure.Millimetre)
	})})
	if !cmp.Equal(saved.Heads, []string{"a", "b"}) {
		t.Fatal(saved.Heads)
	}
	m, err := s.Merge(t.Context(), "a", "b")
	if err != nil || m.Base != "r1" || len(m.Clashes) != 1 || m.Clashes[0].Path != "name" || m.Job.Owner != "A" || m.Job.Supplies[0].Saw.Kerf.Value != 6*measure.Millimetre {
		t.Fatalf("%+v %v", m.Clashes, err)
	}
	if m, err = s.Merge(t.Context(), "a", "b", "name"); err != nil || m.Job.Name != "both, B" {
		t.Fatal(m.Job.Name, err)
	}
	saved = save1(t, s, Draft{ID: "m", Parents: []string{"a", "b"}, Content: job.CanonicalJSON(m.Job)})
	if !cmp.Equal(saved.Heads, []string{"m"}) {
		t.Error(saved.Heads)
	}
	if m, err = s.Merge(t.Context(), "m", "a"); err != nil || m.Base != "a" || m.Job.Name != "both, B" {
		t.Errorf("over one of the two: %s %v", m.Base, err)
	}
	undone, err := s.Restore(t.Context(), "r1", Draft{ID: "u", Parents: []string{"m"}, Note: "back to the first"})
	if err != nil || undone.Revision.Hash != job.Hash(j) || !cmp.Equal(undone.Heads, []string{"u"}) {
		t.Errorf("%+v %v", undone, err)
	}
}

// What is refused leaves everything as it was, and says what to do.
func TestRefusals(t *testing.T) {
	ctx := t.Context()
	s := opened(t, t.TempDir())
	save1(t, s, Draft{ID: "r1", Author: "A", Content: rough("one", "n")})
	save1(t, s, Draft{ID: "q1", Author: "A", Content: rough("two", "n")})
	before, _ := s.Changes(ctx, 0)
	for name, c := range map[string]struct {
		d    Draft
		why  Why
		word string
	}{
		"other content":        {Draft{ID: "r1", Author: "A", Content: rough("one", "other")}, Conflict, "r1"},
		"other author":         {Draft{ID: "r1", Author: "B", Content: rough("one", "n")}, Conflict, "r1"},
		"second first":         {Draft{ID: "r2", Content: rough("one", "n")}, Conflict, "job one is here"},
		"unknown parent":       {Draft{ID: "r2", Parents: []string{"r9"}, Content: rough("one", "n")}, NotThere, "r9"},
		"parent of other job":  {Draft{ID: "r2", Parents: []string{"q1"}, Content: rough("one", "n")}, Conflict, "job two"},
		"three parents":        {Draft{ID: "r2", Parents: []string{"r1", "q1", "r3"}, Content: rough("one", "n")}, Unfit, "3"},
		"twice the same":       {Draft{ID: "r2", Parents: []string{"r1", "r1"}, Content: rough("one", "n")}, Unfit, "twice"},
		"its own parent":       {Draft{ID: "r2", Parents: []string{"r2"}, Content: rough("one", "n")}, Unfit, "itself"},
		"another job":          {Draft{ID: "r2", Job: "two", Parents: []string{"r1"}, Content: rough("one", "n")}, Conflict, "two"},
		"no id":                {Draft{Content: rough("one", "n")}, Unfit, "id"},
		"a path as id":         {Draft{ID: "../r", Content: rough("one", "n")}, Unfit, "../r"},
		"no JSON":              {Draft{ID: "r2", Content: []byte("{")}, Unfit, "JSON ends"},
		"job without id":       {Draft{ID: "r2", Content: []byte(`{"format":1}`)}, Unfit, "no id"},
		"bytes as a note":      {Draft{ID: "r2", Parents: []string{"r1"}, Note: "\xff", Content: rough("one", "n")}, Unfit, "UTF-8"},
		"long note":            {Draft{ID: "r2", Parents: []string{"r1"}, Note: strings.Repeat("x", 5000), Content: rough("one", "n")}, TooLarge, "4000"},
		"job larger than jobs": {Draft{ID: "r2", Parents: []string{"r1"}, Content: make([]byte, mostContent+1)}, Unfit, "8 MiB"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := s.Save(ctx, c.d)
			refusedFor(t, err, c.why, c.word)
		})
	}
	after, _ := s.Changes(ctx, 0)
	if !cmp.Equal(before, after) {
		t.Errorf("%v became %v", before, after)
	}
	for _, ask := range []func() error{
		func() error { _, err := s.Content(ctx, "none"); return err },
		func() error { _, err := s.Revision(ctx, "none"); return err },
		func() error { _, err := s.Job(ctx, "none"); return err },
		func() error { _, err := s.Job(ctx, ""); return err },
		func() error { _, err := s.Issued(ctx, "none"); return err },
		func() error { _, err := s.IssuedPlan(ctx, "none"); return err },
		func() error { _, err := s.Attachment(ctx, "none"); return err },
		func() error { _, err := s.Merge(ctx, "none", "r1"); return err },
		func() error { _, err := s.Restore(ctx, "none", Draft{ID: "x"}); return err },
		func() error {
			_, err := s.Issue(ctx, Issuing{Revision: "none", Name: "A", Author: "B", Core: "c", Plan: []byte("p")})
			return err
		},
		func() error { return s.Export(ctx, "none", &bytes.Buffer{}) },
	} {
		refusedFor(t, ask(), NotThere)
	}
	_, err := s.Merge(ctx, "r1", "q1")
	refusedFor(t, err, Conflict, "one job")
}

func TestIssuedPlansAreFixed(t *testing.T) {
	ctx := t.Context()
	s := opened(t, t.TempDir())
	r := save1(t, s, Draft{ID: "r1", Content: rough("one", "n")}).Revision
	i := Issuing{Revision: "r1", Name: "For construction, A", Author: "chief engineer", Core: "1.2.3", Plan: []byte(`{"plan":1}`)}
	one, err := s.Issue(ctx, i)
	if err != nil || one.Hash != r.Hash || one.Job != "one" || !isName(one.ID) {
		t.Fatalf("%+v %v", one, err)
	}
	again, err := s.Issue(ctx, i)
	if err != nil || !cmp.Equal(one, again) {
		t.Errorf("the same again: %+v %v", again, err)
	}
	i.Plan = []byte(`{"plan":2}`)
	_, err = s.Issue(ctx, i)
	refusedFor(t, err, Conflict, "For construction, A")
	for _, broken := range []Issuing{
		{Revision: "r1", Author: "x", Core: "1", Plan: i.Plan}, {Revision: "r1", Name: "B", Core: "1", Plan: i.Plan},
		{Revision: "r1", Name: "B", Author: "x", Plan: i.Plan}, {Revision: "r1", Name: "B", Author: "x", Core: "1"},
		{ID: "a/b", Revision: "r1", Name: "B", Author: "x", Core: "1", Plan: i.Plan},
	} {
		_, err = s.Issue(ctx, broken)
		refusedFor(t, err, Unfit)
	}
	if b, err := s.IssuedPlan(ctx, one.ID); err != nil || string(b) != `{"plan":1}` {
		t.Errorf("%s %v", b, err)
	}
	list, err := s.Jobs(ctx)
	if err != nil || len(list) != 1 || !cmp.Equal(list[0].Issued, []Issued{one}) {
		t.Errorf("%+v %v", list, err)
	}
}

func TestAttachments(t *testing.T) {
	ctx := t.Context()
	s := opened(t, t.TempDir())
	s.limit.attachment = 10
	for _, text := range []string{"", "survey"} {
		sum := hashOf([]byte(text))
		for range 2 {
			if err := s.PutAttachment(ctx, sum, strings.NewReader(text)); err != nil {
				t.Fatal(err)
			}
		}
		if b, err := s.Attachment(ctx, sum); err != nil || string(b) != text {
			t.Errorf("%q %v", b, err)
		}
	}
	refusedFor(t, s.PutAttachment(ctx, hashOf([]byte("other")), strings.NewReader("thing")), Unfit, "another file")
	refusedFor(t, s.PutAttachment(ctx, "../x", strings.NewReader("thing")), Unfit, "../x")
	refusedFor(t, s.PutAttachment(ctx, hashOf([]byte("12345678901")), strings.NewReader("12345678901")), TooLarge, "10 bytes")
	gone := hashOf([]byte("gone"))
	if list, err := s.Missing(ctx, []string{hashOf([]byte("survey")), gone}); err != nil || !cmp.Equal(list, []string{gone}) {
		t.Error(list, err)
	}
}

// What can be made again takes no more room than it has; what was used last stays.
func TestKeptThingsHaveTheirRoom(t *testing.T) {
	ctx := t.Context()
	dir := t.TempDir()
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	s, err := Open(dir, Options{Now: func() time.Time { now = now.Add(2 * time.Minute); return now }, KeptBytes: 100})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for i := range 5 {
		if err := s.Keep(ctx, "h", "core", fmt.Sprint(i), bytes.Repeat([]byte{byte(i)}, 25)); err != nil {
			t.Fatal(err)
		}
		if _, ok, err := s.Kept(ctx, "h", "core", "0"); !ok || err != nil {
			t.Fatalf("after %d: %v %v", i, ok, err)
		}
	}
	for i, want := range []bool{true, false, true, true, true} {
		b, ok, err := s.Kept(ctx, "h", "core", fmt.Sprint(i))
		if ok != want || err != nil || ok && (len(b) != 25 || b[0] != byte(i)) {
			t.Errorf("%d: %v %v %v", i, b, ok, err)
		}
	}
	if err := s.Keep(ctx, "h", "core", "large", make([]byte, 26)); err != nil {
		t.Fatal(err)
	}
	if _, ok, _ := s.Kept(ctx, "h", "core", "large"); ok {
		t.Error("more than a quarter of the room was given to one thing")
	}
	if _, ok, _ := s.Kept(ctx, "h", "other core", "0"); ok {
		t.Error("another core's plan was given")
	}
}

// Who waits is woken by what is saved here and by what another process saves, once for each.
func TestNews(t *testing.T) {
	ctx := t.Context()
	dir := t.TempDir()
	s, other := opened(t, dir), opened(t, dir)
	come := s.News(0)
	select {
	case <-come:
		t.Fatal("news of nothing")
	default:
	}
	save1(t, s, Draft{ID: "r1", Content: rough("one", "n")})
	<-come
	<-s.News(0)
	c, err := s.Changes(ctx, 0)
	if err != nil || !cmp.Equal(c, Changed{Last: 1, Jobs: []string{"one"}}) {
		t.Fatal(c, err)
	}
	come = s.News(c.Last)
	save1(t, other, Draft{ID: "r2", Parents: []string{"r1"}, Content: rough("one", "m")})
	select {
	case <-come:
	case <-time.After(20 * lookEvery):
		t.Fatal("nobody told of another process's work")
	}
	if c, err = s.Changes(ctx, 1); err != nil || !cmp.Equal(c, Changed{Last: 2, Jobs: []string{"one"}}) {
		t.Error(c, err)
	}
	if c, err = s.Changes(ctx, 2); err != nil || !cmp.Equal(c, Changed{Last: 2, Jobs: []string{}}) {
		t.Error(c, err)
	}
}

// Many save at once on the same state, through two stores on one folder: every work is kept, as a head of its own, and the
// numbers have no gap.
func TestSavingAtOnce(t *testing.T) {
	ctx := t.Context()
	dir := t.TempDir()
	stores := []*Store{opened(t, dir), opened(t, dir)}
	save1(t, stores[0], Draft{ID: "r0", Content: rough("one", "n")})
	const each = 8
	var wait sync.WaitGroup
	errs := make(chan error, 4*each)
	for w := range 4 {
		wait.Go(func() {
			for i := range each {
				id := fmt.Sprintf("w%d-%d", w, i)
				_, err := stores[w%2].Save(ctx, Draft{ID: id, Parents: []string{"r0"}, Content: rough("one", id)})
				errs <- err
			}
		})
	}
	wait.Wait()
	close(errs)
	for err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
	d, err := stores[1].Job(ctx, "one")
	if err != nil || len(d.Heads) != 4*each || len(d.Revisions) != 4*each+1 {
		t.Fatalf("%d heads, %d revisions, %v", len(d.Heads), len(d.Revisions), err)
	}
	for i, r := range d.Revisions {
		if r.Seq != int64(i+1) {
			t.Fatalf("revision %d has number %d", i+1, r.Seq)
		}
	}
}

// A backup made while others save is whole, and is a store.
func TestBackupWhileOthersSave(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	s := opened(t, t.TempDir())
	save1(t, s, Draft{ID: "r0", Content: rough("one", "n")})
	var wait sync.WaitGroup
	wait.Go(func() {
		for i := 0; ctx.Err() == nil; i++ {
			s.Save(ctx, Draft{ID: fmt.Sprintf("r%d", i+1), Parents: []string{"r0"}, Content: rough("one", fmt.Sprint(i))})
		}
	})
	dir := t.TempDir()
	to := filepath.Join(dir, fileName)
	if err := s.Backup(t.Context(), to); err != nil {
		t.Fatal(err)
	}
	refusedFor(t, s.Backup(t.Context(), to), Conflict, "there already")
	stop()
	wait.Wait()
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left beside the backup: %v", left)
	}
	d, err := opened(t, dir).Job(t.Context(), "one")
	if err != nil || len(d.Revisions) < 1 || len(d.Revisions) > len(mustJob(t, s).Revisions) {
		t.Error(d, err)
	}
}

// What a killed process left half way in or out goes after a day, and nothing else does.
func TestLeftoversGo(t *testing.T) {
	dir := t.TempDir()
	now := time.Now()
	for name, age := range map[string]time.Duration{spoolPrefix + "old": 25 * time.Hour, spoolPrefix + "new": time.Hour, "letter.txt": 1000 * time.Hour} {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.WriteFile(path, nil, 0o600), os.Chtimes(path, now.Add(-age), now.Add(-age))); err != nil {
			t.Fatal(err)
		}
	}
	s, err := Open(dir, Options{Now: func() time.Time { return now }})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for name, want := range map[string]bool{spoolPrefix + "old": false, spoolPrefix + "new": true, "letter.txt": true} {
		if _, err := os.Stat(filepath.Join(dir, name)); (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func mustJob(t *testing.T, s *Store) Detail {
	d, err := s.Job(t.Context(), "one")
	if err != nil {
		t.Fatal(err)
	}
	return d
}
