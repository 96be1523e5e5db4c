package dossier

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/demo/building"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
	"trenchwright/view/scene"
)

// lies is what really lies in the ground of those builds.
var lies = map[string]map[string]building.Lie{}

// built are dossiers of demo jobs that were built in play, with a photo of one record.
var built = sync.OnceValue(func() []Input {
	var out []Input
	for name, seed := range map[string]uint64{"battery-yard": 5, "hand-troughs": 2, "tram-depot": 3} { // the last has a leg that is laid against its chainage
		g, err := demo.Surveyed(name)
		if err != nil {
			panic(err)
		}
		on := building.Planned{Job: g.Job, Surfaces: g.Surfaces}
		on.Plan, on.Answers = planner.Ask(g.Job, g.Surfaces...)
		r, err := building.Build(on, building.Options{Seed: seed})
		if err != nil {
			panic(err)
		}
		in := Input{Plan: r.Plan, Job: r.Job, Records: r.Records}
		lies[in.Job.ID] = r.Lies
		photo := []byte("not a picture, but bytes")
		sum := sha256.Sum256(photo)
		in.Records = slices.Clone(in.Records)
		in.Records[0].Photos = []string{hex.EncodeToString(sum[:])}
		in.Photos = []Photo{{Hash: in.Records[0].Photos[0], Name: "IMG 1.JPG", Open: func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(photo)), nil }}}
		var came bytes.Buffer
		if err := field.Write(&came, in.Records); err != nil {
			panic(err)
		}
		in.Came = came.Bytes()
		out = append(out, in)
	}
	slices.SortFunc(out, func(a, b Input) int { return strings.Compare(a.Job.ID, b.Job.ID) })
	return out
})

func files(t *testing.T, in Input) fstest.MapFS {
	t.Helper()
	list, err := Of(in).Files()
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, f := range list {
		b, err := written(f.Write)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = &fstest.MapFile{Data: b}
	}
	return out
}

// inside are the files of the zip of a dossier.
func inside(t *testing.T, of fstest.MapFS) fstest.MapFS {
	t.Helper()
	b := of[zipName].Data
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = &fstest.MapFile{Data: data}
	}
	return out
}

// The same records give the same bytes, in whatever order they arrived.
func TestSameRecordsSameBytes(t *testing.T) {
	for _, in := range built() {
		seed := seed.Of(t)
		a, again := files(t, in), in
		again.Records = slices.Clone(in.Records)
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(again.Records), func(i, k int) {
			again.Records[i], again.Records[k] = again.Records[k], again.Records[i]
		})
		for name, f := range files(t, again) {
			if !bytes.Equal(f.Data, a[name].Data) {
				t.Errorf("%s: %s differs (seed %d)", in.Job.ID, name, seed)
			}
		}
	}
}

// A dossier proves itself; a byte that changed, a file that is gone and one that came are found and named, in the folder and in the zip.
func TestAChangedByteIsFoundAndNamed(t *testing.T) {
	in := built()[0]
	folder := files(t, in)
	for name, of := range map[string]fstest.MapFS{"folder": folder, "zip": inside(t, folder)} {
		whole, err := Verify(of)
		if err != nil || !whole.Proven() {
			t.Fatalf("%s: %+v, %v", name, whole, err)
		}
		tried := 0
		for file, f := range of {
			if file == Sums || len(f.Data) == 0 {
				continue
			}
			tried++
			bad := fstest.MapFS{}
			for n, g := range of {
				bad[n] = g
			}
			data := slices.Clone(f.Data)
			data[len(data)/2] ^= 1
			for what, data := range map[string][]byte{"a byte changed": data, "a byte added": append(slices.Clone(f.Data), 0), "a byte gone": f.Data[:len(f.Data)-1]} {
				bad[file] = &fstest.MapFile{Data: data}
				if p, err := Verify(bad); err != nil || p.Proven() || !slices.Equal(p.Changed, []string{file}) {
					t.Errorf("%s: %s of %s: %+v, %v", name, what, file, p, err)
				}
			}
			delete(bad, file)
			if p, err := Verify(bad); err != nil || !slices.Equal(p.Missing, []string{file}) {
				t.Errorf("%s: %s is gone: %+v, %v", name, file, p, err)
			}
			bad[file], bad["csv/more.csv"] = f, f
			if p, err := Verify(bad); err != nil || !slices.Equal(p.Unlisted, []string{"csv/more.csv"}) {
				t.Errorf("%s: a file that nobody listed: %+v, %v", name, p, err)
			}
		}
		if tried < 3 {
			t.Errorf("%s: %d files tried", name, tried)
		}
	}
	if _, err := Verify(fstest.MapFS{"x": &fstest.MapFile{}}); err == nil {
		t.Error("a folder without sums is no dossier")
	}
	if _, err := Verify(fstest.MapFS{Sums: &fstest.MapFile{Data: []byte("../../etc/passwd\n")}}); err == nil {
		t.Error("a list that is none is believed")
	}
}

