package screen

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/edit"
	"trenchwright/view/pack"
)

// opened is a demo job on a desk.
func opened(t testing.TB, name string) (*Desk, demoed, Screen) {
	p := demoPlan(t, name)
	d := &Desk{hash: p.plan.Job.Hash, job: p.job, surfaces: p.surfaces, plan: p.plan, answers: p.answers}
	var s Screen
	asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(p.job))}, &s, p)
	return d, p, s
}

func asked(t testing.TB, d *Desk, name string, args map[string]any, into any, p demoed) {
	t.Helper()
	b, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	out, err := d.Ask(name, b, func(name string) ([]byte, error) { return p.clips[name], nil })
	if err != nil {
		t.Fatalf("%s %s: %v", name, b, err)
	}
	if err := json.Unmarshal(out, into); err != nil {
		t.Fatal(err)
	}
}

// keysOf are the keys of everything on a screen.
func keysOf(s Screen) []string {
	var out []string
	for i, m := range s.Units.Mark {
		out = append(out, "unit/"+m)
		if i+1 < len(s.Units.Mark) && s.Units.Leg[i] == s.Units.Leg[i+1] {
			out = append(out, "joint/"+m+"/"+s.Units.Mark[i+1])
		}
	}
	for k, u := range s.Covers.Unit {
		if k%7 == 0 {
			out = append(out, fmt.Sprintf("cover/%s.%d", s.Units.Mark[u], s.Covers.Number[k]))
		}
	}
	for _, all := range [][]Thing{s.Crossings, s.Services, s.Entries, s.Supports, s.Forced} {
		for _, one := range all {
			out = append(out, one.Key)
		}
	}
	for _, one := range s.Nodes {
		out = append(out, one.Key)
	}
	for _, one := range s.Legs {
		out = append(out, one.Key, "place/"+one.ID+"/1000")
	}
	for _, one := range append(append([]SectionThing{}, s.Section.Pins...), s.Section.Outlets...) {
		out = append(out, one.Key)
	}
	for _, one := range s.Findings {
		out = append(out, "finding/"+one.Name)
		if one.Key != "" {
			out = append(out, one.Key)
		}
	}
	for _, one := range s.Zones {
		out = append(out, one.Key)
	}
	for _, one := range s.Supplies {
		out = append(out, "supply/"+one.ID)
	}
	out = append(out, "rules", "checks", "levels", "dig", "set_out", "ground", "coordinates", "job")
	seen := map[string]bool{}
	return slices.DeleteFunc(out, func(key string) bool { was := seen[key]; seen[key] = true; return was })
}

// TestEveryThingHasACard asks for the card of everything on the screens of the demo jobs, in both systems.
func TestEveryThingHasACard(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		for n, key := range append(keysOf(s), "document/"+p.job.Documents[0].ID) {
			view := map[string]any{"id": key, "hash": s.Hash}
			if n%2 == 1 {
				view["system"], view["words"] = "imperial", "us"
			}
			var c Card
			asked(t, d, "card", view, &c, p)
			if c.Title == "" || c.Key != key || c.Kind != "finding" && len(c.Groups)+len(c.Fields) == 0 {
				t.Errorf("%s: the card of %s says nothing: %+v", name, key, c)
			}
			nulls(t, key, reflect.ValueOf(c))
			for _, g := range c.Groups {
				for _, r := range g.Rows {
					if r.Text == "" || r.Text == r.Other {
						t.Errorf("%s: %s, %s: %+v", name, key, g.Name, r)
					}
					if r.Open && !strings.Contains(r.Text, "Ask: ") && !strings.Contains(r.Text, "see ") {
						t.Errorf("%s: %s: whom to ask? %s", name, key, r.Text)
					}
				}
			}
			for _, f := range c.Fields {
				if f.Kind == "" || f.Path == "" || f.Label == "" {
					t.Errorf("%s: %s: field %+v", name, key, f)
				}
			}
		}
	}
}

