package planner

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/place/route"
	"trenchwright/solve/earthwork"
)

// pegReach is how far beside a leg its dig, and what stands beside that, is looked for under the pegs of another leg.
const pegReach = 30 * measure.Metre

// pegLook is one peg held against the dig of one leg, at its foot on it.
type pegLook struct {
	peg, leg int
	at       measure.Length
	offset   measure.Length // right above nought
}

// holdPegs holds every peg against the dig of its own leg and of every other that it stands beside: whether it is dug away,
// and whether it stands where spoil, plant or stacks are to go.
func (b *build) holdPegs(where []pegPlace) {
	if len(where) == 0 {
		return
	}
	b.bareGround(where)
	b.fewPegs(where)
	if b.asked == nil {
		b.add(finding.Finding{ID: "planner.pegs-no-dig", Kind: finding.NotChecked, Ask: "the site engineer", Where: finding.Where{Path: "set_out.pegs"},
			Text: "NOT CHECKED: no dig on file to hold the pegs against, so nobody can say whether they outlast it. Ask: the site engineer"})
		return
	}
	looks := b.pegLooks(where)
	asked := make([]earthwork.Place, len(looks))
	for i, q := range looks {
		asked[i] = earthwork.Place{Leg: q.leg, At: q.at}
	}
	sheets, _ := earthwork.Sections(b.asked, asked, pegReach) // what it has to say was said of the whole run
	said, near := newPegFindings(b, where), &pegsNear{build: b, where: where}
	for i, q := range looks {
		s := sheets[i]
		if nothingDug(s) {
			continue
		}
		if q.leg == where[q.peg].leg {
			edge, _ := pegEdge(s, q.offset)
			b.plan.Pegs[q.peg].Edge = mmp(edge)
			b.plan.Pegs[q.peg].Edges = &PegEdges{Left: PegEdge{measure.MM(-s.Left.Offset), s.Left.Level.Metres()}, Right: PegEdge{measure.MM(s.Right.Offset), s.Right.Level.Metres()}}
		}
		lostTo(s, q.offset, func(what string, reach ...measure.Length) { said.lost(q, what, reach...) })
		near.look(q, s)
	}
	said.say()
	near.say()
	b.instead(where)
}

// nothingDug reports whether a section says nothing of a dig.
func nothingDug(s *earthwork.Sheet) bool { return s == nil || s.Bare || s.Areas.Dug() == 0 }

// pegEdge is the edge of the dig on the side of a peg, from the line; and which side that is, 0 left.
func pegEdge(s *earthwork.Sheet, offset measure.Length) (edge measure.Length, side int) {
	if offset < 0 {
		return -s.Left.Offset, 0
	}
	return s.Right.Offset, 1
}

// lostTo says everything at a section that takes a peg which stands so far from the line, with how far from the line it reaches.
func lostTo(s *earthwork.Sheet, offset measure.Length, say func(what string, reach ...measure.Length)) {
	edge, side := pegEdge(s, offset)
	off := offset.Abs()
	if off <= edge {
		say("dug away", edge)
	}
	if len(s.Beside) < 2 {
		return
	}
	for _, u := range s.Beside[side].Uses {
		if u.What != earthwork.Pegs && u.Width > 0 && off >= u.From && off <= u.From+u.Width {
			say(standing(u.What), u.From, u.From+u.Width)
		}
	}
}

// standing is where a peg stands that is in the way of something.
func standing(what earthwork.Thing) string {
	switch what {
	case earthwork.Spoil:
		return "under the spoil"
	case earthwork.Plant:
		return "where plant is to run"
	}
	return "where units are to be stacked"
}

// pegLooks are the feet of every peg: on its own leg where it stands, on others where they are square to it.
func (b *build) pegLooks(where []pegPlace) []pegLook {
	boxes := make([][2]route.Point, len(b.net.Legs))
	for i := range boxes {
		boxes[i] = boxAround(b.axes[i].line.Points(0, b.axes[i].line.Length(), clipSagitta), pegReach.Metres())
	}
	var out []pegLook
	for i := range where {
		p := &where[i]
		out = append(out, pegLook{i, p.leg, p.at, p.offset})
		for leg := range b.net.Legs {
			if leg == p.leg || !boxHolds(boxes[leg], p.on) {
				continue
			}
			for _, f := range b.axes[leg].line.Project(p.on) {
				if f.Kind == route.OnLine && f.Distance <= pegReach {
					out = append(out, pegLook{i, leg, f.Chainage, f.Offset})
					break
				}
			}
		}
	}
	return out
}

