package landxml

import (
	"encoding/xml"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// source reads what a surface was made of. Contours become breaklines at their level: triangles may not cross them
// either. Points and files that are only named are counted.
func (b *builder) source() error {
	return b.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "DataPoints":
			return b.spots(e)
		case "Breaklines":
			return b.children(func(e xml.StartElement) error {
				switch e.Name.Local {
				case "Breakline":
					return b.polyline(e, attr(e, "brkType"), &b.surface.Breaklines)
				case "RetWall":
					return b.wall(e)
				}
				return b.skip()
			})
		case "Boundaries":
			return b.eachOf("Boundary", func(e xml.StartElement) error { return b.polyline(e, attr(e, "bndType"), &b.surface.Boundaries) })
		case "Contours":
			return b.eachOf("Contour", b.contour)
		case "Chain", "PointFiles":
			b.references++
		}
		return b.skip()
	})
}

func (b *builder) spots(e xml.StartElement) error {
	if attr(e, "pntRef") != "" {
		b.references++
	}
	return b.eachOf("PntList3D", func(xml.StartElement) error {
		list, err := b.list(3)
		b.surface.Spots = append(b.surface.Spots, list...)
		return err
	})
}

// list reads a list of points of two or three numbers each.
func (b *builder) list(width int) ([]Vertex, error) {
	text, err := b.text()
	if err != nil {
		return nil, err
	}
	// The list is counted before it is cut up: one text may hold millions of numbers.
	n := 0
	for range strings.FieldsSeq(text) {
		n++
	}
	if n%width != 0 || n == 0 {
		b.spoil("point-list", "%d numbers are no list of points with %d numbers each", n, width)
		return nil, nil
	}
	if err := b.keepGround(n / width); err != nil {
		return nil, err
	}
	out := make([]Vertex, 0, n/width)
	group := make([]string, 0, 3)
	for f := range strings.FieldsSeq(text) {
		if group = append(group, f); len(group) < width {
			continue
		}
		if width == 2 {
			group = append(group, "0")
		}
		v, why := b.vertex(group)
		if why != "" {
			b.spoil("point-list", "point %d of a list: %s", len(out)+1, why)
			return nil, nil
		}
		out, group = append(out, v), group[:0]
	}
	return out, nil
}

func (b *builder) polyline(e xml.StartElement, kind string, into *[]Polyline) error {
	p := Polyline{Name: attr(e, "name"), Desc: attr(e, "desc"), Kind: kind, Trim: attr(e, "edgeTrim") == "true" || attr(e, "edgeTrim") == "1", At: b.at()}
	err := b.children(func(e xml.StartElement) (err error) {
		width := map[string]int{"PntList2D": 2, "PntList3D": 3}[e.Name.Local]
		if width == 0 || b.wrong {
			return b.skip()
		}
		p.Flat = width == 2
		p.Points, err = b.list(width)
		return err
	})
	if err != nil {
		return err
	}
	b.addLine(p, into)
	return nil
}

func (b *builder) addLine(p Polyline, into *[]Polyline) {
	if len(p.Points) < 2 {
		b.spoil("short-line", "the line %q of its survey has %d points; two are needed", clipped(p.Name), len(p.Points))
		return
	}
	*into = append(*into, p)
}

// contour is a line at one level.
func (b *builder) contour(e xml.StartElement) error {
	level, ok := length(attr(e, "elev"), b.above)
	if !ok {
		b.spoil("contour", "%q is not the level of a contour", clipped(attr(e, "elev")))
	}
	before := len(b.surface.Breaklines)
	if err := b.polyline(e, "contour", &b.surface.Breaklines); err != nil {
		return err
	}
	if len(b.surface.Breaklines) > before {
		b.surface.Breaklines[before].setLevel(level)
	}
	return nil
}

func (p *Polyline) setLevel(level measure.Length) {
	p.Flat = false
	for i := range p.Points {
		p.Points[i].Level = level
	}
}

// wall is a retaining wall by its foot; how its top lies to that is not read.
func (b *builder) wall(e xml.StartElement) error {
	p := Polyline{Name: attr(e, "name"), Desc: attr(e, "desc"), Kind: "wall", At: b.at()}
	err := b.eachOf("RetWallPnt", func(xml.StartElement) error {
		list, err := b.list(3)
		p.Points = append(p.Points, list...)
		return err
	})
	if err != nil {
		return err
	}
	b.say(b.finding(finding.Attention, p.At, "wall", "%s: its retaining wall %q is read by its foot alone", b.called(), clipped(p.Name)))
	b.addLine(p, &b.surface.Breaklines)
	return nil
}
