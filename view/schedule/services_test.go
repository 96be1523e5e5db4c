package schedule

import (
	"math"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/groundin"
	"trenchwright/view/jobtext"
	"trenchwright/view/table"
)

// servicesOf are the columns of the table of services by their keys.
func servicesOf(t *testing.T, p planner.Plan, j job.Job) map[string]table.Shelf {
	t.Helper()
	out := map[string]table.Shelf{}
	for _, one := range Of(p, j).Services() {
		if err := one.Check(); err != nil {
			t.Fatal(err)
		}
		for _, s := range one.Shelves() {
			out[s.Key] = s
		}
	}
	return out
}

// Every recorded service has one row on its leg, with the joint that is nearest of all of the leg's.
func TestServices(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		shelves, rows := servicesOf(t, p, j), 0
		for _, l := range j.Route.Legs {
			for _, v := range l.Services {
				row := -1
				for r := range shelves["id"].Texts {
					if shelves["id"].Texts[r] == v.ID && shelves["leg"].Texts[r] == l.ID {
						row, rows = r, rows+1
					}
				}
				if row < 0 {
					t.Fatalf("%s: service %s of leg %s has no row", name, v.ID, l.ID)
				}
				nearest, away := nearestJoint(p, l.ID, v.ID)
				if got := shelves["away"]; got.Known[row] != (nearest != "") || nearest != "" && math.Abs(got.Figures[row]-away) > 1e-6 {
					t.Errorf("%s: service %s is %v mm from joint %s, not %v from %q", name, v.ID, away, nearest, got.Texts[row], shelves["joint"].Texts[row])
				}
				if top := shelves["top"].Texts[row]; v.Depth == nil && v.Level == nil && !strings.HasPrefix(top, "NOT CHECKED: no depth and no level of "+v.Name) {
					t.Errorf("%s: service %s has its top at %q, and nobody recorded it", name, v.ID, top)
				}
			}
		}
		if rows != len(shelves["id"].Texts) {
			t.Errorf("%s: %d rows of %d services", name, len(shelves["id"].Texts), rows)
		}
	})
}

// nearestJoint looks at every joint of the leg, and at what the service itself takes of the laying axis: its zone without what
// it is kept away by.
func nearestJoint(p planner.Plan, leg, id string) (string, float64) {
	var v planner.Service
	for _, one := range p.Services {
		if one.Leg == leg && one.ID == id {
			v = one
		}
	}
	k := slices.IndexFunc(p.Legs, func(l planner.Leg) bool { return l.Name == leg })
	if v.Under == nil || p.Legs[k].SlopeRise != 0 { // on the level a chainage is a station on the axis and the setback
		return v.Joint, float64(pointed(v.Away)) / 1e6
	}
	set := p.Legs[k].StartSetback
	name, best := "", math.Inf(1)
	for _, j := range p.Joints {
		if j.Leg != leg {
			continue
		}
		gap := float64(max(0, j.At-j.Gap-(v.Under[1]-set), v.Under[0]-set-j.At)) / 1e6
		if gap < best {
			name, best = j.Name, gap
		}
	}
	return name, best
}

func pointed(m *measure.MM) measure.MM {
	if m == nil {
		return 0
	}
	return *m
}

