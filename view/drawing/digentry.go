package drawing

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// entryWords are what the rules of the place say of whoever goes into the leg's dig: ways out, air, and whatever else is not of
// its sides, which have sentences of their own.
func (c *levelCard) entryWords() []string {
	var out []string
	for _, x := range c.sideStretches() {
		if x.held == nil {
			continue
		}
		var ladders []string
		for _, m := range x.held.Ladders {
			ladders = append(ladders, c.chainage(length(m*1000)))
		}
		said := map[string][]string{}
		for _, r := range x.held.Results {
			if r.Stop || slices.Contains(ofSides, r.ID) { // told with the sides
				continue
			}
			text := resultSaid(r)
			if r.Verdict == cannotSay {
				text += "; " + notChecked + ": no figure for it on file. Ask: the competent person, before anybody goes in"
			}
			head := besideHeads[r.ID]
			said[head] = append(said[head], text)
		}
		if len(ladders) > 0 {
			out = append(out, joined("; ", "LADDERS at "+strings.Join(ladders, ", "), strings.Join(said["LADDERS"], "; ")))
		} else if said["LADDERS"] != nil {
			out = append(out, "WAY OUT: "+strings.Join(said["LADDERS"], "; "))
		}
		for _, head := range []string{"AIR", "BESIDE IT", ""} {
			if said[head] != nil {
				out = append(out, joined(": ", head, strings.Join(said[head], "; ")))
			}
		}
	}
	return out
}

// cannotSay is the verdict of what nothing on file decides.
const cannotSay = "cannot say"

// besideHeads are the words under which the checks of the rules stand on the card of the dig.
var besideHeads = map[string]string{"excavation.way-out": "LADDERS", "excavation.ladder-above": "LADDERS", "excavation.air": "AIR", "excavation.spoil": "BESIDE IT"}

// besideWords say how much of the ground beside the leg's dig is taken by what, each from the centreline where it takes most
// room.
func (c *levelCard) besideWords() []string {
	var out []string
	for _, n := range c.plan.Dig.Strip {
		if n.Leg != c.leg.Name {
			continue
		}
		var parts []string
		for _, u := range n.Uses {
			parts = append(parts, fmt.Sprintf("%s %s to %s", u.What, c.depthFigure(u.From), c.along(u.From+u.Width)))
		}
		if len(parts) > 0 {
			out = append(out, fmt.Sprintf("%s, from the %s, where it takes most room: %s", strings.ToUpper(n.Side), c.words.centreline, strings.Join(parts, ", ")))
		}
	}
	return out
}

// waterWords say where water is recorded above the bottom of the leg's dig, as the plan found it.
func (c *levelCard) waterWords() []string { return c.waterFound(c.leg.Name) }

// waterFound is what the plan found of water in the dig of a leg.
func (d *draft) waterFound(leg string) []string {
	var out []string
	for _, f := range d.concerns(func(f finding.Finding) bool { return f.ID == "earthwork.water" && f.Where.Leg == leg }) {
		text := "WATER " + strings.TrimPrefix(f.Text, "water ")
		if at := f.Where.Chainage; at != nil {
			text += ", most at " + d.chainage(measure.MM(*at))
		}
		out = append(out, joined("; ", text, f.Try, "see "+f.name)+prefixed(". Ask: ", f.Ask))
	}
	return out
}
