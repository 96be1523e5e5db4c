package edit

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/jobtext"
)

func demoJob(t testing.TB, name string) job.Job {
	b, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name+".yaml", bytes.NewReader(b))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

func must(t *testing.T, j job.Job, edits ...Edit) Result {
	t.Helper()
	r := Apply(j, edits)
	if !r.Changed {
		t.Fatalf("%v: %v", edits, r.Faults)
	}
	return r
}

func refused(t *testing.T, j job.Job, want string, edits ...Edit) {
	t.Helper()
	r := Apply(j, edits)
	if r.Changed || len(r.Faults) == 0 || !strings.Contains(r.Faults[0].Text, want) {
		t.Errorf("%v: changed %v, %v; want %q", edits, r.Changed, r.Faults, want)
	}
	if job.Hash(r.Job) != job.Hash(j) {
		t.Errorf("%v: refused, and the job is another", edits)
	}
}

// Each typed text with what it is understood as, worked by hand (1 in = 25.4 mm, 1 ft = 304.8 mm).
func TestTypedText(t *testing.T) {
	j := demoJob(t, "tram-depot")
	leg := 0
	for i, l := range j.Route.Legs {
		if len(l.Crossings) > 0 {
			leg = i
		}
	}
	l := j.Route.Legs[leg]
	path := "route.legs[" + l.ID + "].crossings[" + l.Crossings[0].ID + "].path"
	for text, want := range map[string]measure.Length{
		`10'-6"`: 3200400 * measure.Micrometre, "3.05 m": 3050 * measure.Millimetre, "3050 mm": 3050 * measure.Millimetre, "3050": 3050 * measure.Millimetre,
		`10′ 0 1/2″`: 3060700 * measure.Micrometre, "3,05 m": 3050 * measure.Millimetre, "½ m": 500 * measure.Millimetre,
	} {
		r := Apply(j, []Edit{{Op: Set, Path: path, Text: text}})
		if !r.Changed {
			t.Errorf("%s: %v", text, r.Faults)
			continue
		}
		if got := r.Job.Route.Legs[leg].Crossings[0].Path; got != want {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
		if len(r.Said) != 1 || !strings.Contains(r.Said[0], " = ") {
			t.Errorf("%s: said %q", text, r.Said)
		}
		if text == "3050" && !strings.Contains(r.Said[0], "taken as mm") {
			t.Errorf("a bare number is echoed with its unit: %q", r.Said)
		}
	}
	refused(t, j, "cannot be read as a length", Edit{Op: Set, Path: path, Text: "about three"})
	refused(t, j, "is none of", Edit{Op: Set, Path: "levels.grades", Text: "wavy"})
	refused(t, j, "has no field", Edit{Op: Set, Path: "levels.colour", Text: "red"})
	refused(t, j, "has no item", Edit{Op: Set, Path: "route.legs[nobody].hold", Text: "yes"})
	r := must(t, j, Edit{Op: Set, Path: "supplies." + j.Supplies[0].ID + ".saw.kerf", Text: "6 mm", From: j.Documents[0].ID, Page: "4"})
	if k := r.Job.Supplies[0].Saw.Kerf; !k.Known || k.Value != 6*measure.Millimetre || k.From != j.Documents[0].ID || k.Page != "4" || k.Assumed {
		t.Errorf("kerf %+v", k)
	}
	r = must(t, j, Edit{Op: Clear, Path: "supplies[0].saw.kerf"})
	if r.Job.Supplies[0].Saw.Kerf.Known {
		t.Error("the kerf is still known")
	}
	refused(t, j, "does not exist", Edit{Op: Set, Path: "supplies[0].saw.kerf", Text: "6 mm", From: "nowhere"})
}

func TestDraw(t *testing.T) {
	j := demoJob(t, "battery-yard")
	j.Route, j.Levels, j.Dig, j.Ground = job.Route{}, job.Levels{}, job.Dig{}, job.Ground{}
	if len(job.Faults(j)) == 0 {
		t.Fatal("a job without a route has a fault")
	}
	r := must(t, j, Edit{Op: Draw, Places: [][2]float64{{0, 0}, {30, 0}, {30, 40}}})
	if len(r.Job.Route.Legs) != 2 || len(r.Job.Route.Nodes) != 3 || r.Job.Route.Nodes[1].End != nil || r.Job.Route.Nodes[2].End == nil {
		t.Errorf("%+v", r.Job.Route)
	}
	r = must(t, r.Job, Edit{Op: Draw, Text: "98.425, 131.234; 120, 140"})
	if len(r.Job.Route.Legs) != 3 || len(r.Job.Route.Nodes) != 4 || r.Job.Route.Legs[2].From != r.Job.Route.Legs[1].To {
		t.Errorf("it does not join: %+v", r.Job.Route)
	}
	refused(t, j, "two places", Edit{Op: Draw, Text: "1, 2"})
	refused(t, j, "one after the other", Edit{Op: Draw, Text: "1, 2; 1, 2; 5, 5"})
}

func TestMoveNode(t *testing.T) {
	j := demoJob(t, "tram-depot")
	n := j.Route.Nodes[1]
	r := must(t, j, Edit{Op: MoveNode, Node: n.ID, Place: &[2]float64{100.00049, 200}, Origin: [2]float64{1000, 2000}})
	if got := *r.Job.Route.Nodes[1].At; got != [2]float64{1100, 2200} {
		t.Errorf("dragged to %v, wanted to the millimetre", got)
	}
	r = must(t, j, Edit{Op: MoveNode, Node: n.ID, Text: "1012.5; 2003.25"})
	if got := *r.Job.Route.Nodes[1].At; got != [2]float64{1012.5, 2003.25} {
		t.Errorf("typed to %v", got)
	}
	refused(t, j, "no easting and northing", Edit{Op: MoveNode, Node: n.ID, Text: "1012.5"})
	refused(t, j, "no place", Edit{Op: MoveNode, Node: n.ID})
	refused(t, j, "no node", Edit{Op: MoveNode, Node: "nobody", Text: "1, 2"})
}

// TestABendPutInAndTakenOut holds that nothing along the run moves on the ground, but for rounding: a bend that is put into a
// straight and taken out again leaves the job as it was, and the ids that it had are never given again.
func TestABendPutInAndTakenOut(t *testing.T) {
	for _, name := range demo.Names() {
		j := demoJob(t, name)
		if len(j.Route.Walk) > 0 {
			j, _ = planner.Declared(j)
		}
		for _, l := range j.Route.Legs {
			net, _, _ := planner.Run(j)
			leg, _ := net.Leg(l.ID)
			whole := leg.Line.Length()
			for _, share := range []float64{0.13, 0.5, 0.77} {
				at := math.Round(whole.Millimetres() * share)
				r := Apply(j, []Edit{{Op: InsertBend, Leg: l.ID, AtMM: &at}})
				if !r.Changed {
					if id := r.Faults[0].ID; id != "edit.in-curve" && id != "edit.sawn" {
						t.Errorf("%s, leg %s: %v", name, l.ID, r.Faults)
					}
					continue
				}
				before, _, _ := planner.Run(j)
				after, _, faults := planner.Run(r.Job)
				if faults.Any(finding.Fault) {
					t.Fatalf("%s, leg %s: %v", name, l.ID, faults)
				}
				if d := before.Length() - after.Length(); d.Abs() > measure.Millimetre {
					t.Errorf("%s, leg %s: the run is %v shorter", name, l.ID, d)
				}
				new := r.Job.Route.Nodes[len(r.Job.Route.Nodes)-1].ID
				back := Apply(r.Job, []Edit{{Op: RemoveBend, Node: new}})
				if !back.Changed {
					t.Errorf("%s, leg %s: %v", name, l.ID, back.Faults)
					continue
				}
				again := Apply(back.Job, []Edit{{Op: InsertBend, Leg: l.ID, AtMM: &at}})
				if again.Changed && again.Job.Route.Nodes[len(again.Job.Route.Nodes)-1].ID == new {
					t.Errorf("%s, leg %s: the id %s was given twice", name, l.ID, new)
				}
				sameAlong(t, name, j, back.Job)
			}
		}
	}
}

// TestPegsArePartedWithTheirLeg holds what names several chainages of a leg, or all of it.
func TestPegsArePartedWithTheirLeg(t *testing.T) {
	const m = measure.Metre
	j := demoJob(t, "tram-depot")
	leg := j.Route.Legs[0].ID
	j.SetOut.Pegs = []job.Pegs{{Leg: leg, Side: "left", Offset: 3 * m, At: []measure.Length{5 * m, 15 * m, 25 * m}}, {Leg: leg, Side: "right", Offset: 4 * m}, {Side: "both", Offset: 5 * m}}
	r := must(t, j, Edit{Op: InsertBend, Leg: leg, At: "15 m"})
	new := r.Job.Route.Legs[1].ID
	want := []job.Pegs{{Leg: leg, Side: "left", Offset: 3 * m, At: []measure.Length{5 * m}}, {Leg: new, Side: "left", Offset: 3 * m, At: []measure.Length{0, 10 * m}},
		{Leg: leg, Side: "right", Offset: 4 * m}, {Leg: new, Side: "right", Offset: 4 * m}, {Side: "both", Offset: 5 * m}}
	if !reflect.DeepEqual(r.Job.SetOut.Pegs, want) {
		t.Errorf("%+v\nwant %+v", r.Job.SetOut.Pegs, want)
	}
	back := must(t, r.Job, Edit{Op: RemoveBend, Node: r.Job.Route.Legs[0].To})
	for i, p := range back.Job.SetOut.Pegs {
		for k := range p.At { // the bend was rounded to a tenth of a millimetre
			p.At[k] = (p.At[k] + measure.Millimetre/2) / measure.Millimetre * measure.Millimetre
		}
		if len(back.Job.SetOut.Pegs) != len(j.SetOut.Pegs) || !reflect.DeepEqual(p, j.SetOut.Pegs[i]) {
			t.Errorf("%+v\nwant %+v", back.Job.SetOut.Pegs, j.SetOut.Pegs)
		}
	}
}

// sameAlong holds that two jobs have the same things along their legs, to a millimetre; a row of supports or a zone that was
// parted may be two now.
func sameAlong(t *testing.T, name string, a, b job.Job) {
	t.Helper()
	for i, l := range a.Route.Legs {
		m := b.Route.Legs[i]
		near := func(kind string, x, y measure.Length) {
			if (x - y).Abs() > measure.Millimetre {
				t.Errorf("%s, leg %s: a %s was at %v and is at %v", name, l.ID, kind, x, y)
			}
		}
		for k := range l.Crossings {
			near("crossing", l.Crossings[k].At, m.Crossings[k].At)
		}
		for k := range l.Services {
			near("service", l.Services[k].At, m.Services[k].At)
		}
		for k := range l.Entries {
			near("entry", l.Entries[k].At, m.Entries[k].At)
		}
	}
	if len(a.Levels.Pins) != len(b.Levels.Pins) {
		t.Errorf("%s: %d pins, before %d", name, len(b.Levels.Pins), len(a.Levels.Pins))
	}
	for k := range min(len(a.Levels.Pins), len(b.Levels.Pins)) {
		if d := a.Levels.Pins[k].At - b.Levels.Pins[k].At; d.Abs() > measure.Millimetre || a.Levels.Pins[k].Leg != b.Levels.Pins[k].Leg {
			t.Errorf("%s: pin %s moved by %v", name, a.Levels.Pins[k].ID, d)
		}
	}
}

func TestThings(t *testing.T) {
	j := demoJob(t, "battery-yard")
	leg := j.Route.Legs[0].ID
	r := must(t, j, Edit{Op: Add, Kind: "crossing", Leg: leg, At: `20'-6"`, Fields: []Field{{"path", "12'"}, {"name", "gate"}}})
	x := r.Job.Route.Legs[0].Crossings
	one := x[len(x)-1]
	if one.At != 6248400*measure.Micrometre || one.Path != 12*measure.Foot || one.Name != "gate" || one.ID == "" {
		t.Errorf("crossing %+v", one)
	}
	r = must(t, r.Job, Edit{Op: Move, Kind: "crossing", Leg: leg, ID: one.ID, At: "30 ft"})
	x = r.Job.Route.Legs[0].Crossings
	if got := x[len(x)-1].At; got != 30*measure.Foot {
		t.Errorf("moved to %v", got)
	}
	r = must(t, r.Job, Edit{Op: Move, Kind: "crossing", Leg: leg, ToLeg: j.Route.Legs[1].ID, ID: one.ID, At: "10"})
	if y := r.Job.Route.Legs[1].Crossings; y[len(y)-1].At != 10*measure.Foot || len(r.Job.Route.Legs[0].Crossings) != len(x)-1 {
		t.Errorf("on another leg: %+v", y)
	}
	r = must(t, r.Job, Edit{Op: Remove, Kind: "crossing", Leg: j.Route.Legs[1].ID, ID: one.ID})
	again := must(t, r.Job, Edit{Op: Add, Kind: "crossing", Leg: leg, At: "20 ft", Fields: []Field{{"path", "12 ft"}}})
	x = again.Job.Route.Legs[0].Crossings
	if x[len(x)-1].ID == one.ID {
		t.Errorf("the id %s was given twice", one.ID)
	}
	refused(t, j, "path", Edit{Op: Add, Kind: "crossing", Leg: leg, At: "20 ft"})
	refused(t, j, "lies along no leg", Edit{Op: Add, Kind: "river", Leg: leg, At: "20 ft"})
	level := 101.2345
	r = must(t, j, Edit{Op: Add, Kind: "pin", Leg: leg, At: "12 ft", Level: &level})
	p := r.Job.Levels.Pins[len(r.Job.Levels.Pins)-1]
	if p.Leg != leg || math.Abs(p.Level*j.Coordinates.Unit.Metres()-level) > 0.0006 {
		t.Errorf("pin %+v", p)
	}
	r = must(t, j, Edit{Op: Add, Path: "documents", Fields: []Field{{"id", "D99"}, {"title", "letter"}}})
	if d := r.Job.Documents[len(r.Job.Documents)-1]; d.ID != "D99" || d.Title != "letter" {
		t.Errorf("document %+v", d)
	}
}

func TestRename(t *testing.T) {
	j := demoJob(t, "tram-depot")
	was := j.Route.Nodes[1].ID
	r := must(t, j, Edit{Op: Rename, Path: "route.nodes[" + was + "]", Text: "Q1"})
	text := string(job.CanonicalJSON(r.Job))
	if strings.Count(text, `"`+was+`"`) != 1 { // among what was withdrawn
		t.Errorf("%s is still named", was)
	}
	refused(t, r.Job, "withdrawn", Edit{Op: Rename, Path: "route.nodes[Q1]", Text: was})
	doc := j.Documents[0].ID
	r = must(t, j, Edit{Op: Rename, Path: "documents[" + doc + "].id", Text: "Q2"})
	if strings.Contains(string(job.CanonicalJSON(r.Job)), `"from":"`+doc+`"`) {
		t.Errorf("figures still come from %s", doc)
	}
	r = must(t, j, Edit{Op: Rename, Path: "name", Text: "another name"})
	if r.Job.Name != "another name" {
		t.Error("the job's name")
	}
}

func TestLegsComeAndGo(t *testing.T) {
	j := demoJob(t, "hand-troughs")
	if len(j.Route.Walk) > 0 {
		t.Log("told as a walk")
	}
	d, _ := planner.Declared(j)
	end := d.Route.Legs[len(d.Route.Legs)-1].To
	at := [2]float64{w(d, end)[0] + 12, w(d, end)[1] + 5}
	r := must(t, j, Edit{Op: Extend, Node: end, Text: fmt.Sprintf("%v, %v", at[0], at[1])})
	if len(r.Job.Route.Legs) != len(d.Route.Legs)+1 {
		t.Fatalf("%d legs", len(r.Job.Route.Legs))
	}
	new := r.Job.Route.Legs[len(r.Job.Route.Legs)-1]
	r = must(t, r.Job, Edit{Op: RemoveLeg, Leg: new.ID})
	if len(r.Job.Route.Legs) != len(d.Route.Legs) || len(r.Job.Route.Nodes) != len(d.Route.Nodes) {
		t.Errorf("%d legs, %d nodes", len(r.Job.Route.Legs), len(r.Job.Route.Nodes))
	}
	refused(t, j, "opening", Edit{Op: Branch, Leg: d.Route.Legs[0].ID, At: "3 m", Text: "1, 2"})
	from, to := w(d, d.Route.Legs[0].From), w(d, d.Route.Legs[0].To)
	aside := [2]float64{from[0] - (to[1] - from[1]), from[1] + (to[0] - from[0])}
	r = must(t, j, Edit{Op: Branch, Leg: d.Route.Legs[0].ID, At: "3 m", Text: fmt.Sprintf("%v, %v", aside[0], aside[1]), Fields: []Field{{"opening", "300 mm"}, {"clear", "100 mm"}}})
	if _, _, faults := planner.Run(r.Job); faults.Any(finding.Fault) {
		t.Error(faults)
	}
}

func w(j job.Job, node string) [2]float64 { return (&work{job: j}).at(node) }

// TestRandomEdits holds what whoever draws relies on: an edit is made whole, or not at all and with words; it never leaves a
// job with faults of its own making; it never touches the job that it was given; and what it leaves is a job that reads back.
func TestRandomEdits(t *testing.T) {
	var jobs []job.Job
	for _, name := range demo.Names() {
		jobs = append(jobs, demoJob(t, name))
	}
	rapid.Check(t, func(t *rapid.T) {
		j := jobs[rapid.IntRange(0, len(jobs)-1).Draw(t, "job")]
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			e := randomEdit(t, j)
			was := job.Hash(j)
			r := Apply(j, []Edit{e})
			if job.Hash(j) != was {
				t.Fatalf("%+v changed the job that it was given", e)
			}
			if !r.Changed {
				if job.Hash(r.Job) != was || len(r.Faults) == 0 {
					t.Fatalf("%+v: refused with %v", e, r.Faults)
				}
				for _, f := range r.Faults {
					if strings.HasPrefix(f.ID, "edit.") && f.ID != "edit.no-place" && f.Where.Path != "" {
						if bad := finding.Speech(f); len(bad) > 0 {
							t.Fatalf("%+v: %v: %v", e, f, bad)
						}
					}
				}
				continue
			}
			if f := added(job.Faults(r.Job), j); len(f) > 0 {
				t.Fatalf("%+v left faults: %v", e, f)
			}
			text := job.CanonicalJSON(r.Job)
			back, faults := job.FromJSON(text)
			if len(faults) > 0 || !bytes.Equal(job.CanonicalJSON(back), text) {
				t.Fatalf("%+v: the job does not read back: %v\n%s\n%s", e, faults, text, job.CanonicalJSON(back))
			}
			j = r.Job
		}
	})
}

