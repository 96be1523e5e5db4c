package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/schedule"
)

// mostStands is how many settings of the laser one card tells.
const mostStands = 8

// stand is where the laser stands for one part of a grade, and how it gets its height.
type stand struct {
	laser         schedule.Laser
	at            planner.SetOut       // place
	place, toward string               // at and the other end of the part, as the rows of the cards name them
	on            float64              // what is read on there, m
	beam          *float64             // level of the beam there, m; nil: no height of the beam on file
	benchmark     *planner.SurveyPoint // the nearest with a level; nil: none has one
	lower         *planner.SurveyPoint // where that is higher than the beam: the nearest that is not; nil: none
	bench         float64              // level of the nearest, m
}

// standOf tells of one part. Levels are those that are printed, so that whoever adds them up on paper comes out the same.
func (c *levelCard) standOf(l schedule.Laser) stand {
	s := stand{laser: l, at: l.From, place: c.laserPlace(l.From, false), toward: c.laserPlace(l.To, true)}
	low := l.Joints[0].Level
	if !l.Setting.Up {
		s.at, s.place, s.toward = l.To, s.toward, s.place
		low = l.Joints[len(l.Joints)-1].Level
	}
	s.on = c.asPrinted(low.Metres())
	if l.Beam != nil {
		s.beam = new(c.asPrinted(s.on + c.asPrinted(l.Setting.Reading.Metres())))
	}
	if s.benchmark, s.lower = c.benchmarkOf(s); s.benchmark != nil {
		s.bench = c.asPrinted(*s.benchmark.Level)
	}
	return s
}

// benchmarkOf is the nearest benchmark with a level, nil where none has one; and where that is too high for the beam the nearest
// one that a staff can be read on, nil where there is none.
func (c *levelCard) benchmarkOf(s stand) (best, lower *planner.SurveyPoint) {
	all := slices.DeleteFunc(c.nearest(c.plan.Benchmarks, s.at.E, s.at.N), func(p planner.SurveyPoint) bool { return p.Level == nil })
	for i, p := range all {
		if s.beam == nil || c.asPrinted(*p.Level) < *s.beam {
			if i > 0 {
				return &all[0], &all[i]
			}
			return &all[0], nil
		}
	}
	if len(all) == 0 {
		return nil, nil
	}
	return &all[0], nil
}

// stands are all of the leg that can be set, in the order in which the leg is laid.
func (c *levelCard) stands() []stand {
	var out []stand
	for _, l := range c.lasers {
		if l.Grade.Leg == c.leg.Name && l.Impossible == "" {
			out = append(out, c.standOf(l))
		}
	}
	if c.laidBack() {
		slices.Reverse(out)
	}
	return out
}

// laidBack reports whether the leg is laid against its chainage.
func (c *levelCard) laidBack() bool { return c.leg.LaidFrom == c.leg.To && c.leg.From != c.leg.To }

// onBenchmark is what the staff on the benchmark reads when the beam is level and has its height; of one that is higher than
// the beam, how far below it what the staff is read on lies.
func (c *levelCard) onBenchmark(s stand) string {
	if s.beam == nil || s.benchmark == nil {
		return "–"
	}
	if s.over() < 0 {
		return fmt.Sprintf("%s ↓ %s", s.benchmark.ID, c.rodFigure(s.down()))
	}
	return c.words.rod + " on " + s.benchmark.ID + " " + c.rodFigure(s.over())
}

// over is how high the beam runs above the benchmark, by the levels that are printed.
func (s stand) over() measure.Length { return measure.FromMetres(*s.beam - s.bench) }

// down is how far what is read on at the laser lies below the benchmark, likewise.
func (s stand) down() measure.Length { return measure.FromMetres(s.bench - s.on) }

// heightWords are how the laser gets its height at one stand, line by line; none where the beam is not on file. A
// benchmark that is higher than the beam comes first where it is the nearest: a staff that is read from afar is read badly.
func (c *levelCard) heightWords(s stand) []string {
	switch {
	case s.beam == nil:
		return nil
	case s.benchmark == nil:
		return []string{fmt.Sprintf("beam there at %s; %s: no %s with a level on file. Ask: the surveyor", c.levelFigure(s.beam), notChecked, c.words.benchmark)}
	}
	beam := "beam there at " + c.levelFigure(s.beam)
	over := s.over()
	if over >= 0 {
		return []string{fmt.Sprintf("%s: with the dial at %s the %s on %s reads %s", beam, c.words.nought, c.words.rod, s.benchmark.ID, c.rodFigure(over))}
	}
	out := []string{fmt.Sprintf("%s, %s below %s; %s", beam, c.rodFigure(-over), s.benchmark.ID, c.levelledWords(s, ""))}
	if s.lower != nil {
		out = append(out, fmt.Sprintf("or with the dial at %s %s", c.words.nought, c.lowerWords(s)))
	}
	return out
}

