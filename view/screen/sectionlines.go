package screen

import (
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// section is the run from its side: the ground as its surfaces have it, the run as its levels have it at every joint.
func (d *draft) section() Section {
	s := Section{Stations: []Numbers{}, Lines: []SectionLine{}, Grades: []SectionGrade{}, Services: []SectionThing{}, Pins: []SectionThing{}, Outlets: []SectionThing{}, Low: math.Inf(1), High: math.Inf(-1)}
	for _, leg := range d.order {
		d.groundLines(leg, &s)
		d.runLines(leg, &s)
		d.sectionServices(leg, &s)
	}
	d.gradeLabels(&s)
	d.pinsAndOutlets(&s)
	if s.Low > s.High {
		s.Low, s.High = 0, 0
	}
	s.Said = d.sectionSaid(&s)
	return s
}

// sectionSaid is what the section lacks, in words.
func (d *draft) sectionSaid(s *Section) string {
	has := map[string]bool{}
	for _, l := range s.Lines {
		has[l.Of] = true
	}
	switch {
	case !has["existing"] && !has["wall"]:
		return "NOT CHECKED: no survey of the ground and no levels of the run on file. Ask: the surveyor"
	case !has["existing"]:
		return "NOT CHECKED: no survey of the ground as it is on file. Ask: the surveyor"
	case !has["wall"]:
		return "NOT CHECKED: no levels of the run on file. Ask: whoever set them out"
	}
	return ""
}

// line adds a line, and sees to it that its levels are shown.
func (s *Section) line(of string, leg, stations int, levels Gaps) {
	known := false
	for _, z := range levels {
		if !math.IsNaN(z) {
			s.Low, s.High, known = math.Min(s.Low, z), math.Max(s.High, z), true
		}
	}
	if known {
		s.Lines = append(s.Lines, SectionLine{Of: of, Leg: leg, Stations: stations, Levels: levels})
	}
}

// groundLines are the surfaces along a leg's centreline; where one of them ends, its line has a gap.
func (d *draft) groundLines(leg int, s *Section) {
	line := d.lines[leg].points()
	if len(line) < 2 {
		return
	}
	for _, role := range []ground.Role{ground.Existing, ground.Finished, ground.Rock, ground.Water} {
		g := d.ground.Of(role)
		if g == nil {
			continue
		}
		cut := g.Section(line)
		if cut.Length <= 0 {
			continue
		}
		scale := mm(d.plan.Legs[leg].NodeLength) / cut.Length
		var at Numbers
		var levels Gaps
		for k, stretch := range cut.Stretches {
			if k > 0 {
				at, levels = append(at, d.begins[leg]+float64(stretch[0].Along*scale)), append(levels, math.NaN())
			}
			for _, c := range stretch {
				at, levels = append(at, d.begins[leg]+float64(c.Along*scale)), append(levels, c.Level)
			}
		}
		s.Stations = append(s.Stations, at)
		s.line(string(role), d.rank[leg], len(s.Stations)-1, levels)
	}
}

// runLines are the run along a leg as the levels at its joints have it: a unit is rigid and lies straight between two.
func (d *draft) runLines(leg int, s *Section) {
	rows := d.plan.SetOut[d.rows[leg]:d.rows[leg+1]]
	stepped := slices.ContainsFunc(rows, func(r planner.SetOut) bool { return r.Levels != nil && r.Levels.Before != nil })
	var at Numbers
	for k := range rows {
		if stepped && k > 0 {
			at = append(at, d.strip(leg, rows[k].Chainage))
		}
		at = append(at, d.strip(leg, rows[k].Chainage))
	}
	s.Stations = append(s.Stations, at)
	before := len(s.Lines)
	for _, one := range sectionLevels {
		var levels Gaps
		for k := range rows {
			behind, ahead := one.of(&rows[k])
			if stepped && k > 0 {
				levels = append(levels, known(ahead))
			}
			levels = append(levels, known(behind))
		}
		s.line(one.name, d.rank[leg], len(s.Stations)-1, levels)
	}
	if len(s.Lines) == before {
		s.Stations = s.Stations[:len(s.Stations)-1]
	}
}

// known is a level, or a gap.
func known(m *float64) float64 {
	if m == nil {
		return math.NaN()
	}
	return *m
}

// sectionLevels are the lines of the run with their levels at a place: of the unit behind it, and of the one before it.
var sectionLevels = [...]struct {
	name string
	of   func(r *planner.SetOut) (behind, before *float64)
}{
	{"cover", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.Cover }, func(b *planner.Before) *float64 { return b.Cover })
	}},
	{"wall", func(r *planner.SetOut) (x, y *float64) {
		if r.Levels == nil {
			return r.Level, r.Level
		}
		return pick(r, func(l *planner.Levels) *float64 { return l.Wall }, func(b *planner.Before) *float64 { return b.Wall })
	}},
	{"invert", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.Invert }, func(b *planner.Before) *float64 { return b.Invert })
	}},
	{"underside", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.Underside }, func(b *planner.Before) *float64 { return b.Underside })
	}},
	{"pad", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.PadBase }, func(b *planner.Before) *float64 { return b.PadBase })
	}},
	{"formation", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.Formation }, func(b *planner.Before) *float64 { return b.Formation })
	}},
	{"under_pad", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.UnderPad }, func(b *planner.Before) *float64 { return b.UnderPad })
	}},
	{"drain", func(r *planner.SetOut) (x, y *float64) {
		return pick(r, func(l *planner.Levels) *float64 { return l.Drain }, nil)
	}},
}

