package planner

import (
	"math"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/solve/earthwork"
)

// writeSections cuts the dig across wherever somebody asked for it or something changes, and marks its edges along the run.
func (b *build) writeSections(p *earthwork.Problem, s *earthwork.Solution, legs []laid, out *Dig) {
	stated, left := b.statedPlaces(p)
	var places []digPlace
	for leg := range p.Legs {
		more, without := b.digPlaces(leg, p, &s.Legs[leg], stated)
		places, left = append(places, more...), left+without
	}
	out.LeftOut = left
	if left > 0 {
		b.add(finding.Finding{ID: "planner.sections-left-out", Kind: finding.Note, Where: finding.Where{Path: "dig.sections"},
			Text: b.tell("%d places where the section of the dig changes, or that the job states, have no cross section: at most %d are drawn on a leg without being asked for, and %d that are", left, unaskedSections, statedSections)})
	}
	asked := make([]earthwork.Place, len(places))
	for i, q := range places {
		asked[i] = earthwork.Place{Leg: q.leg, At: q.at}
	}
	first := make([]int, len(legs)) // in the plan, units stand leg by leg
	for i := 1; i < len(legs); i++ {
		first[i] = first[i-1] + len(legs[i-1].units)
	}
	sheets, _ := earthwork.Sections(p, asked, b.sectionWide(p)) // what it has to say was said of the whole run
	places, sheets = oneDeepest(places, sheets)
	for i, q := range places {
		sheet := sheets[i]
		if sheet == nil {
			continue
		}
		c := cross{build: b, problem: p, sheet: sheet, place: q, laid: &legs[q.leg], first: first[q.leg]}
		c.find()
		if q.section {
			out.Sections = append(out.Sections, c.section())
		}
		if len(sheet.Dig) > 0 {
			leg := &out.Legs[q.leg]
			leg.Marks = append(leg.Marks, c.mark())
		}
	}
}

// oneDeepest leaves out the deepest place of a leg where another section stands within a hand's width that is as deep to a
// millimetre, and says there that it is the deepest: on paper they would be the same figure twice.
func oneDeepest(places []digPlace, sheets []*earthwork.Sheet) ([]digPlace, []*earthwork.Sheet) {
	const near = 100 * measure.Millimetre
	told := func(i, k int) bool {
		if k < 0 || k >= len(places) || sheets[k] == nil || !places[k].section || places[k].leg != places[i].leg {
			return false
		}
		apart, deeper := places[k].at-places[i].at, sheets[i].Depth()-sheets[k].Depth()
		return max(apart, -apart) <= near && max(deeper, -deeper) < measure.Millimetre
	}
	left := map[int]bool{}
	for i := range places {
		if len(places[i].why) != 1 || places[i].why[0] != deepestPlace || sheets[i] == nil {
			continue
		}
		for _, k := range [2]int{i - 1, i + 1} {
			if told(i, k) {
				places[k].why, left[i] = append(places[k].why, deepestPlace), true
				break
			}
		}
	}
	if len(left) == 0 {
		return places, sheets
	}
	var keptPlaces []digPlace
	var keptSheets []*earthwork.Sheet
	for i := range places {
		if !left[i] {
			keptPlaces, keptSheets = append(keptPlaces, places[i]), append(keptSheets, sheets[i])
		}
	}
	return keptPlaces, keptSheets
}

// sectionWide is how far to either side a section shows the ground: over the land that may be used, and a metre more.
func (b *build) sectionWide(p *earthwork.Problem) measure.Length {
	wide := 3 * measure.Metre
	for _, l := range []*measure.Length{p.Strip.Left, p.Strip.Right} {
		if l != nil {
			wide = max(wide, *l+measure.Metre)
		}
	}
	return wide
}

// cross is one section in the making.
type cross struct {
	*build
	problem *earthwork.Problem
	sheet   *earthwork.Sheet
	place   digPlace
	laid    *laid
	span    *earthwork.Span
	levels  earthwork.Levels
	unit    int     // on its leg; -1: inside a casting
	first   int     // index of the leg's first unit in the plan
	cast    bool    // it is inside a casting
	of      *supply // of that unit, or of the arm of the casting that is cut; nil: its section is not on file
}

// find finds the span and the unit that are cut: at a joint those behind it.
func (c *cross) find() {
	spans := c.problem.Legs[c.place.leg].Spans
	c.span = &spans[len(spans)-1]
	for i := range spans {
		if c.place.at < spans[i].To {
			c.span = &spans[i]
			break
		}
	}
	c.levels = between(c.span, c.place.at)
	way, joints := c.heights.legs[c.place.leg], c.heights.problem.Legs[c.place.leg].Joints
	c.unit = -1
	if c.place.at < joints[0].At || c.place.at > joints[len(joints)-1].At {
		c.cast = true
		c.of = c.armOfCast(c.place.at > joints[0].At)
		return
	}
	for k, of := range way.joint {
		if of >= 0 && joints[k].At <= c.place.at {
			c.unit = min(of, len(c.laid.units)-1)
		}
	}
	c.of = &c.sup[c.laid.supply[c.laid.units[c.unit].Supply]]
}

