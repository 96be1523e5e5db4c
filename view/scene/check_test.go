package scene

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func turnedBox(t *rapid.T, label string) [4]Point {
	l := Lettering{String: "Ag", Start: points(t, label, 1)[0].Times(0.1), Angle: rapid.Float64Range(-180, 180).Draw(t, label),
		Size: rapid.Float64Range(1, 6).Draw(t, label), Width: rapid.Float64Range(1, 20).Draw(t, label)}
	return l.Quad(0)
}

// commonArea is the slow and obvious answer: one box cut by the sides of the
// other, one side after the next.
func commonArea(a, b [4]Point) float64 {
	polygon := a[:]
	for i := range b {
		from, way := b[i], b[(i+1)%4].Sub(b[i])
		side := func(p Point) float64 { return cross(way, p.Sub(from)) }
		var kept []Point
		for j, p := range polygon {
			q := polygon[(j+1)%len(polygon)]
			if side(p) >= 0 {
				kept = append(kept, p)
			}
			if (side(p) >= 0) != (side(q) >= 0) {
				kept = append(kept, between(p, q, side(p)/(side(p)-side(q))))
			}
		}
		polygon = kept
	}
	return math.Abs(Polygon(polygon...).area()) / 2
}

func TestBoxesOverlapWhereTheyShareAnArea(t *testing.T) {
	apart, together := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := turnedBox(t, "a"), turnedBox(t, "b")
		depth, area := overlapDepth(a, b), commonArea(a, b)
		if depth != overlapDepth(b, a) {
			t.Fatalf("%v and %v", depth, overlapDepth(b, a))
		}
		switch {
		case depth < -1e-9 && area > 1e-9:
			t.Fatalf("said to lie %v apart, but they share %v mm²", -depth, area)
		case depth > 1e-3 && area < 1e-9:
			t.Fatalf("said to lie %v into each other, but they share nothing", depth)
		}
		if depth > 0 {
			together++
		} else {
			apart++
		}
	})
	if apart < 5 || together < 5 {
		t.Errorf("%d pairs apart and %d together are too few to show anything", apart, together)
	}
}

func scattered(t *rapid.T) []Mark {
	var marks []Mark
	for i, p := range points(t, "at", rapid.IntRange(0, 25).Draw(t, "texts")) {
		marks = append(marks, Text{At: p.Add(Point{150, 150}), String: fmt.Sprint("text ", i), Size: 4, Angle: rapid.Float64Range(-90, 90).Draw(t, "angle")})
	}
	return marks
}

// Every pair that a look at all pairs finds, and the same pairs in whatever
// order the lettering is painted.
func TestOverlapsAreThePairsThatOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		marks := scattered(t)
		pairs := func(marks []Mark) []string {
			found, err := Overlaps(Page{Width: 300, Height: 300, Marks: marks})
			if err != nil {
				t.Fatal(err)
			}
			var names []string
			for _, o := range found {
				names = append(names, fmt.Sprint(min(o.A, o.B), "+", max(o.A, o.B)))
			}
			slices.Sort(names)
			return names
		}
		forward := pairs(marks)
		backward := slices.Clone(marks)
		slices.Reverse(backward)
		if !slices.Equal(forward, pairs(backward)) {
			t.Fatalf("one order finds %v, the other %v", forward, pairs(backward))
		}
		f, err := read(Page{Width: 300, Height: 300, Marks: marks})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for i := range f.texts {
			for j := range i {
				if overlapDepth(f.texts[i].quad, f.texts[j].quad) > clearance {
					n++
				}
			}
		}
		if n != len(forward) {
			t.Fatalf("%d pairs overlap, %d were found", n, len(forward))
		}
	})
}

