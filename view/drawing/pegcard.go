package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// pegCard is some pegs of a leg: where each stands, the ground there, and how far down from it the formation, the drain and
// the wall top lie. Five figures a peg at arm's length; with a drain the ground stands small, for whoever checks the peg.
type pegCard struct {
	levelCard
	pegs []planner.Peg
}

// pegCards are the cards of a leg's pegs.
func (c *levelCard) pegCards() []scene.Page {
	parts := c.pegParts(c.pegsOf(c.leg.Name))
	var out []scene.Page
	for i := range parts {
		out = append(out, parts[i].drawPegs(i+1, len(parts)))
	}
	return out
}

// pegParts are pegs on the fewest cards on which they can be read beside their notes: shared out evenly where that takes no card
// more, else each card as full as it may be.
func (c *levelCard) pegParts(pegs []planner.Peg) []pegCard {
	var full []pegCard
	for from := 0; from < len(pegs); {
		n := min(mostOnCard, len(pegs)-from)
		p := pegCard{levelCard: *c, pegs: pegs[from : from+n]}
		for ; n > 1 && !p.room(); n-- {
			p.pegs = pegs[from : from+n-1]
		}
		full, from = append(full, p), from+len(p.pegs)
	}
	if len(full) == 0 {
		return nil
	}
	var even []pegCard
	for _, part := range evenly(0, len(pegs), (len(pegs)+len(full)-1)/len(full)) {
		p := pegCard{levelCard: *c, pegs: pegs[part[0]:part[1]]}
		if !p.room() {
			return full
		}
		even = append(even, p)
	}
	return even
}

// room reports whether the notes below the pegs leave figures that are read at arm's length.
func (c *pegCard) room() bool {
	const row, above, heads = 11.3, cardEdge + 10.3, 7.6 // mm: a row, the head of the card, those of the columns
	lines, _ := c.pegSaid()
	notes := float64(scene.LineStep(noteSize)*float64(len(lines)-1)) + noteSize + 2.2
	return pegFoot()-notes-above-heads >= float64(row*float64(len(c.pegs)))
}

func pegFoot() float64 { return cardHeight - cardEdge - scene.LineStep(cardSize) - cardSize - 1 }

// noteSize is how large the notes below the pegs are, mm.
const noteSize = 2.1

func (c *pegCard) drawPegs(n, of int) scene.Page {
	name := fmt.Sprintf("%s, pegs %d of %d", c.leg.Name, n, of)
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: "Set-out card " + name, Name: fmt.Sprintf("levels-%s-pegs-%d", nameOf(c.leg.Name), n), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	what := "pegs, " + c.pegSide(c.pegs[0]) + " of the " + c.words.centreline
	if c.mixed() {
		what = "pegs, left ← and right → of the " + c.words.centreline
	}
	where := c.pegPlace(c.pegs[0])
	if last := c.pegPlace(c.pegs[len(c.pegs)-1]); last != where {
		where += " to " + last
	}
	top := c.headOf(what, fmt.Sprintf("%s, looking %s; measured level, square to the %s", where, c.words.upChainage, c.words.centreline), c.placeCode(c.leg.Name, c.pegs[0].Place, c.pegs[0].Chainage))
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	bottom := c.pegNotes(pegFoot())
	c.grid(scene.Box{Left: cardEdge, Top: top, Right: cardWidth - cardEdge, Bottom: bottom}, c.pegColumns(), func(top, bottom float64) ([]float64, float64) {
		return c.ruled(len(c.pegs), top, bottom)
	})
	return c.page
}

// mixed reports whether the pegs of the card do not all stand on one side at one distance.
func (c *pegCard) mixed() bool {
	return slices.ContainsFunc(c.pegs, func(p planner.Peg) bool { return p.Side != c.pegs[0].Side || p.Offset != c.pegs[0].Offset })
}

// pegStep says the other cut where the formation steps at a joint: the one in the row is for the unit that starts there.
func (c *pegCard) pegStep(p planner.Peg) string {
	if p.Place == "" || p.Ground == nil || p.Formation == nil {
		return ""
	}
	for _, rows := range c.places() {
		for k, r := range rows {
			if r.Leg != p.Leg || r.Place != p.Place {
				continue
			}
			s, ok := stepAt(rows, k)
			if !ok || s.formation == nil || math.Abs(*s.formation-*p.Formation) < 0.0005 {
				return ""
			}
			to, arrow := measure.FromMetres(*p.Ground)-measure.FromMetres(*s.formation), "↓"
			if to < 0 {
				arrow = "↑"
			}
			return fmt.Sprintf("STEP at %s: the row is for %s; for %s %s %s to %s", shortPlace(r), placeAside(r, false), placeAside(r, true), arrow, c.depthFigure(measure.MM(to.Abs())), c.words.formation)
		}
	}
	return ""
}

