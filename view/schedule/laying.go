package schedule

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Laying is the schedule in laying order: plain units as their type, special ones by their mark.
func (s Set) Laying() table.Table {
	t := table.Table{Name: "schedule", Title: "Schedule in laying order", Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("lay", "lay"), text("supply", "supply"), s.length("length", "length"),
		s.length("start", "start on axis"), s.length("chainage", s.word("chainage", "station")), angle("from", "angle at start"), angle("to", "angle at end"),
		s.mass("mass", "mass"), text("lift", "lifting"), text("why", "asked for by"),
	}, Notes: s.notes("plain units have no mark of their own: any unit of that length and supply will do")}
	lift := map[string]string{}
	for _, h := range s.plan.Supplies {
		lift[h.ID] = h.Lifting
	}
	for _, u := range s.ordered() {
		lay := "any " + measure.Length(u.Length).MMString() + " mm"
		how := lift[u.Supply]
		switch {
		case u.Hold:
			lay = u.Mark + ", HOLD: cut from measurement"
		case u.Cut:
			lay = u.Mark + ", painted"
		}
		if u.Piece != nil {
			how = u.Piece.Lift
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(u.Leg), table.Text(u.Mark), table.Text(lay), table.Text(u.Supply), mm(u.Length), mm(u.Start), mm(u.Chainage),
			deg(u.StartAngle), deg(u.EndAngle), kilos(u.Mass), table.Text(how), table.Text(u.Demands)})
	}
	return t
}

// ordered are the units leg by leg, in the order in which they are laid.
func (s Set) ordered() []planner.Unit {
	leg := map[string]int{}
	for i, l := range s.plan.Legs {
		leg[l.Name] = i
	}
	us := slices.Clone(s.plan.Units)
	slices.SortStableFunc(us, func(a, b planner.Unit) int {
		return cmp.Or(cmp.Compare(leg[a.Leg], leg[b.Leg]), cmp.Compare(a.Mark, b.Mark))
	})
	return us
}

// Covers are listed unit by unit: every cover lies wholly on one unit.
func (s Set) Covers() table.Table {
	t := table.Table{Name: "covers", Title: "Covers, unit by unit", Columns: []table.Column{
		text("unit", "on unit"), text("mark", "cover"), s.length("start", "start on unit"), s.length("length", "length on axis"), text("cut", "cut"),
		s.length("left", "left side"), s.length("right", "right side"), angle("from", "angle at start"), angle("to", "angle at end"), s.mass("mass", "mass"), text("cutfrom", "cut from"),
	}, Notes: s.notes("every cover lies wholly on one unit; covers are counted from the start of their unit, never from the end of the run")}
	for _, c := range s.plan.Covers {
		t.Rows = append(t.Rows, []table.Cell{table.Text(c.Unit), table.Text(c.Mark), mm(c.Start), mm(c.Length), yes(c.Cut, "cut"),
			mm(c.LeftSide), mm(c.RightSide), deg(c.StartAngle), deg(c.EndAngle), kilos(c.Mass), table.Text(c.CutFrom)})
	}
	return t
}

// Joints say what each joint's one budget is spent on.
func (s Set) Joints() table.Table {
	t := table.Table{Name: "joints", Title: "Joints and their budgets", Columns: []table.Column{
		text("joint", "joint"), text("leg", "leg"), s.length("at", "next unit starts at"), s.length("gap", "gap"), s.length("min", "least"), s.length("max", "most"),
		s.length("room", "room"), s.length("turn", "turn"), s.length("grade", "grade"), s.length("square", "out of square"), s.length("reserve", "reserve"), s.length("left", "left"), text("note", "note"),
	}, Notes: s.notes("a joint has one window; turn in plan, change of grade, squareness and drift are paid from it, what is left is the gang's")}
	for _, j := range s.plan.Joints {
		b := j.Budget
		note := j.Note
		if j.Forced != "" {
			note = join(note, "forced joint "+j.Forced)
		}
		if len(b.Missing) > 0 {
			note = join(note, "NOT CHECKED: no "+strings.Join(b.Missing, ", no ")+" on file")
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(j.Name), table.Text(j.Leg), mm(j.At), mm(j.Gap), mm(j.GapMin), mm(j.GapMax),
			mm(b.Room), mm(b.Turn), mm(b.Grade), mm(b.Square), mm(b.Reserve), mm(b.Left), table.Text(note)})
	}
	return t
}