func TestWhatOverlapsAndWhatDoesNot(t *testing.T) {
	at := func(x, y, angle float64) Text { return Text{At: Point{x, y}, String: "HHH", Size: 3, Angle: angle} }
	w := TextWidth("HHH", 3, Regular)
	for name, c := range map[string]struct {
		marks []Mark
		want  int
	}{
		"on itself":             {[]Mark{at(50, 50, 0), at(50, 50, 0)}, 1},
		"end to end":            {[]Mark{at(50, 50, 0), at(50+w, 50, 0)}, 0},
		"a hair into it":        {[]Mark{at(50, 50, 0), at(50+w-0.1, 50, 0)}, 1},
		"on the next line":      {[]Mark{at(50, 50, 0), at(50, 50+LineStep(3), 0)}, 0},
		"boxes meet, ink not":   {[]Mark{at(50, 50, 45), at(54, 54, 45)}, 0},
		"crosswise":             {[]Mark{at(50, 50, 0), at(53, 53, 90)}, 1},
		"stacked on purpose":    {[]Mark{Group{Stacked: true, Marks: []Mark{at(50, 50, 0), at(50, 50, 0)}}}, 0},
		"stacked in groups":     {[]Mark{Group{Stacked: true, Marks: []Mark{Group{Marks: []Mark{at(50, 50, 0)}}, at(50, 50, 0)}}}, 0},
		"two stacks":            {[]Mark{Group{Stacked: true, Marks: []Mark{at(50, 50, 0)}}, Group{Stacked: true, Marks: []Mark{at(50, 50, 0)}}}, 1},
		"a stack and the rest":  {[]Mark{Group{Stacked: true, Marks: []Mark{at(50, 50, 0)}}, at(50, 50, 0)}, 1},
		"two lines of one text": {[]Mark{Text{At: Point{50, 50}, String: "gjÄÖ\nÅÉ", Size: 3}}, 0},
	} {
		got, err := Overlaps(Page{Width: 100, Height: 100, Marks: c.marks})
		if err != nil || len(got) != c.want {
			t.Errorf("%s: %v, error %v; want %d", name, got, err, c.want)
		}
	}
}

func TestWhatReachesOutside(t *testing.T) {
	w := TextWidth("HHH", 3, Regular)
	text := func(x, y, angle float64) Text { return Text{At: Point{x, y}, String: "HHH", Size: 3, Angle: angle} }
	frame := Box{20, 20, 80, 80}
	for name, c := range map[string]struct {
		page Page
		past string
	}{
		"inside":                {Page{Marks: []Mark{text(50, 50, 30)}}, ""},
		"at the edge":           {Page{Marks: []Mark{text(100-w, 50, 0)}}, ""},
		"past the right":        {Page{Marks: []Mark{text(100-w+0.1, 50, 0)}}, "the page"},
		"turned past the top":   {Page{Marks: []Mark{text(50, w-1, 90)}}, "the page"},
		"far off":               {Page{Marks: []Mark{text(500, 50, 0)}}, "the page"},
		"past the frame":        {Page{Frame: frame, Marks: []Mark{text(15, 50, 0)}}, "its frame"},
		"in the frame":          {Page{Frame: frame, Marks: []Mark{text(20, 50, 0)}}, ""},
		"past a group's frame":  {Page{Marks: []Mark{Group{Name: "card", Transform: Shift(10, 0), Frame: frame, Marks: []Mark{text(15, 50, 0)}}}}, `its frame of "card"`},
		"cut by a clip":         {Page{Marks: []Mark{Group{Clip: Circle(Point{50, 50}, 5), Marks: []Mark{text(50, 50, 0)}}}}, "its clip"},
		"inside a clip":         {Page{Marks: []Mark{Group{Clip: Circle(Point{54.2, 48.5}, 6), Marks: []Mark{text(50, 50, 0)}}}}, ""},
		"after a group":         {Page{Marks: []Mark{Group{Frame: frame}, text(5, 50, 0)}}, ""},
		"past a bay in a clip":  {Page{Marks: []Mark{Group{Clip: Rectangle(frame).Without(Rectangle(Box{52, 48, 54, 49})), Marks: []Mark{text(50, 49, 0)}}}}, "its clip"},
		"past two, outer first": {Page{Frame: frame, Marks: []Mark{Group{Frame: frame, Marks: []Mark{text(1, 50, 0)}}}}, "its frame"},
	} {
		c.page.Width, c.page.Height = 100, 100
		got, err := Outside(c.page)
		if err != nil {
			t.Fatal(err)
		}
		if c.past == "" && len(got) > 0 || c.past != "" && (len(got) != 1 || got[0].Past != c.past) {
			t.Errorf("%s: %v, want %q", name, got, c.past)
		}
	}
}