// TestFieldsCanBeTyped sets every field of every card to the text that it shows: the job stays what it is.
func TestFieldsCanBeTyped(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		was := s.Hash
		for _, key := range append(keysOf(s), "document/"+p.job.Documents[0].ID) {
			if k, _, _ := strings.Cut(key, "/"); k == "unit" || k == "joint" || k == "cover" || k == "place" || k == "finding" {
				continue
			}
			var c Card
			asked(t, d, "card", map[string]any{"id": key}, &c, p)
			for n, f := range c.Fields {
				if f.Text == "" || name == "tram-depot" && n%4 > 0 {
					continue
				}
				if strings.HasPrefix(f.Path, "route.") && len(p.job.Route.Walk) > 0 {
					continue // nodes and legs of a walk stand in no job yet
				}
				var e Edited
				asked(t, d, "edit", map[string]any{"edits": []edit.Edit{{Op: edit.Set, Path: f.Path, Text: f.Text, From: f.From, Page: f.Page, Assumed: f.Assumed}}}, &e, p)
				if e.Job == "" {
					t.Errorf("%s: %s typed as it stands, %q, is refused: %v", name, f.Path, f.Text, e.Faults)
					continue
				}
				if j, _ := job.FromJSON([]byte(e.Job)); e.Hash != was && !f.Figure {
					t.Errorf("%s: %s typed as it stands, %q, changes the job (%s)", name, f.Path, f.Text, job.Hash(j))
				}
			}
		}
	}
}

// TestAViewChangesTextsOnly holds the switch of system and words to numbers: none of them moves.
func TestAViewChangesTextsOnly(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		var other Screen
		system, words := "imperial", "us"
		if s.Job.System == system {
			system = "metric"
		}
		asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(p.job)), "system": system, "words": words}, &other, p)
		if other.Job.System != system || other.Job.Own != s.Job.Own || other.Hash != s.Hash {
			t.Errorf("%s: %+v", name, other.Job)
		}
		numbers(t, name, reflect.ValueOf(s), reflect.ValueOf(other))
		if other.Job.Said == s.Job.Said || other.Words.LengthUnit != s.Words.LengthUnit {
			t.Errorf("%s: %q, %q", name, s.Job.Said, other.Job.Said)
		}
		var whole Screen
		asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(p.job)), "system": system, "words": words, "whole": true}, &whole, p)
		numbers(t, name, reflect.ValueOf(s), reflect.ValueOf(whole))
		spoken := 0
		for i := range whole.Findings {
			if whole.Findings[i].Text != other.Findings[i].Text {
				spoken++
			}
		}
		if spoken == 0 || whole.Hash != s.Hash {
			t.Errorf("%s: no sentence of the plan changed with the view", name)
		}
		var back Screen
		asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(p.job))}, &back, p)
		if !reflect.DeepEqual(back, s) {
			t.Errorf("%s: the way back leads elsewhere", name)
		}
	}
}

// numbers compares all numbers of two values.
func numbers(t *testing.T, at string, a, b reflect.Value) {
	switch a.Kind() {
	case reflect.Struct:
		if a.Type() == reflect.TypeFor[Axis]() {
			return
		}
		for i := range a.NumField() {
			numbers(t, at+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			t.Errorf("%s: %d and %d", at, a.Len(), b.Len())
			return
		}
		for i := range a.Len() {
			numbers(t, at, a.Index(i), b.Index(i))
		}
	case reflect.Pointer:
		if a.IsNil() != b.IsNil() {
			t.Errorf("%s: known in one view only", at)
		} else if !a.IsNil() {
			numbers(t, at, a.Elem(), b.Elem())
		}
	case reflect.Float64, reflect.Int:
		if !a.Equal(b) && !(a.Kind() == reflect.Float64 && math.IsNaN(a.Float()) && math.IsNaN(b.Float())) {
			t.Errorf("%s: %v and %v", at, a, b)
		}
	}
}

// TestTables asks for every table that a screen names.
func TestTables(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		for _, h := range s.Tables {
			var one Table
			asked(t, d, "table", map[string]any{"name": h.Name}, &one, p)
			if one.Rows != h.Rows || one.Title != h.Title || len(one.Keys) != one.Rows || len(one.Columns) == 0 {
				t.Errorf("%s: %s has %d rows, the head says %d", name, h.Name, one.Rows, h.Rows)
			}
			for _, c := range one.Columns {
				if len(c.Texts) != one.Rows || c.Numeric != (len(c.Sort) == one.Rows && c.Numeric) {
					t.Errorf("%s: %s, %s: %d texts, %d figures", name, h.Name, c.Key, len(c.Texts), len(c.Sort))
				}
			}
			for _, key := range one.Keys {
				if key == "" {
					continue
				}
				var c Card
				asked(t, d, "card", map[string]any{"id": key}, &c, p)
			}
		}
	}
}

