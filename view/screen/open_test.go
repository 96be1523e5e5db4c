package screen

import (
	"encoding/json"
	"fmt"
	"reflect"
	"testing"

	"trenchwright/demo"
	"trenchwright/demo/longrun"
	"trenchwright/job"
	"trenchwright/job/edit"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// demoed is a demo job with its ground, its plan and what answers come from.
type demoed struct {
	job      job.Job
	surfaces []*ground.Surface
	plan     planner.Plan
	answers  *planner.Answers
	clips    map[string][]byte
}

var demoPlans = map[string]demoed{} // each is made once: nothing changes them

func demoPlan(t testing.TB, name string) demoed {
	if p, ok := demoPlans[name]; ok {
		return p
	}
	on, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	p := demoed{job: on.Job, surfaces: on.Surfaces, clips: map[string][]byte{}}
	p.plan, p.answers = planner.Ask(on.Job, on.Surfaces...)
	for _, c := range on.Clips {
		p.clips[c.Name] = c.Bytes
	}
	demoPlans[name] = p
	return p
}

// TestNothingIsNull holds every list of a screen to be a list, for a browser goes through it without asking.
func TestNothingIsNull(t *testing.T) {
	for _, name := range demo.Names() {
		p := demoPlan(t, name)
		s := Of(p.plan, p.job, View{}, p.surfaces...)
		nulls(t, name, reflect.ValueOf(s))
	}
	nulls(t, "empty", reflect.ValueOf(Of(planner.Make(job.Job{Format: 1}), job.Job{Format: 1}, View{})))
}

func nulls(t *testing.T, at string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			nulls(t, at+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Slice:
		if _, writes := v.Interface().(json.Marshaler); v.IsNil() && !writes {
			t.Errorf("%s is null", at)
		}
		for i := range min(v.Len(), 50) {
			nulls(t, fmt.Sprintf("%s[%d]", at, i), v.Index(i))
		}
	}
}

// TestStrip holds what every drawing relies on: all things lie on the strip, in order, and the columns belong together.
func TestStrip(t *testing.T) {
	for _, name := range demo.Names() {
		p := demoPlan(t, name)
		s := Of(p.plan, p.job, View{}, p.surfaces...)
		check := func(ok bool, text string, args ...any) {
			if !ok {
				t.Errorf("%s: %s", name, fmt.Sprintf(text, args...))
			}
		}
		n := len(s.Units.Mark)
		check(n == len(p.plan.Units) && n == len(s.Units.From) && n == len(s.Units.To) && n == len(s.Units.Leg) && n == len(s.Units.Flags) && 8*n == len(s.Plan.Corners), "columns of units differ")
		check(len(s.Covers.Unit) == len(p.plan.Covers) && len(s.Covers.From) == len(s.Covers.Unit), "columns of covers differ")
		check(len(s.Joints.At) == len(p.plan.Joints), "columns of joints differ")
		at := 0.0
		for _, l := range s.Legs {
			check(l.From == at && l.To > l.From, "leg %s begins at %v, the one before it ends at %v", l.ID, l.From, at)
			at = l.To
		}
		check(at == s.Length, "the strip is %v, its legs end at %v", s.Length, at)
		for i := range n {
			l := s.Legs[s.Units.Leg[i]]
			check(l.From-1 <= s.Units.From[i] && s.Units.From[i] < s.Units.To[i] && s.Units.To[i] <= l.To+1, "unit %s lies from %v to %v, its leg from %v to %v", s.Units.Mark[i], s.Units.From[i], s.Units.To[i], l.From, l.To)
			check(i < l.First+l.Units && i >= l.First, "unit %s is none of those of its leg", s.Units.Mark[i])
			if i > 0 {
				check(s.Units.From[i] > s.Units.To[i-1]-1, "units %s and %s overlap", s.Units.Mark[i-1], s.Units.Mark[i])
			}
		}
		for k, i := range s.Joints.Before {
			check(s.Units.To[i] <= s.Joints.At[k]+0.1 && s.Joints.At[k] <= s.Units.From[i+1]+0.1, "joint behind %s stands at %v, not between %v and %v", s.Units.Mark[i], s.Joints.At[k], s.Units.To[i], s.Units.From[i+1])
			check(s.Units.Mark[i]+"/"+s.Units.Mark[i+1] == p.plan.Joints[jointOf(p.plan, s.Units.Mark[i])].Name, "joint behind %s", s.Units.Mark[i])
		}
		for k, i := range s.Covers.Unit {
			check(s.Units.From[i]-0.1 <= s.Covers.From[k] && s.Covers.To[k] <= s.Units.To[i]+0.1, "cover %s.%d lies beside its unit", s.Units.Mark[i], s.Covers.Number[k])
		}
		for _, z := range s.Zones {
			check(z.From < z.To, "zone %s", z.Key)
		}
		check(len(s.Section.Lines) > 0 && s.Section.Low < s.Section.High, "no section")
		for _, l := range s.Section.Lines {
			check(len(l.Levels) == len(s.Section.Stations[l.Stations]), "section line %s: %d levels at %d stations", l.Of, len(l.Levels), len(s.Section.Stations[l.Stations]))
		}
		check(len(s.Plan.Contours) > 0, "no contours")
	}
}

func jointOf(p planner.Plan, before string) int {
	for k, j := range p.Joints {
		if len(j.Name) > len(before) && j.Name[:len(before)+1] == before+"/" {
			return k
		}
	}
	return 0
}

// TestCentrelineReachesNodes holds the flattened line of every leg to the plan's units: their axes begin and end on it.
func TestCentrelineReachesNodes(t *testing.T) {
	for _, name := range demo.Names() {
		p := demoPlan(t, name)
		d := newDraft(p.plan, p.job, p.surfaces, View{})
		for u := range p.plan.Units {
			unit := &p.plan.Units[u]
			leg := d.legs[unit.Leg]
			from, _ := d.ends(u)
			if off := d.lines[leg].at(from).Distance(point(unit.Axis[0])); off > 0.006 {
				t.Errorf("%s: %s begins %.4f m beside the drawn line", name, unit.Mark, off)
			}
		}
	}
}

// BenchmarkOpen is what the screen of a run of 5,000 units costs once it is planned: made, and written as JSON.
func BenchmarkOpen(b *testing.B) {
	j := longrun.Job(15, 1)
	p := planner.Make(j)
	b.Run("model", func(b *testing.B) {
		for b.Loop() {
			Of(p, j, View{})
		}
	})
	s := Of(p, j, View{})
	b.Run("json", func(b *testing.B) {
		b.SetBytes(int64(len(encode(s))))
		b.ReportMetric(float64(len(s.Units.Mark)), "units")
		for b.Loop() {
			encode(s)
		}
	})
}

// BenchmarkDesk is what a screen waits for on a run of 5,000 units: a job opened again after its plan was made, its first outline,
// and a node that is dragged.
func BenchmarkDesk(b *testing.B) {
	j := longrun.Job(15, 1)
	var d Desk
	ask := func(name string, args map[string]any) []byte {
		q, err := json.Marshal(args)
		if err != nil {
			b.Fatal(err)
		}
		out, err := d.Ask(name, q, nil)
		if err != nil {
			b.Fatal(err)
		}
		return out
	}
	text := string(job.CanonicalJSON(j))
	ask("open", map[string]any{"job": text})
	b.Run("open again", func(b *testing.B) {
		for b.Loop() {
			ask("open", map[string]any{"job": text})
		}
	})
	b.Run("outline", func(b *testing.B) {
		for b.Loop() {
			ask("outline", map[string]any{"job": text})
		}
	})
	b.Run("sketch", func(b *testing.B) {
		n := d.plan.Nodes[10]
		for i := 0; b.Loop(); i++ {
			at := [2]float64{n.At[0] + float64(i%50)*0.03, n.At[1] - float64(i%37)*0.02}
			ask("sketch", map[string]any{"edits": []edit.Edit{{Op: edit.MoveNode, Node: n.ID, Place: &at, Origin: d.plan.Job.Origin}}})
		}
	})
}
