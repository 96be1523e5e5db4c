package screen

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// Every box of a day card can be keyed in: the line, four corners of the bed or the pads, covers, and remarks. What was keyed stands in the
// grid after it, on legs that are laid from either end, and in the state of each place; a box that was left empty makes no record.
func TestAWholeCardIsKeyedIn(t *testing.T) {
	turned, missing := 0, 0
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		o, _ := atSite(t, name)
		legs := o.grid(map[string]any{}).Legs
		for _, l := range legs {
			g := o.grid(map[string]any{"leg": l.ID, "fields": map[string]string{"boxes": "all"}})
			var heads []string
			for _, h := range g.Heads {
				heads = append(heads, h.Name)
			}
			if !g.Whole || !slices.Equal(heads, []string{"off", "line", "left", "right", "level", "a", "b", "c", "d", "covers"}) {
				t.Fatalf("%s leg %s: %q", name, l.ID, heads)
			}
			r := g.Rows[0]
			row := map[string]string{"place": r.Place, "off": "2", "line": "-3"}
			for i, h := range g.Heads {
				if r.Boxes[i].Shut || r.Boxes[i].Planned == "not on file" {
					continue
				}
				switch h.Name {
				case "a", "b", "c", "d", "level":
					row[h.Name] = strings.Fields(r.Boxes[i].Planned)[0]
				case "left":
					row["left"], row["right"] = "8", "="
				case "covers":
					row["covers"] = "."
					if strings.HasPrefix(r.Boxes[i].Planned, "3 ") || strings.HasPrefix(r.Boxes[i].Planned, "4 ") {
						row["covers"] = "-2"
						missing++
					}
				}
			}
			top := maps.Clone(cardTop)
			top["boxes"], top["remarks"] = "all", "two covers chipped at a corner, leg "+l.ID
			k := o.keyed(map[string]any{"rows": []map[string]string{row}, "fields": top})
			if !k.Full || len(k.Records) != 1 || !strings.Contains(k.Records[0], `"diary"`) {
				t.Fatalf("%s %s: %+v", name, r.Place, k)
			}
			o.keepKeyed(k)
			after := o.grid(map[string]any{"leg": l.ID, "from": r.Place, "fields": map[string]string{"boxes": "all"}}).Rows[0]
			for i, h := range g.Heads {
				has, was := after.Boxes[i].Has, r.Boxes[i].Planned
				switch {
				case row[h.Name] == "":
				case h.Name == "covers":
					n := 0
					fmt.Sscan(was, &n)
					if row["covers"] != "." {
						n--
					}
					if has != fmt.Sprintf("%d laid", n) {
						t.Errorf("%s %s: of %s all but %q were keyed, the grid has %q", name, r.Place, was, row["covers"], has)
					}
				case strings.Contains("abcd", h.Name) || h.Name == "level":
					if has != was {
						t.Errorf("%s %s, %s: keyed %s, the grid has %q", name, r.Place, h.Label, row[h.Name], has)
					}
				case h.Name == "line" && !strings.Contains(has, "left"):
					t.Errorf("%s %s: keyed 3 to the left, the grid has %q", name, r.Place, has)
				}
			}
			if a := row["a"]; a != "" { // near, as it is laid
				one := o.keyed(map[string]any{"rows": []map[string]string{{"place": r.Place, "a": a}}, "fields": top})
				corner := field.Corners[0]
				if back(o.p, l.ID) {
					corner = field.Corners[2]
					turned++
				}
				if len(one.Rows[0].Records) != 1 || !strings.Contains(one.Rows[0].Records[0], fmt.Sprintf("%q", corner)) {
					t.Errorf("%s %s: keyed near left, which is %s, and recorded %q", name, r.Place, corner, one.Rows[0].Records)
				}
			}
			bad := o.keyed(map[string]any{"rows": []map[string]string{{"place": r.Place, "covers": "-99"}}, "fields": top})
			if bad.Full || !strings.Contains(bad.Rows[0].Missing, "write . where all") && r.Boxes[9].Planned != "" && !r.Boxes[9].Shut {
				t.Errorf("%s %s: no such cover: %+v", name, r.Place, bad)
			}
		}
	}
	if turned == 0 || missing == 0 {
		t.Errorf("%d legs from the other end, %d with a cover missing: too few to say anything", turned, missing)
	}
}

// back tells whether a leg is laid from its to node.
func back(p demoed, leg string) bool {
	return slices.ContainsFunc(p.plan.Legs, func(l planner.Leg) bool { return l.Name == leg && l.LaidFrom == l.To && l.To != l.From })
}
