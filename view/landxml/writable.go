package landxml

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
)

// fault says why a document is not written; empty: it is.
func (d Document) fault() string {
	switch {
	case d.Unit != measure.UnitMetre && d.Unit != measure.UnitFoot && d.Unit != measure.UnitSurveyFoot:
		return fmt.Sprintf("LandXML is written in m, ft or US survey ft, and %s was asked for", d.Unit)
	case !d.dated():
		return fmt.Sprintf("date %q and time %q are not such as 2026-03-31 and 14:30:00", d.Date, d.Time)
	case !reached(d.Origin.E, d.Origin.N):
		return "the origin lies further than a million km away"
	case len(d.Alignments)+len(d.Surfaces)+len(d.Points) == 0:
		return "there is no alignment, no surface and no point to write"
	}
	names := map[string]bool{}
	for _, a := range d.Alignments {
		if why := a.fault(); why != "" || names[a.Name] {
			return fmt.Sprintf("alignment %q: %s", a.Name, orTwice(why))
		}
		names[a.Name] = true
	}
	clear(names)
	for _, s := range d.Surfaces {
		if why := s.fault(); why != "" || names[s.Name] {
			return fmt.Sprintf("surface %q: %s", s.Name, orTwice(why))
		}
		names[s.Name] = true
	}
	for _, p := range d.Points {
		if slices.Contains(p.Groups, "") {
			return fmt.Sprintf("point %q lies in a group without a name", p.Name)
		}
		if !within(Vertex{p.At, p.Level}) {
			return fmt.Sprintf("point %q lies further than a million km away", p.Name)
		}
	}
	if name, in, found := tree(d.Points).twice(); found {
		return fmt.Sprintf("two points of the group %q are called %q", in, name)
	}
	return ""
}

func orTwice(why string) string {
	if why == "" {
		return "two have this name"
	}
	return why
}

func (a Alignment) fault() string {
	switch {
	case a.Name == "":
		return "it has no name"
	case !slices.Contains(states, a.State):
		return fmt.Sprintf("its state is %q; LandXML knows abandoned, destroyed, existing and proposed", a.State)
	case a.Line.Length() <= 0:
		return "it has no length"
	case !reached(a.StaStart, a.Line.Length()):
		return "its stations pass a million km"
	}
	for _, p := range a.Profiles {
		switch {
		case p.Name == "":
			return "a profile of it has no name"
		case len(p.PVIs) < 2:
			return fmt.Sprintf("its profile %q has %d points; two are needed", p.Name, len(p.PVIs))
		case p.PVIs[0].Curve != NoCurve || p.PVIs[len(p.PVIs)-1].Curve != NoCurve:
			return fmt.Sprintf("its profile %q begins or ends with a curve", p.Name)
		}
		for _, v := range p.PVIs {
			if !reached(v.Chainage, v.Level, v.In, v.Out, v.Radius) {
				return fmt.Sprintf("a figure of its profile %q passes a million km", p.Name)
			}
		}
		for i := 1; i < len(p.PVIs); i++ {
			if p.PVIs[i].Chainage <= p.PVIs[i-1].Chainage {
				return fmt.Sprintf("the stations of its profile %q do not rise", p.Name)
			}
		}
	}
	for _, s := range a.Ground {
		if why := s.fault(); why != "" {
			return why
		}
	}
	return ""
}

func (s Surface) fault() string {
	switch {
	case s.Name == "":
		return "it has no name"
	case !slices.Contains(states, s.State):
		return fmt.Sprintf("its state is %q; LandXML knows abandoned, destroyed, existing and proposed", s.State)
	case len(s.Faces)+len(s.Spots)+len(s.Breaklines) == 0:
		return "it holds no face, no point of a survey and no breakline"
	case s.Hidden != nil && len(s.Hidden) != len(s.Faces):
		return fmt.Sprintf("it has %d faces and says of %d whether they are hidden", len(s.Faces), len(s.Hidden))
	}
	for i, f := range s.Faces {
		for _, at := range f {
			if at < 0 || int(at) >= len(s.Points) {
				return fmt.Sprintf("its face %d names point %d of %d", i+1, at+1, len(s.Points))
			}
		}
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			return fmt.Sprintf("its face %d has one corner twice", i+1)
		}
	}
	if !within(s.Points...) || !within(s.Spots...) {
		return "a point of it lies further than a million km away"
	}
	for _, b := range slices.Concat(s.Breaklines, s.Boundaries) {
		if len(b.Points) < 2 || !within(b.Points...) {
			return fmt.Sprintf("the line %q of its survey needs two points, none of them further than a million km away", b.Name)
		}
	}
	for _, b := range s.Boundaries {
		if !slices.Contains(boundaryKinds, b.Kind) {
			return fmt.Sprintf("a boundary of it is of kind %q; LandXML knows outer, void and island", b.Kind)
		}
	}
	return ""
}

// within tells whether Read would take the points.
func within(points ...Vertex) bool {
	for _, p := range points {
		if !reached(p.At.E, p.At.N, p.Level) {
			return false
		}
	}
	return true
}

func reached(ls ...measure.Length) bool {
	return !slices.ContainsFunc(ls, func(l measure.Length) bool { return l > furthest || l < -furthest })
}