// TestAcrossBetweenTicks asks along the whole run.
func TestAcrossBetweenTicks(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		dug := 0
		for _, l := range s.Legs {
			for _, share := range []float64{0, 0.2, 0.5, 0.9, 1} {
				var a Across
				asked(t, d, "across", map[string]any{"leg": l.ID, "at_mm": (l.To - l.From) * share}, &a, p)
				nulls(t, "across", reflect.ValueOf(a))
				for _, line := range a.Figure.Lines {
					if line.Of == "dig" {
						dug++
					}
				}
				if a.Title == "" || len(a.Figure.Lines) == 0 && share > 0 && share < 1 {
					t.Errorf("%s: nothing to see across leg %s at %v", name, l.ID, share)
				}
			}
		}
		if dug == 0 {
			t.Errorf("%s: no dig in any section", name)
		}
		var b Between
		asked(t, d, "between", map[string]any{"from": s.Units.Mark[0], "to": s.Units.Mark[len(s.Units.Mark)-1]}, &b, p)
		if len(b.Groups) < 3 || len(b.Way) == 0 {
			t.Errorf("%s: %+v", name, b)
		}
		nulls(t, "between", reflect.ValueOf(b))
		var ticks Ticks
		asked(t, d, "ticks", map[string]any{"strip": [2]float64{0, s.Length}, "step_mm": 5000}, &ticks, p)
		want := 0
		for _, l := range s.Legs {
			want += int((l.To-l.From)/5000) + 1
		}
		if len(ticks.At) != want || len(ticks.Texts) != want {
			t.Errorf("%s: %d ticks, want %d", name, len(ticks.At), want)
		}
	}
}

// TestDiffer holds a plan to itself, and to what it was before an edit.
func TestDiffer(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		issued, err := json.Marshal(p.plan)
		if err != nil {
			t.Fatal(err)
		}
		var none Difference
		asked(t, d, "differ", map[string]any{"issued": json.RawMessage(issued)}, &none, p)
		if !none.Same || len(none.Places) > 0 {
			t.Errorf("%s: a plan differs from itself: %+v", name, none.Places[:min(3, len(none.Places))])
		}
		leg := s.Legs[0]
		var e Edited
		asked(t, d, "edit", map[string]any{"edits": []edit.Edit{{Op: edit.Add, Kind: "zone", Leg: leg.ID, At: "2 m", Fields: []edit.Field{{Name: "from", Text: "2 m"}, {Name: "to", Text: "9 m"}, {Name: "why", Text: "kept free"}}}}}, &e, p)
		if e.Job == "" {
			t.Fatalf("%s: %v", name, e.Faults)
		}
		var after Screen
		asked(t, d, "open", map[string]any{"job": e.Job}, &after, p)
		var some Difference
		asked(t, d, "differ", map[string]any{"issued": json.RawMessage(issued), "hash": after.Hash}, &some, p)
		nulls(t, "difference", reflect.ValueOf(some))
		if some.Same || len(some.Said) == 0 {
			t.Errorf("%s: a zone of 7 m changes nothing", name)
		}
		for _, c := range some.Places {
			if c.Was == c.Now {
				t.Errorf("%s: %s %s is %s, and was %s", name, c.Kind, c.Name, c.Now, c.Was)
			}
		}
		if _, err := d.Ask("card", []byte(`{"id":"rules","hash":"`+s.Hash+`"}`), nil); !errors.Is(err, ErrNotOpen) {
			t.Errorf("%s: a question about another job is answered: %v", name, err)
		}
		content, err := json.Marshal(map[string]any{"job": e.Job})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := d.Ask("plan", content, nil); err != nil {
			t.Errorf("%s: the plan of the open job is not given: %v", name, err)
		}
		asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(p.job))}, &after, p) // as another question may, meanwhile
		if _, err := d.Ask("plan", content, nil); !errors.Is(err, ErrNotOpen) {
			t.Errorf("%s: the plan of another job is given: %v", name, err)
		}
	}
}

