package planner_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// even is a surface with one level everywhere.
func even(t *testing.T, j job.Job, role ground.Role, level float64) *ground.Surface {
	t.Helper()
	var s ground.Survey
	s.Role, s.Origin = role, planner.Origin(j)
	for _, e := range []float64{-90, 190} {
		for _, n := range []float64{-90, 90} {
			p := s.Origin.Point(route.Coordinates{E: measure.FromMetres(e), N: measure.FromMetres(n)})
			s.Points = append(s.Points, ground.Point{E: p.E, N: p.N, Z: level})
		}
	}
	out, found := ground.Triangulate(s)
	if out == nil {
		t.Fatal(found)
	}
	return out
}

// with is a job of which one part is written anew, as a job file writes it.
func with(t *testing.T, j job.Job, part string) job.Job {
	t.Helper()
	text, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	var whole, anew map[string]json.RawMessage
	if err := json.Unmarshal(text, &whole); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte("{"+part+"}"), &anew); err != nil {
		t.Fatalf("%s: %v", part, err)
	}
	maps.Copy(whole, anew)
	if text, err = json.Marshal(whole); err != nil {
		t.Fatal(err)
	}
	out, faults := job.FromJSON(text)
	for _, f := range append(faults, job.Faults(out)...) {
		t.Fatalf("%s: %s %s", part, f.Text, f.Try)
	}
	return out
}

