package schedule

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
	"trenchwright/view/table"
)

// Laying is the schedule in laying order: plain units as their type, special ones by their mark.
func (s Set) Laying() table.Table {
	t := table.Table{Name: "schedule", Title: "Schedule in laying order", Columns: []table.Column{
		text("leg", "leg"), text("place", "place"), text("lay", "lay"), text("supply", "supply"), s.length("length", "length"), s.length("stock", "from one of"),
		s.length("start", "start on axis"), s.length("chainage", s.speech.Word(wording.Chainage)), angle("from", "angle at start"), angle("to", "angle at end"),
		s.mass("mass", "mass"), text("lift", "lifting"), text("why", "asked for by"),
	}, Notes: s.notes("plain "+s.units()+" have no mark of their own: any of that length and supply will do", s.handNote())}
	lift := map[string]string{}
	for _, h := range s.plan.Supplies {
		lift[h.ID] = h.Lifting
	}
	for _, u := range s.ordered() {
		lay := "plain"
		switch {
		case u.Hold:
			lay = "HOLD: cut from measurement"
		case u.StartAngle != 0 || u.EndAngle != 0:
			lay = s.say("%s, by its mark", wording.Mitred)
		case u.Cut:
			lay = "cut, by its mark"
		}
		how := lift[u.Supply]
		if u.Piece != nil {
			how = u.Piece.Lift
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(u.Leg), table.Text(u.Mark), table.Text(lay), table.Text(u.Supply), mm(u.Length), mm(u.Stock), mm(u.Start), mm(u.Chainage),
			deg(u.StartAngle), deg(u.EndAngle), kilos(u.Mass), said(how), said(u.Demands)})
	}
	return t
}

// ordered are the units leg by leg, in the order in which they are laid: along the leg, or against it where that is asked.
func (s Set) ordered() []planner.Unit {
	leg, against := map[string]int{}, map[string]bool{}
	for i, l := range s.plan.Legs {
		leg[l.Name], against[l.Name] = i, l.LaidFrom == l.To && l.LaidFrom != l.From
	}
	us := slices.Clone(s.plan.Units)
	sorting.By(us, func(a, b planner.Unit) int {
		first, second := a.Start, b.Start
		if against[a.Leg] {
			first, second = second, first
		}
		return cmp.Or(cmp.Compare(leg[a.Leg], leg[b.Leg]), cmp.Compare(first, second))
	})
	return us
}

// Covers are listed unit by unit: every cover lies wholly on one unit.
func (s Set) Covers() table.Table {
	t := table.Table{Name: "covers", Title: "Covers, " + s.unit() + " by " + s.unit(), Columns: []table.Column{
		text("unit", "on "+s.unit()), text("mark", "cover"), s.length("start", "start on it"), s.length("length", "length on axis"), s.length("stock", "from one of"), text("cut", "cut"),
		s.length("left", "left side"), s.length("right", "right side"), angle("from", "angle at start"), angle("to", "angle at end"), s.mass("mass", "mass"), text("cutfrom", "cut from"),
	}, Notes: s.notes("every cover lies wholly on one "+s.unit()+"; covers are counted from the start of it, never from the end of the run", s.handNote())}
	for _, c := range s.plan.Covers {
		t.Rows = append(t.Rows, []table.Cell{table.Text(c.Unit), table.Text(c.Mark), mm(c.Start), mm(c.Length), mm(c.Stock), yes(c.Cut, "cut"),
			mm(c.LeftSide), mm(c.RightSide), deg(c.StartAngle), deg(c.EndAngle), kilos(c.Mass), said(c.CutFrom)})
	}
	return t
}

// Joints say what each joint's one budget is spent on.
func (s Set) Joints() table.Table {
	t := table.Table{Name: "joints", Title: "Joints and their budgets", Columns: []table.Column{
		text("joint", "joint"), text("leg", "leg"), s.length("at", "next "+s.unit()+" starts at, on axis"), s.length("gap", "gap"), s.length("min", "least"), s.length("max", "most"),
		s.length("room", "room"), s.length("turn", "turn"), s.length("grade", "grade"), s.length("square", "out of square"), s.length("reserve", "reserve"), s.length("left", "left"), text("note", "note"),
	}, Notes: s.notes("a joint has one window; turn in plan, change of grade, squareness and drift are paid from it, what is left is the gang's")}
	for _, j := range s.plan.Joints {
		b := j.Budget
		note := j.Note
		if j.Forced != "" {
			note = join(note, "forced joint "+j.Forced)
		}
		if len(b.Missing) > 0 {
			note = join(note, "NOT CHECKED: no "+strings.Join(b.Missing, ", no ")+" on file. Ask: those whom the findings name")
		}
		t.Rows = append(t.Rows, []table.Cell{table.Text(j.Name), table.Text(j.Leg), mm(j.At), mm(j.Gap), mm(j.GapMin), mm(j.GapMax),
			mm(b.Room), mm(b.Turn), mm(b.Grade), mm(b.Square), mm(b.Reserve), mm(b.Left), said(note)})
	}
	return t
}

// Zones are where no joint may stand, and where joints may stand but nothing cut may lie.
func (s Set) Zones() table.Table {
	t := table.Table{Name: "zones", Title: "Where no joint may stand, and no cut piece may lie", Columns: []table.Column{
		text("leg", "leg"), s.length("from", "from, on axis"), s.length("to", "to, on axis"), text("kind", "kind"), text("id", "id"), text("why", "why"), text("joints", "joints"), text("cut", "cut pieces"),
	}, Notes: s.notes("this lists what was recorded here. Nothing recorded does not mean that nothing is there")}
	add := func(joints string, zones []planner.Zone) {
		for _, z := range zones {
			t.Rows = append(t.Rows, []table.Cell{table.Text(z.Leg), mm(z.From), mm(z.To), table.Text(s.zoneKind(z.Kind)), table.Text(z.ID), table.Text(z.Why), table.Text(joints), yes(z.NoCut, "none may lie here")})
		}
	}
	add("none may stand here", s.plan.Zones)
	add("may stand here", s.plan.NoCuts)
	return t
}

// zoneKind is what asks for a zone, in the job's words.
func (s Set) zoneKind(kind string) string {
	switch kind {
	case "service":
		return s.speech.Word(wording.Service)
	case "entry":
		return "conduit entry"
	}
	return kind
}
