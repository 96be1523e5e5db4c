package interchange

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/landxml"
)

// layer is one thing that the plan gives a level at every joint.
type layer struct {
	name  string
	level func(planner.SetOut) *float64
}

// layers are written as profiles, the wall first: it is what a route's levels are taken for when it is read again.
func (r run) layers() []layer {
	s := r.Job.Speech()
	below := func(get func(*planner.Levels) *float64) func(planner.SetOut) *float64 {
		return func(row planner.SetOut) *float64 {
			if row.Levels == nil {
				return nil
			}
			return get(row.Levels)
		}
	}
	return []layer{
		{"top of wall", wallTop},
		{"top of cover", below(func(l *planner.Levels) *float64 { return l.Cover })},
		{"invert", below(func(l *planner.Levels) *float64 { return l.Invert })},
		{s.Say("underside of %s", wording.Unit), below(func(l *planner.Levels) *float64 { return l.Underside })},
		{s.Word(wording.Formation), below(func(l *planner.Levels) *float64 { return l.Formation })},
		{"drain", below(func(l *planner.Levels) *float64 { return l.Drain })},
	}
}

// profiles are the grades of a leg. What has no level somewhere is two profiles, none across the hole.
func (r run) profiles(leg string) []landxml.Profile {
	var out []landxml.Profile
	for _, l := range r.layers() {
		parts := r.parts(leg, l)
		for i, points := range parts {
			p := landxml.Profile{Name: l.name, PVIs: thinned(points)}
			if len(parts) > 1 {
				p.Name = fmt.Sprintf("%s (%d)", l.name, i+1)
			}
			out = append(out, p)
		}
	}
	return out
}

// parts are the levels of a layer along a leg, at every place of the set-out, in stretches without a hole of two places or
// more.
func (r run) parts(leg string, l layer) [][]landxml.PVI {
	var out [][]landxml.PVI
	var part []landxml.PVI
	end := func() {
		if len(part) > 1 {
			out = append(out, part)
		}
		part = nil
	}
	rows := r.rows[leg]
	for i, row := range rows {
		z := l.level(row)
		if z == nil {
			end()
			continue
		}
		behind := landxml.PVI{Chainage: measure.Length(row.Chainage), Level: measure.FromMetres(*z)}
		if i == 0 {
			part = append(part, r.carried(leg, behind, true)...)
		}
		if was := l.before(row); i > 0 && was != nil && *was != *z { // the unit before ends at its own level, on the near face of the joint
			at := behind.Chainage - max(measure.Length(r.gaps[row.Place].Gap)/2, 1)
			part = append(part, landxml.PVI{Chainage: at, Level: measure.FromMetres(*was)})
		}
		part = append(part, behind)
		if i == len(rows)-1 {
			part = append(part, r.carried(leg, behind, false)...)
		}
	}
	end()
	return out
}

// before is the level of a layer under the unit before a place, where it is another than that of the unit behind it: the run
// steps there, or two supplies meet. The drain runs on under both.
func (l layer) before(s planner.SetOut) *float64 {
	if s.Levels == nil || s.Levels.Before == nil {
		return nil
	}
	was, b := *s.Levels, s.Levels.Before
	was.Cover, was.Wall, was.Invert, was.Underside, was.Formation = b.Cover, b.Wall, b.Invert, b.Underside, b.Formation
	s.Levels = &was
	return l.level(s)
}

// carried is the point at a leg's node that its first or last grade reaches beyond the last place of the set-out: at a
// mitre the grade runs through to the node.
func (r run) carried(leg string, from landxml.PVI, atStart bool) []landxml.PVI {
	for _, g := range r.Grades {
		at := measure.Length(g.ToMM)
		if atStart {
			at = measure.Length(g.FromMM)
		}
		if g.Leg != leg || g.ToMM == g.FromMM || atStart && at >= from.Chainage || !atStart && at <= from.Chainage {
			continue
		}
		grade := float64(g.Rise) / float64(g.ToMM-g.FromMM)
		return []landxml.PVI{{Chainage: at, Level: from.Level + measure.Length(math.Round(grade*float64(at-from.Chainage)))}}
	}
	return nil
}

// within is how far a level may lie off the straight grade between two points that are written, in nanometres: levels of
// record are whole nanometres, so a point of a straight grade lies within one.
const within = 1

// thinned keeps the points where the grade changes: every other one lies on the straight between its neighbours.
func thinned(points []landxml.PVI) []landxml.PVI {
	keep := make([]bool, len(points))
	keep[0], keep[len(points)-1] = true, true
	for spans := [][2]int{{0, len(points) - 1}}; len(spans) > 0; {
		s := spans[len(spans)-1]
		spans = spans[:len(spans)-1]
		a, b := points[s[0]], points[s[1]]
		grade := float64(b.Level-a.Level) / float64(b.Chainage-a.Chainage)
		worst, at := float64(within), -1
		for i := s[0] + 1; i < s[1]; i++ {
			if off := math.Abs(float64(points[i].Level-a.Level) - float64(grade*float64(points[i].Chainage-a.Chainage))); off > worst {
				worst, at = off, i
			}
		}
		if at > 0 {
			keep[at] = true
			spans = append(spans, [2]int{s[0], at}, [2]int{at, s[1]})
		}
	}
	var out []landxml.PVI
	for i, p := range points {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}