func boxAround(points []route.Point, wide float64) [2]route.Point {
	box := [2]route.Point{points[0], points[0]}
	for _, p := range points {
		box[0].E, box[0].N = min(box[0].E, p.E), min(box[0].N, p.N)
		box[1].E, box[1].N = max(box[1].E, p.E), max(box[1].N, p.N)
	}
	return [2]route.Point{{E: box[0].E - wide, N: box[0].N - wide}, {E: box[1].E + wide, N: box[1].N + wide}}
}

func boxHolds(box [2]route.Point, p route.Point) bool {
	return p.E >= box[0].E && p.E <= box[1].E && p.N >= box[0].N && p.N <= box[1].N
}

// pegFindings gathers what becomes of pegs: one finding for each side of each leg and each thing that happens to them there,
// with the worst.
type pegFindings struct {
	*build
	where []pegPlace
	of    []*pegLoss
}

type pegLoss struct {
	leg, other  int
	right       bool
	what        string
	pegs, worst int // how many, and which is the worst
	by          measure.Length
	reach       []measure.Length
	offset      measure.Length // of the worst, from the line of the other leg
}

func newPegFindings(b *build, where []pegPlace) *pegFindings {
	return &pegFindings{build: b, where: where}
}

// lost says that a peg is lost to something that reaches from and to so far from a leg's line; one figure: from the line.
func (f *pegFindings) lost(q pegLook, what string, reach ...measure.Length) {
	p := &f.where[q.peg]
	peg := &f.plan.Pegs[q.peg]
	peg.Lost = append(peg.Lost, what)
	by := reach[len(reach)-1] - q.offset.Abs()
	for _, one := range f.of {
		if one.leg == p.leg && one.other == q.leg && one.right == (p.offset > 0) && one.what == what {
			one.pegs++
			if by > one.by {
				one.worst, one.by, one.reach, one.offset = q.peg, by, reach, q.offset
			}
			return
		}
	}
	f.of = append(f.of, &pegLoss{p.leg, q.leg, p.offset > 0, what, 1, q.peg, by, reach, q.offset})
}

// say tells them.
func (f *pegFindings) say() {
	for _, one := range f.of {
		all := 0
		for i := range f.where {
			if f.where[i].leg == one.leg && (f.where[i].offset > 0) == one.right {
				all++
			}
		}
		peg := &f.plan.Pegs[one.worst]
		id, far := "planner.peg-in-the-way", one.reach[len(one.reach)-1]
		of, line := map[bool]string{true: "the edge of the dig", false: "that strip"}[len(one.reach) == 1], f.tell("the %s", wording.Centreline)
		if one.other != one.leg {
			of += " of leg " + f.leg(one.other).ID
			line += " of that leg"
		}
		reach := f.tell("begins %s and ends %s from ", f.pegFar(one.reach[0]), f.pegFar(far)) + line
		if len(one.reach) == 1 {
			id, reach = "planner.peg-dug", f.tell("comes out to %s from ", f.pegFar(far))+line
		}
		pegs, stand := fmt.Sprintf("%d of the %d pegs", one.pegs, all), "stand"
		switch {
		case all == 1:
			pegs, stand = "the peg", "stands"
		case one.pegs == 1:
			pegs, stand = fmt.Sprintf("one of the %d pegs", all), "stands"
		case one.pegs == all:
			pegs = fmt.Sprintf("all %d pegs", all)
		}
		chainage := f.where[one.worst].at
		f.add(finding.Finding{ID: id, Kind: finding.Attention, Where: at(f.leg(one.leg).ID, chainage),
			Text: f.tell("%s on the %s of leg %s %s %s: at %s %s %s, and the peg stands %s from it", pegs, peg.Side, f.leg(one.leg).ID, stand, pastWhat(one.what),
				f.pegName(peg), of, reach, f.pegFar(one.offset.Abs())),
			Limit: f.tell("further than %s", f.pegFar(far)), Value: f.pegFar(one.offset.Abs()),
			Try: "another offset or the other side for this leg (set_out.pegs)"})
	}
}

