package geojson

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"trenchwright/base/finding"
)

// Write writes a collection of features, one a line. Numbers of degrees have at most seven decimals and heights at most
// three, rounded to the nearest, half away from zero, without zeros at their end. Outer rings turn left and inner ones
// right; lines and polygons that cross 180° of longitude are cut there. Nothing is written of features that RFC 7946 would not have:
// the error, a Refusal, says why. The same features give the same bytes.
func Write(out io.Writer, features []Feature) error {
	ready := make([]Geometry, len(features))
	for i, f := range features {
		g, why := f.Geometry.ready()
		if why == "" {
			why = f.fault()
		}
		if why != "" {
			return &Refusal{finding.Finding{ID: "geojson.write", Kind: finding.Fault, Text: fmt.Sprintf("feature %d: %s", i+1, why)}}
		}
		ready[i] = g
	}
	w := bufio.NewWriter(out)
	put := func(text string) { _, _ = w.WriteString(text) } // Flush tells
	put(`{"type":"FeatureCollection","features":[`)
	for i, f := range features {
		if i > 0 {
			put(",")
		}
		put("\n" + f.head())
		put(ready[i].text())
		put(f.tail())
	}
	put("\n]}\n")
	return w.Flush()
}

// fault says what of a feature is no JSON.
func (f Feature) fault() string {
	seen := map[string]bool{}
	for _, p := range f.Properties {
		switch {
		case seen[p.Name]:
			return fmt.Sprintf("the property %q stands twice", p.Name)
		case !json.Valid(p.Value):
			return fmt.Sprintf("the value of the property %q is no JSON", p.Name)
		}
		seen[p.Name] = true
	}
	if f.NumberID {
		var n json.Number
		if json.Unmarshal([]byte(f.ID), &n) != nil || n.String() == "" || f.ID[0] == '"' {
			return fmt.Sprintf("its id %q is no number", f.ID)
		}
	}
	return ""
}

func (f Feature) head() string {
	id := ""
	switch {
	case f.NumberID:
		id = `"id":` + f.ID + ","
	case f.ID != "":
		id = `"id":` + string(quoted(f.ID)) + ","
	}
	return `{"type":"Feature",` + id + `"geometry":`
}

func (f Feature) tail() string {
	var b bytes.Buffer
	b.WriteString(`,"properties":{`)
	for i, p := range f.Properties {
		if i > 0 {
			b.WriteByte(',')
		}
		b.Write(quoted(p.Name))
		b.WriteByte(':')
		_ = json.Compact(&b, bytes.ToValidUTF8(p.Value, []byte("\ufffd"))) // fault has seen that it is JSON
	}
	b.WriteString("}}")
	return b.String()
}

// quoted is a text as JSON has it; < > & stay as they are.
func quoted(text string) json.RawMessage {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(text) // a text is always JSON
	return bytes.TrimSpace(b.Bytes())
}

// text is a geometry as JSON.
func (g Geometry) text() string {
	var b strings.Builder
	g.write(&b)
	return b.String()
}

func (g Geometry) write(b *strings.Builder) {
	if g.Kind == Nowhere {
		b.WriteString("null")
		return
	}
	b.WriteString(`{"type":"` + string(g.Kind) + `","`)
	if g.Kind == Collection {
		b.WriteString(`geometries":`)
		list(b, g.Members, func(m Geometry) { m.write(b) })
		b.WriteByte('}')
		return
	}
	b.WriteString(`coordinates":`)
	line := func(l []Position) { list(b, l, func(p Position) { p.write(b) }) }
	body := func(lines [][]Position) { list(b, lines, line) }
	switch g.Kind {
	case Point:
		g.Bodies[0][0][0].write(b)
	case MultiPoint, LineString:
		line(g.Bodies[0][0])
	case MultiLineString, Polygon:
		body(g.Bodies[0])
	case MultiPolygon:
		list(b, g.Bodies, body)
	}
	b.WriteByte('}')
}

func list[T any](b *strings.Builder, all []T, write func(T)) {
	b.WriteByte('[')
	for i, one := range all {
		if i > 0 {
			b.WriteByte(',')
		}
		write(one)
	}
	b.WriteByte(']')
}

const degreeDecimals, heightDecimals = 7, 3

func (p Position) write(b *strings.Builder) {
	b.WriteString("[" + fixed(p.Lon, degreeDecimals) + "," + fixed(p.Lat, degreeDecimals))
	if p.HasHeight {
		b.WriteString("," + fixed(p.Height, heightDecimals))
	}
	b.WriteByte(']')
}

// whole is a number in units of its last decimal. This is the one place where numbers are rounded on the way out.
func whole(f float64, decimals int) int64 {
	return int64(math.Round(f * [...]float64{heightDecimals: 1e3, degreeDecimals: 1e7}[decimals]))
}

func fixed(f float64, decimals int) string {
	n := whole(f, decimals)
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	text := strconv.FormatInt(n, 10)
	text = strings.Repeat("0", max(0, decimals+1-len(text))) + text
	return sign + strings.TrimRight(strings.TrimRight(text[:len(text)-decimals]+"."+text[len(text)-decimals:], "0"), ".")
}
