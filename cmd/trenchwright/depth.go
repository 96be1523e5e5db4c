package main

import (
	"fmt"
	"math"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

type depthCommand struct {
	Job  string `arg:"" help:"The job, as YAML or JSON."`
	At   string `required:"" help:"Where: a chainage (12.5 m, 0+012.500, 1+25), a unit, a joint, a node or a service (A-004, A-004/A-005, N1), or a leg and a chainage (\"A 12.5 m\")." placeholder:"PLACE"`
	Leg  string `help:"On which leg, where several have that chainage." placeholder:"LEG"`
	JSON bool   `name:"json" help:"Answer as JSON."`
}

// Run says what stands, lies and is dug at one place.
func (c *depthCommand) Run(p program) error {
	t, err := p.ask("depth", c.Job)
	if err != nil {
		return err
	}
	s, err := t.found("depth", "--at", c.At, c.Leg)
	if err != nil {
		return err
	}
	d := t.Depth(s)
	if c.JSON {
		return p.json(d)
	}
	fmt.Fprintln(p.out, t.spot(d.Place))
	l := p.lines()
	l.dig(t, d)
	l.levels(t, d)
	l.beside(t, d)
	l.w.Flush()
	p.showRules(t, d)
	for _, text := range d.NotChecked {
		fmt.Fprintln(p.out, text)
	}
	for _, f := range d.Findings {
		fmt.Fprintln(p.out, f.Say(t.job.Speech()))
	}
	return nil
}

// dig begins with what a foreman needs most: how deep, how wide.
func (l lines) dig(t trench, d planner.DepthAnswer) {
	for _, what := range d.NoGround {
		l.row("ground", "no ground here: the surface of "+what+" does not reach this place")
	}
	g := d.Dig
	if g == nil {
		return
	}
	edge := ""
	if g.Deepest != g.Centre {
		edge = fmt.Sprintf("%s from its higher edge, on the %s", t.size(g.Deepest), g.Side)
		if d.Levels.Drain != nil {
			edge += ", to the lowest that is dug: under the drain where that lies lower"
		}
	}
	l.row("dig", strung("; ", t.size(g.Centre)+" deep at the "+t.word(wording.Centreline), edge))
	l.row("width", fmt.Sprintf("%s at the bottom, %s at the top (%s left, %s right of the %s)", t.size(g.Bottom), t.size(g.Top), t.size(g.Left), t.size(g.Right), t.word(wording.Centreline)))
	sides := g.Form
	if g.Slope != "" {
		sides += " " + g.Slope + ", rise to run"
	}
	l.row("sides", sides)
	if g.ToRock != nil {
		l.row("rock", t.size(*g.ToRock)+" below the ground; "+t.against(*g.InRock))
	}
	if g.InWater != nil {
		l.row("water", t.against(*g.InWater))
	}
}

// against is how something lies to the bottom of the dig.
func (t trench) against(above measure.MM) string {
	if above > 0 {
		return "it stands " + t.size(above) + " above the bottom of the dig"
	}
	return t.size(-above) + " below the bottom of the dig"
}

func (l lines) levels(t trench, d planner.DepthAnswer) {
	v := d.Levels
	formation, padBed := t.word(wording.Formation), t.word(wording.Pad)
	l.row(formation, t.level(v.Formation))
	if v.UnderPad != nil && v.Formation != nil && *v.UnderPad != *v.Formation {
		l.row(formation+" under the "+padBed, t.level(v.UnderPad))
	}
	l.row("drain", t.level(v.Drain))
	if v.PadTop != nil {
		l.row("bed under the "+padBed, t.level(v.PadBase))
		l.row(padBed+" top", strung(", ", t.level(v.PadTop), t.padFall(v)))
	}
	l.row("underside", t.level(v.Underside))
	l.row("invert", t.level(v.Invert))
	l.row("wall tops", t.walls(v))
	l.row("cover top", t.level(v.Cover))
	if b := v.Before; b != nil {
		l.row("before the joint", strung(", ", t.named(t.word(wording.Formation), b.Formation), t.named(padBed+" top", b.PadTop), t.named("underside", b.Underside), t.named("wall top", b.Wall), t.named("cover top", b.Cover)))
	}
	l.row("finished ground", t.level(v.Finished))
	l.row("ground", t.level(v.Existing))
	l.row("rock", t.level(v.Rock))
	l.row("water", t.level(v.Water))
	if d.Grade != "" {
		l.row("grade", d.Grade+" "+t.word(wording.UpChainage))
	}
	f := t.figures()
	f.Places = max(f.Places, 3)
	l.row("at", fmt.Sprintf("E %s, N %s; the line bears %s", f.Say(measure.FromMetres(d.E)), f.Say(measure.FromMetres(d.N)), measure.FromDegrees(d.Bearing).Show(4)))
}

// named is a level behind its name; "" where there is none.
func (t trench) named(name string, m *float64) string {
	if m == nil {
		return ""
	}
	return name + " " + t.level(m)
}

// padFall is how the pad falls along the run over its own length.
func (t trench) padFall(v planner.Levels) string {
	f := v.PadFall[1]
	if f == nil {
		return ""
	}
	way := "rises"
	if *f < 0 {
		way = "falls"
	}
	if *f == 0 {
		return "level along the run"
	}
	return fmt.Sprintf("%s %s over its length %s", way, t.job.Speech().Length(measure.Length(*f).Abs()), t.word(wording.UpChainage))
}

// walls are the wall tops: one figure where all agree, else left and right of the unit that begins here.
func (t trench) walls(v planner.Levels) string {
	left, right := v.Walls[2], v.Walls[3]
	if left == nil || right == nil || math.Abs(*left-*right) < 5e-5 {
		return t.level(v.Wall)
	}
	return t.level(left) + " left, " + t.level(right) + " right"
}

// beside says what stands here and what is near.
func (l lines) beside(t trench, d planner.DepthAnswer) {
	if d.Fitting != "" {
		l.row("stands here", "no "+t.word(wording.Unit)+": the end or fitting at "+d.Fitting)
	}
	if d.Unit != "" && d.Place.Name != d.Unit {
		l.row(t.word(wording.Unit), d.Unit+" of supply "+d.Supply)
	}
	for _, j := range d.Joints {
		if j.Away != 0 {
			pad := ""
			if j.PadTop != nil {
				pad = ": " + t.word(wording.Pad) + " top " + t.level(j.PadTop)
			}
			l.row("joint", fmt.Sprintf("%s, %s%s", j.Name, t.away(j.Away), pad))
		}
	}
	for _, s := range d.Services {
		depth := "DEPTH UNKNOWN"
		if s.Depth != nil {
			depth = strung(", ", t.job.Speech().Length(measure.Length(*s.Depth))+" deep to its top", t.level(s.Top))
		}
		far := "over it"
		if s.Away > 0 {
			along := s.Along
			if !s.Ahead {
				along = -along
			}
			far = fmt.Sprintf("%s from its nearer side in plan; it crosses %s", t.size(s.Away), t.away(along))
		}
		if s.InZone && s.Away > 0 {
			far += ", within its zone"
		}
		known := "how it is known is not on file"
		if s.Quality != "" {
			known = s.Quality
		}
		l.row(t.word(wording.Service), fmt.Sprintf("%s %s, %s: %s; by record: %s", s.ID, s.Name, far, depth, known))
	}
}

// away is a distance along the leg.
func (t trench) away(l measure.MM) string {
	if l < 0 {
		return t.size(-l) + " back"
	}
	return t.size(l) + " on"
}

func (p program) showRules(t trench, d planner.DepthAnswer) {
	r := d.Rules
	if r == nil {
		return
	}
	fmt.Fprintf(p.out, "%s, read %s:\n", r.Rules, r.Read)
	l := p.lines()
	defer l.w.Flush()
	switch {
	case r.Stopped:
		l.row("STOP", "nothing goes on before a registered engineer has answered")
	case r.Needed == nil:
		l.row("protection", "cannot say whether it is needed")
	case *r.Needed:
		l.row("protection", "needed at this depth")
	default:
		l.row("protection", "not asked for at this depth")
	}
	for _, x := range r.Results {
		text := x.What + ": " + x.Verdict
		if x.Value != "" || x.Limit != "" {
			text += " (" + strung(", ", x.Value, "limit "+x.Limit) + ")"
		}
		l.row("", text)
	}
	if n := r.Ladder; n != nil {
		stated := "to be set"
		if n.Stated {
			stated = "as stated"
		}
		l.row("ladder", fmt.Sprintf("the nearest, %s, at %s, %s", stated, t.Chainage(measure.Length(n.Chainage)), t.away(n.Away)))
	}
}
