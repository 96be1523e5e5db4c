package raster

import (
	"image"
	"math"

	"trenchwright/view/scene"
)

// canvas paints shapes on a picture.
type canvas struct {
	picture picture
	scale   float64 // pixels in a mm
	cover   *coverage
	face    *face
	clips   []*clip // of the open scopes, nil where nothing is cut
	err     error
}

// clip is how much of each pixel may be painted.
type clip struct {
	box  image.Rectangle
	part []uint8 // row by row within box
}

// begin makes the canvas white and ready for a page.
func (c *canvas) begin(width, height int, scale float64) {
	c.picture.white(width, height)
	c.cover.begin(width, height)
	c.scale, c.clips, c.err = scale, c.clips[:0], nil
}

// flat is an outline in straight pieces in pixels.
func (c *canvas) flat(o scene.Outline) []scene.Contour {
	const tolerance = 0.05 // pixels
	contours := o.Flat(tolerance / c.scale)
	for _, contour := range contours {
		for i, p := range contour.Points {
			contour.Points[i] = p.Times(c.scale)
		}
	}
	return contours
}

func (c *canvas) fill(contours []scene.Contour) {
	for _, contour := range contours {
		n := len(contour.Points)
		for i, p := range contour.Points {
			q := contour.Points[(i+1)%n]
			c.cover.edge(point{p.X, p.Y}, point{q.X, q.Y})
		}
	}
}

func (c *canvas) Shape(o scene.Outline, fill scene.Colour, stroke scene.Stroke) {
	contours := c.flat(o)
	if fill.Said() {
		c.fill(contours)
		c.paint(fill)
	}
	if stroke.Width > 0 {
		dash := make([]float64, len(stroke.Dash))
		for i, d := range stroke.Dash {
			dash[i] = d * c.scale
		}
		pen{c.cover, stroke.Width * c.scale / 2, stroke.Round}.stroke(contours, dash)
		c.paint(stroke.Colour)
	}
}

func (c *canvas) Letter(l scene.Lettering) {
	along := scene.Direction(l.Angle)
	down := along.Left().Times(-1)
	k := scene.Em(l.Size) * c.scale / unitsPerEm
	at := l.Start
	for _, r := range l.String {
		segments, err := c.face.outline(letter{r, l.Weight})
		if err != nil && c.err == nil {
			c.err = err
		}
		origin, x, y := at.Times(c.scale), along.Times(k), down.Times(k)
		place{point{origin.X, origin.Y}, point{x.X, x.Y}, point{y.X, y.Y}}.fill(c.cover, segments)
		at = at.Add(along.Times(scene.TextWidth(string(r), l.Size, l.Weight)))
	}
	c.paint(l.Colour)
}

func (c *canvas) Begin(s scene.Scope) {
	outer := c.clip()
	if len(s.Clip) == 0 {
		c.clips = append(c.clips, outer)
		return
	}
	contours := c.flat(s.Clip)
	box := c.box(contours)
	c.fill(contours)
	inner := &clip{box: box, part: make([]uint8, box.Dx()*box.Dy())}
	c.cover.spans(func(y, x0, x1 int, alpha uint8) {
		if y < box.Min.Y || y >= box.Max.Y {
			return // the clip's edge runs along the edge of the picture
		}
		row := inner.part[(y-box.Min.Y)*box.Dx():]
		for x := max(x0, box.Min.X); x < min(x1, box.Max.X); x++ {
			row[x-box.Min.X] = outer.of(x, y, alpha)
		}
	})
	c.clips = append(c.clips, inner)
}

// box is the pixels of the picture that contours can cover.
func (c *canvas) box(contours []scene.Contour) image.Rectangle {
	var box image.Rectangle
	limit := c.picture.rect()
	whole := func(x float64, most int) int { return int(math.Max(0, math.Min(float64(most), x))) }
	for _, contour := range contours {
		for _, p := range contour.Points {
			x, y := whole(math.Floor(p.X), limit.Max.X), whole(math.Floor(p.Y), limit.Max.Y)
			box = box.Union(image.Rect(x, y, x+1, y+1))
		}
	}
	return box.Intersect(limit)
}

func (c *canvas) End() { c.clips = c.clips[:len(c.clips)-1] }

func (c *canvas) Link(scene.Box, string) {}

func (c *canvas) clip() *clip {
	if len(c.clips) == 0 {
		return nil
	}
	return c.clips[len(c.clips)-1]
}

// of is what a clip leaves of a pixel's coverage.
func (c *clip) of(x, y int, alpha uint8) uint8 {
	if c == nil {
		return alpha
	}
	if !(image.Point{X: x, Y: y}).In(c.box) {
		return 0
	}
	part := c.part[(y-c.box.Min.Y)*c.box.Dx()+x-c.box.Min.X]
	return uint8((int(alpha)*int(part) + 127) / 255)
}

// paint lays ink on what the coverage holds, and empties it.
func (c *canvas) paint(ink scene.Colour) {
	now := c.clip()
	c.cover.spans(func(y, x0, x1 int, alpha uint8) { c.picture.lay(ink, y, x0, x1, alpha, now) })
}
