package screen

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// curveOf is the one curve of the tram depot's run, 450 m on leg F.
func curveOf(t testing.TB, s Screen) Curve {
	t.Helper()
	for _, l := range s.Plan.Legs {
		for _, c := range l.Curves {
			return c
		}
	}
	t.Fatal("no curve is on the screen")
	return Curve{}
}

// handles are where a curve begins, has its middle and ends, as the page draws them.
func (c Curve) handles() [3][2]float64 {
	at := func(v [2]float64) [2]float64 {
		return [2]float64{c.Corner[0] + v[0]*c.Radius/1e6, c.Corner[1] + v[1]*c.Radius/1e6}
	}
	return [3][2]float64{at(c.Begin), at(c.Middle), at(c.End)}
}

// TestCurveIsThatOfTheAxis holds what a hand drags against the arc of the plan's own centreline, at the radius of the job and at
// others: three handles on it, at the chainages that are told.
func TestCurveIsThatOfTheAxis(t *testing.T) {
	d, p, s := opened(t, "tram-depot")
	c := curveOf(t, s)
	if c.Key != "curve/F/1" || c.Radius != 450 || !strings.Contains(c.Label, "450") || c.Path != "route.legs[F].via[0].radius" {
		t.Fatalf("the curve is %+v", c)
	}
	holds := func(t testing.TB, c Curve, line PlanLeg) {
		for i, h := range c.handles() {
			at := line.at(c.Strip[i])
			if off := math.Hypot(at.E-h[0], at.N-h[1]); off > 0.011 { // the line is straight between points of the arc, 5 mm off it at most
				t.Errorf("handle %d lies %.4f m off the line at %.1f mm of the strip", i, off, c.Strip[i])
			}
		}
	}
	for i, l := range s.Plan.Legs {
		if s.Legs[i].ID == "F" {
			holds(t, c, l)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		radius := math.Round(rapid.Float64Range(30, 700).Draw(r, "radius")*10) / 10
		var k Sketch
		asked(t, d, "sketch", map[string]any{"edits": []map[string]any{{"op": "set", "path": c.Path, "radius_m": radius}}}, &k, p)
		if len(k.Faults) > 0 {
			return
		}
		for _, leg := range k.Touched {
			if k.Legs[leg.Leg].ID != "F" {
				continue
			}
			if len(leg.Line.Curves) != 1 || leg.Line.Curves[0].Radius != radius {
				r.Fatalf("at %v m: %+v", radius, leg.Line.Curves)
			}
			holds(t, leg.Line.Curves[0], leg.Line)
		}
	})
}

func TestRadiusIsDraggedInStepsAndRefusedInWords(t *testing.T) {
	d, p, s := opened(t, "tram-depot")
	c := curveOf(t, s)
	drag := func(radius, step float64, view string) (k Sketch) {
		asked(t, d, "sketch", map[string]any{"system": view, "edits": []map[string]any{{"op": "set", "path": c.Path, "radius_m": radius}}, "snap": map[string]any{"grid_m": step}}, &k, p)
		return k
	}
	for _, one := range []struct {
		radius, step, want float64
		view, words        string
	}{
		{462.3, 5, 460, "metric", "to full 5 m"}, {459, 25, 450, "metric", "to full 25 m"}, {457.2, 100 * 0.3048, 457.2, "imperial", "to full 100 ft"}, {0.4, 5, 5, "metric", "to full 5 m"},
	} {
		k := drag(one.radius, one.step, one.view)
		if k.Radius == nil || math.Abs(*k.Radius-one.want) > 1e-9 || k.DrawnTo != one.words {
			t.Errorf("%v m in steps of %v m: %v %q", one.radius, one.step, k.Radius, k.DrawnTo)
		}
	}
	if k := drag(463.456, 0, "metric"); k.Radius != nil || k.DrawnTo != "" {
		t.Errorf("without steps it is drawn to %v %q", k.Radius, k.DrawnTo)
	}
	if k := drag(9000, 5, "metric"); len(k.Faults) == 0 || !strings.Contains(k.Faults[0].Text, "straight") || k.Faults[0].Try == "" {
		t.Errorf("a radius that its straights have no room for: %+v", k.Faults)
	} else {
		t.Log(k.Faults[0].Text, "| Try:", k.Faults[0].Try)
	}
	for _, typed := range []string{"9 km", "0 m", "wide"} { // typed and kept is refused likewise, before anything is planned
		var e Edited
		asked(t, d, "edit", map[string]any{"edits": []map[string]any{{"op": "set", "path": c.Path, "text": typed}}}, &e, p)
		if e.Job != "" || len(e.Faults) == 0 || e.Faults[0].Text == "" {
			t.Errorf("a radius of %s is kept: %v", typed, e.Faults)
		}
	}
	k := drag(50, 5, "metric")
	for _, l := range k.Legs {
		if l.ID == "F" && (l.Verdict != "impossible" || l.Why == "") {
			t.Errorf("at 50 m leg F is %s: %s", l.Verdict, l.Why)
		} else if l.ID == "F" {
			t.Log(l.Why)
		}
	}
}

