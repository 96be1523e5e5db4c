package cable

import (
	"cmp"
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/solve/check"
)

// Section is the inside of a unit.
type Section struct {
	Width, Depth measure.Length
	From         string
	Dividers     []Divider       // by rising place
	Gap          measure.Length  // kept free between cables side by side; 0: they touch
	Share        *check.Quantity // of the section that cables may fill
	ShareFrom    string
	Apart        *measure.Length // that classes are kept apart
	ApartFrom    string
	Later        *Cable // what may still be laid one day
}

// Divider stands upright along the run: its middle from the left wall, and its thickness.
type Divider struct{ At, Thick measure.Length }

var (
	fitsRule  = check.Rule{ID: "cable.fits", Says: "cables lie side by side in layers, the thick ones first; a layer is as high as its thickest cable; three in trefoil count as one round of 2.154 diameters", Law: "geometry", Source: "factor of the trefoil as read", Status: check.Closed, Tests: []string{"cable.TestLayersAgainstTwin", "cable.TestTrefoil"}}
	shareRule = check.Rule{ID: "cable.share", Says: "the areas of all cables over their diameters, within the area inside", Law: "the owner's rule", Source: "as entered; counts as in a published exercise for cable trays", Status: check.Closed, Tests: []string{"cable.TestShareAsPublished"}}
	apartRule = check.Rule{ID: "cable.apart", Says: "classes are kept apart by a divider no thinner than that distance", Law: "the owner's rule", Source: "as entered", Status: check.Closed, Tests: []string{"cable.TestClassesApart"}}
	laterRule = check.Rule{ID: "cable.later", Says: "a later cable is laid as the others are, after all of them", Law: "geometry", Status: check.Closed, Tests: []string{"cable.TestLaterCable"}}
)

// Trefoil is the diameter of the round about three cables in trefoil, over one of theirs: 1 + 2/√3.
var Trefoil = 1 + 2/math.Sqrt(3)

// round is how much room one cable, or one bundle of three, takes.
func (c *Cable) round() float64 {
	if c.Trefoil {
		return c.OD.Metres() * Trefoil
	}
	return c.OD.Metres()
}

// area is what one cable, or one bundle, takes of the section over its diameters.
func (c *Cable) area() float64 {
	n := 1.0
	if c.Trefoil {
		n = 3
	}
	return n * math.Pi / 4 * c.OD.Metres() * c.OD.Metres()
}

func (s *Section) bounds() []check.Bound {
	if s == nil {
		return nil
	}
	list := []check.Bound{long("an inner width", &s.Width), long("an inner height", &s.Depth), check.Between("a gap between cables", check.Long(&s.Gap), 0, 10, "0 and more"), check.Between("a share of the section", s.Share, 1e-6, 1, "above 0 and no more than all of it, for example 40 %"),
		check.Between("a distance of classes", check.Long(s.Apart), 0, 10, "0 and more")}
	edge := measure.Length(0)
	for i := range s.Dividers {
		d := &s.Dividers[i]
		from := d.At - d.Thick/2
		list = append(list, long("a divider's thickness", &d.Thick), check.Between("a divider's left side", check.Long(&from), edge.Metres()+1e-6, s.Width.Metres(), "inside the unit and right of the one before"))
		edge = d.At + d.Thick/2
	}
	if len(s.Dividers) > 0 {
		list = append(list, check.Between("a divider's right side", check.Long(&edge), 0, s.Width.Metres()-1e-6, "inside the unit"))
	}
	return list
}

// rooms are the widths of the compartments from left to right.
func (s *Section) rooms() []float64 {
	var rooms []float64
	edge := measure.Length(0)
	for _, d := range s.Dividers {
		rooms = append(rooms, (d.At - d.Thick/2 - edge).Metres())
		edge = d.At + d.Thick/2
	}
	return append(rooms, (s.Width - edge).Metres())
}

