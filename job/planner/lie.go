package planner

import (
	"math"
	"slices"

	"trenchwright/base/measure"
)

// lie is how a leg lies in height: straight grades between knots, by chainage from its from node. Empty where no level is
// known: it is then laid out as if it were level.
type lie []knot

// knot is a place where the grade may change, or the run may step.
type knot struct {
	chainage measure.Length // in plan, on the ground
	level    measure.Length // of the wall top, of the unit behind it
	before   measure.Length // of the unit before it: another one where that unit steps
	grade    float64        // of the stretch behind it, up-chainage; the last knot has that of the stretch before it
	along    float64        // nanometres from the leg's from node, along the grades
}

// newLie joins places by straight grades.
func newLie(knots []knot) lie {
	last := len(knots) - 1
	for i := range knots {
		knots[i].before = knots[i].level
		if last > 0 {
			from, to := knots[min(i, last-1)], knots[min(i+1, last)]
			knots[i].grade = (to.level - from.level).Metres() / (to.chainage - from.chainage).Metres()
		}
	}
	return measured(knots)
}

// measured counts how far knots are from the from node along their grades, unrounded: a place is rounded once (slope), never
// added up from rounded parts. A joint that moves by a nanometre on a grade then moves no other, and levels and lengths come
// to rest. float64 holds 100 km of it to a hundredth of a nanometre. Before the first knot the leg lies as behind it.
func measured(l lie) lie {
	if len(l) == 0 {
		return nil
	}
	l[0].along = float64(l[0].chainage) * math.Hypot(1, l[0].grade)
	for i := 1; i < len(l); i++ {
		l[i].along = l[i-1].along + float64(float64(l[i].chainage-l[i-1].chainage)*math.Hypot(1, l[i-1].grade))
	}
	return l
}

// stretch is the slope length for each length in plan on the grade that holds a chainage, at least 1.
func (l lie) stretch(chainage measure.Length) float64 {
	if len(l) < 2 {
		return 1
	}
	return math.Hypot(1, l[l.grade(chainage)].grade)
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
	return measure.Length(math.Round(l[i].along + float64(float64(chainage-l[i].chainage)*math.Hypot(1, l[i].grade))))
}

// chainage is the converse of slope.
func (l lie) chainage(along measure.Length) measure.Length {
	if len(l) < 2 {
		return along
	}
	i, _ := slices.BinarySearchFunc(l, float64(along), func(k knot, a float64) int {
		if k.along <= a {
			return -1
		}
		return 1
	})
	i = min(max(i-1, 0), len(l)-2)
	return l[i].chainage + measure.Length(math.Round((float64(along)-l[i].along)/math.Hypot(1, l[i].grade)))
}

// level is the level at a chainage; ok is false where none is known.
func (l lie) level(chainage measure.Length) (z measure.Length, ok bool) {
	if len(l) < 2 {
		return 0, false
	}
	i := l.grade(chainage)
	return l[i].level + portion(chainage-l[i].chainage, l[i+1].before-l[i].level, l[i+1].chainage-l[i].chainage), true
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
