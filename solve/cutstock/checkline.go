package cutstock

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// The rule of the saw as the checker has it. Distances on the axis are rounded to the nanometre.

func tangent(skew measure.Angle) float64 {
	sin, cos := math.Sincos(skew.Radians())
	return sin / cos
}

func upToNanometre(x float64) measure.Length { return measure.Length(math.Round(x)) }

// onAxis is a thickness square to a skew cut, on the axis.
func onAxis(t measure.Length, skew measure.Angle) measure.Length {
	return upToNanometre(float64(t) / math.Cos(skew.Radians()))
}

// apart is how far two lines must lie apart on the axis so that they do not cross within the width.
func apart(width measure.Length, a, b measure.Angle) measure.Length {
	return upToNanometre(math.Abs(tangent(a)-tangent(b)) * float64(width) / 2)
}

// parting is the least distance of two facing faces, and the least that may be left over in it.
func parting(p Problem, a, b measure.Angle) (least, slice measure.Length) {
	if a == b {
		return onAxis(p.Kerf, a), onAxis(p.LeastSlice, a)
	}
	return apart(p.Width, a, b) + onAxis(p.Kerf, a) + onAxis(p.Kerf, b), 0
}

// atStockEnd is the least distance of a face from an end of the stock, and the least that may be left over in it.
func atStockEnd(p Problem, stock, face measure.Angle) (least, slice measure.Length) {
	if stock == face {
		return 0, onAxis(p.LeastSlice, face)
	}
	return apart(p.Width, stock, face), 0
}

// gapHolds tells whether a distance keeps the rule.
func gapHolds(distance, least, slice measure.Length) bool {
	return distance == least || distance > least && distance >= least+slice
}

// lineFault is why the pieces cannot be cut from the stock as they are placed; "" when they can.
func lineFault(p Problem, stock Stock, cuts []Placed) string {
	at, before, cast := measure.Length(0), stock.A.Skew, stock.A.Cast
	for i, placed := range cuts {
		if placed.Piece < 0 || placed.Piece >= len(p.Pieces) {
			return fmt.Sprintf("no piece %d", placed.Piece)
		}
		piece := p.Pieces[placed.Piece]
		if placed.Turned && !p.MayTurn {
			return p.Words.Say("piece %d is turned, and %s may not be", placed.Piece, wording.Units)
		}
		if piece.Class != stock.Class {
			return fmt.Sprintf("piece %d is of class %q, the stock of class %q", placed.Piece, piece.Class, stock.Class)
		}
		left, right := piece.Start, piece.End
		if placed.Turned {
			left, right = right, left
		}
		least, slice := parting(p, before, left.Skew)
		if i == 0 {
			least, slice = atStockEnd(p, before, left.Skew)
		}
		if gap := placed.At - at; !gapHolds(gap, least, slice) {
			return fmt.Sprintf("before piece %d lie %s; the saw needs %s, or more by %s", placed.Piece, p.length(gap), p.length(least), p.length(slice))
		}
		asCast := i == 0 && placed.At == 0 && left.Skew == before
		if why := faceFault(p, stock, placed, left, asCast, cast, -1); why != "" {
			return why
		}
		keeps := asCast && cast != ""
		at, before, cast = placed.At+piece.Length, right.Skew, stock.B.Cast
		atB := i == len(cuts)-1 && at == stock.Length && right.Skew == stock.B.Skew
		if why := faceFault(p, stock, placed, right, atB, cast, 1); why != "" {
			return why
		}
		if p.FactoryEnd && !keeps && !(atB && cast != "") {
			return fmt.Sprintf("piece %d keeps no cast end", placed.Piece)
		}
	}
	least, slice := atStockEnd(p, stock.B.Skew, before)
	if gap := stock.Length - at; !gapHolds(gap, least, slice) {
		return fmt.Sprintf("at end B lie %s; the saw needs %s, or more by %s", p.length(gap), p.length(least), p.length(slice))
	}
	return ""
}

// faceFault is why a face of a placed piece cannot be as it is: whole tells whether it is the end of the stock itself,
// side on which side of the piece it lies.
func faceFault(p Problem, stock Stock, placed Placed, face End, whole bool, cast string, side int) string {
	if face.Cast != "" && (!whole || face.Cast != cast) {
		return fmt.Sprintf("piece %d must keep an end cast as %s", placed.Piece, face.Cast)
	}
	if whole {
		return ""
	}
	at := placed.At
	if side > 0 {
		at += p.Pieces[placed.Piece].Length
	}
	if from, to, hit := sawMeets(p, stock, at, face.Skew, side); hit {
		return fmt.Sprintf("the cut beside piece %d enters the no-cut zone %s", placed.Piece, p.span(from, to))
	}
	return ""
}

// sawMeets is the no-cut zone that the cut at a face enters.
func sawMeets(p Problem, stock Stock, at measure.Length, skew measure.Angle, side int) (from, to measure.Length, hit bool) {
	reach := apart(p.Width, skew, 0)
	low, high := at-reach, at+reach
	if side > 0 {
		high += onAxis(p.Kerf, skew)
	} else {
		low -= onAxis(p.Kerf, skew)
	}
	for _, zone := range stock.NoCut {
		if zone.From < zone.To && low < zone.To && high > zone.From {
			return zone.From, zone.To, true
		}
	}
	return 0, 0, false
}
