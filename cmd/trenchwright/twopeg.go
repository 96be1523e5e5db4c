package main

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

// twopegCommand works a two-peg test out.
type twopegCommand struct {
	Mid     string `required:"" help:"Readings on pegs A and B from half way between them." placeholder:"A,B"`
	End     string `required:"" help:"Readings on pegs A and B from the second place, on their line." placeholder:"A,B"`
	Apart   string `required:"" help:"How far the pegs stand apart." placeholder:"LENGTH"`
	Beyond  string `help:"The second place lies beyond B by this." placeholder:"LENGTH" xor:"place"`
	Before  string `help:"The second place lies before B, between the pegs, by this." placeholder:"LENGTH" xor:"place"`
	Unit    string `help:"What bare numbers are in: m, ft, mm. Without it, and without one in the figures, they stay as they are written." placeholder:"UNIT"`
	Limit   string `help:"Collimation error that is allowed over the distance of --over." placeholder:"LENGTH"`
	Over    string `help:"Distance that --limit is stated for." placeholder:"LENGTH"`
	Correct string `help:"A reading to be corrected, and its distance." placeholder:"READING,LENGTH"`
	JSON    bool   `name:"json" help:"Answer as JSON."`
}

// twopegAnswer is what `trenchwright twopeg --json` prints; figures are in the unit, "" where nobody said it.
type twopegAnswer struct {
	Verdict    string    `json:"verdict"`
	Why        string    `json:"why"`
	Unit       string    `json:"unit"`
	True       figure    `json:"true"`      // B above A
	Apparent   figure    `json:"apparent"`  // from the second place
	Per100     figure    `json:"per_100"`   // collimation error over 100 of the unit, rising above nought
	Corrected  [2]figure `json:"corrected"` // the readings of the second place, on A and B
	Reading    *figure   `json:"reading,omitempty"`
	Over       *figure   `json:"over,omitempty"`  // the distance of the limit
	Error      *figure   `json:"error,omitempty"` // over that distance
	Allowed    *figure   `json:"allowed,omitempty"`
	NotChecked []string  `json:"not_checked"`
}

// units are what the figures of one command line are in.
type units struct {
	unit    measure.Unit // of bare numbers
	carried measure.Unit // the first one that a figure brought along
	bare    string       // the first figure without one
	decimal int
}

// measured reads a length; a bare number takes the unit that was asked for, or stays as it is.
func (a *asked) measured(name, text string, u *units) measure.Length {
	unit := u.unit
	if unit == measure.NoUnit {
		unit = measure.UnitMetre // stands for no unit
	}
	text = strings.TrimSpace(text)
	r, err := measure.ParseIn(text, unit)
	if err != nil {
		a.fault(name, "%v", err)
		return 0
	}
	if _, err := measure.Parse(text); err == nil {
		if u.carried == measure.NoUnit {
			u.carried = r.Unit
		}
	} else if u.bare == "" && u.unit == measure.NoUnit {
		u.bare = text
	}
	if _, part, ok := strings.Cut(text, "."); ok {
		u.decimal = max(u.decimal, len(strings.TrimRight(part, " abcdefghijklmnopqrstuvwxyz")))
	}
	return r.Length
}

func (a *asked) measuredTwo(name, text string, u *units) (x, y measure.Length) {
	first, second, ok := strings.Cut(text, ",")
	if !ok {
		a.fault(name, "%q is not two figures parted by a comma; write for example 2.340,1.795", text)
		return 0, 0
	}
	return a.measured(name, first, u), a.measured(name, second, u)
}

// figures is what the answer is written in.
func (a *asked) figures(u units) levelling.Figures {
	f := levelling.Figures{Unit: u.unit, Places: max(3, min(u.decimal, 6))}
	if u.unit == measure.NoUnit {
		if f.Unit = u.carried; u.carried != measure.NoUnit && u.bare != "" {
			a.fault("--unit", "%s has no unit, and other figures are in %s; say what bare numbers are in", u.bare, u.carried)
		}
	}
	switch f.Unit {
	case measure.UnitMillimetre, measure.UnitCentimetre, measure.UnitKilometre:
		f.Unit = measure.UnitMetre
	case measure.UnitInch, measure.UnitYard:
		f.Unit = measure.UnitFoot
	}
	return f
}

// twopegTask is what the command line asks for.
type twopegTask struct {
	test     levelling.TwoPeg
	figures  levelling.Figures
	limit    *measure.Length // over the distance; nil: none on file
	over     measure.Length
	reading  measure.Length // to be corrected, where there is one
	distance measure.Length
}

