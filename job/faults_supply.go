package job

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// lookAgain is what to try where two figures of one supply do not go together.
const lookAgain = "Look at both figures again, in the supplier's document."

// supply checks what holds between the figures of one supply.
func (c *checker) supply(s *Supply, p *place) {
	lengths := s.Unit.Lengths.Value
	unit := p.field("unit")
	c.different(lengths, unit.field("lengths"))
	if in, out := s.Unit.Inner, s.Unit.Outer; in.Known && out.Known && (in.Value.Width >= out.Value.Width || in.Value.Height >= out.Value.Height) {
		one := c.say("section", unit.field("inner"), fmt.Sprintf("inside %s does not fit into outside %s.", in.Value, out.Value), "Write width x height, inside and outside, from the supplier's drawing.")
		one.Value, one.Limit = in.Value.String(), out.Value.String()
	}
	c.saw(s, p.field("saw"))
	if !c.sound(unit, "lengths") {
		lengths = nil
	}
	for i := range s.Unit.CastIn {
		c.castIn(&s.Unit.CastIn[i], lengths, unit.field("cast_in").item(i, s.Unit.CastIn[i].Name))
	}
	for i := range s.Unit.NoCut {
		c.noCut(s.Unit.NoCut[i], lengths, unit.field("no_cut").item(i, ""))
	}
	c.reserve(s, p.fields("joint", "gap"))
	if s.Cover != nil {
		c.cover(s, p.field("cover"))
	}
	for i := range s.Fittings {
		c.fitting(&s.Fittings[i], p.field("fittings").item(i, s.Fittings[i].ID))
	}
}

// different says that one length is written twice.
func (c *checker) different(lengths []measure.Length, p *place) {
	for i, l := range lengths {
		if slices.Contains(lengths[:i], l) {
			c.say("twice", p.item(i, ""), fmt.Sprintf("%s is written twice in %s.", c.length(l), p.leaf()), "Write each length once.")
		}
	}
}

func (c *checker) saw(s *Supply, p *place) {
	most := longest(s.Unit.Lengths.Value)
	if short := s.Saw.Shortest; short.Known && most > 0 && short.Value > most {
		one := c.say("shortest", p.field("shortest"), fmt.Sprintf("the shortest cut unit is %s, and the longest unit that is made is %s.", c.length(short.Value), c.length(most)), lookAgain)
		one.Value, one.Limit = c.length(short.Value), c.length(most)
	}
	if slice, kerf := s.Saw.LeastSlice, s.Saw.Kerf; slice.Known && kerf.Known && slice.Value < kerf.Value {
		one := c.say("least-slice", p.field("least_slice"), fmt.Sprintf("a slice of %s is thinner than the blade, which takes %s.", c.length(slice.Value), c.length(kerf.Value)), "Write the kerf or more.")
		one.Value, one.Limit = c.length(slice.Value), c.length(kerf.Value)
	}
}

// madeLength checks that a thing in a unit names a length that is made.
func (c *checker) madeLength(of measure.Length, lengths []measure.Length, p *place) bool {
	if of <= 0 || len(lengths) == 0 {
		return false
	}
	if !slices.Contains(lengths, of) {
		c.say("made-length", p.field("of"), fmt.Sprintf("no unit of %s is made.", c.length(of)), "Made: "+c.lengths(lengths)+".")
		return false
	}
	return true
}

func (c *checker) lengths(lengths []measure.Length) string {
	texts := make([]string, len(lengths))
	for i, l := range lengths {
		texts[i] = c.length(l)
	}
	return listed(texts)
}

func (c *checker) castIn(t *CastIn, lengths []measure.Length, p *place) {
	if c.madeLength(t.Of, lengths, p) && t.At > t.Of && c.sound(p, "at", "of") {
		one := c.say("station", p.field("at"), fmt.Sprintf("%s from end %s lies outside a unit of %s.", c.length(t.At), choose(t.End == "", "A", t.End), c.length(t.Of)), "A station counts from the end that is named, A or B, to the middle of the thing.")
		one.Value, one.Limit = c.length(t.At), c.length(t.Of)
	}
}

func (c *checker) noCut(n NoCut, lengths []measure.Length, p *place) {
	if !c.sound(p, "of", "from", "to") {
		return
	}
	c.forward(n.From, n.To, p)
	if c.madeLength(n.Of, lengths, p) && n.To > n.Of {
		one := c.say("station", p.field("to"), fmt.Sprintf("%s from end A lies outside a unit of %s.", c.length(n.To), c.length(n.Of)), "A station counts from end A.")
		one.Value, one.Limit = c.length(n.To), c.length(n.Of)
	}
}

// forward checks that a stretch runs from its start to its end.
func (c *checker) forward(from, to measure.Length, p *place) {
	if !c.sound(p, "from", "to") || from < to {
		return
	}
	text := fmt.Sprintf("it runs backwards, from %s to %s.", c.length(from), c.length(to))
	if from == to {
		text = fmt.Sprintf("it starts and ends at %s and has no length.", c.length(from))
	}
	c.say("backwards", p, text, "Write the smaller one as from.")
}

// reserve checks that the drift reserve leaves something of an open window. A fixed gap has no window to share.
func (c *checker) reserve(s *Supply, p *place) {
	gap, keep := s.Joint.Gap, c.job.Rules.DriftReserve
	half := (gap.Value.Max - gap.Value.Min) / 2
	if gap.Known && keep.Known && half > 0 && keep.Value > half {
		one := c.say("reserve", p, fmt.Sprintf("the window %s..%s is %s wide, and the rules keep %s on each side for drift.",
			c.length(gap.Value.Min), c.length(gap.Value.Max), c.length(2*half), c.length(keep.Value)), "Keep less for drift, or ask the supplier for a wider window.")
		one.Value, one.Limit = c.length(keep.Value), c.length(half)
	}
}

