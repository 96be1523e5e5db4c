package main

import (
	"math"
	"path/filepath"
	"testing"

	"trenchwright/place/route"
)

// A worker reads the file that the peer reads, and makes of it the ground that was made up.
func TestGroundWorker(t *testing.T) {
	b := &bench{dir: t.TempDir()}
	c := country{Places: 4000, Roads: 5, Seed: 3, File: filepath.Join(b.dir, "places.txt"), Ask: true}
	if err := c.write(); err != nil {
		t.Fatal(err)
	}
	read, err := c.read()
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range c.places() {
		if p.Distance(read[i]) > 1e-6 {
			t.Fatalf("place %d: %v was written, %v read", i, p, read[i])
		}
	}
	if s := c.survey(read); len(s.Points)+5*c.roadPlaces() != 4000 || len(s.Lines) != 5 || s.Lines[4].Points[0].Plan() != read[c.plainPlaces()+4*c.roadPlaces()] {
		t.Errorf("%d points and %d roads", len(s.Points), len(s.Lines))
	}
	_, a, err := b.triangulate(c, 1)
	if err != nil {
		t.Fatal(err)
	}
	if a.Faces < 7900 || a.Make <= 0 || a.Along <= 0 || a.Anywhere <= 0 || a.Between <= 0 || a.Volumes < 19_000 {
		t.Errorf("%+v", a)
	}
	// 400,000 sections of 6.02 m, all but a little of them on the ground; two made-up grounds of one shape differ little.
	if want := 400_000 * math.Hypot(4, 4.5); a.Ground < 0.99*want || a.Ground > want*1.000001 || a.Cut <= 0 || a.Fill <= 0 || a.Cut+a.Fill > 0.2*a.Common {
		t.Errorf("%+v", a)
	}
	c.Places++
	if _, err := c.read(); err == nil {
		t.Error("a file of another country was read")
	}
	if level(route.Point{}) != 102 {
		t.Error("the made-up ground moved")
	}
}