// levelledWords are how what the staff is read on gets its height with a level, from a benchmark that is higher than the beam.
func (c *levelCard) levelledWords(s stand, where string) string {
	return fmt.Sprintf("with a level: %s on the %s%s = %s on %s + %s", c.words.rod, s.laser.ReadOn, where, c.words.rod, s.benchmark.ID, c.rodFigure(s.down()))
}

// lowerWords are what a staff reads on the nearest benchmark that is lower than the beam, and how far off that is.
func (c *levelCard) lowerWords(s stand) string {
	text := fmt.Sprintf("a %s on %s reads %s", c.words.rod, s.lower.ID, c.rodFigure(measure.FromMetres(*s.beam-c.asPrinted(*s.lower.Level))))
	if placed(*s.lower) {
		_, unit, _ := c.coordinateUnit()
		text += fmt.Sprintf(", %s %s off", c.eastNorth(c.apart(*s.lower, s.at.E, s.at.N)), unit)
	}
	return text
}

// layingCards say in what order the leg is laid, where the laser stands for it and how it gets its height, and what the pads are.
func (c *levelCard) layingCards() []scene.Page {
	stands := c.stands()
	parts := evenly(0, len(stands), mostStands)
	if len(parts) == 0 {
		parts = [][2]int{{}}
	}
	var all []layingPart
	var left []string // what the cards so far had no room for
	for i, part := range parts {
		p := layingPart{stands: stands[part[0]:part[1]], lasers: true}
		if i == 0 {
			left = slices.Concat(c.orderWords(p.stands), c.padWords(), c.coversOff())
		}
		p.said, left = c.layingRoom(p, left, c.heightNotes(p.stands))
		all = append(all, p)
	}
	all = c.overflowing(all, left)
	var out []scene.Page
	for i, p := range all {
		out = append(out, c.drawLaying(i, len(all), p))
	}
	return out
}

// layingPart is one card of how a leg is laid.
type layingPart struct {
	stands []stand
	lasers bool // it has the block of the laser, even if nothing can be set
	staff  bool // every line has a reading of its own
	said   []string
}

// overflowing puts what does not fit onto cards with words alone.
func (c *levelCard) overflowing(all []layingPart, left []string) []layingPart {
	for len(left) > 0 {
		var p layingPart
		p.said, left = c.layingRoom(p, left, nil)
		all = append(all, p)
	}
	return all
}

// layingRoom parts sentences into those that a card has room for, read without glasses, and the rest. What has to stand on the
// card itself, for it tells of the figures there, comes last and always has room; without any of it one sentence has.
func (c *levelCard) layingRoom(p layingPart, said, always []string) (on, rest []string) {
	said = slices.DeleteFunc(slices.Clone(said), func(s string) bool { return s == "" })
	y := c.layingBlock(cardEdge+8+2.3, p)
	c.page = scene.Page{} // nothing of it was drawn
	n, least := len(said), 1
	if len(always) > 0 {
		least = 0
	}
	for ; n > least; n-- {
		if _, high := c.wrappedSentences(slices.Concat(said[:n], always), digSaid); y+high <= digFoot() {
			break
		}
	}
	return slices.Concat(said[:n], always), said[n:]
}

// layingBlock is where the laser stands. It returns where it ends.
func (c *levelCard) layingBlock(y float64, p layingPart) float64 {
	if !p.lasers {
		return y
	}
	var rows [][]string
	for _, s := range p.stands {
		rows = append(rows, []string{s.place, c.levelFigure(&s.on), c.orNone(s.beam), dialled(s.laser.Setting.Dial, s.toward), c.onBenchmark(s)})
	}
	if len(rows) == 0 {
		rows = [][]string{{notChecked + ": no grade on file that a laser can be set to. Ask: the engineer"}}
	}
	on := "on"
	if len(p.stands) > 0 {
		on = strings.TrimSuffix(p.stands[0].laser.ReadOn, " of the drain")
	}
	heads := []string{"", on, "beam", "dial", "height from"}
	if p.staff {
		heads = slices.Insert(heads, 4, c.words.rod)
		for i, s := range p.stands {
			rows[i] = slices.Insert(rows[i], 4, c.staffAt(s))
		}
	}
	line := c.line
	heads[0] = "laser at"
	for c.line > leastSaid && blockWide(heads, rows, c.line) > cardWidth-2*cardEdge {
		c.line -= 0.1
	}
	y = c.block(y, heads[0], heads, rows)
	c.line = line
	return y
}

func (c *levelCard) drawLaying(i, of int, p layingPart) scene.Page {
	title := fmt.Sprintf("Set-out card %s, laying", c.leg.Name)
	if of > 1 {
		title += fmt.Sprintf(" %d of %d", i+1, of)
	}
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: title, Name: fmt.Sprintf("levels-%s-laying-%d", nameOf(c.leg.Name), i+1), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	first, last := shortPlace(c.rows[0]), shortPlace(c.rows[len(c.rows)-1])
	from, to := c.leg.From, c.leg.To
	if c.laidBack() {
		first, last, from, to = last, first, to, from
	}
	where := fmt.Sprintf("from %s to %s; %s", from, to, count(len(c.rows)-1, c.words.unit, c.words.units))
	if of > 1 {
		where += fmt.Sprintf("; %d of %d cards of laying", i+1, of)
	}
	for _, h := range c.heldOf() {
		last += ", " + shortMark(h.unit) + " waits"
	}
	y := c.headOf(fmt.Sprintf("lay from %s to %s", first, last), where, c.firstCode())
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	c.sentences(c.layingBlock(y, p), digFoot(), p.said)
	return c.page
}

