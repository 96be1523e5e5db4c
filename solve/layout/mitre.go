package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// A mitre takes (W/2)·tan α of a unit on either side of the axis, and as much of its cover by its own width. Where that and
// the shortest side are longer than anything that is made, the leg is impossible whatever its length.

// namedEnd is one end of the leg and what it is called.
type namedEnd struct {
	End
	name string
}

// mitres are the mitred ends of the leg.
func (p *Problem) mitres() []namedEnd {
	return slices.DeleteFunc([]namedEnd{{p.Start, "start"}, {p.End, "end"}}, func(e namedEnd) bool { return !e.Mitred })
}

// lack is what a mitre asks of a supply that is not made: the length of a unit, of a cover; 0: it is made.
type lack struct{ unit, cover nm }

func (s Supply) lack(e End) lack {
	var l lack
	if need := s.ShortestCut + 2*half(s.Width, e.Tan); need > s.longest() {
		l.unit = need
	}
	if c := s.Covers; !c.unknown(shape{start: e}) && c.mitred(e.Tan).empty() {
		l.cover = c.ShortestCut + 2*half(c.Width, e.Tan)
	}
	return l
}

// mitreReason: a mitre that no unit, or no cover, is long enough for.
func (p *Problem) mitreReason() string {
	for _, e := range p.mitres() {
		if !slices.ContainsFunc(p.Supplies, func(s Supply) bool { return s.lack(e.End) == lack{} }) {
			return p.mitreLack(e)
		}
	}
	return ""
}

func (p *Problem) mitreLack(e namedEnd) string {
	s := p.Supplies[0]
	switch l := s.lack(e.End); {
	case s.ShortestCut > s.longest():
		return p.tell("the %s at the %s has to be cut, and nothing can be cut", wording.Mitre, e.name)
	case l.unit > 0:
		return p.tell("no %s is long enough for the %s at the %s: %s on its shorter side need %s, longest %s %s",
			wording.Unit, wording.Mitre, e.name, p.say(s.ShortestCut), p.say(l.unit), wording.Unit, p.say(s.longest()))
	}
	return p.tell("a cover seam would cross the %s at the %s: %s on either wall need a cover of %s, longest %s",
		wording.Mitre, e.name, p.say(s.Covers.ShortestCut), p.say(s.lack(e.End).cover), p.say(s.Covers.longest()))
}

// mitreTries are changes that let the mitres of the ends be made.
func (p *Problem) mitreTries() []string {
	if s := p.Supplies[0]; p.mitreReason() == "" || s.ShortestCut > s.longest() {
		return nil
	}
	var need lack
	for _, e := range p.mitres() {
		l := p.Supplies[0].lack(e.End)
		need.unit, need.cover = max(need.unit, l.unit), max(need.cover, l.cover)
	}
	var out []string
	add := func(text string, ok bool) {
		if ok {
			out = append(out, text)
		}
	}
	add(p.longer(need))
	add(p.flatterBend())
	add(p.splitBend())
	return out
}

// longer adds a unit, filled by whole covers, and a cover of the lengths that are lacking, rounded up.
func (p *Problem) longer(need lack) (string, bool) {
	step := p.step()
	unit, cover := (need.unit+step-1)/step*step, (need.cover+step-1)/step*step
	q := p.eachSupply(func(s *Supply) {
		if cover > 0 && len(s.Covers.Lengths) > 0 {
			s.Covers.Lengths = append(slices.Clone(s.Covers.Lengths), cover)
		}
		if unit > 0 {
			unit = s.wholeFrom(unit)
		}
	})
	q = q.eachSupply(func(s *Supply) {
		if unit > 0 {
			s.Stocks = append(slices.Clone(s.Stocks), Stock{Length: unit})
		}
	})
	if q.faults() != nil { // the covers of one supply do not fill what those of another do
		return "", false
	}
	text, ok := q.comesTo()
	var what []string
	now := p.say(p.longest())
	if unit > 0 {
		what = append(what, p.tell("a %s of %s", wording.Unit, p.say(unit)))
	} else if cover > 0 {
		now = p.say(p.Supplies[0].Covers.longest())
	}
	if cover > 0 {
		what = append(what, "a cover of "+p.say(cover))
	}
	if len(what) == 2 {
		now += " and " + p.say(p.Supplies[0].Covers.longest())
	}
	return fmt.Sprintf("%s, if the supplier makes it (now %s; %s)", strings.Join(what, " with "), now, text), ok && len(what) > 0
}

