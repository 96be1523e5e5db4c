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
	l := p.lines()
	for _, up := range a.SetUps {
		l.row(up.Instrument+" on "+up.Benchmark, t.word(wording.Instrument)+" "+inAll(up.Height))
		for _, k := range up.Closes {
			verdict := "as well as they can"
			if k.Off.Abs() > k.Plus+up.Plus {
				verdict = "by more than the readings are good for"
			}
			l.row("  closes on "+k.Benchmark, "off by "+level(k.Off)+", "+verdict+" (± "+level(k.Plus+up.Plus)+")")
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
			l.row("", fmt.Sprintf("left so, %s off by %s as well; back on the plan at %s by a grade of %s on that unit", strings.Join(k.Joints, " and "), t.size(measure.MM(k.Off)), k.Joints[0], k.Change))
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