func (c *twopegCommand) task() (twopegTask, error) {
	var t twopegTask
	a := &asked{command: "twopeg"}
	u := units{unit: a.unit(c.Unit)}
	midA, midB := a.measuredTwo("--mid", c.Mid, &u)
	endA, endB := a.measuredTwo("--end", c.End, &u)
	apart, beyond := a.distance("--apart", c.Apart, &u), measure.Length(0)
	switch {
	case c.Beyond != "":
		beyond = a.distance("--beyond", c.Beyond, &u)
	case c.Before != "":
		beyond = -a.distance("--before", c.Before, &u)
	default:
		a.fault("--beyond", "nothing says where the second place is; give --beyond or --before")
	}
	switch {
	case c.Limit != "" && c.Over != "":
		t.limit, t.over = new(a.distance("--limit", c.Limit, &u)), a.distance("--over", c.Over, &u)
	case c.Limit != "" || c.Over != "":
		a.fault("--limit", "a limit for the collimation error needs the distance that it is stated for: --limit and --over")
	}
	if c.Correct != "" {
		first, second, ok := strings.Cut(c.Correct, ",")
		if !ok {
			a.fault("--correct", "%q is not a reading and a distance parted by a comma; write for example 1.985,120", c.Correct)
		} else {
			t.reading, t.distance = a.measured("--correct", first, &u), a.distance("--correct", second, &u)
		}
	}
	t.figures = a.figures(u)
	t.test = levelling.MidAndBeyond(apart, beyond, midA, midB, endA, endB)
	return t, a.ends()
}

// distance is a measured length from nought to 100 km.
func (a *asked) distance(name, text string, u *units) measure.Length {
	l := a.measured(name, text, u)
	if l < 0 || l > 100*measure.Kilometre {
		a.fault(name, "%s cannot stand here; a length from 0 to 100 km", text)
		return 0
	}
	return l
}

func (c *twopegCommand) Run(p program) error {
	t, err := c.task()
	if err != nil {
		return err
	}
	col, said := t.test.Test()
	if len(said) > 0 {
		return p.refuse(c.JSON, said)
	}
	f, fine := t.figures, t.figures.AtLeast(5)
	ans := twopegAnswer{Unit: f.Unit.String(), True: figure(f.Bare(col.True)), Apparent: figure(f.Bare(col.Apparent)), NotChecked: []string{},
		Per100: figure(fine.Bare(col.Over(hundred(f)))), Corrected: [2]figure{figure(f.AtLeast(4).Bare(col.Corrected.A)), figure(f.AtLeast(4).Bare(col.Corrected.B))}}
	if c.Correct != "" {
		ans.Reading = new(figure(f.AtLeast(4).Bare(col.Correct(t.reading, t.distance))))
	}
	j := col.Judge(t.over, t.limit)
	ans.Verdict = string(j.Verdict)
	if j.Missing != nil {
		ans.Why = j.Missing.Sentence()
		ans.NotChecked = append(ans.NotChecked, ans.Why)
	} else {
		off := col.Over(t.over)
		ans.Over, ans.Error, ans.Allowed = new(figure(f.Bare(t.over))), new(figure(fine.Bare(off))), new(figure(fine.Bare(*t.limit)))
		ans.Why = fmt.Sprintf("the line of sight is off by %s over %s; allowed %s", fine.Say(off), f.Say(t.over), f.Say(*t.limit))
	}
	if c.JSON {
		if err := p.json(ans); err != nil {
			return err
		}
	} else {
		p.showTwopeg(ans, f, col)
	}
	if j.Verdict == levelling.DoesNot {
		return outcome{code: exitFaults}
	}
	return nil
}

// hundred is a distance of 100 of the figures' unit.
func hundred(f levelling.Figures) measure.Length {
	switch f.Unit {
	case measure.UnitFoot:
		return 100 * measure.Foot
	case measure.UnitSurveyFoot:
		return measure.FromMetres(100 * 1200.0 / 3937)
	}
	return 100 * measure.Metre
}

func (p program) showTwopeg(a twopegAnswer, f levelling.Figures, col levelling.Collimation) {
	say := func(x figure) string {
		if a.Unit == "" {
			return string(x)
		}
		return string(x) + " " + a.Unit
	}
	way := "rises"
	if col.Rise < 0 {
		way = "falls"
	}
	fmt.Fprintf(p.out, "true difference, B above A: %s; from the second place %s\n", say(a.True), say(a.Apparent))
	if col.Rise == 0 {
		fmt.Fprintln(p.out, "the line of sight is level")
	} else {
		fmt.Fprintf(p.out, "the line of sight %s %s in %s\n", way, say(figure(f.AtLeast(5).Bare(col.Over(hundred(f)).Abs()))), say("100"))
	}
	fmt.Fprintf(p.out, "with a level line of sight the second place reads %s on A and %s on B\n", say(a.Corrected[0]), say(a.Corrected[1]))
	if a.Reading != nil {
		fmt.Fprintf(p.out, "the reading corrected: %s\n", say(*a.Reading))
	}
	fmt.Fprintln(p.out, a.Verdict)
	fmt.Fprintln(p.out, a.Why)
}

// Help is shown below the flags.
func (twopegCommand) Help() string {
	return `Example:

    trenchwright twopeg --mid 2.340,1.795 --end 1.985,1.435 --apart 100 --beyond 20 --unit m --limit 5mm --over 100

The pegs are A and B. The first place is half way between them, the second on their line, beyond B or before it.`
}
