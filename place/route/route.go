// Package route is the run as a network of legs, and its geometry in plan.
//
// Two rules hold everywhere in it. A Point is grid: easting and northing in metres relative to the job's origin, in
// float64, for trigonometry. A measure.Length is ground: chainages, offsets and radii, rounded once to the nanometre
// (line.go, chainages). The combined scale factor lies between them: ground = grid / factor. Right is positive, for
// offsets and for turns, looking up-chainage.
//
// Map of the package:
//
//	point.go     Point, Vector, Coordinates of record and the Origin between them
//	element.go   Element: one straight or one arc
//	line.go      Line: a chain of elements, its chainages, At, Beside, Stretches, Kinks
//	vertices.go  Polyline: vertices, with tangent arcs where a vertex has a radius
//	chain.go     Chain: elements that somebody else made, checked and joined
//	offset.go    Offset: the parallel line
//	project.go   Project: every foot of a point on a line; Nearest: the one, or why it is not one
//	meet.go      Meet: where two lines cross, and at what skew
//	cross.go     JointFree: the width that a crossing keeps free of joints
//	corner.go    Corner: what a mitre takes, and what a pad below it needs
//	refusal.go   Refusal: why a line cannot be made, worded for a job
//	network.go   Network, Node, Leg, Arm, Bend
//	declare.go   Vertices, Declare: from a line back to what people declare
//	build.go     Build: from what people declare to a Network, all faults at once
//	drawn.go     Drawn: which line was drawn, and the way from it to the centreline
//	walk.go      Walk: a run told as a walk; closing.go: what it misses a known point by
package route

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Limits of the geometry. Inside them float64 holds a nanometre's neighbourhood, and no sum leaves measure.Length.
const (
	// Reach is the greatest distance of any coordinate from the origin, and the greatest radius, in metres: float64
	// steps there are below 2 nm.
	Reach = 1e7
	// Longest is the greatest length of a line, in metres.
	Longest = 1e9
	// Least is the shortest element that is drawn on purpose, in metres: two vertices nearer than this are one.
	Least = 1e-6
)

// Smooth is the turn that a line may make at a joint of two elements and still count as laid through: 0.01°, which opens
// a joint of 1 m width by 0.17 mm. Common practice, no source: survey coordinates given to the millimetre turn that much.
const Smooth = measure.Degree / 100

// toLength rounds m metres to the nanometre. What no run reaches is held at ±9 million km: only a fold of nearly 180° or
// a shift by a length of that size comes there.
func toLength(m float64) measure.Length {
	const most = 9e9
	return measure.FromMetres(min(max(m, -most), most))
}

// far is m metres for a sentence.
func far(m float64) wording.Far { return wording.Far(toLength(m)) }

// degrees writes an angle of a radians for a sentence.
func degrees(a float64) string { return fmt.Sprintf("%.3f°", a*(180/math.Pi)) }