func pick(r *planner.SetOut, of func(*planner.Levels) *float64, ahead func(*planner.Before) *float64) (behind, before *float64) {
	if r.Levels == nil {
		return nil, nil
	}
	behind = of(r.Levels)
	if r.Levels.Before == nil || ahead == nil {
		return behind, behind
	}
	return behind, ahead(r.Levels.Before)
}

// sectionServices are the services of a leg at the depth that is on file.
func (d *draft) sectionServices(leg int, s *Section) {
	name := d.plan.Legs[leg].Name
	for _, v := range d.asked[name].Services {
		t := d.thing(leg, "service", v.ID, v.At, v.Width, v.Skew, d.serviceLabel(v))
		one := SectionThing{Key: t.Key, ID: v.ID, Leg: t.Leg, At: t.At, From: t.From, To: t.To, Label: t.Label}
		switch g := d.ground.Of(ground.Existing); {
		case v.Level != nil:
			one.Top = new(*v.Level * d.metres)
		case v.Depth != nil && g != nil:
			if z, ok := g.At(d.lines[leg].at(t.At)); ok {
				one.Top = new(z.Z - v.Depth.Metres())
			}
		}
		if one.Top != nil { // no other size of it is on file: it is as high as it is wide
			one.Bottom = new(*one.Top - v.Width.Metres())
			s.Low = math.Min(s.Low, *one.Bottom)
		}
		s.Services = append(s.Services, one)
	}
}

func (d *draft) gradeLabels(s *Section) {
	for _, g := range d.plan.Grades {
		leg, ok := d.legs[g.Leg]
		if !ok {
			continue
		}
		s.Grades = append(s.Grades, SectionGrade{Of: "run", Leg: d.rank[leg], From: d.strip(leg, g.FromMM), To: d.strip(leg, g.ToMM), Label: gradeLabel(g.Grade)})
	}
	if d.plan.Drain == nil {
		return
	}
	for _, g := range d.plan.Drain.Grades {
		if leg, ok := d.legs[g.Leg]; ok {
			s.Grades = append(s.Grades, SectionGrade{Of: "drain", Leg: d.rank[leg], From: d.strip(leg, g.FromMM), To: d.strip(leg, g.ToMM), Label: gradeLabel(g.Grade)})
		}
	}
}

// gradeLabel is a grade as it is said, looking up-chainage: falls 0.55 % ↘.
func gradeLabel(grade string) string {
	number := strings.TrimSuffix(grade, " %")
	size, falls := strings.CutPrefix(number, "-")
	if whole, part, ok := strings.Cut(size, "."); ok {
		for len(part) > 2 && strings.HasSuffix(part, "0") {
			part = part[:len(part)-1]
		}
		size = whole + "." + part
	}
	switch {
	case strings.Trim(size, "0.") == "":
		return "level →"
	case falls:
		return "falls " + size + " % ↘"
	}
	return "rises " + size + " % ↗"
}

func (d *draft) pinsAndOutlets(s *Section) {
	at := func(name string, chainage measure.Length) (int, float64, bool) {
		leg, ok := d.legs[name]
		if !ok {
			return 0, 0, false
		}
		return d.rank[leg], d.strip(leg, measure.MM(chainage)), true
	}
	see := func(z *float64) {
		if z != nil {
			s.Low, s.High = math.Min(s.Low, *z), math.Max(s.High, *z)
		}
	}
	for _, p := range d.job.Levels.Pins {
		if leg, x, ok := at(p.Leg, p.At); ok {
			t := SectionThing{Key: "pin/" + p.ID, ID: p.ID, Leg: leg, At: x, From: x, To: x, Top: new(p.Level * d.metres), Of: orElse(p.Of, "cover"), Label: d.pinLabel(p)}
			see(t.Top)
			s.Pins = append(s.Pins, t)
		}
	}
	for _, o := range d.job.Levels.Outlets {
		if leg, x, ok := at(o.Leg, o.At); ok {
			t := SectionThing{Key: "outlet/" + o.ID, ID: o.ID, Leg: leg, At: x, From: x, To: x, Of: orElse(o.Of, "both"), Label: d.outletLabel(o)}
			if o.Drain != nil {
				t.Top = new(*o.Drain * d.metres)
			}
			see(t.Top)
			s.Outlets = append(s.Outlets, t)
		}
	}
}

func orElse(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
