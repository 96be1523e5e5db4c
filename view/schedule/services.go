package schedule

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Services are what is recorded as buried where it meets a leg: how it lies to what is dug and set there, and where it keeps
// joints away; no table where nothing is recorded.
func (s Set) Services() []table.Table {
	if len(s.plan.Services) == 0 {
		return nil
	}
	t := table.Table{Name: "services", Title: capital(s.say("%s where they meet the run", wording.Services)), Columns: []table.Column{
		text("leg", "leg"), text("id", "id"), text("name", "what it is"), s.surveyed("at", s.speech.Word(wording.Chainage)), text("lies", "where it lies")}}
	t.Columns = append(append(t.Columns, s.level("top", "its top")...), s.level("underside", "its underside")...)
	t.Columns = append(t.Columns, text("recorded", "top from"), s.length("above", "top above bottom of dig"), s.length("zone", "zone each way"), text("known", "place known by"),
		s.length("width", "wide"), angle("skew", "angle to the run"), s.surveyed("under_from", s.say("under the %s from", wording.Unit)), s.surveyed("under_to", s.say("under the %s to", wording.Unit)),
		text("joint", "nearest joint"), s.length("away", "from it to the joint"), s.surveyed("free_from", "no joint from"), s.surveyed("free_to", "no joint to"), text("findings", "findings"))
	t.Notes = s.notes(s.say("this lists what was recorded here. Nothing recorded does not mean that nothing is there: no dig begins without asking the owner of every %s", wording.Service),
		s.say("%s of its middle, along the leg from its first node; under the %s from, to: over the width of its outer body", wording.Chainage, wording.Unit),
		"its underside: its width is taken as its height, for no other size is on file",
		"top above bottom of dig: the lowest that is dug there; negative: below it",
		"top from: what was recorded; a depth counts from the ground as it is where its middle crosses",
		"from it to the joint: along the run from its nearer side; 0: the joint stands over it")
	t.Notes = append(t.Notes, s.ownUnits()...)
	for i := range s.plan.Services {
		v := &s.plan.Services[i]
		row := append([]table.Cell{table.Text(v.Leg), table.Text(v.ID), table.Text(v.Name), mm(v.At), s.lies(v.Lies)}, s.topAndUnderside(v)...)
		row = append(row, recordedAs(v), overBottom(v), zoneRound(v), knownBy(v), mm(v.Width), deg(v.Skew))
		row = append(append(row, pair(v.Under)...), said(v.Joint), maybe(v.Away))
		t.Rows = append(t.Rows, append(append(row, pair(v.Free)...), said(strings.Join(v.Said, " "))))
	}
	return []table.Table{t}
}

// pair is where a stretch begins and ends; empty where it cannot be said.
func pair(at *[2]measure.MM) []table.Cell {
	if at == nil {
		return make([]table.Cell, 2)
	}
	return []table.Cell{mm(at[0]), mm(at[1])}
}

func maybe(m *measure.MM) table.Cell {
	if m == nil {
		return table.Cell{}
	}
	return mm(*m)
}

func knownBy(v *planner.Service) table.Cell {
	if v.Quality == "" {
		return table.Text("NOT CHECKED: no word on file about how the place of " + v.Name + " is known. Ask: whoever recorded it")
	}
	return table.Text(v.Quality)
}

func zoneRound(v *planner.Service) table.Cell {
	if v.Zone == nil {
		return table.Text("NOT CHECKED: no tolerance zone round recorded services on file. Ask: their owners")
	}
	return mm(*v.Zone)
}

// topAndUnderside are the levels of a service, or why there are none.
func (s Set) topAndUnderside(v *planner.Service) []table.Cell {
	if v.Top != nil {
		low := *v.Top - measure.Length(v.Width).Metres()
		return append(s.levelCell(v.Top), s.levelCell(&low)...)
	}
	none := "NOT CHECKED: no depth and no level of " + v.Name + " on file. Ask: whoever owns it"
	if v.Depth != nil {
		none = "NOT CHECKED: no ground on file where " + v.Name + " crosses. Ask: the surveyor"
	}
	out := append(s.levelCell(nil), s.levelCell(nil)...)
	out[0] = table.Text(none)
	return out
}

// recordedAs says where the level of a service's top comes from.
func recordedAs(v *planner.Service) table.Cell {
	switch {
	case v.Level:
		return table.Text("its level")
	case v.Depth != nil:
		return table.Text("its depth")
	}
	return table.Cell{}
}

// overBottom is how far the top of a service lies above the bottom of the dig.
func overBottom(v *planner.Service) table.Cell {
	if v.Top == nil || v.Bottom == nil {
		return table.Cell{}
	}
	return table.Length(measure.FromMetres(*v.Top) - measure.FromMetres(*v.Bottom))
}

// lies says how a service lies to what is dug and set.
func (s Set) lies(class string) table.Cell {
	switch class {
	case "in unit":
		return table.Text(s.say("it or its zone: where the %s is to stand", wording.Unit))
	case "in bed":
		return table.Text(s.say("in the %s or a %s", wording.Bed, wording.Pad))
	case "below bed":
		return table.Text(s.say("below the %s, its zone reaches the dig", wording.Bed))
	case "deeper":
		return table.Text("below the dig, it and its zone")
	case "above":
		return table.Text("above the cover, in ground that is dug")
	case "unknown":
		return table.Text(s.say("depth unknown: it counts as lying where the %s is to stand", wording.Unit))
	}
	return table.Text("NOT CHECKED: no dig on file. Ask: whoever has the survey and the levels")
}
