package screen

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/view/schedule"
)

// table is one of the plan's tables, ready to be shown and sorted.
func (d *draft) table(name string) (Table, error) {
	t, ok := schedule.Of(d.plan, d.job).Table(name)
	if !ok {
		return Table{}, fmt.Errorf("this plan has no table %q", name)
	}
	out := Table{Name: t.Name, Title: t.Title, Notes: filled(t.Notes), Columns: []TableColumn{}, Rows: len(t.Rows), Keys: make([]string, len(t.Rows))}
	for _, s := range t.Shelves() {
		c := TableColumn{Key: s.Key, Head: s.Head, Numeric: s.Numeric, Texts: s.Texts, Sort: Gaps(s.Figures)}
		for r, known := range s.Known {
			if !known {
				c.Sort[r] = math.NaN()
			}
		}
		out.Columns = append(out.Columns, c)
	}
	d.keys(&out)
	return out, nil
}

// keys finds the card that belongs to each row: of the first of its cells that names something.
func (d *draft) keys(t *Table) {
	if t.Name == "zones" { // each row is that of a thing, and leads to it
		for r, z := range slices.Concat(d.plan.Zones, d.plan.NoCuts) {
			t.Keys[r] = thingKey(z.Kind, z.Leg, z.ID)
		}
		return
	}
	if t.Name == "services" {
		for r, v := range d.plan.Services {
			t.Keys[r] = thingKey("service", v.Leg, v.ID)
		}
		return
	}
	if t.Name == "things" {
		for r, x := range schedule.Of(d.plan, d.job).Things() {
			t.Keys[r] = thingKey(x.Kind, x.Leg, x.ID)
			if x.Kind == "pin" || x.Kind == "outlet" {
				t.Keys[r] = x.Kind + "/" + x.ID
			}
		}
		return
	}
	joints := map[string]bool{}
	for i := range d.plan.Joints {
		joints[d.plan.Joints[i].Name] = true
	}
	covers := map[string]bool{}
	for i := range d.plan.Covers {
		covers[d.plan.Covers[i].Mark] = true
	}
	for _, column := range []string{"mark", "place", "joint", "unit", "number", "from", "id", "leg"} {
		for _, c := range t.Columns {
			if c.Key != column {
				continue
			}
			for r, text := range c.Texts {
				if t.Keys[r] != "" {
					continue
				}
				_, unit := d.unitAt[text]
				_, leg := d.legs[text]
				switch {
				case unit:
					t.Keys[r] = "unit/" + text
				case covers[text]:
					t.Keys[r] = "cover/" + text
				case joints[text]:
					t.Keys[r] = "joint/" + text
				case column == "number" && t.Name == "findings":
					t.Keys[r] = "finding/" + text
				case column == "number" && (t.Name == "checks" || t.Name == "checks-working"):
					t.Keys[r] = "check/" + text
				case column == "leg" && leg:
					t.Keys[r] = "leg/" + text
				}
			}
		}
	}
}
