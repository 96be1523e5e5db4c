package store

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"trenchwright/job"
)

// filled is a store with a job of four revisions, two heads, an attachment, an issue and two records, one with a photo, and what
// that exports to.
func filled(t testing.TB) (*Store, []byte) {
	t.Helper()
	ctx := t.Context()
	s := opened(t, t.TempDir())
	j := demoJob(t, "hand-troughs")
	survey := []byte("1,500,200,101.2\n")
	j.Attachments = []job.Attachment{{Name: "survey.csv", SHA256: hashOf(survey)}, {Name: "later.csv", SHA256: hashOf([]byte("never sent"))}}
	if err := s.PutAttachment(ctx, hashOf(survey), bytes.NewReader(survey)); err != nil {
		t.Fatal(err)
	}
	stray := []byte("of no job")
	if err := s.PutAttachment(ctx, hashOf(stray), bytes.NewReader(stray)); err != nil {
		t.Fatal(err)
	}
	save1(t, s, Draft{ID: "z", Content: rough("other-job", "not exported")})
	for _, r := range []struct {
		id, name string
		parents  []string
	}{{"r1", "first", nil}, {"r2", "second", []string{"r1"}}, {"r3", "third", []string{"r1"}}, {"r4", "first", []string{"r2"}}} {
		j.Name = r.name
		save1(t, s, Draft{ID: r.id, Parents: r.parents, Author: "A <b>", Device: "office", Note: "note " + r.id, Content: job.CanonicalJSON(j)})
	}
	if _, err := s.Issue(ctx, Issuing{Revision: "r2", Name: "A", Author: "chief", Core: "1.0", Plan: []byte(`{"plan":true}`)}); err != nil {
		t.Fatal(err)
	}
	photo := []byte("a photo")
	if err := s.PutAttachment(ctx, hashOf(photo), bytes.NewReader(photo)); err != nil {
		t.Fatal(err)
	}
	site := recordText(1, "hand-troughs", "gang-1", `,"photos":["`+hashOf(photo)+`"]`) + recordText(2, "hand-troughs", "gang-1", "")
	if _, err := s.PutRecords(ctx, "hand-troughs", "", []byte(site)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.PutRecords(ctx, "other-job", "", []byte(recordText(3, "other-job", "gang-1", ""))); err != nil {
		t.Fatal(err)
	}
	return s, exported(t, s, "hand-troughs")
}

func exported(t testing.TB, s *Store, job string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := s.Export(t.Context(), job, &b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// dump is everything in the database, but for what differs between equal stores.
func dump(t testing.TB, s *Store) string {
	t.Helper()
	var all []string
	for _, table := range []string{"jobs", "contents", "revisions", "parents", "attachments", "named", "issued", "changes", "records", "pictured", "pieces"} {
		found, err := s.read.Query("SELECT * FROM " + table)
		if err != nil {
			t.Fatal(err)
		}
		names, _ := found.Columns()
		for found.Next() {
			values, at := make([]any, len(names)), make([]any, len(names))
			for i := range values {
				at[i] = &values[i]
			}
			if err := found.Scan(at...); err != nil {
				t.Fatal(err)
			}
			all = append(all, fmt.Sprint(table, values))
		}
		found.Close()
	}
	slices.Sort(all)
	return strings.Join(all, "\n")
}

func TestAJobTravelsInOneFile(t *testing.T) {
	ctx := t.Context()
	from, file := filled(t)
	if !bytes.Equal(file, exported(t, from, "hand-troughs")) {
		t.Error("exported twice, and not the same bytes")
	}
	to := opened(t, t.TempDir())
	got, err := to.Import(ctx, bytes.NewReader(file))
	if err != nil || got != (Imported{Job: "hand-troughs", Revisions: 4, Attachments: 2, Issued: 1, Records: 2}) {
		t.Fatal(got, err)
	}
	a, _ := from.Job(ctx, "hand-troughs")
	b, _ := to.Job(ctx, "hand-troughs")
	for i := range a.Revisions {
		a.Revisions[i].Seq--
	}
	if diff := cmp.Diff(a, b); diff != "" || len(b.Heads) != 2 {
		t.Error(diff)
	}
	if !bytes.Equal(file, exported(t, to, "hand-troughs")) {
		t.Error("exported again, and not the same bytes")
	}
	before := dump(t, to)
	if got, err = to.Import(ctx, bytes.NewReader(file)); err != nil || got != (Imported{Job: "hand-troughs"}) || dump(t, to) != before {
		t.Error("the same file again changed something:", got, err)
	}
	// what was done meanwhile on both sides is on both heads afterwards
	save1(t, from, Draft{ID: "r5", Parents: []string{"r4"}, Content: job.CanonicalJSON(demoJob(t, "hand-troughs"))})
	save1(t, to, Draft{ID: "r6", Parents: []string{"r4"}, Content: job.CanonicalJSON(demoJob(t, "hand-troughs"))})
	if got, err = to.Import(ctx, bytes.NewReader(exported(t, from, "hand-troughs"))); err != nil || got.Revisions != 1 {
		t.Fatal(got, err)
	}
	if b, _ = to.Job(ctx, "hand-troughs"); !cmp.Equal(b.Heads, []string{"r3", "r6", "r5"}) {
		t.Error(b.Heads)
	}
}

// thing is a file in a zip file.
type thing struct {
	name string
	data []byte
}

func things(t testing.TB, file []byte) []thing {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var list []thing
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, thing{f.Name, b})
	}
	return list
}

func zipped(t testing.TB, list []thing) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, one := range list {
		f, err := z.Create(one.name)
		if err != nil {
			t.Fatal(err)
		}
		f.Write(one.data)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// altered is a parcel whose manifest was changed by somebody.
func altered(t testing.TB, list []thing, change func(m *manifest)) []thing {
	t.Helper()
	var m manifest
	if err := json.Unmarshal(list[0].data, &m); err != nil {
		t.Fatal(err)
	}
	change(&m)
	b, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return append([]thing{{manifestName, b}}, list[1:]...)
}

// withContent puts a content of one's own in place of a revision's.
func withContent(t testing.TB, list []thing, i int, text []byte) []thing {
	return append(altered(t, list, func(m *manifest) {
		for k := range m.Revisions {
			if m.Revisions[k].Hash == m.Revisions[i].Hash && k != i {
				m.Revisions[k].Hash = hashOf(text)
			}
		}
		for k := range m.Issued {
			if m.Issued[k].Hash == m.Revisions[i].Hash {
				m.Issued[k].Hash = hashOf(text)
			}
		}
		old := contentName(m.Revisions[i].Hash)
		m.Revisions[i].Hash = hashOf(text)
		list = slices.DeleteFunc(slices.Clone(list), func(x thing) bool { return x.name == old })
	})[:1], append(list[1:], thing{contentName(hashOf(text)), text})...)
}

// Each of these files is refused in words, and nothing of it is kept.
func TestHostileFiles(t *testing.T) {
	_, good := filled(t)
	list := things(t, good)
	s := opened(t, t.TempDir())
	save1(t, s, Draft{ID: "x1", Content: rough("mine", "n")})
	s.limit = limits{attachment: 1 << 10, plan: 1 << 10, packed: 1 << 20, unpacked: 1 << 16, manifest: 1 << 15, entries: 20}
	with := func(more ...thing) []byte { return zipped(t, append(slices.Clone(list), more...)) }
	change := func(do func(m *manifest)) []byte { return zipped(t, altered(t, list, do)) }
	bomb := bytes.Repeat([]byte{' '}, 1<<20)
	cases := map[string]struct {
		file []byte
		why  Why
		word string
	}{
		"empty":                 {nil, Unfit, "no zip file"},
		"a letter":              {[]byte("Dear reader"), Unfit, "no zip file"},
		"cut short":             {good[:len(good)-100], Unfit, "no zip file"},
		"too long":              {make([]byte, 1<<20+1), TooLarge, "1 MiB"},
		"no manifest":           {zipped(t, list[1:]), Unfit, "no manifest.json"},
		"broken manifest":       {zipped(t, append([]thing{{manifestName, []byte("{")}}, list[1:]...)), Unfit, "cannot be read"},
		"strange field":         {zipped(t, append([]thing{{manifestName, []byte(`{"format":1,"owner":"me"}`)}}, list[1:]...)), Unfit, "owner"},
		"format of tomorrow":    {change(func(m *manifest) { m.Format = 3 }), Unfit, "format 3"},
		"records of no record":  {zipped(t, append(altered(t, list, func(m *manifest) { m.Records = append(m.Records, recordsFile{hashOf([]byte("{}")), 1}) }), thing{recordsName(hashOf([]byte("{}"))), []byte("{}")})), Unfit, "1 lines that are none"},
		"records miscounted":    {change(func(m *manifest) { m.Records[0].Records = 7 }), Unfit, "not 7"},
		"records without a sum": {change(func(m *manifest) { m.Records[0].SHA256 = "" }), Unfit, "no SHA-256"},
		"manifest bomb":         {zipped(t, []thing{{manifestName, bomb}}), TooLarge, manifestName},
		"a slip":                {with(thing{"../../etc/cron.d/x", nil}), Unfit, "../../etc"},
		"an absolute slip":      {with(thing{"/etc/passwd", nil}), Unfit, "/etc/passwd"},
		"a backslash slip":      {with(thing{`..\x.dll`, nil}), Unfit, "x.dll"},
		"a slip as hash":        {change(func(m *manifest) { m.Revisions[0].Hash = "../../x" }), Unfit, "no hash"},
		"a slip as sum":         {change(func(m *manifest) { m.Attachments[0].SHA256 = "../../x" }), Unfit, "no SHA-256"},
		"a stranger":            {with(thing{"notes.txt", []byte("x")}), Unfit, "notes.txt"},
		"a name twice":          {with(list[1]), Unfit, "twice"},
		"too many":              {with(strangers(20)...), TooLarge, "more than 20"},
		"a content missing":     {zipped(t, append(slices.Clone(list[:1]), list[2:]...)), Unfit, "missing"},
		"a content changed":     {zipped(t, append([]thing{list[0], {list[1].name, append(slices.Clone(list[1].data), ' ')}}, list[2:]...)), Unfit, "damaged"},
		"a content bomb":        {zipped(t, append([]thing{list[0], {list[1].name, bomb}}, list[2:]...)), TooLarge, "unpacks to more"},
		"no revisions":          {change(func(m *manifest) { m.Revisions = nil }), Unfit, "no job"},
		"revisions backwards":   {change(func(m *manifest) { slices.Reverse(m.Revisions) }), NotThere, "not here"},
		"a revision twice":      {change(func(m *manifest) { m.Revisions[1].ID = "r1" }), Unfit, "twice"},
		"a job in two":          {change(func(m *manifest) { m.Revisions[1].Job = "x" }), Unfit, "another job"},
		"a parent elsewhere":    {change(func(m *manifest) { m.Revisions[1].Parents = []string{"x1"} }), Conflict, "mine"},
		"two beginnings":        {change(func(m *manifest) { m.Revisions[1].Parents = nil }), Conflict, "here already"},
		"a bad id":              {change(func(m *manifest) { m.Revisions[3].ID = "<script>" }), Unfit, "script"},
		"another job's job":     {change(func(m *manifest) { renamed(m, "mine") }), Conflict, "hand-troughs"},
		"no job at all":         {zipped(t, withContent(t, list, 1, []byte(`[1]`))), Unfit, "id"},
		"no JSON at all":        {zipped(t, withContent(t, list, 1, []byte(`{`))), Unfit, "cannot be read"},
		"an issue of nothing":   {change(func(m *manifest) { m.Issued[0].Revision = "r9" }), Unfit, "no revision"},
		"an issue of another":   {change(func(m *manifest) { m.Issued[0].Revision = "r3" }), Unfit, "no revision"},
		"a nameless issue":      {change(func(m *manifest) { m.Issued[0].Name = "" }), Unfit, "no name"},
	}
	before := dump(t, s)
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			_, err := s.Import(t.Context(), bytes.NewReader(c.file))
			refusedFor(t, err, c.why, c.word)
		})
	}
	if after := dump(t, s); after != before {
		t.Errorf("something was kept:\n%s", cmp.Diff(before, after))
	}
	if left, _ := filepath.Glob(filepath.Join(s.dir, spoolPrefix+"*")); len(left) > 0 {
		t.Error("left behind:", left)
	}
	if _, err := s.Import(t.Context(), bytes.NewReader(good)); err != nil {
		t.Error("the good one:", err)
	}
}