// between are the levels of a span at a chainage: at its ends those of record.
func between(s *earthwork.Span, at measure.Length) earthwork.Levels {
	switch at {
	case s.From:
		return s.Start
	case s.To:
		return s.End
	}
	part := (at - s.From).Metres() / (s.To - s.From).Metres()
	mix := func(a, b measure.Length) measure.Length {
		return a + measure.FromMetres(float64((b-a).Metres()*part))
	}
	out := earthwork.Levels{Top: mix(s.Start.Top, s.End.Top), Underside: mix(s.Start.Underside, s.End.Underside), Formation: mix(s.Start.Formation, s.End.Formation)}
	if s.Start.Drain != nil && s.End.Drain != nil {
		d := mix(*s.Start.Drain, *s.End.Drain)
		out.Drain = &d
	}
	return out
}

func (c *cross) section() DigSection {
	s, d := c.sheet, &c.job.Dig
	out := DigSection{Leg: c.leg(c.place.leg).ID, At: measure.MM(s.At), Why: c.place.why, Missing: c.missing(), Levels: c.centre(), Sides: c.sides(),
		Room: mmOf(entered(d.Room)), OverDig: measure.MM(c.span.Section.OverDig), Areas: c.areas(), Lines: []SectionLine{}, Layers: []measure.MM{}, Services: c.services(), Beside: []StripNeed{}}
	if c.unit >= 0 {
		out.Place = c.plan.Units[c.first+c.unit].Mark
	}
	if len(s.Dig) > 0 {
		depth := measure.MM(s.Depth())
		out.Depth = &depth
		out.Bottom = widthOf(s.BottomLeft, s.BottomRight)
		out.Top = widthOf(s.Left, s.Right)
	}
	for _, l := range []struct {
		of    string
		parts [][]earthwork.Corner
	}{{"existing", s.Ground}, {"finished", s.Finished}, {"rock", s.RockHead}, {"water", s.WaterHead}} {
		if len(l.parts) > 0 {
			out.Lines = append(out.Lines, SectionLine{l.of, polylines(l.parts)})
		}
	}
	for _, z := range s.Layers {
		out.Layers = append(out.Layers, measure.MM(z))
	}
	if p := s.Pipe; p != nil {
		out.Pipe = &SectionPipe{measure.MM(p.Offset), measure.MM(p.Level), measure.MM(p.Diameter)}
	}
	for _, n := range s.Beside {
		need := stripNeed(out.Leg, &n)
		out.Beside = append(out.Beside, need)
		out.Areas = append(out.Areas, c.heaps(&n)...)
	}
	return out
}

// missing is what is not on file and would be drawn.
func (c *cross) missing() []string {
	out, d := []string{}, c.job.Dig.At(c.leg(c.place.leg).ID, (c.span.From+c.span.To)/2)
	say := func(what, ask string) { out = append(out, finding.NoneOnFile(what, ask, finding.Where{}).Text) }
	lacking := sidesLack(&c.span.Section)
	for i := 0; c.sheet.Bare && len(lacking) == 0 && i < len(c.problem.Legs[c.place.leg].Spans); i++ {
		lacking = sidesLack(&c.problem.Legs[c.place.leg].Spans[i].Section) // a leg is dug in one: what is missing elsewhere on it is missing here
	}
	for _, l := range lacking {
		say(l[0], l[1])
	}
	if c.cast {
		node := c.castName()
		if c.of == nil {
			say("size of the casting at "+node, "the supplier")
		} else {
			say("outline of the casting at "+node+" where its arms meet", "the supplier")
			say("thickness of the covers of the casting at "+node, "the supplier")
		}
	}
	if !d.Soil.Known {
		say("class of the soil", "the competent person")
	}
	if c.problem.Rock == nil {
		say("level of rock", "the engineer who looked at the ground")
	}
	if c.problem.Water == nil {
		say("level of ground water", "the engineer who looked at the ground")
	}
	return out
}

// sidesLack is what the width and the sides of a section need and nobody entered, each with who knows it.
func sidesLack(sec *earthwork.Section) (out [][2]string) {
	if sec.Room == nil {
		out = append(out, [2]string{"working room beside the unit", "whoever compacts beside it"})
	}
	switch f := sec.Sides.Form; {
	case f == "":
		out = append(out, [2]string{"form of the sides of the dig", "the competent person"})
	case f == earthwork.Sloped && sec.Sides.Slope == nil:
		out = append(out, [2]string{"slope of the sides", "the competent person"})
	case f == earthwork.Benched && sec.Sides.Bench == nil:
		out = append(out, [2]string{"height and width of a bench", "the competent person"})
	}
	return out
}

