package main

import (
	"encoding/csv"
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
)

// levelsAnswer is what `trenchwright asbuilt --levels --json` prints.
type levelsAnswer struct {
	Job        string             `json:"job"`
	Of         string             `json:"of"`
	SetUps     []field.SetUpState `json:"set_ups"`
	Found      []field.Found      `json:"found"`
	Next       []field.ToRead     `json:"next"`
	NotChecked []string           `json:"not_checked"`
}

func (c *asbuiltCommand) levels(p program, t trench, b *field.Book) error {
	run, asks := t.plan.Places(), field.Asks(t.job)
	a := levelsAnswer{Job: t.called(), Of: c.Of}
	if a.Of == "" {
		a.Of = standsOn(run)
	}
	for _, up := range b.SetUps() {
		if c.With == "" || up.Instrument == c.With {
			a.SetUps = append(a.SetUps, up)
		}
	}
	stands := len(a.SetUps) > 0
	var now field.SetUpState
	if stands {
		now, stands = b.SetUp(a.SetUps[len(a.SetUps)-1].Instrument, c.Device)
	}
	if !stands {
		a.NotChecked = append(a.NotChecked, "NOT CHECKED: no height of instrument on file. Ask: whoever set it up, with trenchwright record FILE set-up")
	}
	for _, leg := range run.Legs {
		if c.Leg != "" && leg.ID != c.Leg {
			continue
		}
		for _, u := range leg.Units {
			if f, ok := b.FoundAt(u.Place, a.Of); ok {
				a.Found = append(a.Found, f)
			}
		}
		if stands {
			a.Next = append(a.Next, b.ToRead(asks, leg.ID, a.Of, c.Place, now.Height, c.Next)...)
		}
		if len(leg.Units) > 0 && len(leg.Units[0].Levels) == 0 {
			a.NotChecked = append(a.NotChecked, "NOT CHECKED: no planned levels of leg "+leg.ID+" on file. Ask: whoever has the levels")
		}
	}
	if c.JSON {
		return p.json(a)
	}
	p.showLevels(t, a)
	return nil
}

// standsOn is what the units of a run stand on: pads where any have a level, else the bed.
func standsOn(run *field.Run) string {
	for _, l := range run.Legs {
		for _, u := range l.Units {
			for _, z := range u.Levels {
				if z.Of == "pad" {
					return "pad"
				}
			}
		}
	}
	return "bed"
}

func (p program) showLevels(t trench, a levelsAnswer) {
	level := func(l measure.Length) string { return t.figures().Say(l) }
	closer := t.figures() // one place more: it is the difference that is looked at
	closer.Places++
	l := p.lines()
	for _, up := range a.SetUps {
		l.row(up.Instrument+" on "+up.Benchmark, t.word(wording.Instrument)+" "+inAll(up.Height))
		for _, k := range up.Closes {
			verdict := "as well as they can"
			if k.Off.Abs() > k.Plus+up.Plus {
				verdict = "by more than the readings are good for"
			}
			off := closer.Say(k.Off)
			if k.Off > 0 {
				off = "+" + off
			}
			text := "off by " + off + ", " + verdict
			if plus := k.Plus + up.Plus; plus > 0 {
				text += " (± " + closer.Say(plus) + ")"
			}
			l.row("  closes on "+k.Benchmark, text)
		}
	}
	for _, f := range a.Found {
		var said []string
		for _, k := range f.Corners {
			text := k.Corner + " " + level(k.Level)
			if k.Do != "" {
				text += " " + k.Do
			}
			if k.Do == "cut" || k.Do == "fill" {
				text += " " + t.size(measure.MM(k.Off.Abs()))
			}
			said = append(said, text)
		}
		l.row(f.Place, strings.Join(said, "; "))
		if f.Rocks {
			l.row("", "a unit on it rocks by "+t.size(measure.MM(f.Twist.Abs()))+": "+packersWords(t, *f.Packers))
		}
		if f.Lip != nil && f.Lip.Step.Abs() > f.Lip.Plus {
			l.row("", "step from "+f.Lip.From+", "+f.Lip.Side+": "+t.size(measure.MM(f.Lip.Step)))
		}
		if k := f.Knock; k != nil && k.Off.Abs() > f.Corners[0].Plus {
			way := map[bool]string{true: "rise", false: "fall"}[k.Back > 0]
			l.row("", fmt.Sprintf("left so, %s off by %s as well; back on the plan at %s that unit has to %s %s more than planned, a change of its grade by %s%s", strings.Join(k.Joints, " and "), t.size(measure.MM(k.Off)), k.Joints[0], way, t.size(measure.MM(k.Back.Abs())), k.Change, t.leavesFor(f.Place, k.Grade)))
		}
	}
	_ = l.w.Flush()
	if len(a.Next) > 0 {
		fmt.Fprintf(p.out, "next, on the %s\n", t.levelName(a.Of))
	}
	for _, r := range a.Next {
		text := fmt.Sprintf("rod at start left %s, start right %s, end left %s, end right %s", inAll(r.Rod[0]), level(r.Rod[1]), level(r.Rod[2]), level(r.Rod[3]))
		switch {
		case !r.Seen:
			text = "NOT READ: the instrument stands below it"
		case !r.Read:
			text += " (not asked for)"
		}
		l.row(r.Place, text)
	}
	_ = l.w.Flush()
	for _, n := range a.NotChecked {
		fmt.Fprintln(p.out, n)
	}
}