// dug is a level dig of 60 m, its bottom so far below the ground: cover 70, unit 560 and pad 20 take 650 mm, the bed the rest.
func dug(t *testing.T, depth measure.Length, stated string) planner.Plan {
	t.Helper()
	j := straight(t)
	j.Ground.Surfaces = append(j.Ground.Surfaces, job.Surface{ID: "natural", Role: job.ExistingGround, File: "none.csv"})
	bed := depth - 650*measure.Millimetre
	j = with(t, j, fmt.Sprintf(`"dig": {"bed": "%s mm", "room": "400 mm", %s}`, bed.MMString(), stated))
	p := planner.Make(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
	if p.Dig == nil || len(p.Excavation) != 1 {
		t.Fatalf("no dig: %v", p.Findings)
	}
	if got := measure.Length(p.Excavation[0].Deepest); got != depth {
		t.Fatalf("the dig is %s mm deep, %s mm were asked for", got.MMString(), depth.MMString())
	}
	return p
}

// Every jurisdiction's rules are reached from what a job file states, and turn at their own figure: 5 ft is 1524 mm, 20 ft
// 6096 mm, and a depth at the figure is told apart from one beyond it as the rule's words do. Source: published.md §1.
func TestEveryJurisdictionAtItsBoundaries(t *testing.T) {
	const meets, doesNot, cannotSay = "meets the stated figure", "does not meet the stated figure", "cannot say"
	const upright, sloped = `"sides": "vertical"`, `"sides": "sloped", "slope": "1:2"`
	const osha = `"jurisdiction": "osha", "soil": "C", `
	const noSigns, signs = osha + `"signs": false, ` + upright, osha + `"signs": true, ` + upright
	until := func(depth string) string {
		return osha + sloped + `, "engineer": {"document": "D3", "by": "the engineer for temporary works", "until": "` + depth + `"}`
	}
	ladders := func(rules, at, more string) string {
		return `"jurisdiction": "` + rules + `", ` + upright + `, "ladders": [` + at + `]` + more
	}
	const every15 = `{"leg": "A", "at": "7.5 m"}, {"leg": "A", "at": "22.5 m"}, {"leg": "A", "at": "37.5 m"}, {"leg": "A", "at": "52.5 m"}`
	const every50ft = `{"leg": "A", "at": "25 ft"}, {"leg": "A", "at": "75 ft"}, {"leg": "A", "at": "125 ft"}, {"leg": "A", "at": "172 ft"}`
	for _, c := range []struct{ depth, stated, id, want string }{
		{"3.99 ft", osha + upright, "sides", cannotSay}, {"3.99 ft", noSigns, "sides", meets}, {"3.99 ft", signs, "sides", doesNot},
		{"4.00 ft", noSigns, "sides", meets}, {"4.99 ft", noSigns, "sides", meets}, {"5.00 ft", noSigns, "sides", doesNot},
		{"3.99 ft", noSigns, "way-out", ""}, {"4.00 ft", noSigns, "way-out", cannotSay}, {"4.00 ft", ladders("osha", every50ft, ""), "way-out", meets},
		{"4.00 ft", ladders("osha", every50ft, `, "ladder_above": "2.99 ft"`), "ladder-above", doesNot}, {"4.00 ft", ladders("osha", every50ft, `, "ladder_above": "3 ft"`), "ladder-above", meets},
		{"4.00 ft", ladders("osha", `{"leg": "A", "at": "25 ft"}`, ""), "way-out", doesNot},
		{"4.00 ft", noSigns, "air", ""}, {"4.01 ft", noSigns, "air", cannotSay}, {"4.01 ft", noSigns + `, "oxygen": "19.5"`, "air", meets}, {"4.01 ft", noSigns + `, "oxygen": "19.4"`, "air", doesNot},
		{"5.99 ft", noSigns + `, "walkways": [{"leg": "A", "at": "9 m", "guardrail": false}]`, "guardrail", ""},
		{"6.00 ft", noSigns + `, "walkways": [{"leg": "A", "at": "9 m", "guardrail": false}]`, "guardrail", doesNot},
		{"6.00 ft", noSigns + `, "walkways": [{"leg": "A", "at": "9 m", "guardrail": true}]`, "guardrail", meets},
		{"8.00 ft", `"jurisdiction": "osha", "soil": "B", "wet": true, ` + sloped, "water", doesNot}, {"8.00 ft", osha + `"wet": true, ` + sloped, "water", meets},
		{"8.00 ft", osha + `"sides": "sloped", "slope": "2:3"`, "slope", meets}, {"8.00 ft", osha + `"sides": "sloped", "slope": "1:1"`, "slope", doesNot},
		{"8.00 ft", osha + sloped + `, "upright": "1 ft"`, "upright-part", doesNot},
		{"12.00 ft", `"jurisdiction": "osha", "soil": "A", "hours": 24, "sides": "sloped", "slope": "2:1"`, "slope", meets},
		{"12.01 ft", `"jurisdiction": "osha", "soil": "A", "hours": 24, "sides": "sloped", "slope": "2:1"`, "slope", doesNot},
		{"8.00 ft", osha + `"sides": "supported"`, "sides", cannotSay},
		{"8.00 ft", osha + `"sides": "supported", "support": {"document": "D3", "by": "the maker", "until": "7.99 ft"}`, "sides", doesNot},
		{"8.00 ft", osha + `"sides": "supported", "shield": {"above": "17 in", "below": "24 in"}`, "shield-above", doesNot},
		{"8.00 ft", osha + `"sides": "supported", "shield": {"above": "18 in", "below": "24 in"}`, "shield-below", meets},
		{"8.00 ft", osha + `"sides": "benched", "bench": {"height": "4 ft", "width": "4 ft"}`, "slope", cannotSay},
		{"8.00 ft", noSigns + `, "strip": {"setback": "1.99 ft"}`, "spoil", doesNot},
		{"20.00 ft", osha + sloped, "engineer", meets}, {"20.01 ft", osha + sloped, "engineer", doesNot + ", stop"},
		{"20.01 ft", until("20 ft"), "engineer", doesNot + ", stop"}, {"20.01 ft", until("20.01 ft"), "engineer", cannotSay},
		{"1500 mm", `"jurisdiction": "alberta", ` + upright, "sides", meets}, {"1501 mm", `"jurisdiction": "alberta", ` + upright, "sides", doesNot},
		{"3000 mm", `"jurisdiction": "alberta", "soil": "hard and compact", "sides": "sloped", "slope": "1:1", "upright": "1500 mm"`, "upright-part", meets},
		{"3000 mm", `"jurisdiction": "alberta", "soil": "hard and compact", "sides": "sloped", "slope": "1:1", "upright": "1501 mm"`, "upright-part", doesNot},
		{"1501 mm", ladders("alberta", every15, ""), "way-out", meets},
		{"1200 mm", `"jurisdiction": "bc", ` + upright, "sides", meets}, {"1201 mm", `"jurisdiction": "bc", ` + upright, "sides", doesNot},
		{"6000 mm", `"jurisdiction": "bc", ` + sloped, "engineer", meets}, {"6001 mm", `"jurisdiction": "bc", ` + sloped, "engineer", doesNot + ", stop"},
		{"2000 mm", `"jurisdiction": "bc", "beside": "1:3", ` + sloped, "ground-beside", meets}, {"2000 mm", `"jurisdiction": "bc", "beside": "1:2.9", ` + sloped, "ground-beside", doesNot + ", stop"},
		{"1400 mm", `"jurisdiction": "canada", ` + upright, "sides", meets}, {"1401 mm", `"jurisdiction": "canada", ` + upright, "sides", doesNot},
		{"1401 mm", `"jurisdiction": "canada", "sides": "sloped", "slope": "1:1"`, "slope", doesNot}, {"1401 mm", `"jurisdiction": "canada", ` + sloped, "sides", meets},
		{"1499 mm", `"jurisdiction": "nt", ` + upright, "sides", meets}, {"1500 mm", `"jurisdiction": "nt", ` + upright, "sides", doesNot},
		{"1500 mm", `"jurisdiction": "nt", "engineer": {"document": "D3", "by": "a geotechnical engineer", "until": "1.5 m"}, ` + upright, "sides", cannotSay},
		{"1999 mm", `"jurisdiction": "norway", "signs": false, ` + upright, "sides", meets}, {"2000 mm", `"jurisdiction": "norway", "signs": false, ` + upright, "sides", cannotSay},
		{"2001 mm", `"jurisdiction": "norway", ` + upright, "sides", doesNot}, {"1000 mm", ladders("norway", "", ""), "way-out", ""}, {"1001 mm", ladders("norway", every15, ""), "way-out", meets},
		{"1201 mm", `"jurisdiction": "ontario", "soil": "3", ` + sloped, "slope", cannotSay},
		{"1200 mm", `"jurisdiction": "quebec", "soil": "no danger of a slide", ` + sloped, "slope", meets},
		{"1200 mm", `"jurisdiction": "quebec", "soil": "no danger of a slide", "sides": "sloped", "slope": "1:1"`, "slope", doesNot},
		{"1200 mm", ladders("quebec", every15, ""), "way-out", meets}, {"1200 mm", ladders("quebec", every15, `, "ladder_above": "999 mm"`), "ladder-above", doesNot},
	} {
		var depth measure.Length
		if err := depth.UnmarshalText([]byte(c.depth)); err != nil {
			t.Fatal(err)
		}
		got := ""
		e := dug(t, depth, c.stated).Excavation[0]
		for _, r := range e.Results {
			if r.ID == "excavation."+c.id {
				if got = r.Verdict; r.Stop {
					got += ", stop"
				}
			}
		}
		if got != c.want || e.Stopped != strings.HasSuffix(c.want, "stop") && c.id == "engineer" {
			t.Errorf("%s, %s\n%s: %q, want %q", c.depth, c.stated, c.id, got, c.want)
		}
	}
}

// texts are the findings with an id, with figures.
func texts(p planner.Plan, id string) (out []string) {
	for _, f := range p.Findings {
		if f.ID == id {
			out = append(out, strings.TrimSpace(f.Text+" | "+f.Value+" | "+f.Limit+" | "+f.Try))
		}
	}
	return out
}

// A service is spoken of by its depth under the ground or by its level, and its tolerance zone counts.
func TestServicesByDepth(t *testing.T) {
	// cover top 100, underside of the unit 99.37, bottom of the dig 99.20
	for _, c := range []struct{ where, id, says string }{
		{`"depth": "1400 mm"`, "earthwork.service-deeper", "0.600 m below the bottom of the dig"},
		{`"depth": "1140 mm"`, "earthwork.service-below-bed", "0.340 m below the bottom of the dig, within its zone"},
		{`"depth": "1000 mm"`, "earthwork.service-in-unit", "0.200 m below the bottom of the dig, and its zone of 0.500 m reaches 0.130 m above the underside"},
		{`"level": 98.87`, "earthwork.service-below-bed", "0.330 m below"},
		{`"level": 98.9`, "earthwork.service-in-unit", "0.300 m below the bottom of the dig, and its zone of 0.500 m reaches 30.000 mm above the underside of the unit"},
		{`"level": 99.1`, "earthwork.service-in-unit", "0.100 m below the bottom of the dig, and its zone of 0.500 m reaches 0.230 m above the underside"},
		{`"level": 99.25`, "earthwork.service-in-unit", "its zone of 0.500 m reaches 0.380 m above the underside"},
		{`"level": 99.6`, "earthwork.service-in-unit", "0.230 m above the underside"},
		{`"quality": "from a plan"`, "earthwork.service-depth-unknown", "depth unknown. It counts as lying where the"},
	} {
		j := straight(t)
		j.Ground.Surfaces = append(j.Ground.Surfaces, job.Surface{ID: "natural", Role: job.ExistingGround, File: "none.csv"})
		j = with(t, j, `"dig": {"bed": "150 mm", "room": "400 mm", "sides": "vertical", "tolerance": "500 mm"}, "route": {"nodes": [
			{"id": "N1", "at": [0, 0], "end": {"kind": "open"}}, {"id": "N2", "at": [60, 0], "end": {"kind": "open"}}], "legs": [{"id": "A", "from": "N1", "to": "N2",
			"services": [{"id": "W1", "name": "water main", "at": "31 m", "width": "200 mm", "clear": "300 mm", `+c.where+`}]}]}`)
		p := planner.Make(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
		said := texts(p, c.id)
		if len(said) != 1 || !strings.Contains(said[0], c.says) {
			t.Errorf("%s: %q, want %q\n%v", c.where, said, c.says, p.Findings)
		}
		for _, f := range p.Findings {
			if low := strings.ToLower(f.Text + f.Try); strings.Contains(low, "clear of") || strings.Contains(low, "is clear") || strings.Contains(low, "safe") {
				t.Errorf("a verdict that nobody can give: %s", f.Text)
			}
		}
	}
	// in the bed, with a zone that does not reach the unit
	j := straight(t)
	j.Ground.Surfaces = append(j.Ground.Surfaces, job.Surface{ID: "natural", Role: job.ExistingGround, File: "none.csv"})
	j = with(t, j, `"dig": {"bed": "250 mm", "room": "400 mm", "sides": "vertical", "tolerance": "20 mm"}`)
	j.Route.Legs[0].Services = []job.Service{{ID: "W1", Name: "water main", At: 31 * measure.Metre, Width: 50 * measure.Millimetre, Level: new(99.25)}}
	p := planner.Make(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
	if said := texts(p, "earthwork.service-in-bed"); len(said) != 1 || !strings.Contains(said[0], "0.150 m above the bottom of the dig") {
		t.Errorf("%q %v", said, p.Findings)
	}
}

// Where a deeper supply begins, its formation lies deeper beside what is set, and that is said with figures.
func TestDeeperStepAtATransition(t *testing.T) {
	j := readDemo(t, "tram-depot")
	deep := j.Supplies[0]
	deep.ID, deep.Fittings = "deep", nil
	o := deep.Unit.Outer.Value
	o.Height += 200 * measure.Millimetre
	deep.Unit.Outer.Value = o
	in := deep.Unit.Inner.Value
	in.Height += 200 * measure.Millimetre
	deep.Unit.Inner.Value = in
	s := straight(t)
	s.Supplies = append(s.Supplies, deep)
	s.Ground.Surfaces = append(s.Ground.Surfaces, job.Surface{ID: "natural", Role: job.ExistingGround, File: "none.csv"})
	for _, c := range []struct{ stated, id, says string }{
		{`, "influence": "1:1.5"`, "earthwork.undermines", "steps by 200 mm"},
		{"", "finding.none-on-file", "line down from the foot of what is set"},
	} {
		j := with(t, s, `"dig": {"bed": "150 mm", "room": "400 mm", "sides": "vertical"`+c.stated+`}, "route": {"nodes": [{"id": "N1", "at": [0, 0], "end": {"kind": "open"}},
			{"id": "N2", "at": [30, 0]}, {"id": "N3", "at": [60, 0], "end": {"kind": "open"}}], "legs": [{"id": "A", "from": "N1", "to": "N2"}, {"id": "B", "from": "N2", "to": "N3", "supply": "deep"}]}`)
		p := planner.Make(j, even(t, j, ground.Existing, 100), even(t, j, ground.Finished, 100))
		found := false
		for _, f := range p.Findings {
			if strings.Contains(f.Text, c.says) && (c.stated == "" || f.ID == c.id) {
				found = true
				t.Logf("%s | %s | %s | %s | %s", f.ID, f.Text, f.Value, f.Limit, f.Try)
				if c.stated != "" && (f.Try == "" || f.Value == "" || f.Kind != finding.Attention || !strings.Contains(f.Text, "300 mm")) {
					t.Errorf("%+v", f)
				}
			}
		}
		if !found {
			t.Errorf("%s is not said: %v", c.says, p.Findings)
		}
	}
}

// Passes follow from a class, a fill and a layer; without the class nothing is said of them but that it is missing.
func TestPassesOfTheMethod(t *testing.T) {
	for _, c := range []struct {
		layer, method string
		passes        int
		id            string
	}{
		{"150 mm", `"method": {"class": "plate-1800", "fill": "granular"}`, 5, "planner.passes"},
		{"150 mm", `"method": {"class": "vibrotamper-50", "fill": "cohesive"}`, 8, "planner.passes"},
		{"150 mm", `"method": {"class": "vibrotamper-50", "fill": "cohesive", "wholly_cohesive": true}`, 0, "compaction.layer-not-permitted"},
		{"250 mm", `"method": {"class": "single-drum-3500", "fill": "granular"}`, 0, "compaction.layer-not-permitted"},
		{"100 mm", `"method": {"class": "twin-drum-2000", "fill": "granular"}`, 2, "planner.passes"},
		{"100 mm", `"method": {"class": "vibrotamper-25", "fill": "granular"}`, 6, "planner.passes"},
		{"150 mm", `"compactor": "plate"`, 0, "job.missing.dig-method"},
	} {
		p := dug(t, measure.Metre, `"jurisdiction": "alberta", "sides": "vertical", "layer": "`+c.layer+`", `+c.method)
		got := 0
		if p.Dig.Passes != nil {
			got = p.Dig.Passes.Passes
		}
		if got != c.passes || len(texts(p, c.id)) != 1 {
			t.Errorf("%s, %s: %d passes, want %d; %q", c.layer, c.method, got, c.passes, texts(p, c.id))
		}
	}
}