// pegNotes sets what the figures are, what is buried here and which pegs do not last. It returns where it begins.
func (c *pegCard) pegNotes(bottom float64) float64 {
	lines, first := c.pegSaid()
	top := bottom - 1.2 - float64(scene.LineStep(noteSize)*float64(len(lines)-1))
	for i, line := range lines {
		weight := scene.Bold
		if i < first {
			weight = scene.Regular
		}
		c.text(cardEdge, top+float64(scene.LineStep(noteSize)*float64(i)), noteSize, weight, line)
	}
	return top - noteSize - 1
}

// pegSaid are the lines of the notes; the first so many are not bold.
func (c *pegCard) pegSaid() (lines []string, first int) {
	what := "cut ↓ and fill ↑ from the ground at the peg, not from its top; at: " + c.words.chainage + "; dig edge ← left → right: from the " + c.words.centreline + ", and the level of the ground there"
	if c.drained() {
		what += "; drain: the underside of its pipe, below it the level of its trench's bottom"
	}
	said, bare := c.servicesHere(), false
	for _, p := range c.pegs {
		if len(p.Lost) > 0 {
			said = append(said, joined("", "DOES NOT LAST: "+c.pegPlace(p)+", "+strings.Join(p.Lost, ", ")+"; before the dig reaches it "+c.insteadOf(p), c.anotherPeg(p)))
		}
		if text := c.pegStep(p); text != "" {
			said = append(said, text)
		}
		bare = bare || p.Ground == nil
	}
	said = append(said, c.pegsFound()...)
	if bare {
		said = append(said, "–: "+notChecked+": no ground here on file. Ask: the surveyor")
	}
	lines = wrappedIn(what, noteSize, scene.Regular, cardWidth-2*cardEdge)
	first = len(lines)
	for _, text := range said {
		lines = append(lines, wrappedIn(text, noteSize, scene.Bold, cardWidth-2*cardEdge)...)
	}
	return lines, first
}

// pegsFound says what the plan found of all pegs of the leg: that they stand nearer to the dig than where room is kept for them, or
// that there are fewer of them than places.
func (c *pegCard) pegsFound() []string {
	var out []string
	for _, f := range c.concerns(func(f finding.Finding) bool {
		return f.ID == "planner.peg-near" && f.Kind == finding.Attention && f.Where.Leg == c.leg.Name
	}) {
		out = append(out, fmt.Sprintf("NEARER TO THE DIG than where room is kept for pegs, %s: see %s", f.Value, f.name))
	}
	if slices.ContainsFunc(c.plan.Findings, func(f finding.Finding) bool { return f.ID == "planner.pegs-few" && f.Where.Leg == c.leg.Name }) {
		out = append(out, "NOT AT EVERY JOINT: the job asks for no more pegs beside this leg")
	}
	return out
}

// servicesHere are the buried services between the pegs of the card, and from the pegs of the card before to its first.
func (c *pegCard) servicesHere() []string {
	all := c.pegsOf(c.leg.Name)
	from, to := all[0].Chainage, c.pegs[len(c.pegs)-1].Chainage
	last := to == all[len(all)-1].Chainage
	for _, p := range all {
		if p.Chainage < c.pegs[0].Chainage {
			from = p.Chainage
		}
	}
	var out []string
	for _, s := range c.asked[c.leg.Name].Services {
		at := measure.MM(s.At)
		if (at > from || from == all[0].Chainage) && (at <= to || last) {
			out = append(out, "BEFORE ANY MACHINE: "+c.serviceSaid(c.leg.Name, s, true))
		}
	}
	return out
}

// insteadOf says where another peg lasts for one that does not.
func (c *pegCard) insteadOf(p planner.Peg) string {
	if p.Instead == nil {
		return "set another; " + notChecked + ": no place for it found on either side. Ask: the surveyor"
	}
	out := p
	out.Offset, out.Side, out.Arrow = p.Instead.Offset, p.Instead.Side, p.Instead.Arrow
	return fmt.Sprintf("set another %s at %s, %s", c.pegSide(out), c.eastNorth(p.Instead.E), c.eastNorth(p.Instead.N))
}

// anotherPeg says what is dug down from a peg that stands for one which does not last: from its own ground.
func (c *pegCard) anotherPeg(p planner.Peg) string {
	var said []string
	add := func(what string, level *float64) {
		if level != nil {
			said = append(said, c.levelFigure(level)+" ("+what+")")
		}
	}
	add(c.words.formation, p.Formation)
	add("drain", c.drainAt(p))
	add("wall top", p.Wall)
	return prefixed("; cut = ground at that one − ", strings.Join(said, ", − "))
}

