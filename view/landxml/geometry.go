package landxml

import (
	"encoding/xml"
	"strings"
)

// drawn is an alignment or plan feature as it is written.
type drawn struct {
	name, desc, state string
	staStart, length  string
	parts             []part
	profiles          []rawProfile
	sampled           []rawSampled
	equations         int
	byPIs             bool
	line              int
}

// part is one element of a CoordGeom as it is written.
type part struct {
	kind                   string // Line, Curve, Spiral, IrregularLine, or what is not read
	start, centre, end, pi place
	through                string // of an IrregularLine: pairs or triples
	width                  int    // numbers a point in through
	rot, radius, length    string
	radiusStart, radiusEnd string
	spiral                 string
	line                   int
}

// place is a point as it is written: numbers, or the name of a point.
type place struct {
	text, ref string
	line      int
}

func (p place) given() bool { return p.text != "" || p.ref != "" }

// drawing reads one alignment or plan feature.
func (r *reader) drawing(e xml.StartElement, into *[]drawn) error {
	d := drawn{
		name: attr(e, "name"), desc: attr(e, "desc"), state: attr(e, "state"),
		staStart: attr(e, "staStart"), length: attr(e, "length"), line: r.at(),
	}
	err := r.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "CoordGeom":
			return r.coordGeom(&d)
		case "Profile":
			return r.profile(&d)
		case "StaEquation":
			d.equations++
		case "AlignPIs":
			d.byPIs = true
		}
		return r.skip()
	})
	if err != nil {
		return err
	}
	*into = append(*into, d)
	return r.keep(1)
}

func (r *reader) coordGeom(d *drawn) error {
	return r.children(func(e xml.StartElement) error {
		if e.Name.Local == "Feature" {
			return r.skip()
		}
		p := part{
			kind: e.Name.Local, rot: attr(e, "rot"), radius: attr(e, "radius"), length: attr(e, "length"),
			radiusStart: attr(e, "radiusStart"), radiusEnd: attr(e, "radiusEnd"), spiral: attr(e, "spiType"), line: r.at(),
		}
		if err := r.partPlaces(&p); err != nil {
			return err
		}
		d.parts = append(d.parts, p)
		return r.keep(1)
	})
}

func (r *reader) partPlaces(p *part) error {
	return r.children(func(e xml.StartElement) (err error) {
		switch e.Name.Local {
		case "Start":
			p.start, err = r.place(e)
		case "Center":
			p.centre, err = r.place(e)
		case "End":
			p.end, err = r.place(e)
		case "PI":
			p.pi, err = r.place(e)
		case "PntList2D", "PntList3D":
			p.width = 2
			if e.Name.Local == "PntList3D" {
				p.width = 3
			}
			if p.through, err = r.text(); err == nil {
				err = r.keep(len(strings.Fields(p.through)) / p.width)
			}
		default:
			err = r.skip()
		}
		return err
	})
}

func (r *reader) place(e xml.StartElement) (place, error) {
	p := place{ref: attr(e, "pntRef"), line: r.at()}
	var err error
	p.text, err = r.text()
	return p, err
}