// in is the compartment of a cable, from 0.
func (c *Cable) in() int { return max(0, c.In-1) }

// larger says which cables are larger than the room that they are to lie in.
func (p *Problem) larger(out *Solution) {
	rooms := p.Section.rooms()
	all := p.Cables
	if p.Section.Later != nil {
		all = append(all[:len(all):len(all)], *p.Section.Later)
	}
	for i := range all {
		c := &all[i]
		switch {
		case c.in() >= len(rooms) || c.In < 0:
			p.fault(out, fmt.Sprintf("%s lies in compartment %d, and there are %d", c.Name, c.In, len(rooms)), "compartments count from the left wall, from 1")
		case c.round() > rooms[c.in()] || c.round() > p.Section.Depth.Metres():
			p.fault(out, fmt.Sprintf("%s takes %s, and the room for it is %s wide and %s high", c.Name, check.Length.Of(c.round()).Both(p.Words.Imperial), check.Length.Of(rooms[c.in()]).Both(p.Words.Imperial), check.Length.Of(p.Section.Depth.Metres()).Both(p.Words.Imperial)),
				"another unit, another compartment, or look at the diameter again")
		}
	}
}

// layer is one layer of a compartment: how wide and how high, and which kinds lie in it.
type layer struct {
	width, height float64
	kinds         []int
}

// layers lays cables in one compartment, the thick ones first, each in the lowest layer that has room for it.
func layers(cables []Cable, room int, width, gap float64) []layer {
	var order []int
	for i := range cables {
		if cables[i].in() == room {
			order = append(order, i)
		}
	}
	sorting.By(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(cables[b].round(), cables[a].round()), cmp.Compare(a, b))
	})
	var list []layer
	for _, i := range order {
		d := cables[i].round()
	next:
		for range cables[i].Count {
			for k := range list {
				if list[k].width+gap+d <= width+1e-9 {
					list[k].width += gap + d
					list[k].kinds = append(list[k].kinds, i)
					continue next
				}
			}
			list = append(list, layer{d, d, []int{i}})
		}
	}
	return list
}

// height is how high layers stack up.
func height(list []layer) float64 {
	sum := 0.0
	for _, l := range list {
		sum += l.height
	}
	return sum
}

// section holds room, share, separation and what a later cable finds.
func (p *Problem) section(out *Solution) {
	s := p.Section
	if s == nil {
		return
	}
	out.Answers = append(out.Answers, p.fits("cable.fits", "the height of all layers in the fullest compartment", fitsRule, p.Cables, "fewer cables, a larger unit, or another way of laying them"), p.share())
	if a, several := p.apart(); several {
		out.Answers = append(out.Answers, a)
	}
	if s.Later != nil {
		c := *s.Later
		a := p.fits("cable.later", "the height of all layers with a later cable besides", laterRule, append(p.Cables[:len(p.Cables):len(p.Cables)], c), "a larger unit now")
		a.Give("later, "+c.Name, check.Length.Of(c.round()), c.From)
		out.Answers = append(out.Answers, a)
	}
}

// fits lays cables, and holds the highest stack against the depth. That they do not fit so does not say that they cannot; that they have
// more area than the room does.
func (p *Problem) fits(id, what string, rule check.Rule, cables []Cable, try string) check.Answer {
	s := p.Section
	a := p.answer(id, what, rule, owner, try)
	depth := check.Length.Of(s.Depth.Metres())
	a.Give("inner width", check.Length.Of(s.Width.Metres()), s.From)
	a.Give("inner height", depth, s.From)
	worst, full := 0.0, false
	for room, width := range s.rooms() {
		list, area := layers(cables, room, width, s.Gap.Metres()), 0.0
		for i := range cables {
			if cables[i].in() == room {
				area += float64(float64(cables[i].Count) * cables[i].area())
			}
		}
		name := ""
		if len(s.Dividers) > 0 {
			name = fmt.Sprintf(" of compartment %d", room+1)
		}
		a.Work("layers"+name, fmt.Sprintf("side by side on %s", check.Length.Of(width).Both(p.Words.Imperial)), check.Count.Of(float64(len(list))))
		worst = max(worst, a.Work("they stand"+name, "sum of the thickest of each", check.Length.Of(height(list))).SI)
		full = full || area > width*s.Depth.Metres()
	}
	verdict := finding.Meets
	switch {
	case full:
		verdict = finding.DoesNot
	case check.AtMost(worst, 0, depth.SI) != finding.Meets:
		verdict = finding.CannotSay
	}
	a.Hold(check.Length.Of(worst), depth, s.From, verdict)
	return a
}

