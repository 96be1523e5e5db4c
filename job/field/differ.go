package field

import (
	"cmp"
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// findings says what is odd about the records: places and kinds that are not known here, people who measured or saw the same
// differently without knowing of each other, stock that cannot be.
func (b *Book) findings(s State) finding.List {
	var list finding.List
	say := func(f finding.Finding) { list = append(list, f) }
	list = append(list, b.worked.odd.get(b.unknowns)...)
	list = append(list, b.worked.others.get(b.otherwise)...)
	doubled := make([]string, 0, len(b.double))
	for id := range b.double {
		doubled = append(doubled, id)
	}
	sorting.Ascending(doubled)
	for _, id := range doubled {
		say(finding.Finding{ID: "field.one-id-twice", Kind: finding.Attention,
			Text: fmt.Sprintf("Two different records have the id %s; one of them is kept, the same everywhere.", id),
			Try:  "Look at the devices that sent them: one was copied from the other. Enrol it anew."})
	}
	places := make([]spot, 0, len(b.worked.units))
	for at := range b.worked.units {
		places = append(places, at)
	}
	sorting.By(places, func(a, b spot) int { return cmp.Or(a.leg-b.leg, a.unit-b.unit) })
	for _, at := range places {
		list = append(list, b.worked.units[at]...)
	}
	for _, a := range s.Angles {
		if a.Differs {
			say(finding.Finding{ID: "field.readings-differ", Kind: finding.Attention,
				Text: fmt.Sprintf("The angle at %s was measured differently by people who did not know of each other (%s).", a.Node, b.whose(a.By)),
				Try:  "Measure it once more; all readings stay."})
		}
	}
	for _, y := range s.Yard {
		if y.Have < 0 && (y.Came > 0 || len(y.By) > 0) { // where nobody records what comes, nothing is short
			say(finding.Finding{ID: "field.more-used-than-came", Kind: finding.Attention,
				Text: fmt.Sprintf("More of %s was used than there was: came %d, damaged %d, set or cut %d.", y.Name(b.sized), y.Came, y.Damaged, y.Used),
				Try:  "Record the delivery that is missing, or count the yard."})
		}
	}
	list = append(list, b.worked.amiss.get(b.amiss)...)
	b.unserved(s.Services, say)
	b.oddPoints(s.Points, say)
	b.onStops(s.Services, say)
	b.calibrations(say)
	return list
}

// oddOf says what people differ about at one unit.
func (b *Book) oddOf(u *UnitState, leg string, say func(finding.Finding)) {
	where := finding.Where{Leg: leg, Place: u.Place}
	b.differing(say, where, u.Set, "whether ", u.Place, " is set")
	b.apart(say, where, u.End, "the end of ", u.Place)
	b.apart(say, where, u.Line, "how far ", u.Place, " is off the line")
	b.apart(say, where, u.Rock, "the rock of ", u.Place)
	b.apart(say, where, u.Length, "the length of ", u.Place)
	b.apart(say, where, u.Left, "the gap after ", u.Place, ", left")
	b.apart(say, where, u.Right, "the gap after ", u.Place, ", right")
	for _, c := range u.Covers {
		b.differing(say, where, c.Laid, "whether cover ", c.Place, " lies")
	}
	for _, v := range u.Levels {
		for i, m := range v.Four {
			b.apart(say, where, m, "the level of the ", v.Of, " at ", u.Place, ", ", Corners[i])
		}
	}
}

// unknowns are the records that count nowhere.
func (b *Book) unknowns() finding.List {
	var list finding.List
	for _, e := range standing(b.odd) {
		list = append(list, b.unknown(e))
	}
	return list
}

// otherwise are the stretches that were written against other places than this plan has: what came between them since, and what was
// withdrawn, is not said by them.
func (b *Book) otherwise() finding.List {
	var list finding.List
	for _, e := range standing(b.elsewhere) {
		leg := &b.run.Legs[e.from.leg]
		first, last := leg.Units[min(e.from.unit, e.to.unit)].Place, leg.Units[max(e.from.unit, e.to.unit)].Place
		var came, gone []string
		for i := min(e.from.unit, e.to.unit); i <= max(e.from.unit, e.to.unit); i++ {
			if p := leg.Units[i].Place; inserted(p) && p != e.From && p != e.To {
				came = append(came, p)
			}
		}
		for _, p := range leg.Withdrawn {
			if p == e.From || p == e.To || inLaying(p, first) > 0 && inLaying(p, last) < 0 {
				gone = append(gone, p)
			}
		}
		if len(came)+len(gone) == 0 {
			continue
		}
		text := fmt.Sprintf("Record %s (%s, %s to %s, by %s) was written against other places than leg %s has now.", e.ID, e.Kind, e.From, e.To, e.Person, leg.ID)
		if len(came) > 0 {
			text += " It says nothing of " + strings.Join(came, ", ") + ", put in since."
		}
		if len(gone) > 0 {
			text += " What it says of " + strings.Join(gone, ", ") + ", withdrawn since, counts nowhere."
		}
		list = append(list, finding.Finding{ID: "field.other-places", Kind: finding.Attention, Where: finding.Where{Leg: leg.ID, Place: first}, Text: text,
			Try: "Look at what lies there, and record it at the places of this plan."})
	}
	return list
}

func (b *Book) unknown(r *entry) finding.Finding {
	f := finding.Finding{ID: "field.not-understood", Kind: finding.Attention, Where: finding.Where{Place: r.From},
		Try: "Nothing is lost: the record is kept as it came. Plan with the version that wrote it, or record it again at a place of this plan."}
	if leg := b.onceOn(r.From); r.alone && leg != "" {
		f.Text = fmt.Sprintf("Record %s (%s, by %s) names %s, a place of leg %s that was withdrawn; it counts nowhere.", r.ID, r.Kind, r.Person, r.From, leg)
		f.Try = "Look at what lies there, and record it at the places of this plan."
	} else if atPlaces(r.Kind) >= 0 && r.From != "" {
		f.Text = fmt.Sprintf("Record %s (%s, by %s) names %s, which is no stretch of one leg of this plan; it counts nowhere.", r.ID, r.Kind, r.Person, strings.TrimSuffix(r.From+" to "+r.To, " to "))
		if a, ok := b.at(r.From); ok {
			if z, also := b.at(r.To); also && a.leg != z.leg {
				from, to := b.run.Legs[a.leg].Units, b.run.Legs[z.leg].Units
				f.Try = fmt.Sprintf("Nothing is lost. Record each leg by itself: for one that goes on to leg %s, %s to %s and %s to %s.", b.run.Legs[z.leg].ID, r.From, from[len(from)-1].Place, to[0].Place, r.To)
			}
		}
	} else {
		f.Text = fmt.Sprintf("Record %s (%s, by %s) does not say what this version can count.", r.ID, r.Kind, r.Person)
	}
	return f
}

// differing tells of a fact that people who did not know of each other recorded differently.
func (b *Book) differing(say func(finding.Finding), where finding.Where, f Fact, what ...string) {
	if f.Is != CantSay {
		return
	}
	say(finding.Finding{ID: "field.facts-differ", Kind: finding.Attention, Where: where,
		Text: fmt.Sprintf("People who did not know of each other recorded differently %s (%s).", strings.Join(what, ""), b.whose(f.By)),
		Try:  "Look there and record it once more; all records stay."})
}

// apart tells of readings that differ by more than they are good for: those of people who build, and the inspector's from theirs.
func (b *Book) apart(say func(finding.Finding), where finding.Where, m *Measured, what ...string) {
	if m == nil {
		return
	}
	differ := func(of []Reading) {
		var said []string
		for _, r := range of {
			e := b.records.of(r.By)
			said = append(said, fmt.Sprintf("%s by %s%s, %s", b.size(r.Value), e.Person, with(e), e.Made))
		}
		say(finding.Finding{ID: "field.readings-differ", Kind: finding.Attention, Where: where,
			Text: fmt.Sprintf("Readings of %s differ by more than they are good for: %s.", strings.Join(what, ""), strings.Join(said, "; ")),
			Try:  "Measure it once more; all readings stay."})
	}
	if !m.Known {
		differ(m.Readings)
	}
	if c := m.Check; c != nil && m.Known && c.Known && (m.Value-c.Value).Abs() > m.Plus+c.Plus {
		differ([]Reading{m.Readings[0], c.Readings[0]})
	} else if c != nil && !c.Known {
		differ(c.Readings)
	}
}

// whose names who made records, when, and with what.
func (b *Book) whose(ids []string) string {
	var said []string
	for _, id := range ids {
		r := b.records.of(id)
		said = append(said, r.Person+" "+r.Made+with(r))
	}
	return strings.Join(said, "; ")
}

func with(r *entry) string {
	if r.Instrument == nil {
		return ""
	}
	return " with " + r.Instrument.ID
}

// Name is a piece in words; size writes its length.
func (p Piece) Name(size func(measure.MM) string) string {
	of := p.Mark
	if of == "" {
		of = size(measure.MM(p.Length))
	}
	return strings.TrimSpace(p.Supply + " " + p.What + " " + of)
}

// size is a length in the job's system; exact in millimetres where the book does not know what the job asks.
func (b *Book) size(l measure.Length) string {
	if b.asks == nil {
		return l.String()
	}
	return b.asks.speech.Length(l)
}

func (b *Book) sized(l measure.MM) string { return b.size(measure.Length(l)) }
