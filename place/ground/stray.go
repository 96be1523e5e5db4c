package ground

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/place/ground/local"
	"trenchwright/place/route"
)

// Stray tells whether a run and a ground belong to each other: a fault where the run lies beside the ground, with how far
// that is, and with every usual mistake that would explain it: feet for metres, easting for northing, a zone number before
// the easting, a neighbouring zone, the other hemisphere. Coordinates are held against each other with the origin added.
func Stray(line []route.Point, s *Surface, src Source) finding.List {
	t := newTeller(src)
	run, ok := boxOf(line, s.Origin)
	if !ok || len(s.faces) == 0 || s.Section(line).Ground() > 0 {
		return nil
	}
	m := s.Measures()
	ground, _ := boxOf([]route.Point{m.Min, m.Max}, s.Origin)
	distance := run.gap(ground)
	if distance == 0 {
		return nil // beside it or in a hole: that is for Covered
	}
	f := finding.Finding{ID: "ground.stray", Kind: finding.Fault,
		Text:  t.say("the run lies %s from ground %q; no part of it has ground", t.way(distance), s.Name),
		Limit: "ground: " + ground.words(t), Value: "run: " + run.words(t),
		Try: "look at the units, the order of the coordinates and the zone of both",
	}
	var fits []string
	for _, e := range explanations(run, ground) {
		moved, ok := e.move(ground)
		if ok && run.gap(moved) <= math.Min(e.slack, float64(0.1*distance)) {
			fits = append(fits, e.words)
		}
	}
	if len(fits) > 0 {
		f.ID = "ground.stray-explained"
		f.Text += ". It would lie there with " + strings.Join(fits, ", or with ")
		f.Try = "read one of the two anew: the ground with " + strings.Join(fits, ", or with ")
	}
	t.add(f, t.whole())
	return t.all()
}

// way words a distance that may be long: from ten kilometres or miles on in those, to the tenth.
func (t *teller) way(m float64) string {
	const mile = 1609.344 // m, exactly (NIST SP 811)
	switch {
	case t.Speech.Imperial && m >= 10*mile:
		return fmt.Sprintf("%.1f miles", m/mile)
	case !t.Speech.Imperial && m >= 10_000:
		return fmt.Sprintf("%.1f km", m/1000)
	}
	return t.say("%s", metre(m))
}

// box is a rectangle in plan, in metres from the grid's own origin.
type box struct{ low, high route.Point }

func boxOf(line []route.Point, o route.Origin) (box, bool) {
	b := box{route.Point{E: math.Inf(1), N: math.Inf(1)}, route.Point{E: math.Inf(-1), N: math.Inf(-1)}}
	e, n := o.E.Metres(), o.N.Metres()
	for _, p := range line {
		if sum := p.E + p.N; math.IsNaN(sum) || math.IsInf(sum, 0) {
			return box{}, false
		}
		b = b.with(route.Point{E: p.E + e, N: p.N + n})
	}
	return b, len(line) > 0
}

func (b box) with(p route.Point) box {
	return box{
		route.Point{E: math.Min(b.low.E, p.E), N: math.Min(b.low.N, p.N)},
		route.Point{E: math.Max(b.high.E, p.E), N: math.Max(b.high.N, p.N)},
	}
}

// gap is how far two boxes lie from each other, in metres.
func (b box) gap(c box) float64 {
	e := math.Max(0, math.Max(b.low.E-c.high.E, c.low.E-b.high.E))
	n := math.Max(0, math.Max(b.low.N-c.high.N, c.low.N-b.high.N))
	return math.Sqrt(float64(e*e) + float64(n*n))
}

func (b box) middle() route.Point {
	return route.Point{E: float64((b.low.E + b.high.E) / 2), N: float64((b.low.N + b.high.N) / 2)}
}

func (b box) diagonal() float64 { return b.low.Distance(b.high) }

func (b box) words(t *teller) string {
	return t.say("E %s to %s, N %s to %s", metre(b.low.E), metre(b.high.E), metre(b.low.N), metre(b.high.N))
}

