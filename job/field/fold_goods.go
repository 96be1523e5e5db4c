package field

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// GoodsState is what came of one thing that is neither units nor covers. What tickets have by mass, by volume and in other words is
// never added up with each other: how heavy a cubic metre is, nobody said.
type GoodsState struct {
	What  string       `json:"what"` // as it is written, in small letters
	Loads int          `json:"loads"`
	Mass  measure.Mass `json:"mass"`
	Bulk  measure.Bulk `json:"volume"` // as it came: loose
	Other []string     `json:"other"`  // amounts in other words, and none
	By    []string     `json:"by"`
}

// goodsName is what one thing is called, however it is written.
func goodsName(what string) string { return strings.ToLower(strings.Join(strings.Fields(what), " ")) }

// add takes an amount in, as a ticket has it.
func (g *GoodsState) add(amount string) {
	if m, err := measure.ParseMass(amount); err == nil {
		g.Mass += m.Value
		return
	}
	if v, err := measure.ParseBulk(amount); err == nil {
		g.Bulk += v.Value
		return
	}
	g.Other = append(g.Other, cmp.Or(strings.TrimSpace(amount), "no amount told"))
}

// Say is how much came, in words: by mass, by volume as it came, and as tickets else have it.
func (g *GoodsState) Say(s wording.Speech) string {
	var parts []string
	switch {
	case g.Mass != 0 && s.Imperial:
		parts = append(parts, measure.Format{System: measure.Imperial}.Mass(g.Mass))
	case g.Mass != 0:
		parts = append(parts, strconv.FormatFloat(float64(g.Mass)/float64(measure.Tonne), 'f', -1, 64)+" t")
	}
	if g.Bulk != 0 {
		parts = append(parts, s.Volume(g.Bulk.Volume())+" as it came")
	}
	text := strings.Join(append(parts, g.Other...), " and ")
	if g.Loads == 1 {
		return text + " in 1 load"
	}
	return fmt.Sprintf("%s in %d loads", text, g.Loads)
}

// goodsStates are stone, fill and what else came, as far as no other record took a record's place.
func (b *Book) goodsStates() []GoodsState {
	by := map[string]*GoodsState{}
	list := standing(slices.Clone(b.others[Delivery]))
	slices.SortFunc(list, inOrder)
	for _, e := range list {
		says, _ := hear[DeliverySays](e)
		for _, l := range says.Goods {
			name := goodsName(l.What)
			g := by[name]
			if g == nil {
				g = &GoodsState{What: name, Other: []string{}, By: []string{}}
				by[name] = g
			}
			if n := len(g.By); n == 0 || g.By[n-1] != e.ID { // one load, however many lines
				g.Loads++
				g.By = append(g.By, e.ID)
			}
			g.add(l.Amount)
		}
	}
	out := []GoodsState{}
	for _, name := range named(by) {
		out = append(out, *by[name])
	}
	return out
}
