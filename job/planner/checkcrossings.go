package planner

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/route"
	"trenchwright/solve/check"
	"trenchwright/solve/check/load"
)

// holdCrossings holds what crosses the run against what is declared of the units and covers that lie there, kind by kind of what was done
// to them: a cut, mitred or cored piece has no rating unless its supplier says so.
func (b *checks) holdCrossings() {
	for i := range b.net.Legs {
		for _, x := range b.leg(i).Crossings {
			b.holdCrossing(i, x)
		}
	}
}

// crossedPieces are what lies where something crosses: units, or covers, of one supply to which the same was done.
type crossedPieces struct {
	supply *supply
	of     string // units or covers
	piece  string // whole, cut, mitred or cored
	marks  []string
}

func (b *checks) holdCrossing(leg int, x job.Crossing) {
	k := &b.job.Checks
	base := load.Problem{Words: b.speech(), Vehicles: b.vehicles(x.Crosses), Dynamic: percent(k.Dynamic), DynamicFrom: from(b, "", k.Dynamic)}
	for _, p := range b.piecesUnder(leg, x) {
		q := base
		q.Where = at(b.leg(leg).ID, x.At)
		q.Rated = b.rated(p, x)
		name := fmt.Sprintf("%s: %s %s", cmp.Or(x.Name, "crossing "+x.ID), p.of, marksWord(p))
		sol := load.Check(&q)
		for n := range sol.Answers {
			sol.Answers[n].What = name + ": " + sol.Answers[n].What
		}
		b.held(sol.Answers, sol.Findings)
	}
	q := base
	q.Where = at(b.leg(leg).ID, x.At)
	if s := b.supplyNamed(cmp.Or(x.Supply, b.leg(leg).Supply)); x.Fill > 0 {
		e := &k.Earth
		q.Fill = &load.Fill{Depth: &x.Fill, Weight: job.Quantity(e.Weight, check.UnitWeight), WeightFrom: from(b, "", e.Weight), Spread: plainNumber(e.Spread), SpreadFrom: from(b, "", e.Spread),
			Bears: job.Quantity(s.TopBears, check.Pressure), BearsFrom: job.Source(b.job, s.Supply, s.TopBears)}
		if s.Unit.Outer.Known {
			q.Fill.Width = &s.Unit.Outer.Value.Width
		}
	}
	if p := x.Plate; p != nil {
		q.Plate = &load.Plate{Thick: &p.Thick, Span: &p.Span, Long: &p.Long, Bearing: entered(p.Bearing), Edges: p.Edges, Stress: job.Quantity(p.Stress, check.Stress), From: from(b, "", p.Stress)}
	}
	if q.Fill != nil || q.Plate != nil {
		sol := load.Check(&q)
		for n := range sol.Answers {
			sol.Answers[n].What = cmp.Or(x.Name, "crossing "+x.ID) + ": " + sol.Answers[n].What
		}
		b.held(sol.Answers, sol.Findings)
	}
}

// marksWord are the marks of pieces, few of them in full.
func marksWord(p crossedPieces) string {
	if p.piece == "whole" || len(p.marks) > 6 {
		return fmt.Sprintf("%s to %s, %s", p.marks[0], p.marks[len(p.marks)-1], p.piece)
	}
	return strings.Join(p.marks, ", ") + ", " + p.piece
}

// vehicles are what crosses, by the ids of the job.
func (b *checks) vehicles(ids []string) []load.Vehicle {
	var list []load.Vehicle
	for _, v := range b.job.Checks.Vehicles {
		if !slices.Contains(ids, v.ID) {
			continue
		}
		if v.Design != "" {
			list = append(list, load.Design(v.Design)...)
			continue
		}
		one := load.Vehicle{Name: cmp.Or(v.Name, "vehicle "+v.ID), From: b.docText(cmp.Or(v.From, b.job.Checks.From))}
		if v.Wheels > 0 {
			one.Apart = &v.Wheels
		}
		if v.Tyre != nil {
			one.Tyre = load.Patch{Across: v.Tyre.Width, Along: v.Tyre.Height}
		}
		for _, a := range v.Axles {
			if q := job.Quantity(job.Known(a.Load), check.Force); q != nil {
				one.Axles = append(one.Axles, load.Axle{Load: *q, Behind: a.Behind})
			}
		}
		list = append(list, one)
	}
	return list
}

