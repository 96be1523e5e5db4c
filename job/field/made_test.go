package field

import (
	"fmt"

	"trenchwright/base/measure"
)

// made are records of three devices of anything anywhere, with corrections, rings, copies of ids and what nobody understands.
func (g *gang) made(n int) []Record {
	var list []Record
	units := []string{"A-001", "A-002", "A-003", "A-004", "B-001", "B-002", "B-003", "B-004", "C-001", "A-002.1", "B-003.2", "A-001/A-002", ""}
	at := func() string { return units[g.r.IntN(len(units))] }
	for range n {
		device := string(rune('a' + g.r.IntN(3)))
		var after []string
		for range g.r.IntN(3) {
			if len(list) > 0 {
				after = append(after, list[g.r.IntN(len(list))].ID)
			}
		}
		yes := g.r.IntN(2) == 0
		var r Record
		switch g.r.IntN(18) {
		case 14, 15, 16, 17:
			r = g.more(device, at, after)
		case 0, 1, 2:
			r = g.makes(device, Set, at(), at(), SetSays{Within: yes, Lifted: g.r.IntN(4) == 0, Off: []Off{{Place: at(), By: measure.Length(g.r.IntN(20)) * mm}}}, after...)
		case 3:
			r = g.makes(device, Gap, at(), "", GapSays{new(measure.Length(g.r.IntN(20)) * mm), new(10 * mm), mm}, after...)
		case 4, 5:
			r = g.makes(device, Cover, at(), at(), CoverSays{Done: []string{"laid", "lifted"}[g.r.IntN(2)]}, after...)
		case 6:
			r = g.makes(device, Delivery, "", "", DeliverySays{Ticket: "t", Lines: []Delivered{{plain, g.r.IntN(9), 0, g.r.IntN(2), ""}, {lid, g.r.IntN(9), 0, 0, ""}}, Goods: g.goods()}, after...)
		case 7:
			r = g.makes(device, Count, "", "", CountSays{[]Counted{{Piece: plain, Count: g.r.IntN(9)}}, map[string]int{"a": g.r.IntN(9), "b": g.r.IntN(9)}}, after...)
		case 8:
			r = g.makes(device, Layer, at(), at(), LayerSays{Number: 1 + g.r.IntN(3), Side: []string{"left", "right", "both"}[g.r.IntN(3)]}, after...)
		case 9:
			r = g.makes(device, LayerTest, at(), at(), TestSays{Number: 1 + g.r.IntN(3), Side: "both", Met: &yes}, after...)
		case 10:
			r = g.makes(device, Angle, "N2", "", AngleSays{measure.Angle(44+g.r.IntN(3)) * measure.Degree, measure.Degree / 2}, after...)
		case 11:
			r = g.makes(device, []Kind{Release, Event}[g.r.IntN(2)], "", "", map[string]any{"point": "bed", "what": "rain", "lapses": []string{"rain"}}, after...)
		case 12:
			r = g.makes(device, Kind([]string{"something new", "damage", "cut", "level", "nonconforming"}[g.r.IntN(5)]), at(), "", map[string]any{"of": "pad", "level": "3 m", "number": "7", "supply": "T3"}, after...)
		default:
			r = g.makes(device, Service, "", "", ServiceSays{Name: "main", Met: yes, Leg: "A", At: measure.Length(g.r.IntN(9)) * measure.Metre}, after...)
		}
		if g.r.IntN(4) == 0 {
			r.Role = "site inspector"
		}
		if g.r.IntN(5) == 0 {
			r.Photos = []string{fmt.Sprint(g.r.IntN(5)), fmt.Sprint(g.r.IntN(5))}
		}
		if g.r.IntN(3) == 0 {
			r.Instrument = &Instrument{ID: []string{"L1", "L2"}[g.r.IntN(2)], SetUp: fmt.Sprint(g.r.IntN(3))}
		}
		if len(list) > 0 && g.r.IntN(6) == 0 {
			r.Corrects = list[g.r.IntN(len(list))].ID
		}
		if len(list) > 0 && g.r.IntN(25) == 0 {
			r.ID = list[g.r.IntN(len(list))].ID
		}
		list = append(list, r)
	}
	return list
}

// more is a record of a rarer kind.
func (g *gang) more(device string, at func() string, after []string) Record {
	some := func() measure.Length { return measure.Length(g.r.IntN(9)) * mm }
	four := []measure.Length{some(), some(), some(), some()}
	met := g.r.IntN(2) == 0
	switch g.r.IntN(14) {
	case 0:
		return g.makes(device, Rock, at(), "", RockSays{Four: four, Packer: new(some()), Corner: "end left", Plus: mm}, after...)
	case 1:
		return g.makes(device, Bond, at(), "", TestSays{Method: []string{"continuity", "torque"}[g.r.IntN(2)], Value: "0.1 ohm", Met: &met}, after...)
	case 2:
		return g.makes(device, CoverTest, at(), at(), TestSays{Method: "step", Value: some().String(), Limit: "3 mm", Met: &met}, after...)
	case 3:
		return g.makes(device, Area, at(), at(), AreaSays{To: []string{"cables", "civil"}[g.r.IntN(2)], Keys: 2}, after...)
	case 4:
		return g.makes(device, Part, at(), at(), PartSays{Name: []string{"pad", "clip"}[g.r.IntN(2)], Count: g.r.IntN(4)}, after...)
	case 5:
		return g.makes(device, SetUp, "", "", SetUpSays{Benchmark: "BM1", Level: 100 * measure.Metre, Rod: some()}, after...)
	case 6:
		return g.makes(device, Check, "", "", CheckSays{Method: "two pegs", Met: &met, Seen: map[string]int{"a": g.r.IntN(20), "b": g.r.IntN(20)}}, after...)
	case 7:
		return g.makes(device, []Kind{Photo, Voice}[g.r.IntN(2)], at(), "", VoiceSays{SHA256: "ab"}, after...)
	case 8:
		return g.makes(device, Entry, at(), "", EntrySays{Wall: "left", Invert: new(some()), Sealed: met}, after...)
	case 9:
		return g.makes(device, Shot, at(), "", ShotSays{Of: "wall", Level: some()}, after...)
	case 10:
		return g.makes(device, []Kind{Notice, Inspection, Release}[g.r.IntN(3)], at(), at(), PointSays{Point: "fill", Party: "engineer", Result: "meets", Lapses: []string{"rain"}, Seen: map[string]int{"c": g.r.IntN(20)}}, after...)
	case 11:
		return g.makes(device, Set, at(), "", SetSays{Left: new(some()), Right: new(some()), Walls: four, Line: new(some()), Type: "3000 plain", Plus: mm}, after...)
	case 12:
		return g.makes(device, Level, at(), at(), LevelSays{Of: "wall", Height: new(2 * measure.Metre), Rod: four, Within: &met, Plus: mm}, after...)
	}
	return g.makes(device, Repair, "", "", MatterSays{Number: "7", Closed: met, Answer: "leave it"}, after...)
}