// A zip by itself: wherever a byte of it changes, goes or comes, it is no longer proven.
func TestEveryByteOfTheZipIsProven(t *testing.T) {
	was := files(t, built()[0])[zipName].Data
	proven := func(data []byte) bool {
		p, err := VerifyZip(bytes.NewReader(data), int64(len(data)))
		return err == nil && p.Proven()
	}
	if !proven(was) {
		t.Fatal("it does not prove itself")
	}
	seed := seed.Of(t)
	pick := rand.New(rand.NewPCG(seed, 2))
	tail := bytes.Index(was, []byte("PK\x01\x02")) // where the list of files begins
	for n := range 150 {
		at := pick.IntN(len(was))
		if n%2 == 0 {
			at = tail + pick.IntN(len(was)-tail)
		}
		changed := slices.Clone(was)
		changed[at] ^= byte(1 + pick.IntN(255))
		for what, data := range map[string][]byte{"changed": changed, "added": slices.Insert(slices.Clone(was), at, byte(pick.IntN(256))), "gone": slices.Delete(slices.Clone(was), at, at+1)} {
			if proven(data) {
				t.Errorf("byte %d of %d %s: it is still proven (seed %d)", at, len(was), what, seed)
			}
		}
	}
	for what, data := range map[string][]byte{"behind": append(slices.Clone(was), 0), "before": append([]byte{0}, was...)} {
		if proven(data) {
			t.Errorf("a byte %s it: it is still proven", what)
		}
	}
}

// README.txt names every file of the zip and every column of every table, and a photo that changed is not packed.
func TestTheIndexNamesEverything(t *testing.T) {
	for _, in := range built() {
		all := inside(t, files(t, in))
		text := string(all[index].Data)
		for name, f := range all {
			if !strings.Contains(text, name) && !strings.HasPrefix(name, photosIn) && name != index {
				t.Errorf("%s: nothing says what %s is", in.Job.ID, name)
			}
			if !strings.HasPrefix(name, "csv/") {
				continue
			}
			heads, err := csv.NewReader(bytes.NewReader(f.Data)).Read()
			if err != nil {
				t.Fatal(err)
			}
			seen := map[string]bool{}
			for _, h := range heads {
				name, _, _ := strings.Cut(h, " [")
				if name != "Notes on the whole table" && !strings.Contains(text, "    "+name) {
					t.Errorf("%s: nothing says what the column %s is", in.Job.ID, h)
				}
				if seen[h] {
					t.Errorf("%s: two columns of a table are called %s", in.Job.ID, h)
				}
				seen[h] = true
			}
		}
	}
	in := built()[0]
	in.Photos = []Photo{{Hash: in.Photos[0].Hash, Name: "a.jpg", Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader("other bytes")), nil }}}
	list, err := Of(in).Files()
	if err != nil {
		t.Fatal(err)
	}
	if err := list[1].Write(io.Discard); err == nil || !strings.Contains(err.Error(), "a.jpg changed while") {
		t.Errorf("%v", err)
	}
}

// A zip in which a file was changed, and whose own sum was made to fit outside, is found by the sums inside.
func TestAZipIsProvenInside(t *testing.T) {
	folder := files(t, built()[0])
	all := inside(t, folder)
	data := slices.Clone(all["csv/gaps.csv"].Data)
	data[len(data)-3] ^= 1
	all["csv/gaps.csv"] = &fstest.MapFile{Data: data}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if err := z.AddFS(all); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	old := hashOf(folder[zipName].Data)
	folder[zipName] = &fstest.MapFile{Data: b.Bytes()}
	folder[Sums] = &fstest.MapFile{Data: bytes.ReplaceAll(folder[Sums].Data, []byte(old), []byte(hashOf(b.Bytes())))}
	p, err := Verify(folder)
	if err != nil || !slices.Equal(p.Changed, []string{"dossier.zip/" + Between, "dossier.zip/csv/gaps.csv"}) {
		t.Errorf("%+v, %v", p, err)
	}
}

