package main

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

type betweenCommand struct {
	From string `arg:"" help:"A unit, a joint, a node, or a leg and a chainage: A-004, A-004/A-005, N1, \"A 12.5 m\"."`
	To   string `arg:"" help:"Likewise; units that are named are within, whole."`
	Job  string `arg:"" help:"The job, as YAML or JSON."`
	Leg  string `help:"The leg of chainages that name none." placeholder:"LEG"`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// Run says what lies between two places.
func (c *betweenCommand) Run(p program) error {
	t, err := p.ask("between", c.Job)
	if err != nil {
		return err
	}
	from, err := t.found("between", "FROM", c.From, c.legFor(t, c.From))
	if err != nil {
		return err
	}
	to, err := t.found("between", "TO", c.To, c.legFor(t, c.To))
	if err != nil {
		return err
	}
	b, err := t.Between(from, to)
	if err != nil {
		return outcome{exitUsage, "trenchwright between: " + err.Error()}
	}
	if c.JSON {
		return p.json(b)
	}
	fmt.Fprintf(p.out, "%s to %s: %s of run\n", t.spot(b.From), t.spot(b.To), t.size(b.Length))
	l := p.lines()
	l.laid(t, b)
	l.moved(t, b)
	l.met(t, b)
	l.w.Flush()
	for _, text := range b.Missing {
		fmt.Fprintln(p.out, text)
	}
	for _, f := range b.Findings {
		if f.Kind == finding.Attention || f.Kind == finding.Impossible || f.Kind == finding.NotChecked {
			fmt.Fprintln(p.out, f.Say(t.job.Speech()))
		}
	}
	return nil
}

// legFor is --leg for a place that names no leg itself.
func (c *betweenCommand) legFor(t trench, text string) string {
	if _, err := t.Find(text, ""); err == nil {
		return ""
	}
	return c.Leg
}

// laid says what is laid, most needed first.
func (l lines) laid(t trench, b planner.BetweenAnswer) {
	units := fmt.Sprintf("%d", b.Units)
	if b.Units > 0 {
		units += fmt.Sprintf(", %s to %s; cut %d", b.First, b.Last, b.Cuts)
	}
	l.row(t.word(wording.Units), units)
	for _, k := range b.Kinds {
		of := fmt.Sprintf("%d of %s, supply %s", k.Count, exactly(measure.Length(k.Stock), system(t.job)), k.Supply)
		if k.Cuts > 0 {
			of += fmt.Sprintf("; %d cut from it", k.Cuts)
		}
		l.row("", of)
	}
	l.row("covers", fmt.Sprintf("%d; cut %d", b.Covers, b.CutCovers))
	l.row("cut pieces", strings.Join(b.Marks, ", "))
	ends := ""
	if len(b.AtEnds) > 0 {
		ends = "not counted, for they end it: " + strings.Join(b.AtEnds, ", ")
	}
	l.row("joints", strung("; ", fmt.Sprintf("%d inside", b.Joints), ends))
	if b.Pads+b.PadsAtEnds > 0 {
		ends := ""
		if b.PadsAtEnds > 0 {
			ends = fmt.Sprintf("%d more under the joints that end it", b.PadsAtEnds)
		}
		l.row(t.word(wording.Pads), strung("; ", fmt.Sprintf("%d inside", b.Pads), ends))
	}
	if b.Mass != nil {
		l.row("mass", heavily(*b.Mass, system(t.job))+" of "+t.word(wording.Units)+" and covers")
	}
	for _, c := range b.Castings {
		mass, kit, end := "no mass on file", "", ""
		if c.Mass != nil {
			mass = heavily(*c.Mass, system(t.job))
		}
		if c.Kit != nil {
			kit = "its covers " + heavily(*c.Kit, system(t.job))
		}
		if c.AtEnd {
			end = "it ends the stretch, and belongs to what lies beyond too"
		}
		l.row("casting", strung("; ", c.Fitting+" at "+c.Node+", "+mass, kit, end))
	}
	var way []string
	for _, w := range b.Way {
		way = append(way, fmt.Sprintf("%s %s to %s", w.Leg, t.Chainage(measure.Length(w.From)), t.Chainage(measure.Length(w.To))))
	}
	l.row("way", strings.Join(way, ", "))
	var nodes []string
	for _, n := range b.Nodes {
		what := n.Kind
		if n.Made != "" && n.Made != n.Kind {
			what += ", " + n.Made
		}
		nodes = append(nodes, n.ID+" ("+strung(" ", what, n.Fitting)+")")
	}
	l.row("passes", strings.Join(nodes, ", "))
}

// bulk is a volume: cubic metres, or cubic yards.
func (t trench) bulk(m3 float64) string {
	if system(t.job) == measure.Imperial {
		return fmt.Sprintf("%.1f yd³", m3/cubicYard)
	}
	return fmt.Sprintf("%.2f m³", m3)
}

// area is square metres, or square yards.
func (t trench) area(m2 float64) string {
	if system(t.job) == measure.Imperial {
		return fmt.Sprintf("%.1f yd²", m2/squareYard)
	}
	return fmt.Sprintf("%.1f m²", m2)
}

// A yard is 0.9144 m exactly (NIST SP 811).
const (
	squareYard = 0.9144 * 0.9144
	cubicYard  = squareYard * 0.9144
)

// moved says what is dug, what goes in and what leaves.
func (l lines) moved(t trench, b planner.BetweenAnswer) {
	v := b.Dig
	if v == nil {
		return
	}
	l.row("dug", fmt.Sprintf("%s: topsoil %s, soil %s, rock %s", t.bulk(v.Dug), t.bulk(v.Topsoil), t.bulk(v.Soil), t.bulk(v.Rock)))
	l.row("stone", t.bulk(v.Stone)+" in place")
	l.row("fill", fmt.Sprintf("%s in place; topsoil on it %s", t.bulk(v.Fill), t.bulk(v.TopsoilBack)))
	for k, layer := range v.Layers {
		l.row("", fmt.Sprintf("%s %d: left %s, right %s", t.word(wording.Layer), k+1, t.bulk(layer[0]), t.bulk(layer[1])))
	}
	if f := b.Fabric; f != nil {
		l.row("fabric", fmt.Sprintf("%s with laps, %s, to cover %s", t.area(f.Order), plural(f.Sheets, "sheet", "sheets"), t.area(f.Covered)))
	}
	for _, x := range b.Balances {
		text := strung("; ", t.heap("back", x.Back), t.heap("brought in", x.In), t.heap("leaves", x.Leaves))
		if x.Loads != nil && *x.Loads > 0 {
			text += ", " + plural(*x.Loads, "load", "loads")
		}
		l.row(x.Of, text)
	}
}

// heap is what becomes of a material: in the ground, and loose as it is carried.
func (t trench) heap(what string, s planner.DigState) string {
	switch {
	case s.Bank != nil && *s.Bank == 0 && (s.Compacted == nil || *s.Compacted == 0):
		return ""
	case s.Loose != nil:
		return fmt.Sprintf("%s %s loose (%s in the ground)", what, t.bulk(*s.Loose), t.bulk(*s.Bank))
	case s.Bank != nil:
		return what + " " + t.bulk(*s.Bank) + " in the ground"
	case s.Compacted != nil:
		return what + " " + t.bulk(*s.Compacted) + " in place"
	}
	return ""
}

// met says which ways out were planned and what is buried.
func (l lines) met(t trench, b planner.BetweenAnswer) {
	var ladders []string
	for _, x := range b.Ladders {
		ladders = append(ladders, x.Leg+" "+t.Chainage(measure.Length(x.Chainage)))
	}
	l.row("ladders", strings.Join(ladders, ", "))
	for _, s := range b.Services {
		depth := "DEPTH UNKNOWN"
		if s.Depth != nil {
			depth = strung(", ", t.job.Speech().Length(measure.Length(*s.Depth))+" deep to its top", t.level(s.Top))
		}
		l.row(t.word(wording.Service), fmt.Sprintf("%s %s, %s along, at %s %s: %s", s.ID, s.Name, t.size(s.Along), s.Leg, t.Chainage(measure.Length(s.Chainage)), depth))
	}
}
