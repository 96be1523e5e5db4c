package excavation

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
)

// sides says whether the sides have to be protected, and whether they are.
func (c *checker) sides() {
	f := c.f
	if f.Protect == nil {
		c.missing("depth from which sides are protected in "+f.Name, "the authority there")
		return
	}
	soil, known := c.soil()
	r := Result{ID: "excavation.sides", What: "the depth for sides without protection", Value: c.depth(), Limit: c.says(f.Protect), Rule: f.cites(f.Protect.Rule), Verdict: CannotSay}
	if f.Protect.Memory {
		c.remembered("depth from which sides are protected", f.Protect.Says, f.Protect.Rule)
		c.slope(soil, known)
		return
	}
	needed, sure := c.needed(soil, known)
	if !sure {
		c.result(r, "")
		return
	}
	c.out.Needed = &needed
	switch {
	case !needed:
		r.Verdict = Meets
		c.result(r, "")
	case f.Advice && c.p.Engineer != nil:
		if short := c.short(c.p.Engineer); short != "" {
			r.What += ": " + short
		} else {
			r.What = "sides without protection, on the advice of " + c.p.Engineer.Name + ", which is not judged here"
		}
		c.result(r, "")
	case c.p.Form == "":
		c.missing("form of the sides of the dig", "the competent person")
		c.result(r, "")
	case c.p.Form == Vertical:
		r.Verdict = DoesNot
		c.result(r, "slope, bench or support the sides")
	case c.p.Form == Supported:
		c.support(r)
	default:
		c.slope(soil, known)
	}
}

// support holds the document of the support against the depth.
func (c *checker) support(r Result) {
	r.What, r.Limit = "support of the sides", "its maker's data or an engineer's design"
	switch d := c.p.Support; {
	case d == nil:
		r.Value = "nothing on file"
		c.missing("data of the support", "its maker or the engineer")
	default:
		r.Value = d.Name
		if d.Until != nil {
			r.Limit += " for " + c.depth()
			r.Value += ", down to " + c.length(*d.Until)
		}
		if short := c.short(d); short != "" && d.Until != nil {
			r.Verdict = DoesNot
		}
	}
	c.result(r, "a document that answers this depth, or a shallower dig")
}

// soil is the class, where it is one of the rule's.
func (c *checker) soil() (string, bool) {
	if len(c.f.Soils) == 0 {
		return "", false
	}
	if c.p.Soil == "" {
		c.missing("class of soil", "the competent person")
		return "", false
	}
	if !slices.Contains(c.f.Soils, c.p.Soil) {
		c.fault("soil", fmt.Sprintf("%q is no class of soil in %s", c.p.Soil, c.f.Law), "one of "+strings.Join(c.f.Soils, "; ")+", as the competent person classed it")
		return "", false
	}
	return c.p.Soil, true
}

// needed tells whether protection is needed; sure is false where a figure is missing.
func (c *checker) needed(soil string, known bool) (needed, sure bool) {
	f, d := c.f, c.out.Depth
	if known && f.Rock != "" && soil == f.Rock {
		return false, true
	}
	if f.Steeper != nil && c.p.Form != Supported {
		switch {
		case !f.Protect.holds(d):
			return false, true
		case c.p.Form == Sloped && c.p.Slope != nil:
			return c.p.Slope.Cmp(*f.Steeper) >= 0, true
		case c.p.Form == Sloped:
			c.missing("slope of the sides", "the competent person")
			return false, false
		}
	}
	switch {
	case f.Protect.holds(d):
		return true, true
	case f.Bare.holds(d) && c.p.Form != Sloped && c.p.Form != Supported && c.p.Form != Benched:
		return false, false // the rule leaves this very depth open
	case f.Signs && c.p.NoSigns == nil:
		c.missing("word of the competent person about signs of a cave-in", "the competent person")
		return false, false
	case f.Signs:
		return !*c.p.NoSigns, true
	}
	return false, true
}

