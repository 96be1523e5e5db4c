package profile

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// say is a length for the people of this job.
func (p *Problem) say(l measure.Length) string {
	if p.Show != nil {
		return p.Show.Length(l)
	}
	return p.Words.Length(l)
}

// far is a level, or a length on the ground: to the millimetre or the hundredth of a foot.
func (p *Problem) far(l measure.Length) string { return p.Words.Far(wording.Far(l)) }

// level is a level to the millimetre or the hundredth of a foot.
func (p *Problem) level(l measure.Length) string {
	if p.Words.Imperial {
		return measure.Format{System: measure.Imperial, Survey: true, Places: 2}.Length(l)
	}
	return measure.Format{Survey: true, Places: 3}.Length(l)
}

// grade is g in percent: exact where three decimals say it, else to three with "about".
func grade(g measure.Grade) string {
	text := g.Percent(3)
	said, err := measure.ParseGrade(text)
	exact := err == nil && said.Value.Cmp(g) == 0
	number := strings.TrimSuffix(text, " %")
	number = strings.Replace(strings.TrimSuffix(strings.TrimRight(number, "0"), "."), "-", "−", 1)
	if exact {
		return number + " %"
	}
	return "about " + number + " %"
}

func negated(g measure.Grade) measure.Grade { return measure.Grade{Rise: -g.Rise, Run: g.Run} }

// at is where a joint is: "chainage 100.000 m", with the leg's name where there are several.
func (p *Problem) at(leg, joint int) string {
	text := p.Words.Word(wording.Chainage) + " " + p.chainage(leg, joint)
	if len(p.Legs) > 1 && p.Legs[leg].Name != "" {
		text += " of leg " + p.Legs[leg].Name
	}
	return text
}

func (p *Problem) chainage(leg, joint int) string {
	at := p.Legs[leg].Joints[joint].At
	if p.Words.Imperial {
		return strings.TrimSuffix(measure.Chainage(at, measure.Imperial, 2), ".00")
	}
	return measure.Format{Survey: true, Places: 3}.Length(at)
}

// span is "from chainage 0.000 m to 100.000 m".
func (p *Problem) span(leg, from, to int) string {
	text := p.Words.Word(wording.Chainage) + " " + p.chainage(leg, from) + " to " + p.chainage(leg, to)
	if len(p.Legs) > 1 && p.Legs[leg].Name != "" {
		text += " of leg " + p.Legs[leg].Name
	}
	return "from " + text
}

// named is a joint's place, with what pins it there.
func (p *Problem) named(leg, joint int) string {
	if name := p.Legs[leg].Joints[joint].Name; name != "" {
		return name + " at " + p.at(leg, joint)
	}
	return p.at(leg, joint)
}

func (p *Problem) node(n int) string {
	if name := p.Nodes[n].Name; name != "" {
		return name
	}
	return fmt.Sprintf("node %d", n+1)
}

// unitWord is one or several units.
func (p *Problem) unitWord(n int) string {
	if n == 1 {
		return "one " + p.Words.Word(wording.Unit)
	}
	return fmt.Sprintf("%d %s", n, p.Words.Word(wording.Units))
}

// limit is one limit in words.
func (p *Problem) limit(l Limit) string {
	switch l.Kind {
	case PinLimit:
		return "the pin " + p.level(*p.Legs[l.Leg].Joints[l.From].Pin) + " at " + p.named(l.Leg, l.From)
	case LowLimit:
		return "not below " + p.level(*p.Legs[l.Leg].Joints[l.From].Low) + " at " + p.named(l.Leg, l.From)
	case HighLimit:
		return "not above " + p.level(*p.Legs[l.Leg].Joints[l.From].High) + " at " + p.named(l.Leg, l.From)
	case LeastLimit:
		return p.bounded(*p.Legs[l.Leg].Units[l.From].Least, true) + " " + p.span(l.Leg, l.From, l.To+1)
	case MostLimit:
		return p.bounded(*p.Legs[l.Leg].Units[l.From].Most, false) + " " + p.span(l.Leg, l.From, l.To+1)
	case ChangeLimit:
		text := changeOf(*p.Legs[l.Leg].Joints[l.From].Change)
		if l.From == l.To {
			return text + " at " + p.at(l.Leg, l.From)
		}
		return text + " at each joint " + p.span(l.Leg, l.From, l.To)
	case StepLimit:
		s := p.Legs[l.Leg].Units[l.From].Step
		return p.Words.Say("%s at %s that step by at most %s %s", wording.Units, grade(s.Grade), p.say(*s.Most), p.span(l.Leg, l.From, l.To+1))
	case NodeChange:
		return changeOf(*p.Nodes[l.Leg].Throughs[l.From].Change) + " through " + p.node(l.Leg)
	case NodeLip:
		return "a lip of at most " + p.say(*p.Nodes[l.Leg].Throughs[l.From].Bend.Lip) + " at " + p.node(l.Leg)
	}
	c := p.Nodes[l.Leg].Arms[l.From].Cast
	return fmt.Sprintf("%s at the mouth of %s, which lies at %s", changeOf(*c.Change), p.node(l.Leg), grade(c.Grade))
}

func changeOf(g measure.Grade) string {
	if nought(g) {
		return "no change of grade"
	}
	return "a change of grade of at most " + grade(g)
}

// bounded is a limit of grade, up-chainage: at least g, or at most.
func (p *Problem) bounded(g measure.Grade, least bool) string {
	switch {
	case nought(g) && least:
		return "no fall " + p.towards(true)
	case nought(g):
		return "no fall " + p.towards(false)
	case least && g.Rise > 0:
		return "a least fall of " + grade(g) + " " + p.towards(false)
	case !least && g.Rise < 0:
		return "a least fall of " + grade(negated(g)) + " " + p.towards(true)
	case least:
		return "a fall of at most " + grade(negated(g)) + " " + p.towards(true)
	}
	return "a fall of at most " + grade(g) + " " + p.towards(false)
}

// towards says which way water runs.
func (p *Problem) towards(up bool) string {
	word := "down-" + p.Words.Word(wording.Chainage)
	if up {
		word = p.Words.Word(wording.UpChainage)
	}
	return word
}