func strangers(n int) []thing {
	var list []thing
	for i := range n {
		list = append(list, thing{fmt.Sprintf("attachments/%064x", i), nil})
	}
	return list
}

func renamed(m *manifest, job string) {
	m.Job = job
	for i := range m.Revisions {
		m.Revisions[i].Job = job
	}
	for i := range m.Issued {
		m.Issued[i].Job = job
	}
}

// A list of millions of entries is given up before it is read.
func TestListsWithoutEnd(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := range 10_000 {
		z.Create(fmt.Sprint(i))
	}
	z.Close()
	l := usualLimits
	l.entries = 100
	m := &metered{r: bytes.NewReader(b.Bytes()), left: int64(l.entries)*mostPerEntry + directoryTail}
	if _, err := zip.NewReader(m, int64(b.Len())); err == nil || m.left > 0 || m.left < -1<<17 {
		t.Errorf("%d left, %v", m.left, err)
	}
	_, err := unpack(bytes.NewReader(b.Bytes()), int64(b.Len()), l)
	refusedFor(t, err, TooLarge, "100")
}

// A revision that is here with other work, and a name that was issued for another plan, are never changed by a file.
func TestFilesNeverChangeWhatIsHere(t *testing.T) {
	_, good := filled(t)
	list := things(t, good)
	s := opened(t, t.TempDir())
	if _, err := s.Import(t.Context(), bytes.NewReader(good)); err != nil {
		t.Fatal(err)
	}
	before := dump(t, s)
	plan := []byte("another plan")
	unissued := slices.DeleteFunc(slices.Clone(list), func(t thing) bool { return strings.HasPrefix(t.name, "issued/") })
	for name, file := range map[string][]byte{
		"note": zipped(t, altered(t, list, func(m *manifest) { m.Revisions[1].Note = "another" })),
		"plan": zipped(t, append(altered(t, unissued, func(m *manifest) { m.Issued[0].PlanSHA256 = hashOf(plan) }), thing{planName(hashOf(plan)), plan})),
	} {
		t.Run(name, func(t *testing.T) {
			_, err := s.Import(t.Context(), bytes.NewReader(file))
			refusedFor(t, err, Conflict)
		})
	}
	if dump(t, s) != before {
		t.Error("something was changed")
	}
}