// TestSketchOnTheDesk drags every node a little: what comes back fits the screen that was opened.
func TestSketchOnTheDesk(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		for _, n := range s.Nodes {
			var k Sketch
			at := [2]float64{n.At[0] + 0.4, n.At[1] - 0.3}
			asked(t, d, "sketch", map[string]any{"hash": s.Hash, "edits": []edit.Edit{{Op: edit.MoveNode, Node: n.ID, Place: &at, Origin: s.Plan.Origin}}}, &k, p)
			nulls(t, "sketch", reflect.ValueOf(k))
			if len(k.Faults) > 0 {
				t.Logf("%s: %s: %v", name, n.ID, k.Faults[0].Text)
				continue
			}
			if len(k.Legs) != len(s.Legs) || len(k.Touched) == 0 || len(k.Touched) == len(s.Legs) && len(s.Legs) > 6 {
				t.Errorf("%s: %s: %d of %d legs touched", name, n.ID, len(k.Touched), len(k.Legs))
			}
			for _, r := range k.Touched {
				l := k.Legs[r.Leg]
				if len(r.Units.Mark) != l.Units || len(r.Corners) != 8*l.Units {
					t.Errorf("%s: %s: leg %s has %d units, its head says %d", name, n.ID, l.ID, len(r.Units.Mark), l.Units)
				}
				for i := range r.Units.Mark {
					if r.Units.From[i] < l.From-1 || r.Units.To[i] > l.To+1 {
						t.Errorf("%s: %s lies beside leg %s", name, r.Units.Mark[i], l.ID)
					}
				}
			}
		}
	}
}

// TestOutline holds the early screen to the late one: the same legs, nodes and things at the same places, and as many units.
func TestOutline(t *testing.T) {
	for _, name := range demo.Names() {
		_, p, s := opened(t, name)
		var early Screen
		asked(t, new(Desk), "outline", map[string]any{"job": json.RawMessage(job.CanonicalJSON(p.job))}, &early, p)
		nulls(t, name, reflect.ValueOf(early))
		if early.Hash != s.Hash || early.Length != s.Length || len(early.Legs) != len(s.Legs) || len(early.Units.Mark) != len(s.Units.Mark) || len(early.Nodes) != len(s.Nodes) {
			t.Errorf("%s: %d legs, %d units; later %d and %d", name, len(early.Legs), len(early.Units.Mark), len(s.Legs), len(s.Units.Mark))
		}
		if !reflect.DeepEqual(early.Plan.Legs, s.Plan.Legs) || !reflect.DeepEqual(early.Services, s.Services) || !reflect.DeepEqual(early.Plan.Contours, s.Plan.Contours) {
			t.Errorf("%s: the run lies elsewhere", name)
		}
	}
}

// TestWhatIsBrokenIsStillSeen opens jobs that cannot be laid out: their nodes and legs are there, so that somebody can mend them.
func TestWhatIsBrokenIsStillSeen(t *testing.T) {
	for _, name := range demo.Names() {
		_, p, s := opened(t, name)
		if len(p.job.Route.Walk) > 0 {
			continue
		}
		onTop := edit.Edit{Op: edit.MoveNode, Node: s.Nodes[1].ID, Place: &s.Nodes[0].At, Origin: s.Plan.Origin}
		r := edit.Apply(p.job, []edit.Edit{onTop})
		if !r.Changed {
			t.Fatal(r.Faults)
		}
		broken := p.job
		broken.Supplies = append([]job.Supply{}, broken.Supplies...)
		broken.Supplies[0].ID = "nothing else calls it so"
		for what, j := range map[string]job.Job{"two nodes in one place": r.Job, "a name that nothing has": broken} {
			d := new(Desk)
			var now Screen
			asked(t, d, "open", map[string]any{"job": json.RawMessage(job.CanonicalJSON(j))}, &now, p)
			nulls(t, what, reflect.ValueOf(now))
			faults := 0
			for _, f := range now.Findings {
				if f.Kind == "fault" {
					faults++
				}
			}
			if faults == 0 || len(now.Nodes) != len(p.job.Route.Nodes) || len(now.Legs) == 0 || len(now.Units.Mark) > 0 {
				t.Errorf("%s, %s: %d faults, %d nodes, %d legs", name, what, faults, len(now.Nodes), len(now.Legs))
			}
			for _, n := range now.Nodes {
				for _, was := range s.Nodes {
					if n.ID == was.ID && n.ID != onTop.Node && what != "a name that nothing has" && (math.Abs(n.At[0]-was.At[0]) > 0.5 || math.Abs(n.At[1]-was.At[1]) > 0.5) {
						t.Errorf("%s, %s: node %s lies at %v, before at %v", name, what, n.ID, n.At, was.At)
					}
				}
			}
			var c Card
			asked(t, d, "card", map[string]any{"id": now.Nodes[0].Key}, &c, p)
		}
	}
}

