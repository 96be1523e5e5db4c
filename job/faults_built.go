package job

import (
	"cmp"
	"fmt"
	"slices"

	"trenchwright/base/measure"
)

// built checks what a leg is said to have in the ground and in hand: every place once, all of them of this leg, one behind the other.
func (c *checker) built(l *Leg, p *place) {
	b := l.Built
	if b == nil || !c.sound(p, "to", "courses", "withdrawn") || len(b.Courses) == 0 {
		return
	}
	seen := map[string]bool{}
	order := map[string]int{}
	starts := map[string]measure.Length{}
	var last measure.Length
	for i := range b.Courses {
		at, k := p.field("courses").item(i, ""), &b.Courses[i]
		places, err := k.Places()
		if err != nil {
			c.say("course", at, err.Error()+".", "Units that stand in one course are numbered one behind the other: from A-001 to A-013. An insertion stands by itself.")
			return
		}
		for n, name := range places {
			switch {
			case !isPlace(l.ID, name):
				c.say("course-place", at.field("from"), fmt.Sprintf("%s is no place on leg %s.", quoted(name), l.ID), "Places are named "+PlaceName(l.ID, 1)+", and "+PlaceName(l.ID, 1)+"A behind it.")
				return
			case seen[name]:
				c.say("course-twice", at, fmt.Sprintf("%s stands in two courses.", name), "A place is laid once.")
				return
			}
			seen[name] = true
			order[name] = len(order)
			starts[name] = k.Start + measure.Length(n)*k.Pitch
		}
		switch {
		case len(places) > 1 && k.Pitch <= 0:
			c.say("course-pitch", at, fmt.Sprintf("%s to %s are %d units and nothing says how far apart they start.", k.From, k.To, len(places)), "Write pitch: 3010 mm.")
		case i > 0 && k.Start <= last:
			one := c.say("course-start", at.field("start"), fmt.Sprintf("%s starts at %s, and the unit before it at %s.", k.From, c.length(k.Start), c.length(last)), "Courses stand in laying order.")
			one.Value, one.Limit = c.length(k.Start), "more than "+c.length(last)
		case k.Stock > 0 && k.Stock < k.Length:
			one := c.say("course-stock", at.field("stock"), fmt.Sprintf("a piece of %s is longer than the unit of %s that it is cut from.", c.length(k.Length), c.length(k.Stock)), "Look at both lengths.")
			one.Value, one.Limit = c.length(k.Length), c.length(k.Stock)
		}
		last = k.Start + measure.Length(len(places)-1)*k.Pitch
	}
	if b.To != "" && !seen[b.To] {
		c.say("built-to", p.field("to"), fmt.Sprintf("%s is said to be the last unit that lies, and no course has it.", quoted(b.To)), "Write the place of a unit in courses.")
	}
	behind := -1
	if b.To != "" {
		behind = order[b.To]
	}
	for i, l := range b.Beyond {
		from, ok := order[l.From]
		to, also := order[cmp.Or(l.To, l.From)]
		if !ok || !also || from <= behind+1 && (behind >= 0 || from == 0) || to < from {
			c.say("built-beyond", p.field("beyond").item(i, "").field("from"), fmt.Sprintf("%s to %s are said to lie beyond a gap, and the courses do not have them so.", quoted(l.From), quoted(cmp.Or(l.To, l.From))),
				"They stand in courses, in laying order, with at least one unit that does not lie yet between them and what lies before.")
			continue
		}
		behind = to
		if end, start := cmp.Or(l.To, l.From), starts[cmp.Or(l.To, l.From)]; l.End != 0 && l.End <= start {
			one := c.say("beyond-end", p.field("beyond").item(i, "").field("end"), fmt.Sprintf("%s is said to end at %s, and starts at %s.", end, c.length(l.End), c.length(start)), "Write where its far face was measured, along the way the leg is laid.")
			one.Value, one.Limit = c.length(l.End), "more than "+c.length(start)
		}
	}
	c.bedded(b, order, p)
	for i, g := range b.Grades {
		if !seen[g.To] {
			c.say("grade-to", p.field("grades").item(i, "").field("to"), fmt.Sprintf("a grade is kept up to %s, and no course has it.", quoted(g.To)), "Write the place of a unit in courses.")
		}
	}
	if i := slices.IndexFunc(b.Withdrawn, func(name string) bool { return seen[name] }); i >= 0 {
		c.say("withdrawn-place", p.field("withdrawn"), fmt.Sprintf("%s was withdrawn, and a course has it.", b.Withdrawn[i]), "A name that was withdrawn is never given again: the new place has a letter, "+b.Withdrawn[i]+"A.")
	}
}

// bedded checks what is said of levels that units lie on: the units stand in courses, one behind the other, and every joint of them has
// a place and a level.
func (c *checker) bedded(b *Built, order map[string]int, p *place) {
	behind := -1
	for i := range b.Bedded {
		k, at := &b.Bedded[i], p.field("bedded").item(i, "")
		from, ok := order[k.From]
		to, also := order[cmp.Or(k.To, k.From)]
		if !ok || !also || to < from || from <= behind {
			c.say("bedded", at.field("from"), fmt.Sprintf("%s to %s are said to lie on levels of their own, and the courses do not have them so.", quoted(k.From), quoted(cmp.Or(k.To, k.From))),
				"They stand in courses, in laying order, each unit once.")
			continue
		}
		behind = to
		if n := to - from + 2; len(k.At) != n || len(k.Tops) != n {
			c.say("bedded-joints", at.field("at"), fmt.Sprintf("%d units have %d joints with their ends; here are %d places and %d levels.", n-1, n, len(k.At), len(k.Tops)), "Write one place and one level for each joint.")
			continue
		}
		for j := 1; j < len(k.At); j++ {
			if step := k.At[j] - k.At[j-1]; step == 0 || (step > 0) != (k.At[1] > k.At[0]) {
				c.say("bedded-order", at.field("at"), fmt.Sprintf("%s is no place behind %s.", c.length(k.At[j]), c.length(k.At[j-1])), "Chainages stand in laying order.")
				break
			}
		}
	}
}