// Whatever a file holds, it is looked at within limits and never panics; what is found right is complete.
func FuzzUnpack(f *testing.F) {
	_, good := filled(f)
	list := things(f, good)
	for _, file := range [][]byte{good, good[:len(good)/2], zipped(f, list[:1]), zipped(f, append(slices.Clone(list), thing{"../x", nil}))} {
		f.Add(file)
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := unpack(bytes.NewReader(file), int64(len(file)), limits{attachment: 1 << 12, plan: 1 << 12, packed: 1 << 20, unpacked: 1 << 18, manifest: 1 << 16, entries: 50})
		if err != nil {
			var words *Refused
			if !errors.As(err, &words) {
				t.Errorf("not in words: %v", err)
			}
			return
		}
		for _, name := range p.order() {
			if b, err := p.get(name); err != nil || !strings.Contains(name, hashOf(b)) {
				t.Errorf("%s: %v", name, err)
			}
		}
	})
}

// Whatever a file holds: it is taken in whole, or refused in words and nothing of it is kept.
func FuzzImport(f *testing.F) {
	_, good := filled(f)
	list := things(f, good)
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Add(zipped(f, list[:1]))
	f.Add(zipped(f, altered(f, list, func(m *manifest) { m.Revisions = m.Revisions[:2] })))
	f.Add(zipped(f, append(slices.Clone(list), thing{"../x", []byte("x")})))
	dir, err := os.MkdirTemp("", "fuzz")
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { os.RemoveAll(dir) })
	s := opened(f, dir)
	f.Fuzz(func(t *testing.T, file []byte) {
		before := dump(t, s)
		_, err := s.Import(t.Context(), bytes.NewReader(file))
		if err != nil {
			var words *Refused
			if !errors.As(err, &words) {
				t.Errorf("not in words: %v", err)
			}
			if dump(t, s) != before {
				t.Error("something of a refused file was kept")
			}
			return
		}
		after := dump(t, s)
		if again, err := s.Import(t.Context(), bytes.NewReader(file)); err != nil || again != (Imported{Job: again.Job}) || dump(t, s) != after {
			t.Error("the same file again:", again, err)
		}
	})
}
