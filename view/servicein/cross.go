package servicein

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/place/route"
)

// crossed finds every place where a line crosses a leg.
func (s site) crossed(lines []line) (Services, finding.List) {
	var found finding.List
	if far := s.away(lines); far > astray {
		return Services{}, fault(s.Want, "astray", s.job.Speech().Say("the %s lie %.0f km from the run: they are in another coordinate system, zone or unit", wording.Services, far/1000),
			"the same in the job's own coordinates and unit")
	}
	on := make([][]job.Service, len(s.net.Legs))
	none, deep := 0, 0
	for _, l := range lines {
		met, more := s.one(l, on)
		found = append(found, more...)
		if met == 0 {
			none++
		}
	}
	var out Services
	taken := map[string]bool{}
	for _, l := range s.job.Route.Legs {
		for _, v := range l.Services {
			taken[v.ID] = true
		}
	}
	n := 0
	for i, list := range on {
		if len(list) == 0 {
			continue
		}
		sorting.By(list, func(a, b job.Service) int { return cmp.Compare(a.At, b.At) })
		for k := range list {
			for n++; taken[fmt.Sprintf("W%d", n)]; n++ {
			}
			list[k].ID = fmt.Sprintf("W%d", n)
			if list[k].Depth == nil && list[k].Level == nil {
				deep++
			}
		}
		out.Legs = append(out.Legs, OnLeg{s.net.Legs[i].ID, list})
	}
	crossings := 0
	for _, l := range out.Legs {
		crossings += len(l.Services)
	}
	speech := s.job.Speech()
	out.Heard = append(out.Heard, fmt.Sprintf("%s in the file; the run is crossed at %s", plural(len(lines), "line", "lines"), plural(crossings, "place", "places")))
	if none > 0 {
		out.Heard = append(out.Heard, plural(none, "line does", "lines do")+" not cross the run; nothing is said of what lies beside it")
	}
	if deep > 0 {
		out.Heard = append(out.Heard, "depth unknown at "+plural(deep, "place", "places"))
	}
	out.Heard = append(out.Heard, speech.Say("this is what the file records; what it does not record may lie in the ground all the same: ask whoever located the %s", wording.Services))
	return out, found
}

// astray is how far services may lie from a run that they belong to, in metres: common practice, no source.
const astray = 10_000.0

// away is how far the box round the lines lies from the box round the run, in metres.
func (s site) away(lines []line) float64 {
	var run, all box
	for _, l := range s.net.Legs {
		for _, p := range l.Line.Points(0, l.Line.Length(), 1) {
			run.add(p)
		}
	}
	for _, l := range lines {
		for _, p := range l.at {
			all.add(p)
		}
	}
	if !run.any || !all.any {
		return 0
	}
	gap := func(a, b, c, d float64) float64 { return max(0, c-b, a-d) }
	return math.Hypot(gap(run.low.E, run.high.E, all.low.E, all.high.E), gap(run.low.N, run.high.N, all.low.N, all.high.N))
}

type box struct {
	low, high route.Point
	any       bool
}

func (b *box) add(p route.Point) {
	if !b.any {
		b.low, b.high, b.any = p, p, true
	}
	b.low = route.Point{E: min(b.low.E, p.E), N: min(b.low.N, p.N)}
	b.high = route.Point{E: max(b.high.E, p.E), N: max(b.high.N, p.N)}
}

// one puts the crossings of a line on their legs.
func (s site) one(l line, on [][]job.Service) (met int, found finding.List) {
	name := cmp.Or(strings.TrimSpace(l.name), "unnamed")
	path, stations, err := polyline(l.at, s.scale())
	if err != nil {
		return 0, finding.List{s.finding(finding.Attention, l.row, "line", "%q is left out: %s", name, err.Error())}
	}
	width := cmp.Or(l.width, s.Width)
	for _, m := range s.net.Meet(path) {
		leg := s.net.Legs[m.Leg].ID
		met++
		if m.Skew < route.LeastSkew {
			found = append(found, s.finding(finding.Attention, l.row, "along", "%q runs along leg %s at %s %s, at less than %.0f° to it: it is no crossing, and the dig may lie on it", name, leg, wording.Chainage,
				wording.Far(m.Chainage), route.LeastSkew.Degrees()))
			continue
		}
		if width == 0 {
			found = append(found, s.finding(finding.Fault, l.row, "no-width", "%q crosses leg %s at %s %s, and no width of it is on file", name, leg, wording.Chainage, wording.Far(m.Chainage)))
			found[len(found)-1].Try = "a width for all that have none"
			continue
		}
		v := job.Service{Name: name, At: millimetre(m.Chainage), Width: width, Clear: s.Clear, Depth: l.depth, Quality: cmp.Or(l.quality, s.Quality)}
		if m.Skew < 90*measure.Degree-measure.Degree/10 {
			v.Skew = (m.Skew + measure.Degree/20) / (measure.Degree / 10) * (measure.Degree / 10)
		}
		if z, ok := top(l.tops, stations, m.Other); ok {
			level := round(z.Metres()/metresIn(s.job.Coordinates.Unit), 1e3)
			v.Level = &level
		}
		on[m.Leg] = append(on[m.Leg], v)
	}
	return met, found
}

// scale is the combined scale factor of the run.
func (s site) scale() float64 {
	for _, l := range s.net.Legs {
		return l.Line.Scale()
	}
	return 1
}

// polyline is the line through points, those that stand on each other taken once, and the chainage of each.
func polyline(at []route.Point, scale float64) (route.Line, []measure.Length, error) {
	var v []route.Vertex
	last := make([]int, len(at)) // index in v
	for i, p := range at {
		if len(v) == 0 || v[len(v)-1].At.Distance(p) >= measure.Millimetre.Metres() {
			v = append(v, route.Vertex{At: p})
		}
		last[i] = len(v) - 1
	}
	l, err := route.Polyline(v)
	if err == nil && scale != 1 {
		l, err = l.Scaled(scale)
	}
	if err != nil {
		return l, nil, err
	}
	elements := l.Elements()
	stations := make([]measure.Length, len(at))
	for i, k := range last {
		if k > 0 {
			stations[i] = elements[k-1].End()
		}
	}
	return l, stations, nil
}

// top is the level of a service's top at a chainage along it, straight between the places where it is on file.
func top(tops, stations []measure.Length, ch measure.Length) (measure.Length, bool) {
	if len(tops) == 1 {
		return tops[0], true
	}
	if len(tops) != len(stations) {
		return 0, false
	}
	for i := 1; i < len(tops); i++ {
		if ch > stations[i] && i < len(tops)-1 || stations[i] == stations[i-1] {
			continue
		}
		share := float64(ch-stations[i-1]) / float64(stations[i]-stations[i-1])
		return tops[i-1] + measure.Length(math.Round(share*float64(tops[i]-tops[i-1]))), true
	}
	return 0, false
}

// millimetre is a chainage to the millimetre: no service is known better.
func millimetre(l measure.Length) measure.Length {
	return measure.FromMetres(round(l.Metres(), 1e3))
}

func round(v, places float64) float64 { return math.Round(v*places) / places }

func metresIn(u job.CoordUnit) float64 {
	switch u {
	case job.CoordFeet:
		return 0.3048
	case job.CoordUSSurvey:
		return 1200.0 / 3937
	}
	return 1
}
