package field

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/finding"
)

// What a record says beside the point: it stays, and what of it counts nowhere is said by name.

// elsewhereOff are the places at which a record of units that were set says that an end is off, and which are not among them.
func (b *Book) elsewhereOff(e *entry) []Off {
	says, ok := hear[SetSays](e)
	if !ok || !e.placed {
		return nil
	}
	var list []Off
	for _, o := range says.Off {
		at, known := b.places.of(o.Place)
		if !known || at.leg != e.from.leg || at.unit < min(e.from.unit, e.to.unit) || at.unit > max(e.from.unit, e.to.unit) || at.cover >= 0 {
			list = append(list, o)
		}
	}
	return list
}

// unserved says of what records name, and nothing comes of it: ends off at places that were not set with it, services on legs that are
// none, pieces of supplies that the job has not, offcuts without the mark or the length by which they could serve.
func (b *Book) unserved(services []ServiceState, say func(finding.Finding)) {
	for _, e := range standing(b.astray) {
		for _, o := range b.elsewhereOff(e) {
			say(finding.Finding{ID: "field.off-elsewhere", Kind: finding.Attention, Where: finding.Where{Place: e.From},
				Text: fmt.Sprintf("Record %s (set%s, by %s, %s) says that the end of %s is off by %s, and %s is not among what it says was set: that counts nowhere.", e.ID, b.stretchWords(e.From, e.To), e.Person, e.Made, o.Place, b.size(o.By), o.Place),
				Try:  "Record it as set at " + o.Place + ", or correct the record; it stays."})
		}
	}
	var legs []string
	for l := range b.run.Legs {
		legs = append(legs, b.run.Legs[l].ID)
	}
	for i := range services {
		if v := &services[i]; !slices.Contains(legs, v.Leg) {
			e := b.records.of(v.By[0])
			say(finding.Finding{ID: "field.service-on-no-leg", Kind: finding.Attention,
				Text: fmt.Sprintf("Record %s (%s, by %s, %s) has %s on leg %q, and the plan has %s: no joint keeps away from it.", e.ID, e.Kind, e.Person, e.Made, cmp.Or(v.Name, v.What, "a buried service"), v.Leg, strings.Join(legs, ", ")),
				Try:  "Correct the record: on which leg it lies, and at which chainage."})
		}
	}
	for _, s := range b.yard.order {
		counted, moved := firstStanding(s.counts), firstStanding(s.moved)
		switch {
		case counted != nil && (moved == nil || inOrder(counted, moved) < 0):
			b.unservedPiece(s.stock.Piece, counted, true, say)
		case moved != nil:
			b.unservedPiece(s.stock.Piece, moved, counted != nil, say)
		}
	}
}

// firstStanding is the first record of a list that nothing corrects, of one that is in order already, as those of stacks are that were
// worked out; nil: there is none.
func firstStanding(of []*entry) *entry {
	if i := slices.IndexFunc(of, func(e *entry) bool { return !e.gone }); i >= 0 {
		return of[i]
	}
	return nil
}

// unservedPiece says why a piece of the yard serves nothing, by the first record that names it.
func (b *Book) unservedPiece(p Piece, e *entry, counted bool, say func(finding.Finding)) {
	text, try := "", ""
	_, placed := b.at(p.Mark)
	offcut := strings.Contains(p.Mark, "/")
	switch {
	case b.asks != nil && len(b.asks.supplies) > 0 && !slices.Contains(b.asks.supplies, p.Supply):
		text, try = fmt.Sprintf("the job has no supply %q", p.Supply), "Name the supply as the job does: "+strings.Join(b.asks.supplies, ", ")+"."
	case p.What == "unit" && p.Mark != "" && !offcut && !placed && counted:
		text, try = p.Mark+" is no place of the plan, and no mark of an offcut", "Count what is left of a unit under the mark of the piece that it was cut for and a letter, such as A-002/a, with its length."
	case p.What == "unit" && offcut && p.Length <= 0 && counted:
		text, try = "an offcut without its length serves no piece", "Count it once more with its length."
	default:
		return
	}
	say(finding.Finding{ID: "field.piece-serves-nothing", Kind: finding.Attention,
		Text: fmt.Sprintf("Record %s (%s, by %s, %s) names %s: %s, and nothing is planned with it.", e.ID, e.Kind, e.Person, e.Made, p.Name(b.sized), text), Try: try})
}