// moved is the box round its corners as a mistake moves them; false: one has no place there.
func (b box) moved(to func(route.Point) (route.Point, bool)) (box, bool) {
	out := box{route.Point{E: math.Inf(1), N: math.Inf(1)}, route.Point{E: math.Inf(-1), N: math.Inf(-1)}}
	for _, p := range []route.Point{b.low, b.high, {E: b.low.E, N: b.high.N}, {E: b.high.E, N: b.low.N}} {
		q, ok := to(p)
		if !ok {
			return box{}, false
		}
		out = out.with(q)
	}
	return out, true
}

// explanation is a usual mistake: where the ground would lie without it.
type explanation struct {
	words string
	slack float64 // m, how near is near enough; a tenth of how far it lies now at most
	to    func(route.Point) (route.Point, bool)
}

func (e explanation) move(b box) (box, bool) { return b.moved(e.to) }

// surveyFoot is the US survey foot in metres (NIST SP 811).
const (
	foot       = 0.3048
	surveyFoot = 1200.0 / 3937
)

// explanations are the mistakes that are tried, in their order.
func explanations(run, ground box) []explanation {
	var all []explanation
	add := func(words string, to func(route.Point) (route.Point, bool)) {
		all = append(all, explanation{words, ground.diagonal(), to})
	}
	swap := func(p route.Point) route.Point { return route.Point{E: p.N, N: p.E} }
	times := func(p route.Point, f float64) route.Point { return route.Point{E: p.E * f, N: p.N * f} }
	add("easting and northing exchanged", func(p route.Point) (route.Point, bool) { return swap(p), true })
	for _, u := range []struct {
		words  string
		factor float64
	}{
		{"its coordinates read as feet and not as metres (times 0.3048)", foot},
		{"its coordinates read as US survey feet and not as metres (times 1200/3937)", surveyFoot},
		{"its coordinates read as metres and not as feet (divided by 0.3048)", 1 / foot},
		{"its coordinates read as metres and not as US survey feet (divided by 1200/3937)", 1 / surveyFoot},
		{"its coordinates read as US survey feet and not as feet", surveyFoot / foot},
		{"its coordinates read as feet and not as US survey feet", foot / surveyFoot},
		{"its coordinates read as millimetres and not as metres", 1e-3},
		{"its coordinates read as metres and not as millimetres", 1e3},
	} {
		add(u.words, func(p route.Point) (route.Point, bool) { return times(p, u.factor), true })
		add("easting and northing exchanged and "+u.words, func(p route.Point) (route.Point, bool) { return swap(times(p, u.factor)), true })
	}
	return append(all, shifts(run, ground)...)
}

// hemisphere is the northing of the equator in southern zones, in metres, and million the step that a zone number before
// the easting makes.
const (
	hemisphere = 1e7
	million    = 1e6
)

// shifts are mistakes of zones.
func shifts(run, ground box) []explanation {
	var all []explanation
	off := run.middle().Minus(ground.middle())
	if zone := math.Round(off.E / million); zone != 0 {
		all = append(all, explanation{fmt.Sprintf("%+.0f,000 km to its eastings: a zone number stands before one of them", zone), ground.diagonal(),
			func(p route.Point) (route.Point, bool) {
				return route.Point{E: p.E + float64(zone*million), N: p.N}, true
			}})
	}
	if south := math.Round(off.N / hemisphere); south != 0 {
		all = append(all, explanation{fmt.Sprintf("%+.0f,000 km to its northings: one of them is in a zone of the other hemisphere", 10*south), ground.diagonal(),
			func(p route.Point) (route.Point, bool) {
				return route.Point{E: p.E, N: p.N + float64(south*hemisphere)}, true
			}})
	}
	for _, z := range []struct {
		words string
		zones local.Zones
	}{
		{"a zone of 6°", local.Zones{Width: 6, Factor: 0.9996, East: 500_000}},
		{"a southern zone of 6°", local.Zones{Width: 6, Factor: 0.9996, East: 500_000, North: hemisphere}},
		{"a zone of 3°", local.Zones{Width: 3, Factor: 1, East: 500_000}},
	} {
		for _, by := range []int{-1, 1} {
			side := "east"
			if by < 0 {
				side = "west"
			}
			all = append(all, explanation{"its coordinates taken over from " + z.words + " into the next one " + side, ground.diagonal() + float64(0.01*run.gap(ground)),
				func(p route.Point) (route.Point, bool) { return z.zones.Neighbour(p, by) }})
		}
	}
	return all
}