// heightNotes say how the laser is given its height, and what for it is not on file.
func (c *levelCard) heightNotes(stands []stand) []string {
	if len(stands) == 0 {
		return nil
	}
	var out []string
	s := stands[0]
	bench := slices.ContainsFunc(stands, func(s stand) bool { return s.benchmark != nil })
	switch {
	case s.beam == nil:
		out = append(out, fmt.Sprintf("%s: no height of the beam on file. Ask: whoever sets the laser. Until then level the %s at the laser from the %s, read the %s there and hold that reading",
			notChecked, s.laser.ReadOn, c.words.benchmark, c.words.rod))
	case bench:
		out = append(out, fmt.Sprintf("HEIGHT: dial at %s, turn the beam to the %s, move the laser until the %s there reads as above; then set the dial. The beam runs %s",
			c.words.nought, c.words.benchmark, c.words.rod, c.beamAbove(stands, "the "+s.laser.ReadOn)))
		if slices.ContainsFunc(stands, func(s stand) bool { return s.benchmark != nil && s.over() < 0 }) {
			out = append(out, c.higherWords(stands)...)
		}
	}
	if !bench {
		out = append(out, fmt.Sprintf("%s: no %s with a level on file. Ask: the surveyor", notChecked, c.words.benchmark))
	}
	return out
}

// higherWords say what is done where a benchmark is higher than the beam: in figures where the card tells of one setting; of
// several the table has them, and the level cards what lies lower.
func (c *levelCard) higherWords(stands []stand) []string {
	s := stands[0]
	if len(stands) > 1 {
		return []string{fmt.Sprintf("↓: the %s is higher than the beam. With a level: %s on the %s at the laser = %s on the %s + the figure at ↓; put the beam %s",
			c.words.benchmark, c.words.rod, s.laser.ReadOn, c.words.rod, c.words.benchmark, c.beamAbove(stands, "that "+s.laser.ReadOn))}
	}
	out := []string{fmt.Sprintf("↓: %s is %s above the beam. %s; put the beam %s",
		s.benchmark.ID, c.rodFigure(-s.over()), capital(c.levelledWords(s, " at the laser")), c.beamAbove(stands, "that "+s.laser.ReadOn))}
	if s.lower != nil {
		out = append(out, "or with the dial at "+c.words.nought+" "+c.lowerWords(s))
	}
	return out
}

// orderWords say which way the leg is laid, where the staff is read, and what becomes of the unit that lies where the laser
// stands.
func (c *levelCard) orderWords(stands []stand) []string {
	last := shortPlace(c.rows[len(c.rows)-1])
	if c.laidBack() {
		last = shortPlace(c.rows[0])
	}
	what := "set the " + c.words.pad
	if len(stands) > 0 && stands[0].at.Pad == "" {
		what = "level the " + c.words.bed
	}
	order := fmt.Sprintf("ORDER: before a %s goes down %s under its end towards %s and read the %s there, left wall; under both ends of the first one", c.words.unit, what, last, c.words.rod)
	if first, waits := c.firstLaid(); waits {
		order += ", " + shortMark(first)
	}
	out := c.stepWords()
	toward, away := 0, 0
	for _, s := range stands {
		if s.laser.Setting.Up == c.laidBack() {
			toward++
		} else {
			away++
		}
	}
	switch {
	case toward > 0 && away > 0:
		out = append(out, fmt.Sprintf("The %s at the laser lies where it stands: read under it first, take the laser away, then lay it. Where the laser looks on from there, give it its height again", c.words.unit))
	case toward > 0:
		out = append(out, fmt.Sprintf("The last %s of each setting lies where the laser stands: read under both its ends, take the laser away, then lay it", c.words.unit))
	case away > 0:
		out = append(out, fmt.Sprintf("The first %s of each setting lies where the laser stands: read under both its ends, take the laser away, lay it, then give the laser its height again", c.words.unit))
	}
	return slices.Concat([]string{order}, c.holdWords(), out)
}

// beamAbove says how high the beam runs above what the staff is read on: in a figure where all lines have one, else by theirs.
func (c *levelCard) beamAbove(stands []stand, what string) string {
	first := c.staffAt(stands[0])
	if slices.ContainsFunc(stands, func(s stand) bool { return c.staffAt(s) != first }) {
		return "above " + what + " by the " + c.words.rod + " of its line"
	}
	return first + " above " + what
}

// staffAt is what a staff reads on what it is read on, by the levels that are printed.
func (c *levelCard) staffAt(s stand) string {
	if s.beam == nil {
		return "________"
	}
	return c.rodFigure(measure.FromMetres(*s.beam - s.on))
}