func randomEdit(t *rapid.T, j job.Job) Edit {
	e := Edit{Op: rapid.SampledFrom(Ops()).Draw(t, "op")}
	d, _ := planner.Declared(j)
	e.Node = d.Route.Nodes[rapid.IntRange(0, len(d.Route.Nodes)-1).Draw(t, "node")].ID
	leg := func(name string) string { return d.Route.Legs[rapid.IntRange(0, len(d.Route.Legs)-1).Draw(t, name)].ID }
	e.Leg = leg("leg")
	e.AtMM = new(rapid.Float64Range(-2000, 60000).Draw(t, "at"))
	near := w(d, e.Node)
	unit := d.Coordinates.Unit.Metres()
	e.Place = &[2]float64{near[0]*unit + rapid.Float64Range(-40, 40).Draw(t, "east"), near[1]*unit + rapid.Float64Range(-40, 40).Draw(t, "north")}
	switch e.Op {
	case Draw:
		e.Places = [][2]float64{*e.Place, {e.Place[0] + rapid.Float64Range(-9, 9).Draw(t, "far"), e.Place[1]}}
	case InsertBend:
		if rapid.Bool().Draw(t, "straight") {
			e.Place = nil
		}
	case Add, Move, Remove:
		k := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
		e.Kind = k.kind
		path, _ := (&work{job: d}).listOf(e.Kind, e.Leg)
		if e.Op == Add {
			e.Fields = []Field{}
			one, _ := find(reflect.ValueOf(&d).Elem(), path, true)
			of := one.value.Type().Elem()
			for i := range of.NumField() {
				tag := of.Field(i).Tag
				name, _, _ := strings.Cut(tag.Get("json"), ",")
				if name != "id" && name != "leg" && rapid.IntRange(0, 3).Draw(t, "fill") > 0 {
					e.Fields = append(e.Fields, Field{name, strings.Trim(tag.Get("example"), "[]")})
				}
			}
		} else if list, err := find(reflect.ValueOf(&d).Elem(), path, true); err == nil && list.value.Len() > 0 {
			e.ID = idOf(list.value.Index(rapid.IntRange(0, list.value.Len()-1).Draw(t, "which")))
			if rapid.Bool().Draw(t, "other leg") {
				e.ToLeg = leg("to leg")
			}
		}
	case Set, Clear, Rename:
		e.Path = rapid.SampledFrom([]string{"name", "supplies[0].saw.kerf", "supplies[0].unit.lengths", "supplies[0].joint.gap", "supplies[0].unit.outer", "rules.lip_limit",
			"route.legs[" + e.Leg + "].id", "route.nodes[" + e.Node + "].id", "route.nodes[" + e.Node + "].level", "levels.most", "levels.apart", "dig.slope", "dig.reuse", "coordinates.scale_factor",
			"route.legs[" + e.Leg + "].first", "documents[0].id", "supplies[0].id", "route.legs[" + e.Leg + "].hold"}).Draw(t, "path")
		e.Text = rapid.SampledFrom([]string{"5 mm", "3000", "2 %", "1:2", "yes", "3", "600 mm x 500 mm", "Q7", "x y", "", "-4", "10 mm in 8 mm..14 mm", "101.5", "ground", "10'-6\""}).Draw(t, "text")
	}
	return e
}

