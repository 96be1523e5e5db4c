// Package geojson reads and writes GeoJSON (RFC 7946), on streams and within limits: longitude and latitude in WGS 84, in
// this order, in degrees.
//
// What a file may say in two ways is refused rather than guessed: coordinates out of range or in a coordinate system of
// their own, rings that do not close, steps of more than half way round the earth. A third number is a height above the
// ellipsoid, tens of metres from any height datum: it is kept and never becomes a level. Seven decimals are written, which
// lie within 6 mm of the place: enough to look at and to find, not to set out from.
//
// Map of the package:
//
//	geojson.go   what a file holds
//	read.go      Read: collections, features, what is passed over
//	tokens.go    tokens within limits, and where they stand
//	coordinates.go  nested numbers as they are written
//	shape.go     geometries from those, and the rules that they keep
//	write.go     Write: text that is the same for the same features; cut.go: rings and lines as RFC 7946 wants them,
//	across.go: polygons across 180° of longitude
//	plan.go      to plan coordinates and back, by a conversion that the caller brings
package geojson

import (
	"encoding/json"
	"strconv"

	"trenchwright/base/finding"
)

// Kind is the type of a geometry. The zero value is none: a feature may lie nowhere.
type Kind string

// The kinds of RFC 7946.
const (
	Nowhere         Kind = ""
	Point           Kind = "Point"
	MultiPoint      Kind = "MultiPoint"
	LineString      Kind = "LineString"
	MultiLineString Kind = "MultiLineString"
	Polygon         Kind = "Polygon"
	MultiPolygon    Kind = "MultiPolygon"
	Collection      Kind = "GeometryCollection"
)

// Position is a place in WGS 84.
type Position struct {
	Lon, Lat  float64 // degrees, east and north positive
	Height    float64 // metres above the ellipsoid
	HasHeight bool
}

// Geometry is where a feature lies, for every kind in the same three steps: bodies, their lines, the positions of a line.
// A Point is one body of one line of one position, a MultiPoint one line of many; LineString and MultiLineString are one
// body of their lines; a Polygon is one body of its rings, the outer one first; a MultiPolygon has many bodies. A ring
// repeats its first position at its end.
type Geometry struct {
	Kind    Kind
	Bodies  [][][]Position
	Members []Geometry // of a GeometryCollection
}

// Feature is one thing with its properties.
type Feature struct {
	ID         string // "" is none
	NumberID   bool   // the id is a number
	Geometry   Geometry
	Properties []Property // in the file's order
	Line       int        // of the file
}

// Property is a name with its value, as JSON text.
type Property struct {
	Name  string
	Value json.RawMessage
}

// Text is a property that holds a text.
func Text(name, value string) Property {
	return Property{name, quoted(value)}
}

// Number is a property that holds a number, in the fewest digits that give it back; NaN and the infinities are null, which
// is all that JSON has for them.
func Number(name string, value float64) Property {
	if value-value != 0 {
		return Property{name, json.RawMessage("null")}
	}
	return Property{name, json.RawMessage(strconv.FormatFloat(value, 'f', -1, 64))}
}

// Text is the property of a name, where it holds a text.
func (f Feature) Text(name string) (value string, ok bool) {
	for _, p := range f.Properties {
		if p.Name == name && len(p.Value) > 0 && p.Value[0] == '"' {
			return value, json.Unmarshal(p.Value, &value) == nil
		}
	}
	return "", false
}

// File is what was read.
type File struct {
	Features []Feature
	Notes    finding.List // what was understood, passed over, refused
}

// Options say how to read.
type Options struct {
	File   string // its name, for findings
	Limits Limits // 0 in a field: the default
}

// Limits hold a hostile or broken file off.
type Limits struct {
	Bytes     int64 // of the whole file
	Token     int64 // of one text, or of the properties of one feature
	Depth     int   // of objects and lists in each other
	Features  int
	Positions int
}

var defaults = Limits{Bytes: 256 << 20, Token: 4 << 20, Depth: 64, Features: 1_000_000, Positions: 4_000_000}

// Refusal is why a file was not read, or not written: a finding with its sentence.
type Refusal struct{ finding.Finding }

// Error is the sentence, with its place and what to try.
func (r *Refusal) Error() string {
	text := r.Text
	if r.Where.Line > 0 {
		text = "line " + strconv.Itoa(r.Where.Line) + ": " + text
	}
	if r.Try != "" {
		text += "; try: " + r.Try
	}
	return text
}
