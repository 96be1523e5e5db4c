package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// twin is the slow and obvious store: lists that are searched from the beginning.
type twin struct {
	revisions []Revision
	contents  map[string][]byte // by revision
	issued    []Issued
	plans     map[string][]byte
	changes   []string // the job of each
}

func (w *twin) find(id string) *Revision {
	for i := range w.revisions {
		if w.revisions[i].ID == id {
			return &w.revisions[i]
		}
	}
	return nil
}

func (w *twin) heads(job string) []string {
	heads := []string{}
	for _, r := range w.revisions {
		used := slices.ContainsFunc(w.revisions, func(o Revision) bool { return slices.Contains(o.Parents, r.ID) })
		if r.Job == job && !used {
			heads = append(heads, r.ID)
		}
	}
	return heads
}

// save is what should become of a draft: why it is refused, or whether it is new.
func (w *twin) save(d Draft, job string) (why Why, fresh bool) {
	if len(d.Parents) == 2 && d.Parents[0] == d.Parents[1] {
		return Unfit, false
	}
	if old := w.find(d.ID); old != nil {
		if old.Job == job && bytes.Equal(w.contents[d.ID], d.Content) && slices.Equal(old.Parents, d.Parents) && old.Author == d.Author && old.Note == d.Note {
			return "", false
		}
		return Conflict, false
	}
	known := slices.ContainsFunc(w.revisions, func(r Revision) bool { return r.Job == job })
	if known && len(d.Parents) == 0 {
		return Conflict, false
	}
	for _, p := range d.Parents {
		switch parent := w.find(p); {
		case parent == nil:
			return NotThere, false
		case parent.Job != job:
			return Conflict, false
		}
	}
	w.revisions = append(w.revisions, Revision{Seq: int64(len(w.revisions) + 1), ID: d.ID, Job: job, Parents: d.Parents, Author: d.Author, Note: d.Note, Hash: hashOf(d.Content)})
	w.contents[d.ID] = d.Content
	w.changes = append(w.changes, job)
	return "", true
}

func (w *twin) issue(i Issuing) Why {
	r := w.find(i.Revision)
	if r == nil {
		return NotThere
	}
	for _, hit := range []func(Issued) bool{
		func(old Issued) bool { return old.ID == i.ID },
		func(old Issued) bool { return old.Job == r.Job && old.Name == i.Name },
	} {
		if n := slices.IndexFunc(w.issued, hit); n >= 0 {
			old := w.issued[n]
			if old.Revision == i.Revision && old.Name == i.Name && bytes.Equal(w.plans[old.ID], i.Plan) {
				return ""
			}
			return Conflict
		}
	}
	w.issued = append(w.issued, Issued{ID: i.ID, Job: r.Job, Revision: i.Revision, Name: i.Name})
	w.plans[i.ID] = i.Plan
	w.changes = append(w.changes, r.Job)
	return ""
}

// base is the newest revision that both come from, by looking at all of them.
func (w *twin) base(one, other string) string {
	from := func(id string) map[string]bool {
		all, next := map[string]bool{}, []string{id}
		for len(next) > 0 {
			id, next = next[0], next[1:]
			all[id] = true
			next = append(next, w.find(id).Parents...)
		}
		return all
	}
	a, b := from(one), from(other)
	for _, r := range slices.Backward(w.revisions) {
		if a[r.ID] && b[r.ID] {
			return r.ID
		}
	}
	return ""
}

// Whatever is done in whichever order, the store and its twin answer alike, also after it was closed and opened again, and
// all of it comes out of exported files again.
func TestStoreAgainstItsTwin(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir := inMemory(t)
		s := openedIn(rt, dir)
		defer func() { s.Close() }()
		w := &twin{contents: map[string][]byte{}, plans: map[string][]byte{}}
		for range rapid.IntRange(1, 25).Draw(rt, "steps") {
			switch rapid.IntRange(0, 9).Draw(rt, "what") {
			case 0:
				s.Close()
				s = openedIn(rt, dir)
			case 1, 2:
				issueBoth(rt, s, w)
			default:
				saveBoth(rt, s, w)
			}
			compare(rt, s, w)
		}
		movedToAnother(t, rt, s, w)
	})
}