// TestRod holds readings to levels: height of the instrument less level.
func TestRod(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		hi := fixed(s.Section.High/newDraft(p.plan, p.job, nil, View{}).metres+1, 3)
		var r Rod
		asked(t, d, "rod", map[string]any{"height": hi, "of": "top"}, &r, p)
		nulls(t, "rod", reflect.ValueOf(r))
		if len(r.Rows) == 0 {
			t.Fatalf("%s: no readings: %v", name, r.NotChecked)
		}
		for _, row := range r.Rows {
			level, _, _ := strings.Cut(row.Level, " ")
			left, _, _ := strings.Cut(row.Left, " ")
			var z, x, h float64
			fmt.Sscan(level, &z)
			fmt.Sscan(left, &x)
			fmt.Sscan(hi, &h)
			if math.Abs(h-z-x) > 0.011 {
				t.Errorf("%s: %s: %s on %s from %s", name, row.Place, row.Left, row.Level, hi)
			}
			var c Card
			asked(t, d, "card", map[string]any{"id": row.Key}, &c, p)
		}
		if _, err := d.Ask("rod", []byte(`{"height":"high up"}`), nil); err == nil {
			t.Errorf("%s: a height that is none", name)
		}
	}
}

// TestSheetsAreThoseOfThePack holds the list of files to the pack itself.
func TestSheetsAreThoseOfThePack(t *testing.T) {
	for _, name := range demo.Names()[1:] {
		_, p, s := opened(t, name)
		has := map[string]string{}
		for _, f := range pack.Files(p.plan, p.job, p.surfaces...) {
			has[f.Name] = f.About
		}
		listed := map[string]bool{}
		for _, f := range s.Sheets {
			listed[f.Name] = true
			if about, ok := has[f.Name]; !ok || about != f.About {
				t.Errorf("%s: %s, %q; the pack says %q", name, f.Name, f.About, about)
			}
		}
		for f := range has {
			if ext := f[strings.LastIndexByte(f, '.')+1:]; !listed[f] && ext != "svg" && ext != "png" && !strings.HasPrefix(f, "interchange/") {
				t.Errorf("%s: %s of the pack is not listed", name, f)
			}
		}
	}
}

// TestCutPiecesLeadToTheirCards asks for the card of every unit and cover of the demo jobs: those that are cut name their cut card,
// which is in the pack, and no other does; what holds the saw, by the plan, is said there, and nothing where nothing does.
func TestCutPiecesLeadToTheirCards(t *testing.T) {
	held, stopped := 0, 0
	for _, name := range demo.Names()[1:] {
		d, p, _ := opened(t, name)
		has := map[string]bool{}
		for _, f := range pack.Files(p.plan, p.job, p.surfaces...) {
			has[f.Name] = true
		}
		look := func(key string, cut bool, stops int) {
			t.Helper()
			var c Card
			asked(t, d, "card", map[string]any{"id": key}, &c, p)
			if (c.Paper != "") != cut || cut && !has[c.Paper] {
				t.Errorf("%s: %s, cut: %t, leads to %q", name, key, cut, c.Paper)
			}
			if len(c.Stop) != stops {
				t.Errorf("%s: %s says %q, want %d stops", name, key, c.Stop, stops)
			}
		}
		for _, u := range p.plan.Units {
			stops := 0
			if u.Hold {
				stops, held = stops+1, held+1
			}
			if u.Piece != nil && len(u.Piece.CutThings) > 0 {
				stops, stopped = stops+1, stopped+1
			}
			look("unit/"+u.Mark, u.Cut || u.Hold, stops)
		}
		for k, c := range p.plan.Covers {
			if c.Cut || k%11 == 0 {
				hold := 0
				for _, u := range p.plan.Units {
					if mark, _, _ := strings.Cut(c.Mark, "."); u.Mark == mark && u.Hold && c.Cut {
						hold = 1
					}
				}
				look("cover/"+c.Mark, c.Cut, hold)
			}
		}
	}
	if held == 0 || stopped == 0 {
		t.Errorf("%d units on hold and %d that the saw stops at: nothing was seen", held, stopped)
	}
}