// sides are form and slope as entered.
func (c *cross) sides() string {
	s := c.span.Section.Sides
	text := string(s.Form)
	switch {
	case s.Form == earthwork.Sloped && s.Slope != nil:
		text += " " + oneTo(*s.Slope)
	case s.Form == earthwork.Benched && s.Bench != nil:
		text += c.tell(" %s up, %s out", s.Bench.Height, s.Bench.Width)
	}
	if s.Plumb > 0 {
		text += c.tell(", upright for the first %s", s.Plumb)
	}
	return text
}

// oneTo is a slope as 1:n, one up and n out.
func oneTo(g measure.Grade) string {
	n := strconv.FormatFloat(float64(g.Run)/float64(g.Rise), 'f', 3, 64)
	return "1:" + strings.TrimSuffix(strings.TrimRight(n, "0"), ".")
}

// centre are the levels on the centreline.
func (c *cross) centre() SectionLevels {
	v, s := c.levels, c.sheet
	out := SectionLevels{Formation: mmOf(&v.Formation), Existing: onCentre(s.Ground), Finished: onCentre(s.Finished), Rock: onCentre(s.RockHead), Water: onCentre(s.WaterHead)}
	if c.of == nil {
		return out
	}
	out.Underside = mmOf(&v.Underside)
	if k := c.of.Cover; k != nil && k.Thickness.Known {
		wall := v.Top - k.Thickness.Value
		if out.Wall = mmOf(&wall); !c.cast {
			out.Cover = mmOf(&v.Top)
		}
	}
	if o, i := c.of.Unit.Outer, c.of.Unit.Inner; o.Known && i.Known {
		invert := v.Underside + o.Value.Height - i.Value.Height
		out.Invert = mmOf(&invert)
	}
	if pads := c.cutPads(); len(pads) > 0 {
		base := v.Underside - pads[0].Thick
		out.PadBase = mmOf(&base)
	}
	return out
}

// onCentre is the level of a line at offset 0.
func onCentre(parts [][]earthwork.Corner) *measure.MM {
	z, ok := levelOf(parts, 0)
	if !ok {
		return nil
	}
	return mmOf(&z)
}

// services are those within whose zone the section lies. Only where it crosses the centreline is recorded: one that crosses
// askew is drawn about the centreline.
func (c *cross) services() []SectionService {
	out := []SectionService{}
	leg := &c.problem.Legs[c.place.leg]
	for i, v := range leg.Services {
		zone, skew := measure.Length(0), 90.0
		if c.problem.Tolerance != nil {
			zone = *c.problem.Tolerance
		}
		if all := c.leg(c.place.leg).Services; i < len(all) && all[i].Skew != 0 {
			skew = all[i].Skew.Degrees()
		}
		sin, cos := math.Sincos(skew * math.Pi / 180)
		half := (v.Width/2 + zone).Metres() / sin
		if math.Abs((c.place.at - v.At).Metres()) > half {
			continue
		}
		one := SectionService{ID: v.ID, Name: v.Name, Zone: mmOf(c.problem.Tolerance)}
		if top, ok := c.topOf(&v); ok {
			bottom := top - v.Width
			one.Top, one.Bottom = mmOf(&top), mmOf(&bottom)
		}
		if skew < 89.5 {
			reach := measure.FromMetres(float64((v.Width / 2).Metres() / cos))
			one.Half = mmOf(&reach)
		}
		out = append(out, one)
	}
	return out
}

// topOf is the level of a service's top by record, or from its depth below the ground where it crosses the centreline.
func (c *cross) topOf(v *earthwork.Service) (measure.Length, bool) {
	if v.Top != nil {
		return *v.Top, true
	}
	g := c.ground.Of(ground.Existing)
	if v.Depth == nil || g == nil {
		return 0, false
	}
	z, ok := g.At(c.problem.Legs[c.place.leg].Line.At(v.At).At)
	return ground.Record(z.Z) - *v.Depth, ok
}

func (c *cross) mark() DigMark {
	s := c.sheet
	out := DigMark{At: measure.MM(s.At), Depth: measure.MM(s.Depth()), ToFormation: measure.MM(max(0, max(s.Left.Level, s.Right.Level)-c.levels.Formation)), Existing: onCentre(s.Ground), Formation: measure.MM(c.levels.Formation), Rock: onCentre(s.RockHead),
		Bottom: measure.MM(s.Bottom), BottomLeft: measure.MM(s.BottomLeft.Offset), BottomRight: measure.MM(s.BottomRight.Offset),
		EdgeLeft: measure.MM(s.Left.Offset), EdgeRight: measure.MM(s.Right.Offset)}
	if len(c.place.why) > 0 {
		out.Why = c.place.why[0]
	}
	return out
}