func TestCurveHasACard(t *testing.T) {
	d, p, _ := opened(t, "tram-depot")
	var card, leg Card
	asked(t, d, "card", map[string]any{"id": "curve/F/1"}, &card, p)
	fields := map[string]string{}
	for _, f := range card.Fields {
		fields[f.Path] = f.Text
	}
	if fields["route.legs[F].via[0].radius"] != "450 m" || fields["route.legs[F].via[0].at"] == "" || card.Strip[1] <= card.Strip[0] {
		t.Errorf("%+v", card)
	}
	asked(t, d, "card", map[string]any{"id": "leg/F"}, &leg, p)
	led := false
	for _, g := range leg.Groups {
		for _, r := range g.Rows {
			led = led || r.Key == "curve/F/1"
		}
	}
	if !led {
		t.Error("the leg's card does not lead to its curve")
	}
	for _, id := range []string{"curve/F/2", "curve/F/0", "curve/F", "curve/Z/1"} {
		if _, err := d.Ask("card", fmt.Appendf(nil, `{"id":%q}`, id), nil); err == nil {
			t.Errorf("%s has a card", id)
		}
	}
}

// TestDraggedIsToldWhatDrewIt moves a node to where something draws it, and reads the words.
func TestDraggedIsToldWhatDrewIt(t *testing.T) {
	d, p, s := opened(t, "tram-depot")
	at := map[string][2]float64{}
	for _, n := range s.Nodes {
		at[n.ID] = n.At
	}
	drag := func(to [2]float64, within, grid float64) (k Sketch) {
		asked(t, d, "sketch", map[string]any{"edits": []map[string]any{{"op": "move-node", "node": "B2", "place_m": to, "origin_m": s.Plan.Origin}}, "snap": map[string]any{"within_m": within, "grid_m": grid}}, &k, p)
		return k
	}
	b1, a := at["B1"], at["S"]
	far := 20 / math.Hypot(b1[0]-a[0], b1[1]-a[1])
	on := [2]float64{b1[0] + (b1[0]-a[0])*far + 0.01, b1[1] + (b1[1]-a[1])*far}
	if k := drag(on, 0.5, 0); k.Drawn != "straight" || k.DrawnTo != "straight on from leg A" {
		t.Errorf("straight on: %q %q", k.Drawn, k.DrawnTo)
	}
	free := [2]float64{at["B2"][0] + 7.31, at["B2"][1] - 11.17}
	k := drag(free, 1, 0.5)
	if k.Drawn != "grid" || k.DrawnTo != "to full 0.5 m" || k.Place == nil {
		t.Fatalf("grid: %q %q", k.Drawn, k.DrawnTo)
	}
	for i := range 2 {
		if v := (k.Place[i] + s.Plan.Origin[i]) * 2; math.Abs(v-math.Round(v)) > 1e-6 {
			t.Errorf("the grid is not that of coordinates: %v", v/2)
		}
	}
	if k := drag(free, 0, 0); k.Place != nil || k.DrawnTo != "" {
		t.Errorf("without snapping it is drawn %q", k.DrawnTo)
	}
	if k := drag([2]float64{at["B4"][0] + 0.1, at["B4"][1]}, 0.5, 0); k.DrawnTo != "onto B4" {
		t.Errorf("a point: %q", k.DrawnTo)
	}
}

// TestRowsOfZonesLeadToTheirThings opens the card of every row of the tables of zones, things and services, and looks for every zone, service, crossing,
// entry, support and joint asked for in the plan.
func TestRowsOfZonesLeadToTheirThings(t *testing.T) {
	for _, name := range []string{"tram-depot", "battery-yard", "hand-troughs"} {
		d, p, s := opened(t, name)
		rows := 0
		for _, of := range []string{"zones", "things", "services"} {
			var one Table
			asked(t, d, "table", map[string]any{"name": of}, &one, p)
			rows += len(one.Keys)
			for r, key := range one.Keys {
				var c Card
				asked(t, d, "card", map[string]any{"id": key}, &c, p)
				id := ""
				for _, col := range one.Columns {
					if col.Key == "id" {
						id = col.Texts[r]
					}
				}
				if !strings.HasSuffix(key, "/"+id) {
					t.Errorf("%s: %s: the row of %s leads to %s", name, of, id, key)
				}
			}
		}
		drawn := map[string]int{}
		for _, l := range s.Plan.Lines {
			drawn[l.Key]++
			if l.Name == "" || len(l.Line) < 4 {
				t.Errorf("%s: %+v", name, l)
			}
		}
		for _, all := range [][]Thing{s.Crossings, s.Services, s.Entries, s.Supports, s.Forced} {
			for _, one := range all {
				if drawn[one.Key] == 0 {
					t.Errorf("%s: %s is not in the plan", name, one.Key)
				}
			}
		}
		for _, z := range s.Zones {
			if z.Kind == "zone" && drawn[z.Key] == 0 {
				t.Errorf("%s: %s is not in the plan", name, z.Key)
			}
		}
		t.Logf("%s: %d rows, %d drawn", name, rows, len(s.Plan.Lines))
	}
}
