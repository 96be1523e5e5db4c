package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/job/planner"
	"trenchwright/view/scene"
	"trenchwright/view/schedule"
)

// drainCards say how the drain of the leg is laid before its bed: where the laser stands for each of its grades and how it gets
// its height, what is dialled, and what is read on what the pipe lies on. The beam runs as high as for the bed from there.
func (c *levelCard) drainCards() []scene.Page {
	if !c.drained() {
		return nil
	}
	var stands []stand
	var grades, more []string
	for _, l := range c.drains {
		if l.Grade.Leg != c.leg.Name {
			continue
		}
		grades = append(grades, c.drainGrade(l))
		switch {
		case l.Impossible != "":
			more = append(more, fmt.Sprintf("%s: no laser can be set for the drain from %s to %s: %s. Ask: the engineer", notChecked, c.drainPlace(l, false), c.drainPlace(l, true), l.Impossible))
		default:
			stands = append(stands, c.drainStand(l))
			if text := c.furthest(l.Laser); text != "" {
				more = append(more, text)
			}
		}
	}
	if grades == nil {
		return nil
	}
	var all []layingPart
	left := slices.Concat([]string{"GRADE " + strings.Join(grades, "; ")}, c.drainOrder(stands), more)
	for _, part := range evenly(0, len(stands), mostStands) {
		p := layingPart{stands: stands[part[0]:part[1]], lasers: true, staff: true}
		p.said, left = c.layingRoom(p, left, c.heightNotes(p.stands))
		all = append(all, p)
	}
	all = c.overflowing(all, left)
	var out []scene.Page
	for i, p := range all {
		out = append(out, c.drawDrain(i, len(all), p))
	}
	return out
}

// drainStand is where the laser stands for one grade of the drain. Its beam is the one that is printed for the bed there, and the
// reading what these two levels make.
func (c *levelCard) drainStand(l schedule.DrainLaser) stand {
	s := c.standOf(l.Laser)
	low, high := c.drainPlace(l, false), c.drainPlace(l, true)
	if s.place, s.toward = low, high; !l.Setting.Up {
		s.place, s.toward = high, low
	}
	if l.Beam != nil && l.Bed != nil {
		s.beam = new(c.asPrinted(c.asPrinted(*l.Bed) + c.asPrinted(c.job.Levels.Beam.Value.Metres())))
		s.benchmark, s.lower = c.benchmarkOf(s)
		if s.benchmark != nil {
			s.bench = c.asPrinted(*s.benchmark.Level)
		}
	}
	return s
}

// drainPlace is where a grade of the drain begins or ends, as the rows of the cards name it; of an outlet inside a unit, the outlet.
func (c *levelCard) drainPlace(l schedule.DrainLaser, end bool) string {
	at, name := l.From, l.Grade.From
	if end {
		at, name = l.To, l.Grade.To
	}
	if at.Place != name {
		return name
	}
	return c.laserPlace(at, end)
}

// drainGrade is one grade of the drain with the places that it runs between, looking up-chainage.
func (c *levelCard) drainGrade(l schedule.DrainLaser) string {
	from, to := l.Grade.FromMM, l.Grade.ToMM
	if l.From.Place == l.Grade.From {
		from = l.From.Chainage
	}
	if l.To.Place == l.Grade.To {
		to = l.To.Chainage
	}
	s := slopeOf(planner.GradeRun{Grade: l.Grade.Grade})
	return fmt.Sprintf("%s from %s at %s to %s at %s", joined(" ", s.word, s.size), c.drainPlace(l, false), c.chainage(from), c.drainPlace(l, true), c.chainage(to))
}

// drainOrder says where the staff is read, and how the laser stands to the one for the bed.
func (c *levelCard) drainOrder(stands []stand) []string {
	if len(stands) == 0 {
		return nil
	}
	s := stands[0]
	read := fmt.Sprintf("%s: that of the line on what the pipe lies on, in its middle, all along its grade", strings.ToUpper(c.words.rod))
	if more := s.laser.Formation; more != nil && *more > 0 {
		read += fmt.Sprintf("; on the bottom of the drain's trench %s more", c.rodFigure(*more))
	}
	out := []string{read}
	if s.beam != nil {
		out = append(out, fmt.Sprintf("BEAM: as high as for the %s from there, %s above the %s; only the dial is another one", c.words.bed, c.rodFigure(c.job.Levels.Beam.Value), c.standsOnWords()))
	}
	return out
}

// standsOnWords is what the units of the leg stand on: pad top, or bed top.
func (c *levelCard) standsOnWords() string {
	if c.rows[0].Pad != "" {
		return c.words.padTop
	}
	return c.words.bedTop
}

func (c *levelCard) drawDrain(i, of int, p layingPart) scene.Page {
	title := fmt.Sprintf("Set-out card %s, drain", c.leg.Name)
	where := fmt.Sprintf("from %s to %s; before the %s", c.leg.From, c.leg.To, c.words.bed)
	if of > 1 {
		title += fmt.Sprintf(" %d of %d", i+1, of)
		where += fmt.Sprintf("; %d of %d cards of the drain", i+1, of)
	}
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: title, Name: fmt.Sprintf("levels-%s-drain-%d", nameOf(c.leg.Name), i+1), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	y := c.headOf("lay the drain", where, c.firstCode())
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	c.sentences(c.layingBlock(y, p), digFoot(), p.said)
	return c.page
}