func TestWhatCrossesLettering(t *testing.T) {
	text := Text{At: Point{50, 50}, String: "HHH", Size: 3}
	box := text
	box.Halo = 0.5
	middle := TextWidth("HHH", 3, Regular) / 2
	line := Line(Point{40, 49}, Point{80, 48}, Pen(Thin))
	upright := Line(Point{50 + middle, 0}, Point{50 + middle, 49}, Pen(Thin))
	under := Line(Point{40, 50.2}, Point{80, 50.2}, Pen(Thin))
	touching := Line(Point{40, 50.2}, Point{80, 50.2}, Pen(Broad))
	paper := Path{Outline: Rectangle(Box{48, 45, 65, 55}), Fill: White}
	round := Path{Outline: Circle(Point{50 + middle, 48.5}, 9), Stroke: Pen(Medium)}
	for name, c := range map[string]struct {
		marks []Mark
		want  string
	}{
		"nothing":                      {[]Mark{text}, ""},
		"a line before":                {[]Mark{line, text}, "a stroke"},
		"a line after":                 {[]Mark{text, line}, "a stroke"},
		"a line that ends in it":       {[]Mark{upright, text}, "a stroke"},
		"a line under it":              {[]Mark{under, text}, ""},
		"a broad line under it":        {[]Mark{touching, text}, "a stroke"},
		"a line hidden by a halo":      {[]Mark{line, box}, ""},
		"a line over a halo":           {[]Mark{box, line}, "a stroke"},
		"a line hidden by paper":       {[]Mark{line, paper, text}, ""},
		"paper over it":                {[]Mark{text, paper}, "a fill"},
		"the halo of a neighbour":      {[]Mark{text, Text{At: Point{50, 54}, String: "HHH", Size: 3, Halo: 1.5}}, "a fill"},
		"a ring round it":              {[]Mark{text, round}, ""},
		"a filled ring after it":       {[]Mark{text, Path{Outline: round.Outline, Fill: White}}, "a fill"},
		"a hatch behind it":            {[]Mark{Hatch{Area: Rectangle(Box{40, 40, 70, 60}), Pattern: Diagonal}, text}, "a stroke"},
		"a line cut off before it":     {[]Mark{Group{Clip: Rectangle(Box{0, 0, 49, 100}), Marks: []Mark{line}}, text}, ""},
		"a line cut off within it":     {[]Mark{Group{Clip: Rectangle(Box{0, 0, 54, 100}), Marks: []Mark{line}}, text}, "a stroke"},
		"paper cut off before it":      {[]Mark{text, Group{Clip: Rectangle(Box{0, 0, 49, 100}), Marks: []Mark{paper}}}, ""},
		"dots of no length through it": {[]Mark{Hatch{Area: Rectangle(Box{40, 40, 70, 60}), Pattern: Stone}, text}, "a stroke"},
	} {
		got, err := Crossed(Page{Width: 100, Height: 100, Marks: c.marks})
		if err != nil {
			t.Fatal(err)
		}
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) != 1 || got[0].By != c.want) {
			t.Errorf("%s: %v, want %q", name, got, c.want)
		}
	}
}

func TestFindingsAreSentences(t *testing.T) {
	for want, got := range map[string]fmt.Stringer{
		`"a" and "b" lie 0.50 mm into each other near (1.0, 2.0)`: Overlap{"a", "b", Point{1, 2}, 0.5},
		`"a" near (1.0, 2.0) reaches 0.50 mm past the page`:       Stray{"a", "the page", Point{1, 2}, 0.5},
		`"a" near (1.0, 2.0) has a stroke across it`:              Crossing{"a", "a stroke", Point{1, 2}},
	} {
		if got.String() != want {
			t.Errorf("got %s\nwant %s", got, want)
		}
	}
}
