package planner

import (
	"math"
	"slices"

	"trenchwright/base/measure"
)

// lie is how a leg lies in height: straight grades between knots, by chainage from its from node. Empty where no level is
// known: it is then laid out as if it were level.
type lie []knot

// knot is a place where the grade may change.
type knot struct {
	chainage measure.Length // in plan, on the ground
	level    measure.Length // of the wall top
	along    measure.Length // from the leg's from node, along the grades
}

// newLie joins places by straight grades; each stretch between two is rounded once. Before the first the leg lies as behind it.
func newLie(knots []knot) lie {
	for i := range knots {
		if i == 0 {
			continue
		}
		d := measure.FromMetres(math.Hypot((knots[i].chainage - knots[i-1].chainage).Metres(), (knots[i].level - knots[i-1].level).Metres()))
		if i == 1 {
			knots[0].along = portion(knots[0].chainage, d, knots[1].chainage-knots[0].chainage)
		}
		knots[i].along = knots[i-1].along + d
	}
	return knots
}

// stretch is the slope length for each length in plan on the grade that holds a chainage, at least 1.
func (l lie) stretch(chainage measure.Length) float64 {
	if len(l) < 2 {
		return 1
	}
	i := l.grade(chainage)
	return (l[i+1].along - l[i].along).Metres() / (l[i+1].chainage - l[i].chainage).Metres()
}

// grade is the knot at the start of the grade that holds a chainage; beyond its ends the run goes on as it ends.
func (l lie) grade(chainage measure.Length) int {
	i, _ := slices.BinarySearchFunc(l, chainage, func(k knot, c measure.Length) int {
		if k.chainage <= c {
			return -1
		}
		return 1
	})
	return min(max(i-1, 0), len(l)-2)
}

// slope is the length along the grades from the from node to a chainage, rounded once.
func (l lie) slope(chainage measure.Length) measure.Length {
	if len(l) < 2 {
		return chainage
	}
	i := l.grade(chainage)
	return l[i].along + portion(chainage-l[i].chainage, l[i+1].along-l[i].along, l[i+1].chainage-l[i].chainage)
}

// chainage is the converse of slope.
func (l lie) chainage(along measure.Length) measure.Length {
	if len(l) < 2 {
		return along
	}
	i, _ := slices.BinarySearchFunc(l, along, func(k knot, a measure.Length) int {
		if k.along <= a {
			return -1
		}
		return 1
	})
	i = min(max(i-1, 0), len(l)-2)
	return l[i].chainage + portion(along-l[i].along, l[i+1].chainage-l[i].chainage, l[i+1].along-l[i].along)
}

// level is the level at a chainage; ok is false where none is known.
func (l lie) level(chainage measure.Length) (z measure.Length, ok bool) {
	if len(l) < 2 {
		return 0, false
	}
	i := l.grade(chainage)
	return l[i].level + portion(chainage-l[i].chainage, l[i+1].level-l[i].level, l[i+1].chainage-l[i].chainage), true
}

// rise is from the first knot to the last.
func (l lie) rise() measure.Length {
	if len(l) < 2 {
		return 0
	}
	return l[len(l)-1].level - l[0].level
}

// portion is part·whole/of, rounded once to the nearest nanometre.
func portion(part, whole, of measure.Length) measure.Length {
	if whole == of {
		return part
	}
	return measure.FromMetres(part.Metres() * (whole.Metres() / of.Metres()))
}