// inMemory is a folder that does not wait for a disk, where there is one: what this test asks has nothing to do with disks.
func inMemory(t *testing.T) string {
	dir, err := os.MkdirTemp("/dev/shm", "store")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

func openedIn(rt *rapid.T, dir string) *Store {
	s, err := Open(dir, Options{Now: clock()})
	if err != nil {
		rt.Fatal(err)
	}
	return s
}

func why(rt *rapid.T, err error) Why {
	var r *Refused
	if err != nil && !errors.As(err, &r) {
		rt.Fatal(err)
	}
	if r == nil {
		return ""
	}
	return r.Why
}

func saveBoth(rt *rapid.T, s *Store, w *twin) {
	few := func(what string, n int) int { return rapid.IntRange(0, n-1).Draw(rt, what) }
	job := fmt.Sprintf("job%d", few("job", 2))
	d := Draft{ID: fmt.Sprintf("r%d", few("id", 12)), Parents: []string{}, Author: fmt.Sprint(few("author", 2))}
	heads := w.heads(job)
	switch kind := few("parents", 6); {
	case kind == 0 || len(heads) == 0:
	case kind == 1 && len(heads) > 1:
		d.Parents = heads[:2]
	case kind <= 3:
		d.Parents = []string{heads[few("head", len(heads))]}
	default:
		d.Parents = []string{fmt.Sprintf("r%d", few("parent", 12))}
		if few("two", 3) == 0 {
			d.Parents = append(d.Parents, fmt.Sprintf("r%d", few("parent", 12)))
		}
	}
	if slices.Contains(d.Parents, d.ID) {
		return
	}
	d.Content = rough(job, fmt.Sprintf("name %d", few("content", 4)))
	want, fresh := w.save(d, job)
	saved, err := s.Save(rt.Context(), d)
	if got := why(rt, err); got != want {
		rt.Fatalf("save %+v: %q, not %q: %v", d, got, want, err)
	}
	if err == nil && (saved.New != fresh || !cmp.Equal(saved.Heads, w.heads(job))) {
		rt.Fatalf("saved %+v, heads %v", saved, w.heads(job))
	}
}

func issueBoth(rt *rapid.T, s *Store, w *twin) {
	few := func(what string, n int) string { return fmt.Sprint(rapid.IntRange(0, n-1).Draw(rt, what)) }
	i := Issuing{ID: "i" + few("id", 6), Revision: "r" + few("revision", 12), Name: "issue " + few("name", 3), Author: "a", Core: "c", Plan: []byte(few("plan", 3))}
	want := w.issue(i)
	if _, err := s.Issue(rt.Context(), i); why(rt, err) != want {
		rt.Fatalf("issue %+v: %v, not %q", i, err, want)
	}
}

// compare asks both stores everything that can be asked.
func compare(rt *rapid.T, s *Store, w *twin) {
	ctx := rt.Context()
	list, err := s.Jobs(ctx)
	if err != nil {
		rt.Fatal(err)
	}
	var revisions []Revision
	issues := 0
	for _, info := range list {
		d, err := s.Job(ctx, info.ID)
		if err != nil || !cmp.Equal(d.Info, info) || !cmp.Equal(d.Heads, w.heads(info.ID)) {
			rt.Fatalf("%+v %v, heads %v", d, err, w.heads(info.ID))
		}
		revisions = append(revisions, d.Revisions...)
		issues += len(info.Issued)
	}
	slices.SortFunc(revisions, func(a, b Revision) int { return int(a.Seq - b.Seq) })
	for i := range revisions {
		got, err := s.Content(ctx, revisions[i].ID)
		if err != nil || !bytes.Equal(got, w.contents[revisions[i].ID]) {
			rt.Fatalf("%s: %s %v", revisions[i].ID, got, err)
		}
		revisions[i].At = w.revisions[i].At
	}
	if diff := cmp.Diff(w.revisions, revisions); diff != "" || issues != len(w.issued) {
		rt.Fatalf("%d of %d issues\n%s", issues, len(w.issued), diff)
	}
	for _, i := range w.issued {
		got, err := s.IssuedPlan(ctx, i.ID)
		if one, _ := s.Issued(ctx, i.ID); err != nil || !bytes.Equal(got, w.plans[i.ID]) || one.Revision != i.Revision || one.Name != i.Name {
			rt.Fatalf("%s: %s %v", i.ID, got, err)
		}
	}
	after := rapid.IntRange(0, len(w.changes)+1).Draw(rt, "after")
	want := Changed{Last: int64(len(w.changes)), Jobs: []string{}}
	for _, job := range w.changes[min(after, len(w.changes)):] {
		if !slices.Contains(want.Jobs, job) {
			want.Jobs = append(want.Jobs, job)
		}
	}
	if got, err := s.Changes(ctx, int64(after)); err != nil || !cmp.Equal(got, want) {
		rt.Fatalf("changes after %d: %v %v, not %v", after, got, err, want)
	}
	if n := len(w.revisions); n > 1 {
		one, other := w.revisions[rapid.IntRange(0, n-1).Draw(rt, "one")], w.revisions[rapid.IntRange(0, n-1).Draw(rt, "other")]
		if one.Job == other.Job {
			if got, err := base(ctx, s.read, one.ID, other.ID); err != nil || got != w.base(one.ID, other.ID) {
				rt.Fatalf("%s and %s come from %s: %v", one.ID, other.ID, got, err)
			}
		}
	}
}

// movedToAnother moves every job to another store, where it exports to the same bytes.
func movedToAnother(t *testing.T, rt *rapid.T, s *Store, w *twin) {
	to := openedIn(rt, inMemory(t))
	defer to.Close()
	list, err := s.Jobs(rt.Context())
	if err != nil {
		rt.Fatal(err)
	}
	for _, info := range list {
		var one, other bytes.Buffer
		err := s.Export(rt.Context(), info.ID, &one)
		if err == nil {
			_, err = to.Import(rt.Context(), bytes.NewReader(one.Bytes()))
		}
		if err == nil {
			err = to.Export(rt.Context(), info.ID, &other)
		}
		if err != nil || !bytes.Equal(one.Bytes(), other.Bytes()) {
			rt.Fatalf("%s moved: %v", info.ID, err)
		}
		if d, err := to.Job(rt.Context(), info.ID); err != nil || !cmp.Equal(d.Heads, w.heads(info.ID)) {
			rt.Fatalf("%s moved: heads %v, %v", info.ID, d.Heads, err)
		}
	}
}