// The zip has the records as they came, every attachment under its hash, and the sums as sha256sum writes them.
func TestTheZipHoldsWhatCame(t *testing.T) {
	in := built()[0]
	all := inside(t, files(t, in))
	if got := all[cameName]; got == nil || !bytes.Equal(got.Data, in.Came) {
		t.Error("the records are not as they came")
	}
	if got := all["attachments/"+in.Photos[0].Hash+".jpg"]; got == nil {
		t.Error("the photo is not there")
	}
	for line := range strings.Lines(string(all[Sums].Data)) {
		sum, name, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
		if all[name] == nil || fmt.Sprintf("%x", sha256.Sum256(all[name].Data)) != sum {
			t.Errorf("the sum of %s is not its own", name)
		}
	}
	if !strings.Contains(string(all["HOW-TO-VERIFY.txt"].Data), "sha256sum --check SHA256SUMS") {
		t.Error("nothing says how to verify without this program")
	}
	var _ fs.FS = all
}

// The figures of the tables are those of the state: what is set and laid, and by how much ends and gaps differ.
func TestTablesAgreeWithTheState(t *testing.T) {
	figures := 0
	for _, in := range built() {
		d := Of(in)
		for _, l := range d.State().Legs {
			table := d.builtTable(l)
			_, rows := table.Shown()
			col := func(key string) int {
				for i, c := range table.Columns {
					if c.Key == key {
						return i
					}
				}
				t.Fatalf("no column %s", key)
				return -1
			}
			set := 0
			for i, u := range l.Units {
				row, sign := rows[i], measure.Length(1)
				if d.back[l.ID] {
					row, sign = rows[len(rows)-1-i], -1
				}
				if row[0] != u.Place {
					t.Fatalf("%s stands where %s belongs", row[0], u.Place)
				}
				if row[col("set")] == "yes" {
					set++
				}
				if want := u.End != nil && u.End.Known; want != (row[col("chainage_measured")] != "") {
					t.Errorf("%s: measured %v, printed %q", u.Place, want, row[col("chainage_measured")])
				} else if want {
					at := d.planned(t, l, i)
					if got := cellLength(t, in, row[col("chainage_measured")]); (got - at - sign**u.Ahead).Abs() > measure.Millimetre {
						t.Errorf("%s: planned at %v, off %v, printed %v", u.Place, at, u.End.Value, got)
					}
					figures++
				}
			}
			if set != l.Set {
				t.Errorf("leg %s: %d set in the table, %d in the state", l.ID, set, l.Set)
			}
			laid := 0
			for i, c := range d.coverTables()[0].Columns {
				if c.Key != "laid" {
					continue
				}
				_, rows := d.coverTables()[0].Shown()
				for _, r := range rows {
					if r[0] == l.ID {
						n := 0
						fmt.Sscan(r[i], &n)
						laid += n
					}
				}
			}
			if laid != l.Laid {
				t.Errorf("leg %s: %d laid in the table, %d in the state", l.ID, laid, l.Laid)
			}
		}
		if n := len(d.recordTable().Rows); n != d.State().Records {
			t.Errorf("%d rows of records, %d in the state", n, d.State().Records)
		}
	}
	if figures < 20 {
		t.Errorf("%d figures compared", figures)
	}
}

// planned is where a unit's end is planned, found another way: by the units' own chainages and gaps.
func (d *Dossier) planned(t *testing.T, l field.LegState, i int) measure.Length {
	t.Helper()
	u := d.units[l.Units[i].Place]
	if d.back[l.ID] {
		if i == 0 {
			return measure.Length(d.rows["start of "+u.Mark].Chainage)
		}
		j := d.joints[l.Units[i-1].Place+"/"+u.Mark]
		return measure.Length(u.Chainage - j.Gap/2)
	}
	if i+1 < len(l.Units) {
		next := d.units[l.Units[i+1].Place]
		j := d.joints[u.Mark+"/"+next.Mark]
		return measure.Length(next.Chainage - j.Gap/2)
	}
	return measure.Length(d.rows["end of "+u.Mark].Chainage)
}

func cellLength(t *testing.T, in Input, text string) measure.Length {
	t.Helper()
	unit := measure.UnitMetre
	if in.Job.Speech().Imperial {
		unit = measure.UnitFoot
	}
	r, err := measure.ParseIn(text, unit)
	if err != nil {
		t.Fatal(err)
	}
	return r.Length
}

