package building

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// leg is a leg as it really lies, in the direction in which it is laid: everything counts from the face at which laying begins.
type leg struct {
	id, supply string
	made       *job.Supply
	length     measure.Length  // as drawn
	back       bool            // laid from its far end
	face       measure.Length  // how much further away the face really is that the leg runs up to
	endGap     measure.Length  // as drawn, to that face
	stations   []station       // of the axis, in order
	places     []place         // as planned, in laying order
	laid       []unit          // what lies there
	dug        map[string]bool // places whose formation was seen
	stretches  []*stretch
	zones      []zone
	asked      *planner.LegReplan // the last answer
	unpaid     []string           // surprises of which nobody knows yet what they change
	levels     map[levelAt]levelTruth
	owner      ownership
	found      []field.ServiceSays // that joints keep away from
	takes      int                 // answers that were taken
	trouble    string              // why it cannot go on
	tries      int                 // times units were lifted because nothing came out from there
	stuckAt    int                 // so many lay then
	picks      bool                // units are picked by their length
	relaid     map[string]bool     // places of which a unit was lifted
	from       int                 // places set and not recorded yet begin here
}

// place is a place of the plan.
type place struct {
	name, supply     string
	start, take      measure.Length // along the laying
	length, stock    measure.Length
	cut, mitred      bool
	aside            measure.Length // by how much its left side is longer than its axis, where it is mitred
	covers           []lidPlan
	gap, least, most measure.Length               // of the joint before it, on the axis
	joint            string                       // its name
	before           string                       // the unit whose gap that joint is: the earlier one on the leg's axis
	levels           map[string][4]measure.Length // wanted at its four corners, named along the leg, by what they are of
}

// lidPlan is a cover as planned.
type lidPlan struct {
	name   string
	length measure.Length
	piece  field.Piece
}

// bed is the level wanted under it.
func (q *place) bed() [4]measure.Length {
	if four, padded := q.levels["pad"]; padded {
		return four
	}
	return q.levels["bed"]
}

// lids are the pieces of its covers.
func (q *place) lids() []field.Piece {
	var list []field.Piece
	for _, c := range q.covers {
		list = append(list, c.piece)
	}
	return list
}

// unit is one that lies.
type unit struct {
	place            string
	cut              bool
	start, end       measure.Length // along the laying, on the axis
	ref              measure.Length // where its end had its place when it was set
	skew             [2]measure.Length
	tall             measure.Length    // more than its height on paper
	corners          [4]measure.Length // how far its four corners lie off their level
	batch            string
	piece            field.Piece
	before           measure.Length // gap, on the axis
	least, most      measure.Length // what that gap may be
	line             measure.Length // off the line: left below 0
	real             measure.Length // length
	lids             []lid
	repairs, packers int
}

// lid is a cover that lies: along the laying, at its shorter side.
type lid struct {
	name       string
	start, end measure.Length
	lies       bool
	trimmed    bool
	piece      field.Piece
}

// zone is where no joint may stand, because something was found there.
type zone struct {
	from, to measure.Length
	why      string
}

// station is a place of a leg's axis with its chainage from the leg's from node: that is level, and units lie on the slope.
type station struct{ at, chainage measure.Length }

// legsOf reads the legs of a plan in the order in which they are drawn.
func legsOf(p Planned) []*leg {
	run := p.Plan.Places()
	var legs []*leg
	for i, pl := range p.Plan.Legs {
		l := &leg{id: pl.Name, supply: pl.Supply, length: measure.Length(pl.ClearLength), back: pl.LaidFrom == pl.To && pl.From != pl.To}
		l.places = placesOf(p, run.Legs[i], l)
		for k := range p.Job.Supplies {
			if p.Job.Supplies[k].ID == pl.Supply {
				l.made = &p.Job.Supplies[k]
			}
		}
		l.endGap = measure.Length(pl.EndSetback)
		if l.back {
			l.endGap = measure.Length(pl.StartSetback)
		}
		if l.made == nil || len(l.places) == 0 {
			continue
		}
		l.levels, l.dug, l.relaid = map[levelAt]levelTruth{}, map[string]bool{}, map[string]bool{}
		l.endGap = min(l.endGap, l.made.Joint.Gap.Value.Nominal)
		for _, r := range p.Plan.SetOut {
			if n := len(l.stations); r.Leg == l.id && (n == 0 || measure.Length(r.At) > l.stations[n-1].at) {
				l.stations = append(l.stations, station{measure.Length(r.At), measure.Length(r.Chainage)})
			}
		}
		legs = append(legs, l)
	}
	return legs
}

// placesOf are the places of one leg in laying order.
func placesOf(p Planned, of field.Leg, l *leg) []place {
	units, joints := map[string]planner.Unit{}, map[string]planner.Joint{}
	for _, u := range p.Plan.Units {
		units[u.Mark] = u
	}
	for _, j := range p.Plan.Joints {
		joints[j.Name] = j
	}
	covers := map[string]measure.Length{}
	for _, c := range p.Plan.Covers {
		covers[c.Mark] = measure.Length(c.Length)
	}
	var list []place
	for k, f := range of.Units {
		u := units[f.Place]
		q := place{name: f.Place, supply: u.Supply, start: f.Start, take: f.End - f.Start, length: measure.Length(u.Length), stock: measure.Length(u.Stock), cut: u.Cut}
		q.mitred = u.StartAngle != 0 || u.EndAngle != 0
		if u.Piece != nil {
			q.aside = measure.Length(u.Piece.LeftSide-u.Piece.RightSide) / 2
		}
		if k > 0 {
			q.joint = of.Units[k-1].Place + "/" + f.Place
		}
		for n, c := range f.Covers {
			q.covers = append(q.covers, lidPlan{c, covers[c], f.Lids[n]})
		}
		q.levels = map[string][4]measure.Length{}
		for _, v := range f.Levels {
			q.levels[v.Of] = v.Four
		}
		list = append(list, q)
	}
	if l.back {
		list = turned(list, l.length)
	}
	for k := 1; k < len(list); k++ {
		q := &list[k]
		j := joints[q.joint]
		q.gap, q.least, q.most = measure.Length(j.Gap), measure.Length(j.GapMin), measure.Length(j.GapMax)
		q.before, _, _ = strings.Cut(q.joint, "/")
	}
	return list
}

// turned are places from the other end.
func turned(list []place, length measure.Length) []place {
	out := make([]place, len(list))
	for k, q := range list {
		at := len(list) - 1 - k
		q.start = length - q.start - q.take
		out[at] = q
	}
	for k := len(out) - 1; k > 0; k-- { // the joint before a place, in laying order, is the one behind it on the axis
		out[k].joint = out[k].name + "/" + out[k-1].name
	}
	out[0].joint = ""
	for k := range out {
		lids := out[k].covers
		for a, b := 0, len(lids)-1; a < b; a, b = a+1, b-1 {
			lids[a], lids[b] = lids[b], lids[a]
		}
	}
	return out
}