// leavesFor says whether the joint behind a unit has room for a change of grade: that takes half the outer height times the change from
// what the joint has left of its window.
func (t trench) leavesFor(place string, change measure.Grade) string {
	for _, j := range t.plan.Joints {
		before, _, _ := strings.Cut(j.Name, "/")
		if before != place || change.Run <= 0 {
			continue
		}
		for _, s := range t.plan.Supplies {
			if u, ok := t.supplyOf(place); !ok || s.ID != u || s.OuterHeight == nil || len(j.Budget.Missing) > 0 {
				continue
			}
			takes := measure.FromMetres(change.Rise.Abs().Metres() / change.Run.Metres() * measure.Length(*s.OuterHeight).Metres() / 2)
			left := t.read(j.Budget.Left)
			if takes > measure.Length(j.Budget.Left) {
				return fmt.Sprintf(": joint %s does not take that (%s, it has %s left); spread it over more units", j.Name, t.read(measure.MM(takes)), left)
			}
			return fmt.Sprintf(": joint %s takes %s for that, of %s that it has left", j.Name, t.read(measure.MM(takes)), left)
		}
		missing := j.Budget.Missing
		if len(missing) == 0 {
			missing = []string{"outer height of its units"}
		}
		return fmt.Sprintf("; NOT CHECKED: no %s on file for joint %s. Ask: the supplier", strings.Join(missing, ", "), j.Name)
	}
	return ""
}

// supplyOf is the supply of the unit at a place.
func (t trench) supplyOf(place string) (string, bool) {
	for i := range t.plan.Units {
		if t.plan.Units[i].Mark == place {
			return t.plan.Units[i].Supply, true
		}
	}
	return "", false
}

func packersWords(t trench, k field.Packers) string {
	size := func(l measure.Length) string { return t.size(measure.MM(l)) }
	return fmt.Sprintf("packer %s under %s or %s, or %s and %s under both", size(k.One), k.Under[0], k.Under[1], size(k.Both[0]), size(k.Both[1]))
}

// inAll is a length in metres, in feet and tenths, and in feet and inches.
func inAll(l measure.Length) string {
	return measure.Format{Survey: true, Places: 4}.Length(l) + " = " + measure.Format{System: measure.Imperial, Survey: true, Places: 3}.Length(l) + " = " + measure.Format{System: measure.Imperial}.Length(l)
}

// book writes what was read as a level book.
func (c *asbuiltCommand) book(p program, b *field.Book) error {
	w := csv.NewWriter(p.out)
	_ = w.Write([]string{"point", "bs", "is", "fs", "known", "design"})
	for _, r := range b.LevelBook(c.With) {
		_ = w.Write([]string{r.Point, r.Back, r.Inter, r.Fore, r.Known, r.Design})
	}
	w.Flush()
	return w.Error()
}
