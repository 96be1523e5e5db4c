package schedule

import "trenchwright/view/table"

// Head is a table by its name, before anybody asked for it.
type Head struct {
	Name, Title string
	Rows        int
}

// Heads are the heads of All, at a small part of its cost: the tables that have a row for every unit, cover, joint or place
// are not made for it.
func (s Set) Heads() []Head {
	short := s
	short.plan.Units, short.plan.Covers, short.plan.Joints, short.plan.SetOut = nil, nil, nil, nil
	held := 0
	for i := range s.plan.Units {
		if s.plan.Units[i].Hold {
			held++
		}
	}
	var out []Head
	add := func(more int, all ...table.Table) {
		for _, t := range all {
			out = append(out, Head{Name: t.Name, Title: t.Title, Rows: len(t.Rows) + more})
		}
	}
	add(held, short.Cutting())
	add(len(s.plan.Units), short.Laying())
	add(len(s.plan.Covers), short.Covers())
	add(len(s.plan.Joints), short.Joints())
	add(0, s.Zones(), s.Stretches())
	add(len(s.plan.SetOut), short.SetOut())
	add(0, append(s.some(), s.Bill(), s.Orders(), s.Findings(), s.Proof())...)
	return out
}

// Table is one of All by its name; false: there is none of that name.
func (s Set) Table(name string) (table.Table, bool) {
	one := map[string]func() table.Table{"cutting": s.Cutting, "schedule": s.Laying, "covers": s.Covers, "joints": s.Joints, "zones": s.Zones, "stretches": s.Stretches, "set-out": s.SetOut,
		"bill": s.Bill, "orders": s.Orders, "findings": s.Findings, "proof": s.Proof}
	if make, ok := one[name]; ok {
		return make(), true
	}
	for _, t := range s.some() {
		if t.Name == name {
			return t, true
		}
	}
	return table.Table{}, false
}
