package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/view/scene"
)

// digCards say what has to be known before a leg is dug and while it is: what is buried there, where rock is met, how wide
// the dig is and how its sides stand, and the drain's trench. What does not fit goes on on another card.
func (c *levelCard) digCards() []scene.Page {
	if c.plan.Dig == nil {
		return nil
	}
	said := slices.Concat(c.servicesBefore(), c.conduitWords(), c.rockWords(), c.waterWords(), c.digWords(), c.pitWords(), c.sideWords(), c.entryWords(), c.besideWords(), c.drainWords())
	var pages [][]string
	for from := 0; from < len(said); {
		to := from + 1
		for to < len(said) && c.digFits(said[from:to+1]) {
			to++
		}
		pages = append(pages, said[from:to])
		from = to
	}
	var out []scene.Page
	for i, part := range pages {
		out = append(out, c.drawDig(i, len(pages), part))
	}
	return out
}

// How small the sentences of a dig card may be, and where they begin and end.
const (
	digSaid = 2.2
	digTop  = cardEdge + 8 + 2.3
)

func digFoot() float64 { return cardHeight - cardEdge - scene.LineStep(cardSize) - cardSize - 1 }

func (c *levelCard) digFits(said []string) bool {
	_, high := c.wrappedSentences(said, digSaid)
	return digTop+high <= digFoot()
}

func (c *levelCard) drawDig(i, of int, said []string) scene.Page {
	title := fmt.Sprintf("Set-out card %s, dig", c.leg.Name)
	where := fmt.Sprintf("from %s to %s; %s from %s; to be read before a machine starts", c.leg.From, c.leg.To, c.words.chainage, c.leg.From)
	if of > 1 {
		title += fmt.Sprintf(" %d of %d", i+1, of)
		where += fmt.Sprintf("; %d of %d", i+1, of)
	}
	c.page = scene.Page{Width: cardWidth, Height: cardHeight, Title: title, Name: fmt.Sprintf("levels-%s-dig-%d", nameOf(c.leg.Name), i+1), Level: 1,
		Frame: scene.BoxAt(scene.Point{}, cardWidth, cardHeight).Inset(cardEdge - 2)}
	y := c.headOf("before and while it is dug", where, c.firstCode())
	_, unit, _ := c.coordinateUnit()
	c.footOfStart(unit)
	c.sentences(y, digFoot(), said)
	return c.page
}

// conduitWords are the conduits that enter the leg: where, by which side, how large and how high. Nothing on file tells how
// deep one comes in from below.
func (c *levelCard) conduitWords() []string {
	var out []string
	for _, e := range c.asked[c.leg.Name].Entries {
		text := fmt.Sprintf("CONDUIT %s at %s", e.ID, c.chainage(measure.MM(e.At)))
		if no := c.unitAt(c.leg.Name, measure.MM(e.At)); no != "" {
			text += fmt.Sprintf(", %s %s-%s", c.words.unit, c.leg.Name, no)
		}
		text += fmt.Sprintf(", Ø %s %s", c.style.Format.Length(e.Diameter), entrySide(e))
		switch {
		case e.Side == "floor":
			text += fmt.Sprintf("; %s: no level of conduit %s on file. Ask: its owner", notChecked, e.ID)
		case e.Level != 0:
			text += fmt.Sprintf(", its middle %s above the underside of the %s", c.style.Format.Length(e.Level), c.words.unit)
		}
		out = append(out, text)
	}
	return out
}

// servicesBefore are the buried services on file along the leg, with what the plan found of each.
func (c *levelCard) servicesBefore() []string {
	var out []string
	for _, s := range c.asked[c.leg.Name].Services {
		out = append(out, "BEFORE ANY MACHINE: "+c.serviceSaid(c.leg.Name, s, false))
	}
	if out == nil {
		out = append(out, fmt.Sprintf("%s: no %s on this leg on file, which does not say that there is none. Ask: the owners of what may be buried here", notChecked, c.words.service))
	}
	return out
}

// serviceFound is what the plan found of a service on a leg.
func (d *draft) serviceFound(leg string, s job.Service) (finding.Finding, bool) {
	for _, f := range d.plan.Findings {
		if strings.HasPrefix(f.ID, "earthwork.service-") && f.Where.Leg == leg && f.Where.Chainage != nil && *f.Where.Chainage == s.At && strings.Contains(f.Text, fmt.Sprintf("%q", s.Name)) {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// serviceSaid is one buried service: where it crosses, over or under what, and what the plan found of it; short: without what
// to do.
func (d *draft) serviceSaid(leg string, s job.Service, short bool) string {
	text := fmt.Sprintf("%s crosses at %s", s.Name, d.chainage(measure.MM(s.At)))
	if no := d.unitAt(leg, measure.MM(s.At)); no != "" {
		text += fmt.Sprintf(", %s %s-%s", d.words.unit, leg, no)
	}
	f, ok := d.serviceFound(leg, s)
	switch {
	case s.Depth == nil && s.Level == nil:
		return text + ", depth " + notChecked + ": expose it by hand. Ask: its owner"
	case !ok:
		return text + "; " + notChecked + ": not held against the dig. Ask: its owner"
	}
	_, what, _ := strings.Cut(f.Text, fmt.Sprintf("%q ", s.Name))
	what = strings.TrimPrefix(what, "is recorded ")
	text += ", " + what
	if short {
		return text + "; see the card of the dig"
	}
	if f.Try != "" {
		text += "; " + f.Try
	}
	if f.Ask != "" {
		text += ". Ask: " + f.Ask
	}
	return text
}