func TestSnap(t *testing.T) {
	s := Snapping{Within: 0.5, Grid: 1, Points: [][2]float64{{10, 10}}, Lines: [][2]float64{{0, 0}, {20, 0}}}
	for _, c := range []struct {
		p, want [2]float64
		to      string
	}{
		{[2]float64{10.3, 10.2}, [2]float64{10, 10}, "point"},
		{[2]float64{25.4, 0.3}, [2]float64{25.4, 0}, "straight"},
		{[2]float64{20.2, 7.3}, [2]float64{20, 7.3}, "right angle"},
		{[2]float64{5.1, 40.2}, [2]float64{5, 40}, "grid"},
		{[2]float64{5.5, 40.5}, [2]float64{5.5, 40.5}, ""},
	} {
		if got := Snap(c.p, s); got.To != c.to || math.Abs(got.Place[0]-c.want[0]) > 1e-9 || math.Abs(got.Place[1]-c.want[1]) > 1e-9 {
			t.Errorf("%v: %+v, want %v to %s", c.p, got, c.want, c.to)
		}
	}
	if got := Snap([2]float64{10, 10.1}, Snapping{Grid: 1}); got.To != "" {
		t.Errorf("nothing draws without a distance: %+v", got)
	}
}

// TestCopied holds that a copy shares nothing: every pointer and every list of it is another one.
func TestCopied(t *testing.T) {
	j := demoJob(t, "tram-depot")
	c := copied(j)
	if !reflect.DeepEqual(j, c) {
		t.Fatal("the copy is another job")
	}
	seen := map[uintptr]bool{}
	var walk func(v reflect.Value, see func(uintptr))
	walk = func(v reflect.Value, see func(uintptr)) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				see(v.Pointer())
				walk(v.Elem(), see)
			}
		case reflect.Slice:
			if v.Len() > 0 {
				see(v.Pointer())
			}
			for i := range v.Len() {
				walk(v.Index(i), see)
			}
		case reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i), see)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i), see)
			}
		}
	}
	walk(reflect.ValueOf(j), func(p uintptr) { seen[p] = true })
	walk(reflect.ValueOf(c), func(p uintptr) {
		if seen[p] {
			t.Error("something is shared")
		}
	})
}