// How a service lies is what the cross section at its middle shows, at whatever depth it was recorded.
func TestServicesLieAsTheirSectionShows(t *testing.T) {
	text, err := demo.File("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	j, _ := jobtext.Read("tram-depot.yaml", strings.NewReader(string(text)))
	g, _ := groundin.Survey(j, demo.Open)
	seen := map[string]bool{}
	for _, depth := range []float64{0, 1.2, 1.35, 4} {
		j := g.Job
		j.Route.Legs = slices.Clone(j.Route.Legs)
		for i := range j.Route.Legs {
			j.Route.Legs[i].Services = slices.Clone(j.Route.Legs[i].Services)
			for k := range j.Route.Legs[i].Services {
				if v := &j.Route.Legs[i].Services[k]; v.ID == "D-w1" {
					v.Depth = new(measure.FromMetres(depth))
				}
			}
		}
		p := planner.Make(j, g.Surfaces...)
		shelves := servicesOf(t, p, j)
		for i, v := range p.Services {
			want := lying(t, p, v)
			if v.Lies != want {
				t.Errorf("%s at a depth of %g m lies %q, its section shows %q", v.ID, depth, v.Lies, want)
			}
			seen[want] = true
			if len(v.Said) == 0 || shelves["findings"].Texts[i] != strings.Join(v.Said, " ") {
				t.Fatalf("%s: findings %q", v.ID, shelves["findings"].Texts[i])
			}
			k := slices.IndexFunc(p.Findings, func(f finding.Finding) bool { return f.Text != "" && strings.Contains(f.Text, `"`+v.Name+`"`) })
			if k < 0 || v.Said[0] != finding.Number(k) {
				t.Errorf("%s: finding %s, the one that names it is %s", v.ID, v.Said[0], finding.Number(max(k, 0)))
			}
		}
	}
	for _, class := range []string{"in unit", "deeper", "below bed", "unknown"} {
		if !seen[class] {
			t.Errorf("no service lay %q", class)
		}
	}
}

// lying is the class of a service by the section of the dig at its middle.
func lying(t *testing.T, p planner.Plan, v planner.Service) string {
	t.Helper()
	for _, s := range p.Dig.Sections {
		if s.Leg != v.Leg || (measure.Length(s.At)-measure.Length(v.At)).Abs() > measure.Millimetre {
			continue
		}
		for _, one := range s.Services {
			if one.ID != v.ID {
				continue
			}
			if one.Top == nil {
				return "unknown"
			}
			bottom := measure.MM(math.MaxInt64)
			for _, a := range s.Areas {
				for _, part := range a.Parts {
					for _, at := range part {
						if a.Of == "dig" {
							bottom = min(bottom, at[1])
						}
					}
				}
			}
			high, low := *one.Top+pointed(one.Zone), *one.Bottom-pointed(one.Zone)
			switch {
			case high <= bottom:
				return "deeper"
			case high > *s.Levels.Underside && low < *s.Levels.Cover:
				return "in unit"
			case *one.Top <= bottom:
				return "below bed"
			case high <= *s.Levels.Underside:
				return "in bed"
			}
			return "above"
		}
	}
	t.Fatalf("no section at service %s", v.ID)
	return ""
}

// In a view of the other system levels follow it, and what does not says so in its head.
func TestLevelsFollowTheView(t *testing.T) {
	r := depotInMetres()
	p := r.plan
	p.Job.System = string(job.Imperial)
	own, viewed := Of(r.plan, r.job), Of(p, r.job)
	for _, name := range []string{"set-out", "services", "pegs", "points"} {
		a, _ := own.Table(name)
		b, ok := viewed.Table(name)
		if !ok {
			continue
		}
		heads, _ := b.Shown()
		for i, c := range b.Columns {
			if c.Kind == table.KindLength && (c.Unit == "m" || c.Unit == "") && !strings.Contains(heads[i], "the job's own unit") {
				t.Errorf("table %s: column %q is shown in the job's own unit without a word", name, heads[i])
			}
		}
		for i, s := range b.Shelves() { // figures that columns are sorted by are the same ones
			was := a.Shelves()[i]
			for k := range s.Figures {
				if s.Known[k] != was.Known[k] || math.Abs(s.Figures[k]-was.Figures[k]) > 1e-6 {
					t.Fatalf("table %s, %s: %v became %v", name, s.Key, was.Figures[k], s.Figures[k])
				}
			}
		}
	}
	if notes := viewed.SetOut().Notes; !slices.ContainsFunc(notes, func(n string) bool { return strings.HasPrefix(n, "levels are shown in feet") }) {
		t.Errorf("no word on what the view changes: %q", notes)
	}
}
