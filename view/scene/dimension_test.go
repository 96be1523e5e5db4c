package scene_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/view/scene"
	"trenchwright/view/scene/internal/specimen"
)

// readable fails when lettering on a page lies on other lettering, on a line,
// or past what should hold it.
func readable(t interface {
	Helper()
	Errorf(string, ...any)
	Fatal(...any)
}, p scene.Page) {
	t.Helper()
	overlaps, err := scene.Overlaps(p)
	if err != nil {
		t.Fatal(err)
	}
	strays, err := scene.Outside(p)
	if err != nil {
		t.Fatal(err)
	}
	crossings, err := scene.Crossed(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range overlaps {
		t.Errorf("overlap: %v", o)
	}
	for _, s := range strays {
		t.Errorf("outside: %v", s)
	}
	for _, c := range crossings {
		t.Errorf("crossed: %v", c)
	}
}

func TestTheSpecimenCanBeRead(t *testing.T) { readable(t, specimen.Page()) }

func place(t *rapid.T, label string) scene.Point {
	return scene.Point{X: rapid.Float64Range(-80, 80).Draw(t, label), Y: rapid.Float64Range(-80, 80).Draw(t, label)}
}

func figure(t *rapid.T, label string) string {
	return rapid.SampledFrom([]string{"8", "2 412 mm", "7′-10 15/16″", "gap 10", "closer, cut from measurement 2 986 mm", "A,j"}).Draw(t, label)
}

// about is a page round the origin.
func about(marks ...scene.Mark) scene.Page {
	return scene.Page{Width: 2000, Height: 2000, Marks: []scene.Mark{scene.Group{Transform: scene.Shift(1000, 1000), Marks: marks}}}
}

func TestTheFigureOfADimensionNeverLiesOnItsLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := place(t, "from")
		readable(t, about(scene.Dimension{
			From: from, To: from.Add(scene.Direction(rapid.Float64Range(-180, 180).Draw(t, "angle")).Times(rapid.Float64Range(0.2, 80).Draw(t, "length"))),
			Offset: rapid.Float64Range(5, 30).Draw(t, "offset") * rapid.SampledFrom([]float64{-1, 0, 1}).Draw(t, "side"),
			Text:   figure(t, "figure"), Size: rapid.Float64Range(1.8, 5).Draw(t, "size"),
			Outside: rapid.Bool().Draw(t, "outside"),
		}))
	})
}

func TestFiguresOfAChainNeverMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		along := scene.Direction(rapid.Float64Range(-180, 180).Draw(t, "angle"))
		points, texts := []scene.Point{place(t, "start")}, []string(nil)
		for range rapid.IntRange(1, 12).Draw(t, "stretches") {
			step := rapid.SampledFrom([]float64{0.2, 0.5, 2, 6, 15, 40}).Draw(t, "stretch")
			points = append(points, points[len(points)-1].Add(along.Times(step)))
			texts = append(texts, figure(t, "figure"))
		}
		offset := rapid.Float64Range(4, 20).Draw(t, "offset") * rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		readable(t, about(scene.Chain{Points: points, Texts: texts, Offset: offset}))
	})
}

func TestEveryFigureOfAChainIsLettered(t *testing.T) {
	var points []scene.Point
	var texts []string
	for i := range 9 {
		points = append(points, scene.Point{X: float64(i)})
		if i > 0 {
			texts = append(texts, fmt.Sprintf("stretch %d", i))
		}
	}
	seen := lines(t, about(scene.Chain{Points: points, Texts: texts, Offset: 5}))
	for _, s := range texts {
		if seen[s] != 1 {
			t.Errorf("%q is lettered %d times", s, seen[s])
		}
	}
}

// lines counts the lines of lettering on a page.
func lines(t testing.TB, p scene.Page) map[string]int {
	t.Helper()
	c := collector{}
	if err := scene.Draw(p, &c); err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, l := range c.lines {
		count[l.String]++
	}
	return count
}

// collector keeps the lettering and the number of shapes.
type collector struct {
	lines  []scene.Lettering
	shapes int
}

func (c *collector) Shape(scene.Outline, scene.Colour, scene.Stroke) { c.shapes++ }
func (c *collector) Letter(l scene.Lettering)                        { c.lines = append(c.lines, l) }
func (c *collector) Begin(scene.Scope)                               {}
func (c *collector) End()                                            {}
func (c *collector) Link(scene.Box, string)                          {}

func TestNotesStandBesideTheirLeader(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		to := place(t, "to")
		side := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		knee := to.Add(scene.Point{X: side * rapid.Float64Range(0.1, 40).Draw(t, "x"), Y: rapid.Float64Range(-40, 40).Draw(t, "y")})
		readable(t, about(scene.Leader{To: to, Knee: knee, Text: "a note of\ntwo lines"}))
	})
}

// A drawing in metres with y up: lettering is neither mirrored nor on its head.
func TestLetteringUnderAMirror(t *testing.T) {
	for name, transform := range map[string]scene.Transform{
		"y up": scene.Stretch(1, -1), "x to the left": scene.Stretch(-1, 1), "turned and mirrored": scene.Stretch(1, -1).Then(scene.Turn(160)),
	} {
		from, to := scene.Point{X: 10, Y: 0}, scene.Point{X: 60, Y: 20}
		c := collector{}
		page := about(scene.Group{Transform: transform, Marks: []scene.Mark{
			scene.Text{At: from, String: "along", Size: 3, Angle: to.Sub(from).Angle()}}})
		if err := scene.Draw(page, &c); err != nil {
			t.Fatal(err)
		}
		l := c.lines[0]
		if scene.Upright(l.Angle) != l.Angle {
			t.Errorf("%s: set at %v°", name, l.Angle)
		}
		// It starts or ends at its point and runs along the line drawn.
		way := transform.Apply(to).Sub(transform.Apply(from)).Unit()
		at := transform.Apply(from).Add(scene.Point{X: 1000, Y: 1000})
		mid := l.Start.Add(scene.Direction(l.Angle).Times(l.Width / 2))
		if want := at.Add(way.Times(l.Width / 2)); mid.Sub(want).Length() > 1e-9 {
			t.Errorf("%s: its middle is at %v, want %v", name, mid, want)
		}
	}
}
