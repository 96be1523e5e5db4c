package drawing

import (
	"fmt"
	"math"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// DigSheets are what the driver of the machine needs, leg by leg, in large figures: how deep, where the edges are pegged,
// what lies in the way and what the rules of the place say. There are none where no dig was computed, and none on A4.
func DigSheets(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if p.Dig == nil || len(p.Dig.Legs) == 0 || style.Size == A4 {
		return nil
	}
	sheets := func(size float64, together bool) []scene.Page {
		var blocks []scene.Block
		for _, l := range p.Dig.Legs {
			blocks = append(blocks, scene.Space(3), legBlock{name: l.Leg, size: size, together: together, blocks: d.digLeg(l, size)})
		}
		return d.digPages(append(blocks, d.digCautions(size)...))
	}
	size := d.large()
	best := sheets(size, false)
	for _, part := range d.smaller() {
		if smaller := sheets(part*d.large(), false); len(smaller) < len(best) {
			size, best = part*d.large(), smaller
			break
		}
	}
	if whole := sheets(size, true); len(whole) <= len(best) { // legs in one piece are worth no sheet more
		return whole
	}
	return best
}

func (d *draft) digPages(blocks []scene.Block) []scene.Page {
	return d.flowed("digsheet", "Dig sheet", "← left and → right square from the "+d.words.centreline+", looking "+d.words.upChainage+"; depths ↓ from the higher edge: to the "+d.words.formation+d.deeperWords()+"; bottom half: to each side; slopes up to out; no.: of the "+d.words.unit+" that is to lie there", blocks)
}

// deeperWords are what else depths are given to on the sheets of this run.
func (d *draft) deeperWords() string {
	trench, rock := "", ""
	for _, l := range d.plan.Dig.Legs {
		for _, m := range l.Marks {
			if d.trenchFigure(m) != "" {
				trench = ", trench: the drain's"
			}
			if d.rockFigure(m) != "" {
				rock = ", to rock on the " + d.words.centreline
			}
		}
	}
	return trench + rock
}

// flowed sets blocks in two columns on as many sheets as they need, three on A1.
func (d *draft) flowed(kind, title, note string, blocks []scene.Block) []scene.Page {
	blank := sheet{draft: d, kind: kind, title: title, note: "-", general: d.concerns(general)}
	blank.frame(1)
	columns, gap := 2, float64(8*d.style.Size.small()/1.8)
	if d.style.Size == A1 {
		columns = 3
	}
	free := blank.free
	width := (free.Width() - float64(gap*float64(columns-1))) / float64(columns)
	frames := scene.Flow(func(i int) scene.Box {
		return scene.BoxAt(scene.Point{X: free.Left + float64((width+gap)*float64(i%columns)), Y: free.Top}, width, free.Height())
	}, blocks...)
	var out []scene.Page
	of := (len(frames) + columns - 1) / columns
	for i := range of {
		s := &sheet{draft: d, kind: kind, title: title, note: note, general: d.concerns(general)}
		if of > 1 {
			s.title = fmt.Sprintf("%s %d of %d", title, i+1, of)
		}
		s.frame(i + 1)
		for _, marks := range frames[i*columns : min(len(frames), (i+1)*columns)] {
			s.add(marks...)
		}
		out = append(out, s.page)
	}
	return out
}

// large is the height of the figures of a dig sheet: to be read at arm's length, in sun.
func (d *draft) large() float64 {
	if d.style.Format.System == measure.Imperial { // feet, inches and sixteenths take more room
		return 1.4 * d.style.Size.small()
	}
	return 1.5 * d.style.Size.small()
}

// smaller are the parts of the large lettering that a sheet less is worth: a tenth; on A1, which nobody holds in a cab, a quarter.
func (d *draft) smaller() []float64 {
	if d.style.Size == A1 {
		return []float64{0.9, 0.82, 0.75}
	}
	return []float64{0.9}
}

// digLeg is one leg: what it is dug like, its marks in a table, and what else the driver has to know.
func (d *draft) digLeg(l planner.LegDig, size float64) []scene.Block {
	head := "Leg " + l.Leg
	if s := d.sidesOf(l.Leg); s != "" {
		head += ", sides " + s
	}
	out := []scene.Block{scene.Paragraph{String: head, Size: 1.3 * size, Weight: scene.Bold, Space: 2}}
	say := func(weight scene.Weight, text string) {
		if !strings.HasPrefix(text, notChecked) {
			text = "Leg " + l.Leg + ": " + text // a column may begin here
		}
		out = append(out, scene.Paragraph{String: strings.Join(wrappedIn(text, 0.85*size, weight, d.digWidth()), "\n"), Size: 0.85 * size, Weight: weight, Space: 1.2})
	}
	if len(l.Marks) == 0 {
		for _, m := range d.digMissing(l.Leg) {
			say(scene.Bold, m)
		}
		say(scene.Regular, "no edge of the dig is given here: what sets its sides is not on file.")
		return out
	}
	out = append(out, d.markTable(l, size), scene.Space(2))
	for _, x := range d.plan.Excavation {
		if x.Leg == l.Leg {
			for _, text := range d.ruleWords(x) {
				if x.From != nil {
					text = fmt.Sprintf("from %s to %s: %s", d.chainage(*x.From), d.chainage(*x.To), text)
				}
				say(scene.Bold, text)
			}
		}
	}
	for _, text := range d.waterFound(l.Leg) {
		say(scene.Bold, text)
	}
	for _, text := range d.wayWords(l.Leg) {
		say(scene.Regular, text)
	}
	for _, text := range d.digMissing(l.Leg) {
		say(scene.Regular, text)
	}
	return out
}

// digWidth is the width of a column of a dig sheet, a little less, for lines that are parted beforehand.
func (d *draft) digWidth() float64 {
	width, _ := d.style.Size.paper()
	columns := 2.0
	if d.style.Size == A1 {
		columns = 3
	}
	return (width-2*edge-float64(12*(columns-1)))/columns - 2
}

// sidesOf is how the sides of a leg are dug; where they change, from which section on.
func (d *draft) sidesOf(leg string) string {
	said, now := "", ""
	for _, s := range d.plan.Dig.Sections {
		switch {
		case s.Leg != leg || s.Sides == now || s.Sides == "":
		case now == "":
			said, now = s.Sides, s.Sides
		default:
			said, now = said+"; from "+d.chainage(s.At)+" "+s.Sides, s.Sides
		}
	}
	return said
}

// digMissing is what the sections of a leg say is not on file, each once.
func (d *draft) digMissing(leg string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range d.plan.Dig.Sections {
		for _, m := range s.Missing {
			if s.Leg == leg && !seen[m] {
				seen[m] = true
				out = append(out, m)
			}
		}
	}
	return out
}

// markTable are the places where the edges of the dig are pegged.
func (d *draft) markTable(l planner.LegDig, size float64) scene.Table {
	rock, even, trench := false, true, false
	for _, m := range l.Marks {
		trench = trench || d.trenchFigure(m) != ""
		rock, even = rock || d.rockFigure(m) != "", even && d.figure(-m.BottomLeft) == d.figure(m.BottomRight)
	}
	t := scene.Table{Size: size}
	var cells []func(planner.DigMark) string
	column := func(shown bool, head string, weight scene.Weight, of func(planner.DigMark) string) { // the unit below the word: figures stay side by side, the last column keeps room
		if !shown {
			return
		}
		if !strings.Contains(head, "\n") {
			head = strings.Replace(head, " [", "\n[", 1)
		}
		t.Columns = append(t.Columns, scene.Column{Head: head, Align: scene.Right, Weight: weight})
		cells = append(cells, of)
	}
	stacked := func(above, below string) string {
		return above + "\n" + strings.Replace(d.lengthHead(below), " [", "\n[", 1)
	}
	column(true, d.chainageHead(d.words.chainage), scene.Bold, func(m planner.DigMark) string { return d.chainageFigure(m.At) })
	column(true, d.lengthHead("dig ↓"), scene.Bold, func(m planner.DigMark) string { return d.figure(m.ToFormation) })
	column(trench, d.lengthHead("trench ↓"), scene.Regular, d.trenchFigure)
	column(true, d.levelHead(d.words.formation), scene.Regular, func(m planner.DigMark) string { z := measure.Length(m.Formation).Metres(); return d.levelFigure(&z) })
	column(true, d.lengthHead("← edge"), scene.Bold, func(m planner.DigMark) string { return d.figure(-m.EdgeLeft) })
	column(true, d.lengthHead("edge →"), scene.Bold, func(m planner.DigMark) string { return d.figure(m.EdgeRight) })
	column(!even, d.lengthHead("← bottom"), scene.Regular, func(m planner.DigMark) string { return d.figure(-m.BottomLeft) })
	column(!even, d.lengthHead("bottom →"), scene.Regular, func(m planner.DigMark) string { return d.figure(m.BottomRight) })
	column(even, stacked("bottom", "half"), scene.Regular, func(m planner.DigMark) string { return d.figure(m.BottomRight) })
	column(true, stacked("bottom", "whole"), scene.Regular, func(m planner.DigMark) string { return d.figure(m.BottomRight - m.BottomLeft) })
	column(true, stacked("top", "whole"), scene.Regular, func(m planner.DigMark) string { return d.figure(m.EdgeRight - m.EdgeLeft) })
	column(rock, d.lengthHead("rock ↓"), scene.Regular, d.rockFigure)
	column(true, "leg "+l.Leg+"\nno.", scene.Regular, func(m planner.DigMark) string { return d.unitAt(l.Leg, m.At) })
	t.Columns = append(t.Columns, scene.Column{Head: "mark", Width: -1})
	for _, m := range l.Marks {
		var row []string
		for _, of := range cells {
			row = append(row, of(m))
		}
		t.Rows = append(t.Rows, scene.Row{Cells: append(row, parted(m.Why))})
	}
	return t
}

// parted is a long reason in two lines, what and which, so that no name is broken.
func parted(why string) string {
	const short = 20 // letters that stand on one line
	if len(why) <= short {
		return why
	}
	return strings.Replace(why, ": ", ":\n", 1)
}

// unitAt is the unit that comes to lie at a chainage of a leg, by its number in the leg; none in front of the first.
func (d *draft) unitAt(leg string, at measure.MM) string {
	found := ""
	for _, u := range d.of[d.legs[leg]] {
		if one := d.plan.Units[u]; one.Chainage <= at+measure.MM(20*measure.Millimetre) { // a mark at a joint counts to the unit that starts there
			found = strings.TrimPrefix(one.Mark, leg+"-")
		}
	}
	return found
}

// trenchFigure is how deep the trench of the drain reaches below the higher edge; nothing where the dig ends at the formation.
func (d *draft) trenchFigure(m planner.DigMark) string {
	if d.plan.Drain == nil || mm(m.Depth) < mm(m.ToFormation)+1 {
		return ""
	}
	return d.figure(m.Depth)
}

// rockFigure is how deep below the higher edge rock is recorded on the centreline, where the dig or the drain's trench reaches it.
func (d *draft) rockFigure(m planner.DigMark) string {
	if m.Rock == nil {
		return ""
	}
	edge := m.Formation + m.ToFormation
	bottom := m.Formation
	if d.trenchFigure(m) != "" {
		bottom = edge - m.Depth
	}
	if *m.Rock <= bottom {
		return ""
	}
	return d.figure(max(0, edge-*m.Rock))
}

// ruleWords are the verdicts of the rules of the place, in words.
func (d *draft) ruleWords(x planner.Excavation) []string {
	var out []string
	if x.Stopped {
		out = append(out, "STOP: nothing goes on here before the person named below has answered.")
	}
	for _, r := range x.Results {
		out = append(out, resultSaid(r))
	}
	if len(x.Ladders) > 0 {
		var at []string
		for _, m := range x.Ladders {
			at = append(at, d.chainage(length(m*1000)))
		}
		out = append(out, "ways out (ladders) at "+strings.Join(at, ", "))
	}
	return out
}

// resultSaid is one verdict of the rules of the place in words.
func resultSaid(r planner.ExcavationResult) string {
	text := r.What + ": " + r.Verdict
	if r.Value != "" && r.Limit != "" {
		text += " (" + r.Value + " against " + r.Limit + ")"
	} else if r.Limit != "" {
		text += " (" + r.Limit + ")"
	}
	if r.Stop {
		text = "STOP. " + text
	}
	return text
}

// wayWords are what stands beside the dig and what lies in its way.
func (d *draft) wayWords(leg string) []string {
	var out []string
	for _, n := range d.plan.Dig.Strip {
		if n.Leg != leg || len(n.Uses) == 0 {
			continue
		}
		var parts []string
		for _, u := range n.Uses {
			parts = append(parts, fmt.Sprintf("%s from %s to %s", u.What, d.along(u.From), d.along(u.From+u.Width)))
		}
		out = append(out, n.Side+": "+strings.Join(parts, ", ")+" from the "+d.words.centreline+", where it takes most room")
	}
	for _, s := range d.asked[leg].Services {
		zone := notChecked + ": no tolerance zone on file. Ask: its owner"
		reach := s.Width.Millimetres() / 2
		if t := d.job.Dig.Tolerance; t.Known {
			zone = "zone " + d.length(measure.MM(t.Value)) + " each way"
			reach += t.Value.Millimetres()
		}
		reach /= math.Sin(square(s.Skew) * math.Pi / 180)
		deep := "depth unknown, " + notChecked
		if s.Depth != nil {
			deep = d.length(measure.MM(*s.Depth)) + " deep by record"
		} else if s.Level != nil {
			metres, _, _ := d.coordinateUnit()
			z := *s.Level * metres
			deep = "top at level " + d.levelFigure(&z) + " by record"
		}
		out = append(out, fmt.Sprintf("%s %s at %s, %s, %s: from %s to %s along the run", d.words.service, s.Name, d.chainage(measure.MM(s.At)), deep, zone,
			d.chainage(measure.MM(s.At)-length(reach)), d.chainage(measure.MM(s.At)+length(reach))))
	}
	return out
}

// digCautions are what the rules say beside their figures.
func (d *draft) digCautions(size float64) []scene.Block {
	var said []string
	for _, f := range d.plan.Findings {
		if f.ID == "excavation.caution" {
			said = append(said, f.Text)
		}
	}
	if len(d.plan.Excavation) > 0 {
		said = append(said, "depths are rounded up before they are held against a rule: no dig counts shallower than it is")
	}
	if said == nil {
		return nil
	}
	out := []scene.Block{scene.Space(3), scene.Paragraph{String: "For all legs", Size: 1.3 * size, Weight: scene.Bold, Space: 2, WithNext: true}}
	for _, text := range said {
		out = append(out, scene.Paragraph{String: strings.Join(wrapped(text, 0.85*size, d.digWidth()), "\n"), Size: 0.85 * size, Space: 1.2})
	}
	return out
}
