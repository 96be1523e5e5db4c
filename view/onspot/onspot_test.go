package onspot

import (
	"strings"
	"testing"

	"trenchwright/demo"
	"trenchwright/job/planner"
)

func stand(t *testing.T, name, at string) *Place {
	g, err := demo.Surveyed(name)
	if err != nil {
		t.Fatal(err)
	}
	p := &Place{Job: g.Job, Surfaces: g.Surfaces}
	plan, answers := planner.Ask(g.Job, g.Surfaces...)
	p.Plan, p.Answers = &plan, answers
	if p.Spot, err = answers.Find(at, ""); err != nil {
		t.Fatal(err)
	}
	return p
}

// Every moment answers on every demo from its own examples, in lines without a figure finer than anybody builds, and says of a slip which
// figure it is.
func TestEveryMomentAnswers(t *testing.T) {
	for _, name := range demo.Names() {
		p := stand(t, name, "B-002")
		for _, m := range All() {
			typed := map[string]string{}
			for _, f := range m.Fields {
				typed[f.Name] = f.Like
			}
			if m.ID == "short" {
				typed["missing"] = p.Plan.Units[len(p.Plan.Units)-1].Mark
			}
			if m.ID == "level" { // near what is planned there
				for _, r := range p.Plan.SetOut {
					if r.Place == "B-001/B-002" && r.Levels != nil {
						typed["level"] = strings.Fields((&asking{Place: p}).levelText(*r.Levels.Cover + 0.004))[0]
					}
				}
			}
			a := m.At(p, typed)
			if len(a.Faults) > 0 || len(a.Lines)+len(a.Open) == 0 {
				t.Errorf("%s: %s: %+v", name, m.ID, a)
			}
			for _, line := range a.Lines {
				if strings.Contains(line, "%!") || strings.Contains(line, "  ") || line == "" {
					t.Errorf("%s: %s says %q", name, m.ID, line)
				}
			}
			for _, f := range m.Fields {
				if len(f.Only) > 0 || f.Name == "instrument" {
					continue
				}
				slip := map[string]string{}
				for k, v := range typed {
					slip[k] = v
				}
				slip[f.Name] = "a few"
				if a := m.At(p, slip); len(a.Faults) == 0 || len(a.Lines) > 0 {
					t.Errorf("%s: %s takes \"a few\" for %s: %+v", name, m.ID, f.Name, a)
				}
			}
		}
	}
}

// What moments come to, by hand. A reading of 0.65 ft is 7.8 in, and read as 6.5 in it is 1.3 in off (a standing example of the trade; the
// arithmetic is exact). Two pegs: 545 mm apart in height by the half way readings, 5 mm of collimation on 40 m (closed form).
func TestMomentsByHand(t *testing.T) {
	p := stand(t, "tram-depot", "B-006")
	for _, c := range []struct {
		id    string
		typed map[string]string
		want  string
	}{
		{"reading", map[string]string{"reading": "0.65 ft"}, "0.6500 ft = 7 13/16\" = 7.80 in = 198.1 mm"},
		{"reading", map[string]string{"reading": "0.65 ft"}, "off by 33 mm"},
		{"instrument", map[string]string{"mid-a": "2.340 m", "mid-b": "1.795 m", "end-a": "1.985 m", "end-b": "1.435 m", "apart": "40 m", "beyond": "5 m"}, "peg B stands 545 mm above peg A"},
		{"covers", map[string]string{"gap": "6 mm", "unit": "3010 mm"}, "4 mm back behind every unit; behind 12 units 48 mm"},
		{"bend", map[string]string{"angle": "43.6"}, "21.80° from square: the outer wall is 280 mm longer"},
		{"short", map[string]string{"missing": "B-004"}, "147 of 148 units can be laid"},
		{"reach", map[string]string{"mass": "1305 kg", "tackle": "55 kg", "chart": "3m:5t, 4m:3600kg", "pick": "3 m", "set": "3.5 m"}, "limit 4300 kg"},
		{"vehicle", map[string]string{"axle": "120 kN", "dynamic": "20"}, "NOT CHECKED: no load rating"},
		{"service", map[string]string{"width": "110 mm", "clear": "300 mm"}, "no joint stands inside"},
	} {
		m, _ := Find(c.id)
		if a := m.At(p, c.typed); !strings.Contains(strings.Join(a.Lines, "\n"), c.want) {
			t.Errorf("%s: %q is not in\n%s", c.id, c.want, strings.Join(a.Lines, "\n"))
		}
	}
	m, _ := Find("service")
	if a := m.At(p, map[string]string{"width": "110 mm", "clear": "300 mm", "depth": "200 mm"}); len(a.Stop) != 2 || !strings.HasPrefix(a.Stop[0], "STOP") {
		t.Errorf("a service within the unit's height: %v", a.Stop)
	}
}