// wholeFrom is the shortest length from l on that a whole number of covers fills.
func (s Supply) wholeFrom(l nm) nm {
	if len(s.Covers.Lengths) == 0 {
		return l
	}
	reach := l + s.Covers.longest() + s.Covers.Gap.Max
	for _, v := range s.Covers.levels(shape{}, reach)[0] {
		if v.hi >= l {
			return max(v.lo, l)
		}
	}
	return l
}

// sawStep is what the angles that are offered are rounded down to.
const sawStep = measure.Degree / 1000

// sawn is the angle of a face from square.
func (e End) sawn() measure.Angle { return measure.FromRadians(math.Atan(math.Abs(e.Tan))) }

// turnedTo is an end with its face at another angle from square, of the same hand.
func (e End) turnedTo(a measure.Angle) End {
	if e.Mitred {
		e.Tan = math.Copysign(math.Tan(a.Radians()), e.Tan)
	}
	return e
}

// flatterBend is the sharpest face, and the bend that it belongs to, that can be made. Both ends are held to it.
func (p *Problem) flatterBend() (string, bool) {
	now := max(p.Start.sawn(), p.End.sawn())
	change := func(steps nm) Problem {
		q, a := *p, measure.Angle(steps)*sawStep
		for _, e := range []*End{&q.Start, &q.End} {
			if e.sawn() > a {
				*e = e.turnedTo(a)
			}
		}
		return q
	}
	steps, ok := furthest(1, nm(now/sawStep)+1, 1, change)
	if !ok {
		return "", false
	}
	q, a := change(steps), measure.Angle(steps)*sawStep
	text, _ := q.comesTo()
	return fmt.Sprintf("a bend of at most %s, its faces %s from square (now %s; %s)", degrees(2*a), degrees(a), degrees(2*now), text), true
}

// mostParts is how many bends one is divided into.
const mostParts = 6

// splitBend divides each bend that cannot be made into equal ones, as few as can be, and says how far apart these have to lie.
func (p *Problem) splitBend() (string, bool) {
	for n := measure.Angle(2); n <= mostParts; n++ {
		q := *p
		var names []string
		var apart nm
		for _, e := range p.mitres() {
			one := *p
			if one.Start, one.End = e.End, (End{}); one.mitreReason() == "" {
				continue
			}
			part := e.turnedTo(e.sawn() / n)
			if q.End = part; e.name == "start" {
				q.Start, q.End = part, p.End
			}
			apart = max(apart, p.between(part))
			names = append(names, fmt.Sprintf("the bend at the %s split into %d of %s", e.name, n, degrees(2*part.sawn())))
		}
		if apart == forever {
			continue
		}
		if text, ok := q.comesTo(); ok {
			return fmt.Sprintf("%s, with at least %s between two, from face to face on the axis (%s)", strings.Join(names, " and "), p.say(apart), text), true
		}
	}
	return "", false
}

// mostNear is how many steps a length that can be laid is looked for.
const mostNear = 100

// between is the shortest leg, in whole steps, between two bends of the same hand that are sawn as one end is; forever if
// there is none.
func (p *Problem) between(e End) nm {
	q := p.with(nil)
	q.Stretches, q.Hold = nil, false
	q.Start, q.End = e, e
	q.Start.Tan = -e.Tan
	q.Length = 1
	g := newGround(&q, false)
	least, first, last := forever, forever, forever
	for _, e := range g.only.entries {
		least = min(least, e.advance.lo)
	}
	for _, e := range g.first.entries {
		first = min(first, e.advance.lo)
	}
	for _, e := range g.kinds[0].last.entries {
		last = min(last, e.advance.lo)
	}
	if first < forever && last < forever {
		least = min(least, first+g.narrow+last)
	}
	if least == forever {
		return forever
	}
	step := p.step()
	for n := range nm(mostNear) {
		q.Length = (least+step-1)/step*step + n*step
		if _, ok, _ := q.possible(); ok {
			return q.Length
		}
	}
	return forever
}

// degrees writes an angle to the thousandth, without idle zeros.
func degrees(a measure.Angle) string {
	a = a / sawStep * sawStep
	return a.DegString() + "°"
}