// pegFar is how far a peg stands off, in metres however near that is, or in feet and inches as its offset is set out.
func (b *build) pegFar(l measure.Length) string {
	f := measure.Format{Survey: true, Places: 3}
	if b.imperial() {
		return measure.Format{System: measure.Imperial}.Length(b.near(l))
	}
	return f.Length(l)
}

// pastWhat is a loss after "stand".
func pastWhat(what string) string {
	if what == "dug away" {
		return "where the dig goes"
	}
	return what
}

// pegName is a peg by its place.
func (b *build) pegName(p *Peg) string {
	if p.Place != "" {
		return p.Place
	}
	return b.tell("%s %s", wording.Chainage, b.chainageOf(measure.Length(p.Chainage)))
}

// bareGround says where pegs stand on no ground that somebody surveyed: nothing can be dug from them by figures.
func (b *build) bareGround(where []pegPlace) {
	for leg := range b.net.Legs {
		n, all, first := 0, 0, -1
		for i := range where {
			if where[i].leg != leg {
				continue
			}
			if all++; b.plan.Pegs[i].Ground == nil {
				if n++; first < 0 {
					first = i
				}
			}
		}
		if n > 0 {
			b.add(finding.Finding{ID: "planner.peg-no-ground", Kind: finding.NotChecked, Ask: "the surveyor", Where: at(b.leg(leg).ID, where[first].at),
				Text: fmt.Sprintf("NOT CHECKED: no ground on file at %d of the %d pegs of leg %s, so they have no cut or fill. Ask: the surveyor", n, all, b.leg(leg).ID)})
		}
	}
}

// pegOffLeg says that a stated peg has no place on its leg.
func (b *build) pegOffLeg(leg int, ch measure.Length) {
	long := b.axes[leg].line.Length()
	b.add(finding.Finding{ID: "planner.peg-off-leg", Kind: finding.Attention, Where: at(b.leg(leg).ID, ch),
		Text:  b.tell("a peg is asked for at %s %s of leg %s, which ends at %s; it is left out", wording.Chainage, wording.Far(ch), b.leg(leg).ID, wording.Far(long)),
		Limit: b.tell("%s", wording.Far(long)), Value: b.tell("%s", wording.Far(ch)), Try: b.tell("a %s on the leg", wording.Chainage)})
}

// Points further from the run, or its ground further from them in height, are of another grid or another unit.
const (
	strayPoint = 10 * measure.Kilometre
	strayLevel = 100 * measure.Metre
)

// strayPoints says which points of the set-out cannot belong to this run.
func (b *build) strayPoints() {
	if len(b.net.Legs) == 0 {
		return
	}
	near := b.net.Legs[0].Line.At(0).At
	for _, list := range []struct {
		name   string
		points []SurveyPoint
	}{{"benchmarks", b.plan.Benchmarks}, {"control", b.plan.Control}} {
		for _, p := range list.points {
			where := finding.Where{Path: "set_out." + list.name + "." + p.ID}
			if p.E != nil {
				q := b.net.origin.Point(route.Coordinates{E: measure.FromMetres(*p.E), N: measure.FromMetres(*p.N)})
				if far := q.Distance(near); far > strayPoint.Metres() {
					b.add(finding.Finding{ID: "planner.point-far", Kind: finding.Attention, Where: where, Ask: "the surveyor",
						Text: fmt.Sprintf("%s lies %.1f km from the run: it is of another grid or in another unit", p.ID, far/1000), Value: fmt.Sprintf("%.1f km", far/1000), Limit: "10 km"})
				}
			}
			if z := b.anyWall(); p.Level != nil && z != nil {
				if off := measure.FromMetres(*p.Level) - measure.FromMetres(*z); off.Abs() > strayLevel {
					b.add(finding.Finding{ID: "planner.point-high", Kind: finding.Attention, Where: where, Ask: "the surveyor",
						Text: b.tell("%s lies %s above or below the run: its level is of another datum or in another unit", p.ID, wording.Far(off.Abs())), Value: b.tell("%s", wording.Far(off.Abs())), Limit: b.tell("%s", wording.Far(strayLevel))})
				}
			}
		}
	}
}

// anyWall is the first wall top that is known.
func (b *build) anyWall() *float64 {
	for i := range b.plan.SetOut {
		if z := b.plan.SetOut[i].Level; z != nil {
			return z
		}
	}
	return nil
}
