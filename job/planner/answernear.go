package planner

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"trenchwright/base/sorting"
	"trenchwright/base/wording"
)

// unknown says what is known beside a text that is no place: the names that are nearest to it, and how places are written.
func (a *Answers) unknown(text string, reading error) error {
	tell := a.b.tell
	if !strings.ContainsFunc(text, letter) {
		return fmt.Errorf("%q is no place: %w", text, reading)
	}
	how := tell("A place is a %s, a joint, a node or a %s: %s", wording.Unit, wording.Chainage, a.examples())
	if leg, _, ok := strings.Cut(text, "-"); ok {
		if k := a.legOf(leg); k >= 0 && a.legs[k].units > 0 {
			l, units := &a.legs[k], a.b.plan.Units
			return errors.New(tell("there is no place %s: leg %s has the %s %s to %s. %s", text, l.id, wording.Units, units[l.unit].Mark, units[l.unit+l.units-1].Mark, how))
		}
	}
	if near := a.nearest(text, 3); len(near) > 0 {
		return fmt.Errorf("there is no place %s; near to it are %s. %s", text, strings.Join(near, ", "), how)
	}
	return fmt.Errorf("there is no place %s. %s", text, how)
}

func letter(r rune) bool {
	return r != 'm' && r != 'f' && r != 't' && (r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z')
}

// examples are places of this plan.
func (a *Answers) examples() string {
	p := &a.b.plan
	var out []string
	if len(p.Units) > 0 {
		out = append(out, p.Units[0].Mark)
	}
	if len(p.Joints) > 0 {
		out = append(out, p.Joints[0].Name)
	}
	if len(p.Nodes) > 0 {
		out = append(out, p.Nodes[0].ID)
	}
	half := a.legs[0].length / 2
	return strings.Join(append(out, a.legs[0].id+" "+a.Chainage(half)), ", ")
}

// nearest are the names that take the fewest changes of a letter to become text, at most half of its letters.
func (a *Answers) nearest(text string, most int) []string {
	type near struct {
		name string
		off  int
	}
	var all []near
	name := []rune(folded(text))
	add := func(is string) {
		if d := changes(name, []rune(folded(is))); 2*d <= len(name) {
			all = append(all, near{is, d})
		}
	}
	for _, u := range a.b.plan.Units {
		add(u.Mark)
	}
	for _, n := range a.b.plan.Nodes {
		add(n.ID)
	}
	for i := range a.legs {
		for _, s := range a.b.leg(i).Services {
			add(s.ID)
		}
		for _, c := range a.b.leg(i).Crossings {
			add(c.ID)
		}
	}
	sorting.By(all, func(x, y near) int { return cmp.Compare(x.off, y.off) })
	var out []string
	for _, n := range all[:min(most, len(all))] {
		out = append(out, n.name)
	}
	return out
}

// changes is how many letters have to be put in, taken out or changed to make b of a.
func changes(a, b []rune) int {
	row := make([]int, len(b)+1)
	for k := range row {
		row[k] = k
	}
	for i, x := range a {
		before := row[0]
		row[0] = i + 1
		for k, y := range b {
			cost := before
			if x != y {
				cost++
			}
			before, row[k+1] = row[k+1], min(cost, row[k]+1, row[k+1]+1)
		}
	}
	return row[len(b)]
}
