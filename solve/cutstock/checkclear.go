package cutstock

import (
	"slices"

	"trenchwright/base/measure"
)

// zoned looks for a way to lay pieces on a unit with no-cut zones, from end B to end A.
type zoned struct {
	*bench
	problem Problem
	stock   Stock
	left    []int // of each sort
	tries   int
}

// most tries before a way is taken as possible: too much is then thought possible, never too little.
const mostTries = 200_000

// fitsClear tells whether so many of each sort can be cut from the stock without a saw in a no-cut zone.
func (b *bench) fitsClear(stock int, taken []int) bool {
	z := zoned{bench: b, problem: b.problem, stock: b.problem.Stocks[stock], left: slices.Clone(taken)}
	return z.next(nil, nil)
}

// run is stations from..to.
type run struct{ from, to measure.Length }

// next lays a further piece to the left of the last, whose left face is a face and can lie at the stations; nil: none
// is laid yet.
func (z *zoned) next(face *End, at []run) bool {
	z.tries++
	if z.tries > mostTries {
		return true
	}
	any := false
	for sort := range z.left {
		if z.left[sort] == 0 {
			continue
		}
		any = true
		z.left[sort]--
		piece := z.problem.Pieces[z.pieces[sort]]
		for turn := range 2 {
			left, right := piece.Start, piece.End
			if turn == 1 {
				if !z.problem.MayTurn || left == right {
					break
				}
				left, right = right, left
			}
			var reach []run
			for _, r := range z.rightFace(right, face, at) {
				reach = append(reach, run{r.from - piece.Length, r.to - piece.Length})
			}
			if reach = z.leftFace(left, reach); len(reach) > 0 && z.next(&left, reach) {
				z.left[sort]++
				return true
			}
		}
		z.left[sort]++
	}
	return !any && face != nil && z.closes(*face, at)
}

// rightFace is where the right face of the next piece can lie.
func (z *zoned) rightFace(right End, face *End, at []run) []run {
	var out []run
	if face == nil {
		if right.Skew == z.stock.B.Skew && (right.Cast == "" || right.Cast == z.stock.B.Cast) {
			out = append(out, run{z.stock.Length, z.stock.Length})
		}
		if right.Cast != "" {
			return out
		}
		least, slice := atStockEnd(z.problem, z.stock.B.Skew, right.Skew)
		return append(out, z.uncut([]run{{0, z.stock.Length - least - slice}}, right.Skew, 1)...)
	}
	if right.Cast != "" || face.Cast != "" {
		return nil
	}
	least, slice := parting(z.problem, right.Skew, face.Skew)
	for _, r := range at {
		out = append(out, run{r.from - least, r.to - least}, run{0, r.to - least - slice})
	}
	return z.uncut(out, right.Skew, 1)
}

// leftFace is the part of the stations where the left face can be cut, or is the end of the stock.
func (z *zoned) leftFace(left End, at []run) []run {
	var out []run
	if left.Cast == "" {
		out = z.uncut(at, left.Skew, -1)
	}
	if left.Skew == z.stock.A.Skew && (left.Cast == "" || left.Cast == z.stock.A.Cast) {
		for _, r := range at {
			if r.from <= 0 && r.to >= 0 {
				out = append(out, run{0, 0})
			}
		}
	}
	return out
}

// uncut is the part of the stations of a face where its cut enters no zone.
func (z *zoned) uncut(at []run, skew measure.Angle, side int) []run {
	reach := apart(z.problem.Width, skew, 0)
	before, behind := reach, reach
	if side > 0 {
		behind += onAxis(z.problem.Kerf, skew)
	} else {
		before += onAxis(z.problem.Kerf, skew)
	}
	out := slices.DeleteFunc(slices.Clone(at), func(r run) bool { return r.from > r.to || r.to < 0 })
	for i := range out {
		out[i].from = max(out[i].from, 0)
	}
	for _, zone := range z.stock.NoCut {
		if zone.From == zone.To {
			continue
		}
		var parts []run
		for _, r := range out {
			if low := (run{r.from, min(r.to, zone.From-behind)}); low.from <= low.to {
				parts = append(parts, low)
			}
			if high := (run{max(r.from, zone.To+before), r.to}); high.from <= high.to {
				parts = append(parts, high)
			}
		}
		out = parts
	}
	return out
}

// closes tells whether the last face at some of the stations leaves nothing or a slice at end A.
func (z *zoned) closes(face End, at []run) bool {
	least, slice := atStockEnd(z.problem, z.stock.A.Skew, face.Skew)
	for _, r := range at {
		if r.from <= 0 && 0 <= r.to && face.Skew == z.stock.A.Skew || face.Cast == "" && r.to >= least+slice && r.to > 0 {
			return true
		}
	}
	return false
}