// ByShare is how many cables of a diameter a share of a section has room for, by area.
func ByShare(width, depth, diameter measure.Length, share float64) int {
	d := diameter.Metres()
	return int(math.Floor(share*width.Metres()*depth.Metres()/(math.Pi/4*d*d) + 1e-9))
}

func (p *Problem) share() check.Answer {
	s := p.Section
	a := p.answer("cable.share", "the share of the section that cables fill", shareRule, owner, "fewer cables, or a larger unit")
	area := 0.0
	for i := range p.Cables {
		c := &p.Cables[i]
		a.Give(fmt.Sprintf("%s, %d of diameter", c.Name, c.Count), check.Length.Of(c.OD.Metres()), c.From)
		area += float64(float64(c.Count) * c.area())
	}
	a.Give("inner width", check.Length.Of(s.Width.Metres()), s.From)
	a.Give("inner height", check.Length.Of(s.Depth.Metres()), s.From)
	free := s.Width.Metres()
	for _, d := range s.Dividers {
		free -= d.Thick.Metres()
	}
	all := a.Work("area of the cables", "sum of pi / 4 x diameter²", check.Area.Of(area))
	room := a.Work("area inside", "width without dividers x height", check.Area.Of(free*s.Depth.Metres()))
	is := a.Work("share", "area of the cables / area inside", check.Percent.Of(all.SI/room.SI))
	if limit, ok := a.Need("share of the section that cables may fill", s.Share, s.ShareFrom, owner); ok {
		if s.Later != nil {
			n := ByShare(measure.FromMetres(free), s.Depth, s.Later.OD, max(0, limit.SI-is.SI))
			a.Work("later cables of "+check.Length.Of(s.Later.OD.Metres()).Both(p.Words.Imperial)+" by that share", "whole ones of what is left", check.Count.Of(float64(n)))
		}
		a.Hold(is, limit, s.ShareFrom, check.AtMost(is.SI, 0, limit.SI))
	}
	return a
}

// apart holds the distance between classes: nothing in one compartment, the divider between two. False: there is one class alone.
func (p *Problem) apart() (check.Answer, bool) {
	s := p.Section
	a := p.answer("cable.apart", "the distance between classes of cables", apartRule, owner, "a divider between them, or a compartment for each")
	nearest, several := math.Inf(1), false
	for i := range p.Cables {
		for k := range p.Cables[:i] {
			x, y := &p.Cables[i], &p.Cables[k]
			if x.Class == y.Class {
				continue
			}
			several = true
			is := 0.0
			for d := min(x.in(), y.in()); d < max(x.in(), y.in()); d++ {
				is += s.Dividers[d].Thick.Metres()
			}
			for d := min(x.in(), y.in()) + 1; d < max(x.in(), y.in()); d++ {
				is += s.rooms()[d]
			}
			nearest = min(nearest, is)
		}
	}
	if !several {
		return a, false
	}
	is := a.Work("nearest", "thickness of the dividers between, 0 in one compartment", check.Length.Of(nearest))
	if asked, ok := a.Need("distance that classes of cables are kept apart", check.Long(s.Apart), s.ApartFrom, owner); ok {
		a.Hold(is, asked, s.ApartFrom, check.AtLeast(is.SI, 0, asked.SI))
	}
	return a, true
}
