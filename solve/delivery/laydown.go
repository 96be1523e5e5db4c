package delivery

import (
	"cmp"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// Place is where bundles are put down beside the run. What is nil is not on file.
type Place struct {
	Name     string
	Leg      int
	From, To measure.Length  // chainage there
	Edge     *measure.Length // from the edge of the trench
	Bears    *measure.Mass   // all that may lie there
	Area     *measure.Area
	Supports *int // lines of bearers that are there
}

// Lies is what lies at one place at most, and what comes of it.
type Lies struct {
	Bundles  []int // all that are ever put down there, in the order in which they come
	Most     int   // of them at once
	Mass     measure.Mass
	Area     measure.Area
	Bearers  int
	Held     [3]finding.Verdict // mass, area, bearers against what is on file; "": one of the two is not
	KeptAway finding.Verdict    // from the edge of the trench; "": not on file
}

// Laid is where everything lies.
type Laid struct {
	At      []Lies // by place
	Nowhere []int  // bundles for which there is no room
}

// Lay puts bundles down, load by load: each at the place nearest to where it is laid that has room, first on its own leg, then on the
// others in their order. Loads lie there until so many more have come (0: until the end); keep is how far from the edge of the trench
// anything stands at least. A place without a capacity takes what is nearest to it, and nothing is said of it.
func Lay(p *Problem, s *Solution, places []Place, loads int, keep *measure.Length) Laid {
	out := Laid{At: make([]Lies, len(places))}
	if len(places) == 0 {
		return out
	}
	on := make([][]lying, len(places))
	for n, come := range s.comes() {
		for at := range on {
			on[at] = slices.DeleteFunc(on[at], func(x lying) bool { return loads > 0 && x.load <= n-loads })
		}
		for _, b := range come {
			x := p.lies(&s.Bundles[b], n)
			at := p.nearest(&s.Bundles[b], places, func(at int) bool { return places[at].takes(append(slices.Clone(on[at]), x)) })
			if at < 0 {
				out.Nowhere = append(out.Nowhere, b)
				continue
			}
			on[at] = append(on[at], x)
			l, now := &out.At[at], sum(on[at])
			l.Bundles, l.Most = append(l.Bundles, b), max(l.Most, len(on[at]))
			l.Mass, l.Area, l.Bearers = max(l.Mass, now.mass), max(l.Area, now.area), max(l.Bearers, now.bearers)
		}
	}
	for i := range places {
		places[i].hold(&out.At[i], p, s, keep)
	}
	return out
}

// comes are the bundles of each load; all at once where no vehicle is on file.
func (s *Solution) comes() [][]int {
	if len(s.Loads) == 0 {
		return [][]int{s.Left}
	}
	out := make([][]int, len(s.Loads))
	for n := range s.Loads {
		for _, x := range s.Loads[n].Placed {
			out[n] = append(out[n], x.Bundle)
		}
		slices.Sort(out[n])
	}
	return out
}

// lying is a bundle on the ground.
type lying struct {
	load    int
	mass    measure.Mass
	area    measure.Area
	bearers int
}

func (p *Problem) lies(b *Bundle, load int) lying {
	area, _ := measure.AreaOf(b.Length, b.Width) // Faults keeps both so short that it can be counted
	return lying{load, b.Mass, area, p.Kinds[b.Kind].Bearers}
}

func sum(list []lying) (all lying) {
	for _, x := range list {
		all.mass, all.area, all.bearers = all.mass+x.mass, all.area+x.area, all.bearers+x.bearers
	}
	return all
}

// takes tells whether all that is on file of a place holds with these.
func (at *Place) takes(list []lying) bool {
	all := sum(list)
	return (at.Bears == nil || all.mass <= *at.Bears) && (at.Area == nil || all.area <= *at.Area) && (at.Supports == nil || all.bearers <= *at.Supports)
}

// nearest is the nearest place with room; -1: none has any.
func (p *Problem) nearest(b *Bundle, places []Place, room func(int) bool) int {
	first := &p.Pieces[b.Pieces[0]]
	order := make([]int, len(places))
	for i := range order {
		order[i] = i
	}
	away := func(i int) measure.Length {
		if places[i].Leg != first.Leg {
			return measure.Length(1)<<62 + measure.Length(max(0, places[i].Leg))
		}
		return max(0, places[i].From-first.At, first.At-places[i].To)
	}
	sorting.By(order, func(a, b int) int { return cmp.Compare(away(a), away(b)) })
	for _, i := range order {
		if room(i) {
			return i
		}
	}
	return -1
}

// hold says what the figures of a place come to.
func (at *Place) hold(l *Lies, p *Problem, s *Solution, keep *measure.Length) {
	sized, borne := true, true
	for _, b := range l.Bundles {
		sized = sized && s.Bundles[b].sized()
		borne = borne && p.Kinds[s.Bundles[b].Kind].Bearers > 0
	}
	if at.Bears != nil {
		l.Held[0] = meets(l.Mass <= *at.Bears)
	}
	if at.Area != nil && sized {
		l.Held[1] = meets(l.Area <= *at.Area)
	}
	if at.Supports != nil && borne {
		l.Held[2] = meets(l.Bearers <= *at.Supports)
	}
	if at.Edge != nil && keep != nil {
		l.KeptAway = meets(*at.Edge >= *keep)
	}
}

func meets(it bool) finding.Verdict {
	if it {
		return finding.Meets
	}
	return finding.DoesNot
}
