package job

import (
	"fmt"
	"slices"
	"strings"
)

// head checks what stands above the supplies: format, coordinates, documents, attachments.
func (c *checker) head() {
	j := c.job
	var root *place
	if j.Format != Format {
		c.say("format", root.field("format"), fmt.Sprintf("this job says format %d; this program reads format %d.", j.Format, Format), "Use the program that wrote it, or write the job anew as format 1.")
	}
	if j.Revision != nil && len(j.Revision.Parents) > mostParents {
		c.say("parents", root.fields("revision", "parents"), fmt.Sprintf("a revision is made from one or two others, and %d are named.", len(j.Revision.Parents)), "Merge two of them first, then the result with the third.")
	}
	c.drawn(&j.Coordinates.Line, root.fields("coordinates", "line"))
	if j.Coordinates.ScaleFrom != "" && j.Coordinates.ScaleFactor == "" && c.sound(root.field("coordinates"), "scale_factor") {
		c.say("missing-field", root.fields("coordinates", "scale_factor"), `"scale_factor" is missing, and scale_from names its document.`, "Write scale_factor: 0.99963, or ground for 1.")
	}
	seen := map[string]bool{}
	for i, a := range j.Attachments {
		at := root.field("attachments").item(i, a.Name)
		if a.Name != "" && seen[a.Name] {
			c.say("name-twice", at.field("name"), fmt.Sprintf("two attachments are called %s.", shortened(a.Name)), "Give each its own name.")
		}
		seen[a.Name] = true
	}
}

// drawn checks that the line which was drawn is told completely.
func (c *checker) drawn(l *DrawnLine, p *place) {
	if !c.sound(p, "kind", "side", "offset", "from") {
		return
	}
	switch l.Kind {
	case "":
		if *l != (DrawnLine{}) {
			c.say("missing-field", p.field("kind"), `"kind" is missing: which line was drawn?`, "One of: centreline, inner-face, outer-face, trench-edge, offset.")
		}
		return
	case "centreline":
		if l.Side != "" || l.Offset != 0 || l.From != "" {
			c.say("line", p, "a centreline has no side, offset or from.", "Leave them out, or say which other line was drawn.")
		}
		return
	case "inner-face", "outer-face", "trench-edge", "offset":
	default:
		return // said already
	}
	if l.Side == "" {
		c.say("missing-field", p.field("side"), fmt.Sprintf(`"side" is missing: on which side of the centreline does the %s lie?`, lineName(l.Kind)), "Write left or right, looking along the legs.")
	}
	if away := l.Kind == "trench-edge" || l.Kind == "offset"; away && l.Offset == 0 {
		c.say("missing-field", p.field("offset"), fmt.Sprintf(`"offset" is missing: how far is the %s from the centreline?`, lineName(l.Kind)), "Write offset: 1200 mm.")
	} else if !away && l.Offset != 0 {
		c.say("line", p.field("offset"), fmt.Sprintf("the offset of an %s follows from the section of the unit.", lineName(l.Kind)), "Leave offset out.")
	}
	if l.Kind == "offset" && l.From == "" {
		c.say("missing-field", p.field("from"), `"from" is missing: what was drawn?`, "Write from: kerb, fence or rail.")
	}
}

func lineName(kind string) string {
	switch kind {
	case "inner-face":
		return "inner face"
	case "outer-face":
		return "outer face"
	case "trench-edge":
		return "trench edge"
	}
	return "drawn line"
}

// rules checks the contract's figures that stand alone.
func (c *checker) rules(p *place) {
	for i, s := range c.job.Rules.Spares {
		at := p.field("spares").item(i, s.What)
		if s.Percent == "" && s.AtLeast == 0 && c.sound(at, "percent", "at_least") {
			c.say("spare", at, "it says neither percent nor at_least.", "Write percent: 2.5, at_least: 1, or both.")
		}
		if known := c.spareKinds(); s.What != "" && !slices.Contains(known, s.What) && c.sound((*place)(nil), "supplies") {
			c.say("spare", at.field("what"), fmt.Sprintf("what is %s, which is no loose part of any supply.%s", quoted(s.What), didYouMean(s.What, known)), "One of: "+listed(known)+".")
		}
	}
	for i, one := range c.job.Rules.Steps {
		if slices.ContainsFunc(c.job.Rules.Steps[:i], func(s Step) bool { return s.Step == one.Step }) {
			c.say("twice", p.field("steps").item(i, one.Step), fmt.Sprintf("%s is written twice in steps.", one.Step), "Write each step once, in the order of this job.")
		}
	}
	for i, one := range c.job.Rules.Readings {
		if at := p.field("readings").item(i, one.Of); one.First == 0 && one.Every == 0 && c.sound(at, "first", "every") {
			c.say("reading-rule", at, "it says neither first nor every.", "Write first: 3, every: 5, or both.")
		}
	}
	for i, one := range c.job.Rules.Points {
		at := p.field("points").item(i, one.Name)
		if slices.ContainsFunc(c.job.Rules.Points[:i], func(o Point) bool { return one.Name != "" && strings.EqualFold(o.Name, one.Name) }) {
			c.say("twice", at.field("name"), fmt.Sprintf("point %s is written twice.", quoted(one.Name)), "Give every hold or witness point a name of its own: records go by it.")
		}
	}
	for i, one := range c.job.Rules.Prefer {
		if slices.Contains(c.job.Rules.Prefer[:i], one) {
			c.say("twice", p.field("prefer").item(i, ""), fmt.Sprintf("%s is written twice in prefer.", one), "Write each tie-break once.")
		}
	}
}

// spareKinds is what spares can be asked for.
func (c *checker) spareKinds() []string {
	kinds := []string{"units", "covers"}
	for i := range c.job.Supplies {
		for _, part := range c.job.Supplies[i].LooseParts {
			if !slices.Contains(kinds, part.Name) {
				kinds = append(kinds, part.Name)
			}
		}
	}
	return kinds
}