func (c *checker) cover(s *Supply, p *place) {
	cover := s.Cover
	made := cover.Lengths.Value
	c.different(made, p.field("lengths"))
	if most := longest(made); cover.Shortest.Known && most > 0 && cover.Shortest.Value > most {
		one := c.say("shortest", p.field("shortest"), fmt.Sprintf("the shortest cut cover is %s, and the longest cover that is made is %s.", c.length(cover.Shortest.Value), c.length(most)), lookAgain)
		one.Value, one.Limit = c.length(cover.Shortest.Value), c.length(most)
	}
	if in := s.Unit.Inner; in.Known && cover.Width.Known && cover.Width.Value <= in.Value.Width {
		one := c.say("cover-width", p.field("width"), fmt.Sprintf("a cover %s wide falls into a unit that is %s wide inside.", c.length(cover.Width.Value), c.length(in.Value.Width)), lookAgain)
		one.Value, one.Limit = c.length(cover.Width.Value), c.length(in.Value.Width)
	}
	if !cover.Gap.Known {
		return
	}
	var unfilled []measure.Length
	for _, l := range s.Unit.Lengths.Value {
		if !coversFit(l, made, cover.Gap.Value) {
			unfilled = append(unfilled, l)
		}
	}
	if len(unfilled) > 0 {
		one := c.say("whole-covers", p.field("lengths"), fmt.Sprintf("no whole number of covers of %s with gap %s fills a unit of %s.",
			c.lengths(made), c.gapText(cover.Gap.Value), strings.ReplaceAll(c.lengths(unfilled), ", ", " or ")), "Covers, each with one gap, have to make up the unit's length exactly: look at the supplier's drawing again.")
		one.Rule = "every cover lies wholly on one unit"
	}
}

// gapText is a gap as people write it.
func (c *checker) gapText(w measure.Window) string {
	if w.Min == w.Max {
		return c.length(w.Min)
	}
	return fmt.Sprintf("%s in %s..%s", c.length(w.Nominal), c.length(w.Min), c.length(w.Max))
}

// coversFit tells whether whole covers, each with one gap inside the window, make up exactly l: half a gap lies at either
// end of the unit. Where that would take too long to decide, or nothing useful is known, it says yes.
func coversFit(l measure.Length, covers []measure.Length, gap measure.Window) bool {
	if l <= 0 || gap.Min < 0 || gap.Min > gap.Max || len(covers) == 0 || slices.Min(covers) <= 0 || longest(covers) > longestProduct || l > longestProduct {
		return true
	}
	from := slices.Clone(covers)
	sorting.Ascending(from)
	slices.Reverse(from)
	steps := 100_000
	return fill(l, from, gap, 0, 0, &steps)
}

// fill tries every number of the first of covers, with count covers of total length sum placed already.
func fill(l measure.Length, covers []measure.Length, gap measure.Window, sum, count measure.Length, steps *int) bool {
	if *steps--; *steps <= 0 {
		return true
	}
	rest := l - sum - count*gap.Min // at the narrowest gaps
	if rest < 0 {
		return false
	}
	most := rest / (covers[0] + gap.Min)
	if len(covers) == 1 { // the most that fit are those that come closest
		sum, count = sum+most*covers[0], count+most
		return count > 0 && sum+count*gap.Max >= l
	}
	for n := most; n >= 0; n-- {
		if fill(l, covers[1:], gap, sum+n*covers[0], count+n, steps) {
			return true
		}
	}
	return false
}

// arms is how many arms a casting of each kind has.
func arms(kind string) int {
	switch kind {
	case "bend", "transition":
		return 2
	case "tee":
		return 3
	case "cross":
		return 4
	case "end":
		return 1
	}
	return 0
}

func (c *checker) fitting(f *Fitting, p *place) {
	if want := arms(f.Kind); want > 0 && len(f.Arms) != want {
		one := c.say("arms", p.field("arms"), fmt.Sprintf("a %s has %s, and %s written.", f.Kind, plural(want, "arm", "arms"), plural(len(f.Arms), "is", "are")),
			"Write one length from the node to the face for each arm, from the casting's drawing.")
		one.Value, one.Limit = fmt.Sprint(len(f.Arms)), fmt.Sprint(want)
	}
	for i, a := range f.Arms {
		for _, b := range f.Arms[:i] {
			if a.Name != "" && a.Name == b.Name {
				c.say("arm-twice", p.field("arms").item(i, a.Name).field("name"), fmt.Sprintf("two arms are called %q.", a.Name), "Call them "+strings.Join(armNames(f.Kind), ", ")+".")
			}
		}
	}
	if f.Kind == "bend" && f.Angle == 0 && c.sound(p, "angle") {
		c.say("missing-field", p.field("angle"), `"angle" is missing: a cast bend has one.`, "Write angle: 45°.")
	}
	if f.Kind != "bend" && f.Kind != "" && f.Angle != 0 {
		c.say("angle", p.field("angle"), fmt.Sprintf("a %s has no angle; only a bend has.", f.Kind), "Leave angle out.")
	}
}

func armNames(kind string) []string {
	switch kind {
	case "tee":
		return []string{"through", "through-2", "branch"}
	case "cross":
		return []string{"through", "through-2", "branch", "branch-2"}
	}
	return []string{"in", "out"}
}

// plural is "1 arm" or "3 arms".
func plural(n int, one, many string) string {
	return fmt.Sprintf("%d %s", n, choose(n == 1, one, many))
}
