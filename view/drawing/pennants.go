package drawing

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
	"trenchwright/view/scene"
)

// pennant is a word on a pole: it names what stands at x on a strip. Flags fly in lanes, so that no word lies on another and
// no pole runs through a word.
type pennant struct {
	x      float64 // of the pole, mm of paper
	foot   float64 // where the pole begins, mm of paper from the lanes' base; 0: at the base
	text   string
	weight scene.Weight

	lane int
	back bool // the word stands to the left of its pole
}

// The word stands beside its pole.
const (
	flagGap  = 0.7
	flagRoom = 1.6 // kept free behind the word
)

func (f pennant) width(size float64) float64 {
	return flagGap + scene.TextWidth(f.text, size, f.weight) + flagRoom
}

// cover is what the word takes of its lane.
func (f pennant) cover(size float64) (from, to float64) {
	if f.back {
		return f.x - f.width(size), f.x
	}
	return f.x, f.x + f.width(size)
}

// over reports whether the pole of g stands under the word of f, so that f has to fly above g.
func (f pennant) over(g pennant, size float64) bool {
	from, to := f.cover(size)
	if f.back {
		return g.x < f.x && g.x > from+flagRoom/2
	}
	return g.x > f.x && g.x < to-flagRoom/2
}

// fly gives every word its lane, counted from the strip outwards, and tells how many lanes there are. Words fly to the
// right of their poles; those that would reach past the right edge fly to the left, and so do those that stand under such a
// word and would lie on its pole. A word that then reaches past the left edge is cut short.
func fly(flags []pennant, left, right, size float64) ([]pennant, int) {
	all := slices.Clone(flags)
	sorting.By(all, func(a, b pennant) int { return cmp.Compare(a.x, b.x) })
	for i := range all {
		if f := &all[i]; f.x+f.width(size) > right {
			f.turnBack(left, right, size)
		}
	}
	for part(all, left, size) {
	}
	lanes := 0
	set := make([]bool, len(all))
	for range all {
		i := next(all, set, size)
		set[i] = true
		all[i].lane = laneFor(all, set, i, size)
		lanes = max(lanes, all[i].lane+1)
	}
	return all, lanes
}

// turnBack flies the word to the left, or on the side that has more room, cut short.
func (f *pennant) turnBack(left, right, size float64) {
	f.back = f.x-f.width(size) >= left || f.x-left > right-f.x
	room := right - f.x
	if f.back {
		room = f.x - left
	}
	f.cut(room, size)
}

// cut shortens a word to the room that it has.
func (f *pennant) cut(room, size float64) {
	if f.width(size) > room {
		f.text, _, _ = scene.Fit(f.text, size, size, f.weight, room-flagGap-flagRoom)
	}
}

// part finds two words of which each lies on the other's pole, and turns the one that flies to the right.
func part(all []pennant, left, size float64) (found bool) {
	for i := range all {
		for k := range all {
			f, g := &all[i], all[k]
			if f.back || !g.back || !f.over(g, size) || !g.over(*f, size) {
				continue
			}
			if f.x-f.width(size) >= left {
				f.back = true
			} else {
				f.cut(g.x-f.x, size)
			}
			return true
		}
	}
	return false
}

// next is the first word not set yet under which all poles are set. There always is one: a ring of words each above the
// next would hold two that lie on each other's poles, and part left none.
func next(all []pennant, set []bool, size float64) int {
	for i := len(all) - 1; i >= 0; i-- {
		if set[i] {
			continue
		}
		ready := true
		for k := range all {
			ready = ready && (set[k] || k == i || !all[i].over(all[k], size))
		}
		if ready {
			return i
		}
	}
	panic("drawing: words on poles stand in a ring")
}

// laneFor is the lowest lane for word i above all poles under it and clear of all words set.
func laneFor(all []pennant, set []bool, i int, size float64) int {
	from, to := all[i].cover(size)
	lane := 0
	for k := range all {
		if set[k] && k != i && all[i].over(all[k], size) {
			lane = max(lane, all[k].lane+1)
		}
	}
	for again := true; again; {
		again = false
		for k := range all {
			f, t := all[k].cover(size)
			if set[k] && k != i && all[k].lane == lane && f < to && t > from {
				lane, again = lane+1, true
			}
		}
	}
	return lane
}

// hoist draws flags whose lanes begin at base and go up, or down.
func hoist(flags []pennant, base, size float64, down bool) []scene.Mark {
	step := scene.LineStep(size)
	var marks []scene.Mark
	for _, f := range flags {
		way := -1.0
		if down {
			way = 1
		}
		far := base + float64(float64(way*step)*float64(f.lane+1))
		tip, baseline := far, far+step-float64((step-size)/2)
		if down {
			baseline = far - float64((step-size)/2)
		}
		at := scene.Point{X: f.x + flagGap, Y: baseline}
		align := scene.Left
		if f.back {
			at.X, align = f.x-flagGap, scene.Right
		}
		marks = append(marks, scene.Line(scene.Point{X: f.x, Y: base - float64(way*f.foot)}, scene.Point{X: f.x, Y: tip}, scene.Pen(scene.Thin)),
			scene.Text{At: at, String: f.text, Size: size, Weight: f.weight, Align: align})
	}
	return marks
}
