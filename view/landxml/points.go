package landxml

import (
	"encoding/xml"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// rawPoint is a CgPoint as it is written.
type rawPoint struct {
	name, code, desc string
	groups           []string
	place
}

// cgPoints reads a group of points and the groups in it.
func (r *reader) cgPoints(e xml.StartElement, outer []string) error {
	groups := outer
	if name := attr(e, "name"); name != "" {
		groups = append(slices.Clip(outer), name)
	}
	return r.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "CgPoints":
			return r.cgPoints(e, groups)
		case "CgPoint":
			p := rawPoint{name: attr(e, "name"), code: attr(e, "code"), desc: attr(e, "desc"), groups: groups}
			var err error
			if p.place, err = r.place(e); err != nil {
				return err
			}
			r.points = append(r.points, p)
			return r.keep(1)
		}
		return r.skip()
	})
}

// places are the points by name; twice marks names that stand for more than one place.
type places struct {
	at    map[string]route.Coordinates
	twice map[string]bool
	first *route.Coordinates
}

// settlePoints turns the points that were written into points, now that units are known.
func (r *reader) settlePoints() *places {
	known := &places{at: map[string]route.Coordinates{}, twice: map[string]bool{}}
	left := make([]rawPoint, 0)
	for _, p := range r.points {
		if p.text == "" && p.ref != "" {
			left = append(left, p)
			continue
		}
		r.settlePoint(p, known)
	}
	// A point may stand for another one; one step, so that no chain goes round in a circle.
	for _, p := range left {
		r.settlePoint(p, known)
	}
	return known
}

func (r *reader) settlePoint(p rawPoint, known *places) {
	at, level, hasLevel, why := r.coordinates(p.place, known)
	if why != "" {
		r.fault(p.line, "bad-point", "point %q: %s", p.name, why)
		return
	}
	if known.first == nil {
		known.first = &at
	}
	if p.name != "" {
		if was, ok := known.at[p.name]; ok && was != at {
			known.twice[p.name] = true
		}
		known.at[p.name] = at
	}
	r.file.Points = append(r.file.Points, Point{p.name, p.code, p.desc, p.groups, at, level, hasLevel, p.line})
}

// most faults of one kind that are listed one by one.
const mostFaults = 50

func (r *reader) fault(line int, id, text string, args ...any) {
	n := 0
	for _, f := range r.file.Notes {
		if f.Kind == finding.Fault {
			n++
		}
	}
	switch {
	case n < mostFaults:
		r.say(r.finding(finding.Fault, line, id, text, args...))
	case n == mostFaults:
		r.say(r.finding(finding.Fault, line, "more-faults", "and more faults, which are not listed"))
	}
}

// coordinates reads a place: northing, easting and perhaps a level. why is empty, or says why not.
func (r *reader) coordinates(p place, known *places) (at route.Coordinates, level measure.Length, hasLevel bool, why string) {
	if p.text == "" {
		if p.ref == "" {
			return at, 0, false, "no coordinates"
		}
		at, ok := known.at[p.ref]
		switch {
		case !ok:
			return at, 0, false, "it refers to point \"" + p.ref + "\", which the file does not hold"
		case known.twice[p.ref]:
			return at, 0, false, "it refers to point \"" + p.ref + "\", a name that stands for more than one place"
		}
		return at, 0, false, ""
	}
	f := strings.Fields(p.text)
	if len(f) != 2 && len(f) != 3 {
		return at, 0, false, "northing and easting were expected, and perhaps a level, and there are " + decimal(len(f)) + " numbers"
	}
	var ok bool
	if at.N, ok = length(f[0], r.file.Unit); !ok {
		return at, 0, false, notANumber(f[0])
	}
	if at.E, ok = length(f[1], r.file.Unit); !ok {
		return at, 0, false, notANumber(f[1])
	}
	if len(f) == 3 {
		if level, ok = length(f[2], r.file.Elevations); !ok {
			return at, 0, false, notANumber(f[2])
		}
	}
	return at, level, len(f) == 3, ""
}

func notANumber(text string) string {
	const few = 24
	if len(text) > few {
		text = text[:few] + "…"
	}
	return "\"" + strings.ToValidUTF8(text, "?") + "\" is not a coordinate"
}

// origin settles what the lines are relative to.
func (r *reader) origin(known *places) {
	if r.opts.Origin != nil {
		r.file.Origin = *r.opts.Origin
		return
	}
	for _, d := range slices.Concat(r.alignments, r.features) {
		for _, p := range d.parts {
			if at, _, _, why := r.coordinates(p.start, known); why == "" {
				r.file.Origin = route.OriginNear(at)
				return
			}
		}
	}
	if known.first != nil {
		r.file.Origin = route.OriginNear(*known.first)
	}
}
