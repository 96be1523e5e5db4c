package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// inWords are the facts of a card in two columns, each under a name. It returns where they begin.
func (c *cardSheet) inWords(bottom float64) float64 {
	const columns, gap = 2, 4.0
	width := (cardWidth - 2*cardEdge - gap*(columns-1)) / columns
	said := c.said()
	name := 0.0
	for _, f := range said {
		name = math.Max(name, scene.TextWidth(f.name+"  ", c.size, scene.Bold))
	}
	var rows []bandRow
	for _, f := range said {
		rows = append(rows, bandRow{f.name, wrapped(f.text, c.size, width-name)})
	}
	const all = 1000 // lines: nothing is left out
	cells, depth := flow(rows, columns, all)
	step := scene.LineStep(c.size)
	top := bottom - 0.8 - float64(step*float64(depth))
	for _, cell := range cells {
		at := scene.Point{X: cardEdge + float64((width+gap)*float64(cell.column)), Y: top + float64(step*float64(cell.line))}
		c.add(scene.Text{At: at, String: cell.word, Size: c.size, Weight: scene.Bold, VAlign: scene.Top},
			scene.Text{At: at.Add(scene.Point{X: name}), String: strings.Join(cell.lines, "\n"), Size: c.size, VAlign: scene.Top})
	}
	return top
}

// said are the facts of a card: what to ask before anything else, then the saw, then lifting, then cautions.
func (c *cardSheet) said() []fact {
	var out []fact
	add := func(name, text string) {
		if text != "" {
			out = append(out, fact{name, text})
		}
	}
	add("LOOK AT", strings.Join(c.p.cutThings, "; "))
	if c.p.held != nil {
		add("MEASURE", capital(c.p.held.measureWords()))
		add("TAKE OFF", c.takeOffWords(*c.p.held))
		add("planned", joined(", ", c.length(length(c.p.length))+" on the axis", brief(c.p.mass), "from a whole "+c.words.unit))
		add("tolerance", c.tolerance())
	}
	add("saw", c.sawWords())
	if c.p.held == nil {
		add("from", c.p.placeOnStock)
	}
	add("offcut", c.offcutWords())
	if !c.p.known {
		add("diagonals", notChecked+": no width on file. Ask: the supplier. The picture shows some width")
	}
	if c.p.massKG == nil {
		add("mass", c.p.mass)
	}
	if text := c.tolerance(); c.p.held == nil && text != brief(text) {
		add("tolerance", text)
	}
	add("lift", c.p.lift)
	add("inserts", c.insertWords())
	add("balance", c.balanceWords())
	add("CUT WET", c.dustWords())
	add("rating", c.ratingWords())
	add("findings", c.findingWords())
	return out
}

// dustWords are the cautions for the saw. They name a rule where the words are those of the country that has it.
func (c *cardSheet) dustWords() string {
	rule := "the local rule"
	if c.style.Words == job.US {
		rule += ", for example OSHA 1926.1153 Table 1"
	}
	return "Silica dust: follow " + rule + ". Where the saw meets an insert or a bar: stop, ask the engineer."
}

func (c *cardSheet) ratingWords() string {
	if c.p.keepsRating {
		return "The supplier says that cut pieces keep their rating: " + suffixed(c.p.rating, ".")
	}
	return "None inherited. " + notChecked + ": no rating of cut pieces on file. Ask: the supplier"
}

// balanceWords say where the centre of gravity is and what was left out of it.
func (c *cardSheet) balanceWords() string {
	if c.p.centre == nil {
		return ""
	}
	side := "on the axis"
	if y := c.p.centre.Y; y > 0.5 {
		side = c.rounded(y) + " left of the axis"
	} else if y < -0.5 {
		side = c.rounded(-y) + " right of the axis"
	}
	text := fmt.Sprintf("%s of gravity %s from the start, %s", c.words.centre, c.rounded(c.p.centre.X), side)
	switch note := c.p.centreNote; {
	case note == "":
		return text
	case strings.HasPrefix(note, notChecked):
		return text + ". " + note
	default:
		return text + " (" + note + ")"
	}
}

// findingWords name the findings of the piece; those that forbid something are told in full.
func (c *cardSheet) findingWords() string {
	text := ""
	for _, f := range c.concerns(func(f finding.Finding) bool { return f.Where.Place == c.p.mark }) {
		switch f.Kind {
		case finding.NotChecked, finding.Assumed:
			text = joined("; ", text, f.name+" "+kindWord(f.Kind))
		default:
			text = joined("; ", text, f.sentence())
		}
	}
	return text
}

// sawWords are the cuts at both ends: how far from square, and which side comes out long there.
func (c *cardSheet) sawWords() string {
	end := func(name string, a float64, sawn bool) string {
		switch {
		case a != 0:
			return fmt.Sprintf("%s %s from square, %s side long", name, angle(a), longSide(a, name == "start"))
		case sawn:
			return name + " square"
		}
		return ""
	}
	return joined("; ", end("start", c.p.start, c.p.sawStart), end("end", c.p.end, c.p.sawEnd))
}

func (c *cardSheet) tolerance() string {
	if t := c.job.Rules.SawTolerance; t.Known {
		text := c.style.Format.Length(t.Value)
		if t.Assumed {
			text += ", assumed"
		}
		return text
	}
	if t := c.p.supply.head.SawTol; t != "" {
		return t
	}
	return notChecked + ": no saw tolerance on file. Ask: the engineer"
}

// insertWords say where the inserts are that are left whole, pair by pair; whether to lift by them stands beside lift.
func (c *cardSheet) insertWords() string {
	if c.p.of != "units" || c.p.hold { // on hold: the cut will say
		return ""
	}
	if pattern, ok := c.pattern(c.p); ok && pattern.Offcut {
		return notChecked + ": no inserts of this offcut on file. Ask: who stacked it"
	}
	cast := slices.ContainsFunc(c.p.supply.job.Unit.CastIn, func(t job.CastIn) bool { return t.Kind == "insert" })
	if lifting := c.p.supply.job.Lifting.By; !cast && len(c.p.insertsLeft) == 0 && lifting.Known && lifting.Value != "inserts" {
		return "" // the supply has none and needs none
	}
	text := "none remains"
	if all := slices.Clone(c.p.insertsLeft); len(all) > 0 {
		sorting.By(all, func(a, b planner.InsertLeft) int {
			return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Side, b.Side))
		})
		var places []string
		for i := 0; i < len(all); {
			sides, x := []string{}, all[i].X
			for ; i < len(all) && all[i].X == x; i++ {
				sides = append(sides, all[i].Side)
			}
			places = append(places, strings.Join(sides, " and ")+" "+c.length(x))
		}
		use := "see lift"
		if strings.HasPrefix(c.p.lift, "no pair") || strings.HasPrefix(c.p.lift, "one pair") {
			use = "not to lift by"
		}
		remain := "remain"
		if len(all) == 1 {
			remain = "remains"
		}
		text = fmt.Sprintf("%d %s, %s: on the %s from the start", len(all), remain, use, strings.Join(places, "; on the "))
	}
	if len(c.p.spent) > 0 {
		text += "; those crossed out: not to use"
	}
	return text
}