func (c *pegCard) pegColumns() []cardColumn {
	_, unit, _ := c.coordinateUnit()
	cells := func(of func(p planner.Peg) string) []string {
		var out []string
		for _, p := range c.pegs {
			out = append(out, of(p))
		}
		return out
	}
	depth := "[m]"
	if c.lengthUnit() != "mm" {
		depth = ""
	}
	figure := func(name string, of func(p planner.Peg) *planner.PegFigure) cardColumn {
		return cardColumn{head: [2]string{"to " + name, depth}, bold: true, cells: cells(func(p planner.Peg) string { return c.pegFigure(of(p)) })}
	}
	ground := cells(func(p planner.Peg) string { return c.orNone(p.Ground) })
	beside := !c.mixed() && !c.drained() // five figures are as many as are read at arm's length: else the ground stands small
	out := []cardColumn{{head: [2]string{"place", ""}, cells: cells(c.pegPlace), bold: true}}
	if !beside {
		out[0].below = slices.Clone(ground)
		for k := range ground {
			out[0].below[k] = "ground " + ground[k]
		}
	}
	if c.mixed() {
		out = append(out, cardColumn{head: [2]string{"offset", ""}, cells: cells(func(p planner.Peg) string { return p.Arrow + " " + c.depthFigure(p.Offset) }), bold: true})
	}
	at := cells(c.pegChainage)
	out[0].under = cells(c.pegEdges)
	out = append(out, cardColumn{head: [2]string{"easting", "[" + unit + "]"}, cells: cells(func(p planner.Peg) string { return c.eastNorth(p.E) }), below: at},
		cardColumn{head: [2]string{"northing", "[" + unit + "]"}, cells: cells(func(p planner.Peg) string { return c.eastNorth(p.N) })})
	if beside {
		out = append(out, cardColumn{head: [2]string{"ground", "[" + unit + "]"}, cells: ground})
	}
	out = append(out, figure(c.words.formation, func(p planner.Peg) *planner.PegFigure { return p.ToFormation }))
	if c.drained() {
		drain := figure("drain", c.pegToDrain)
		drain.below = cells(c.pegTrench)
		out = append(out, drain)
	}
	return append(out, figure("wall top", func(p planner.Peg) *planner.PegFigure { return p.ToWall }))
}

// pegChainage is where along its leg a peg stands; a peg without a joint has it as its name.
func (c *pegCard) pegChainage(p planner.Peg) string {
	if p.Place == "" {
		return ""
	}
	return "at " + c.chainageFigure(p.Chainage)
}

// pegEdges are how far from the centreline the dig is cut on either side, and how high the ground lies there.
func (c *pegCard) pegEdges(p planner.Peg) string {
	if p.Edges == nil {
		return ""
	}
	side := func(arrow string, e planner.PegEdge) string {
		return arrow + " " + c.depthFigure(e.Offset) + " at " + c.levelFigure(&e.Level)
	}
	return "dig edge " + side("←", p.Edges.Left) + ", " + side("→", p.Edges.Right)
}

// pegTrench is the level of the bottom of the drain's trench at a peg, where it lies below the formation.
func (c *pegCard) pegTrench(p planner.Peg) string {
	drain := c.drainAt(p)
	if drain == nil || p.Formation == nil || c.job.Levels.Drain == nil {
		return ""
	}
	bottom := *drain - c.job.Levels.Drain.Bedding.Metres()
	if bottom > *p.Formation-0.0005 {
		return ""
	}
	return "trench " + c.levelFigure(&bottom)
}

// drainAt is the level of the underside of the drain at a peg, m; nil: not on file.
func (d *draft) drainAt(p planner.Peg) *float64 {
	k := slices.IndexFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Leg == p.Leg && r.Place == p.Place })
	if k < 0 || p.Place == "" || d.plan.SetOut[k].Levels == nil {
		return nil
	}
	return d.plan.SetOut[k].Levels.Drain
}

// pegToDrain is how far the underside of the drain lies under the ground at a peg; nil where either is not on file.
func (d *draft) pegToDrain(p planner.Peg) *planner.PegFigure {
	drain := d.drainAt(p)
	if p.Ground == nil || drain == nil {
		return nil
	}
	deep := measure.FromMetres(*p.Ground) - measure.FromMetres(*drain)
	if deep < 0 {
		return &planner.PegFigure{Way: "fill", Arrow: "↑", Amount: measure.MM(-deep)}
	}
	return &planner.PegFigure{Way: "cut", Arrow: "↓", Amount: measure.MM(deep)}
}

// pegFigure is a cut or a fill: ↓ 0.812.
func (d *draft) pegFigure(f *planner.PegFigure) string {
	if f == nil {
		return "–"
	}
	return f.Arrow + " " + d.depthFigure(f.Amount)
}