// Without records a dossier says what is missing: everything.
func TestADossierOfNothingSaysSo(t *testing.T) {
	in := built()[0]
	in.Records, in.Came, in.Photos = nil, nil, nil
	d := Of(in)
	_, rows := d.jobGaps().Shown()
	if len(rows) != 1 || rows[0][0] != "there is no record at all" {
		t.Errorf("%v", rows)
	}
	units := 0
	_, rows = d.gapTables()[2].Shown()
	for _, r := range rows {
		if r[1] != "not set, by the records" {
			t.Errorf("%v", r)
		}
		n := 0
		fmt.Sscan(r[2], &n)
		units += n
	}
	if units != len(in.Plan.Units) {
		t.Errorf("%d of %d units are said to be missing", units, len(in.Plan.Units))
	}
	if p, err := Verify(files(t, in)); err != nil || !p.Proven() {
		t.Errorf("%+v, %v", p, err)
	}
}

// A number that no record of a device has is a gap: devices count without gaps.
func TestAMissingNumberIsAGap(t *testing.T) {
	in := built()[0]
	k := slices.IndexFunc(in.Records, func(r field.Record) bool { return r.Number == 3 })
	gone := in.Records[k]
	in.Records = slices.Delete(slices.Clone(in.Records), k, k+1)
	_, rows := Of(in).jobGaps().Shown()
	if !slices.ContainsFunc(rows, func(r []string) bool { return r[1] == gone.Device+", numbers 3" }) {
		t.Errorf("nothing says that %s/%d is not here: %v", gone.Device, gone.Number, rows)
	}
}

// A reading with an instrument whose calibration had run out is a line of the gaps, once; one without an end on file says whom to ask.
func TestACalibrationThatRanOutIsAGap(t *testing.T) {
	in := built()[0]
	in.Records = slices.Clone(in.Records)
	k := slices.IndexFunc(in.Records, func(r field.Record) bool { return r.Kind == field.Gap })
	r := in.Records[k]
	in.Records[k].Instrument = &field.Instrument{ID: "gauge 9", Certificate: "C-12", Due: "2020-01-31"}
	other := slices.IndexFunc(in.Records[k+1:], func(r field.Record) bool { return r.Kind == field.Gap }) + k + 1
	in.Records[other].Instrument = &field.Instrument{ID: "gauge 8"}
	d := Of(in)
	_, rows := d.ranOutTable().Shown()
	if len(rows) != 1 || !slices.Equal(rows[0][2:], []string{"gap", "1", r.Person, r.Made[:10], r.Device, "", "gauge 9", "C-12", "2020-01-31", ref(r)}) {
		t.Errorf("%v", rows)
	}
	_, rows = d.jobGaps().Shown()
	asks := 0
	for _, row := range rows {
		if strings.Contains(row[0], "gauge 9") {
			t.Errorf("it is told twice: %v", row)
		}
		if row[0] == "NOT CHECKED: no day on which the calibration of gauge 8 runs out on file" && row[2] == "Ask: whoever keeps the instruments" {
			asks++
		}
	}
	if asks != 1 {
		t.Errorf("nobody is asked about gauge 8: %v", rows)
	}
}

// Every page can be read: no lettering on other lettering, none off the page, and every link leads to a page.
func TestPagesCanBeRead(t *testing.T) {
	for _, in := range built() {
		pages := Of(in).Document().Pages
		names := map[string]bool{}
		for _, p := range pages {
			if names[p.Name] {
				t.Errorf("two pages are called %s", p.Name)
			}
			names[p.Name] = true
		}
		for _, p := range pages {
			over, err := scene.Overlaps(p)
			if err != nil {
				t.Fatal(err)
			}
			for _, o := range over {
				t.Errorf("%s %s: %s", in.Job.ID, p.Name, o)
			}
			out, err := scene.Outside(p)
			if err != nil {
				t.Fatal(err)
			}
			for _, o := range out {
				t.Errorf("%s %s: %v is outside", in.Job.ID, p.Name, o)
			}
			for _, m := range p.Marks {
				if l, ok := m.(scene.Link); ok && !names[strings.TrimPrefix(l.To, "#")] {
					t.Errorf("%s leads to %s, which is no page", p.Name, l.To)
				}
			}
		}
	}
}