// slope holds the sides against the table of slopes.
func (c *checker) slope(soil string, known bool) {
	r := Result{ID: "excavation.slope", What: "the slope of the sides", Verdict: CannotSay}
	if c.f.Steeper != nil {
		r.Limit, r.Rule, r.Value = "flatter than "+c.f.Steeper.Ratio(), c.f.cites(c.f.Protect.Rule), "none on file"
		if c.p.Slope != nil {
			r.Value, r.Verdict = c.p.Slope.Ratio(), DoesNot // it would not be needed otherwise
		}
		c.result(r, "flatter sides, or support them")
		return
	}
	if len(c.f.Slopes) == 0 {
		c.missing("slopes by class of soil in "+c.f.Name, "the competent person")
		c.result(r, "")
		return
	}
	row, ok := c.row(soil, known)
	if !ok {
		c.result(r, "")
		return
	}
	r.Rule = c.f.cites(row.Rule)
	if row.Memory {
		c.remembered("steepest side in soil "+soil, row.Steep.Ratio(), row.Rule)
		c.result(r, "")
		return
	}
	if c.p.Form == Benched {
		c.missing("rule for benches in soil "+soil, "the competent person")
		c.result(r, "")
		return
	}
	if c.p.Slope == nil {
		c.missing("slope of the sides", "the competent person")
		c.result(r, "")
		return
	}
	c.compare(r, row)
	c.plumb(row)
}

// row is the row of the table for a soil at this depth and for this long.
func (c *checker) row(soil string, known bool) (Slope, bool) {
	deep := false
	for _, s := range c.f.Slopes {
		if !known || s.Soil != soil {
			continue
		}
		if s.Upto.holds(c.out.Depth) {
			deep = true
			continue
		}
		if s.Hours > 0 && (c.p.OpenFor == nil || *c.p.OpenFor > s.Hours) {
			continue
		}
		return s, true
	}
	if known && !deep {
		c.missing("slope for soil "+soil, "the competent person")
	}
	return Slope{}, false
}

func (c *checker) compare(r Result, row Slope) {
	r.Value = c.p.Slope.Ratio()
	if row.Steep == (measure.Grade{}) { // what was read gives the height of the upright part alone
		c.missing("slope above the upright part in soil that is "+row.Soil, "the competent person")
		c.result(r, "")
		return
	}
	r.Limit = row.Steep.Ratio() + " up to out at the steepest"
	if row.Flatter {
		r.Limit = "flatter than " + row.Steep.Ratio()
	}
	r.Verdict = Meets
	if cmp := c.p.Slope.Cmp(row.Steep); cmp > 0 || row.Flatter && cmp == 0 {
		r.Verdict = DoesNot
	}
	c.result(r, "flatter sides, or support them")
}

// plumb holds the upright part above the bottom against what the row allows.
func (c *checker) plumb(row Slope) {
	r := Result{ID: "excavation.upright-part", What: "the upright part above the bottom", Rule: c.f.cites(row.Rule), Verdict: Meets, Limit: "none"}
	var has measure.Length
	if c.p.Plumb != nil {
		has = *c.p.Plumb
	}
	if has == 0 && row.Plumb == nil {
		return
	}
	r.Value = c.length(has)
	most := measure.Length(0)
	if row.Plumb != nil {
		most = *row.Plumb
		r.Limit = "up to " + c.length(most)
	}
	if has > most || row.Flatter && row.Plumb != nil && has == most {
		r.Verdict = DoesNot
	}
	c.result(r, "cut back from lower down, or support the upright part")
}

// TopWidth is how wide the dig is at the ground, b + 2sD, by the steepest slope of the table for that soil. refused says why
// it is not given: too deep for the table, or no such soil.
func TopWidth(profile, soil string, depth, bottom measure.Length) (width measure.Length, refused string) {
	f, ok := Find(profile)
	if !ok {
		return 0, fmt.Sprintf("no excavation rules on file for %q", profile)
	}
	if f.Engineer.holds(depth) {
		return 0, fmt.Sprintf("deeper than %s: a registered engineer's design (%s)", f.Engineer.Says, f.cites(f.Engineer.Rule))
	}
	for _, s := range f.Slopes {
		if s.Soil != soil || s.Hours > 0 || s.Memory || s.Steep == (measure.Grade{}) || s.Upto.holds(depth) {
			continue
		}
		out, err := measure.MulDiv(2*depth, int64(s.Steep.Run), int64(s.Steep.Rise))
		if err != nil {
			return 0, err.Error()
		}
		return bottom + out, ""
	}
	return 0, fmt.Sprintf("no slope on file for soil %q in %s", soil, f.Law)
}