// rated is what is declared of pieces at a crossing: a class, a design vehicle or a wheel; a rating in other words is none that a wheel can be
// held against.
func (b *checks) rated(p crossedPieces, x job.Crossing) *load.Rated {
	s := p.supply
	rating, keeps := s.Rating, s.CutRating
	if p.of == "covers" && s.Cover != nil {
		rating, keeps = s.Cover.Rating, s.Cover.CutRating
	}
	r := &load.Rated{From: job.Source(b.job, s.Supply, rating), Piece: p.piece, Asked: x.Class.Value, AskedFrom: from(b, "", x.Class), On: load.Patch{Across: s.RatedOn.Value.Width, Along: s.RatedOn.Value.Height}}
	if keeps.Known {
		r.Keeps = &keeps.Value
	}
	if inner := s.Unit.Inner; inner.Known {
		r.Opening = &inner.Value.Width
	}
	if !rating.Known {
		return r
	}
	word := strings.ToLower(strings.ReplaceAll(rating.Value, " ", ""))
	switch class, _ := load.TestLoad(rating.Value); {
	case class > 0:
		r.Class = strings.ToUpper(word)
	case load.Design(word) != nil:
		r.Vehicle = word
	default:
		r.Wheel = job.Quantity(rating, check.Force)
	}
	if r.Class == "" && r.Vehicle == "" && r.Wheel == nil {
		b.held(nil, finding.List{finding.NoneOnFile(fmt.Sprintf("class, design vehicle or wheel in the rating %q of the %s of supply %s", rating.Value, p.of, s.ID), "the supplier", supplyWhere(s))})
	}
	return r
}

// piecesUnder are the units and covers under the swept path of a crossing with its margin, in kinds of what was done to them.
func (b *checks) piecesUnder(leg int, x job.Crossing) []crossedPieces {
	skew := cmp.Or(x.Skew, 90*measure.Degree)
	wide, err := route.JointFree(x.Path, x.Margin, b.legSupply(leg).width, skew)
	if err != nil {
		return nil // zones have said why
	}
	a := &b.axes[leg]
	lo, hi := measure.MM(a.on(x.At-wide/2)), measure.MM(a.on(x.At+wide/2))
	entries := b.leg(leg).Entries
	var out []crossedPieces
	take := func(s *supply, of, piece, mark string) {
		for i := range out {
			if o := &out[i]; o.supply == s && o.of == of && o.piece == piece {
				o.marks = append(o.marks, mark)
				return
			}
		}
		out = append(out, crossedPieces{s, of, piece, []string{mark}})
	}
	under := map[string]*Unit{}
	for i := range b.plan.Units {
		u := &b.plan.Units[i]
		if u.Leg != b.leg(leg).ID || u.Start+u.Length <= lo || u.Start >= hi {
			continue
		}
		under[u.Mark] = u
		piece := pieceWord(u.Cut, u.StartAngle, u.EndAngle)
		if piece == "whole" && slices.ContainsFunc(entries, func(e job.ConduitEntry) bool {
			on := measure.MM(a.on(e.At))
			return on >= u.Start && on <= u.Start+u.Length
		}) {
			piece = "cored"
		}
		take(b.supplyNamed(u.Supply), "units", piece, u.Mark)
	}
	for i := range b.plan.Covers {
		c := &b.plan.Covers[i]
		u := under[c.Unit]
		if u == nil || u.Start+c.Start+c.Length <= lo || u.Start+c.Start >= hi {
			continue
		}
		take(b.supplyNamed(u.Supply), "covers", pieceWord(c.Cut, c.StartAngle, c.EndAngle), c.Mark)
	}
	return out
}

// pieceWord is what was done to a piece.
func pieceWord(cut bool, start, end float64) string {
	switch {
	case math.Abs(start)+math.Abs(end) > 0:
		return "mitred"
	case cut:
		return "cut"
	}
	return "whole"
}
