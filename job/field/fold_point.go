package field

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"trenchwright/base/sorting"
	"trenchwright/job"
)

// pointStates are hold and witness points, stretch by stretch: what was noticed, whether it is released, and what ended that.
func (b *Book) pointStates(now string) []PointState {
	type stretch struct{ from, to string }
	var list []PointState
	for _, name := range named(b.points) {
		var order []stretch
		by := map[stretch][]*entry{}
		for _, e := range standing(b.points[name]) {
			k := stretch{e.From, e.To}
			if by[k] == nil {
				order = append(order, k)
			}
			by[k] = append(by[k], e)
		}
		sorting.By(order, func(x, y stretch) int { return cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.to, y.to)) })
		for _, k := range order {
			p := PointState{Point: name, From: k.from, To: k.to, Released: Fact{Is: No}}
			b.point(&p, by[k], now)
			list = append(list, p)
		}
	}
	return list
}

// listed is a point as the contract has it; the zero value where the book knows of no contract or that lists none of this name.
func (b *Book) listed(name string) job.Point {
	if b.asks == nil {
		return job.Point{}
	}
	p, _ := b.asks.Point(name)
	return p
}

// point is what the records of one point at one stretch come to.
func (b *Book) point(p *PointState, standing []*entry, now string) {
	listed := b.listed(p.Point)
	var releases, looks []*entry
	for _, e := range standing {
		says, _ := hear[PointSays](e)
		p.Witness = p.Witness || says.Witness
		switch e.Kind {
		case Notice:
			p.Noticed = append(p.Noticed, e.ID)
			p.Notices = append(p.Notices, Noticed{e.Person, e.Made, says.Party, says.Period, says.Answer})
		case Inspection:
			looks = append(looks, e)
		case Release:
			releases = append(releases, e)
		}
	}
	for _, e := range last(looks) {
		says, _ := hear[PointSays](e)
		p.Looked, p.Result = append(p.Looked, e.ID), says.Result
	}
	var ended []*entry
	var by, others []string
	for _, e := range last(releases) {
		says, _ := hear[PointSays](e)
		p.Releases = append(p.Releases, e.ID)
		p.By = append(p.By, cmp.Or(says.Party, e.Person))
		events := b.endedBy(e, says, listed)
		if why := over(e, says, listed, now); why != "" {
			events = append(events, e)
			p.Why = why
		}
		switch {
		case len(events) > 0:
			ended = append(ended, events...)
		case namedParty(e, says, listed):
			by = append(by, e.ID)
		default:
			others = append(others, e.ID)
		}
	}
	switch {
	case len(by) > 0:
		p.Released = Fact{Yes, by}
	case len(others) > 0: // a release, but not of the one whose it has to be
		p.Released = Fact{CantSay, others}
	}
	if len(ended) > 0 {
		b.lapsed(p, ended, listed)
	}
}

// lapsed is what ended a release, the first by the clocks of the devices first, and where it is open: where the work that waits for it
// was not done, or by somebody who knew of what had ended it.
func (b *Book) lapsed(p *PointState, ended []*entry, listed job.Point) {
	sorting.By(ended, func(x, y *entry) int { return cmp.Or(cmp.Compare(x.Made, y.Made), cmp.Compare(x.ID, y.ID)) })
	ended = slices.Compact(ended)
	for _, e := range ended {
		p.Lapsed = append(p.Lapsed, e.ID)
	}
	if e := ended[0]; e.Kind == Event {
		says, _ := hear[EventSays](e)
		p.Why = says.What + ", recorded by " + e.Person + " " + minute(e.Made)
	}
	if n := len(ended) - 1; n > 0 {
		p.Why += fmt.Sprintf("; and %d more since", n)
	}
	if p.Released.Is != No {
		return
	}
	spots, ok := b.spots(p.From, p.To)
	if listed.Before == "" || !ok {
		return
	}
	p.Done = true
	for _, at := range spots {
		u := b.workUnit(at)
		done, by := u.past(listed.Before)
		for _, id := range by {
			work := b.records.of(id)
			done = done && !slices.ContainsFunc(ended, func(e *entry) bool { return e.Kind == Event && later(work, e) })
		}
		if !done {
			p.Done, p.Waits = false, append(p.Waits, u.Place)
		}
	}
}

// spots are the units of a stretch, and of the whole run where none is named.
func (b *Book) spots(from, to string) (list []spot, ok bool) {
	if from == "" {
		for l := range b.run.Legs {
			for i := range b.run.Legs[l].Units {
				list = append(list, spot{l, i})
			}
		}
		return list, true
	}
	leg, first, end, ok := b.stretch(from, to)
	for i := first; ok && i <= end; i++ {
		list = append(list, spot{leg, i})
	}
	return list, ok
}

// endings are the events that end a release: as it names them itself, else as the contract does.
func endings(says *PointSays, listed job.Point) []string {
	if len(says.Lapses) > 0 {
		return says.Lapses
	}
	return listed.Lapses
}

// endedBy are the events that end a release: those of its kinds, where they name a stretch those that touch it, that whoever released
// did not know of. An event that may have been before it or after counts: the stretch is looked at once more.
func (b *Book) endedBy(release *entry, says *PointSays, listed job.Point) []*entry {
	var list []*entry
	kinds := endings(says, listed)
	for _, e := range standing(b.others[Event]) {
		event, ok := hear[EventSays](e)
		if ok && slices.Contains(kinds, event.What) && !later(release, e) && says.Seen[e.Device] < e.Number && b.touches(release, e) {
			list = append(list, e)
		}
	}
	return list
}

// touches tells whether the stretches of two records meet. One that names no stretch of the plan is of all of it.
func (b *Book) touches(a, c *entry) bool {
	l, f, t, ok := b.stretch(a.From, a.To)
	m, g, u, also := b.stretch(c.From, c.To)
	return !ok || !also || l == m && f <= u && g <= t
}

// over tells why the time of a release has run out: by the end that was written for it, else by the hours that the contract lets one
// run, from when it was given by its device's clock; empty: it has not. A moment without a zone is read as UTC, a day runs out at its
// end. An end that cannot be read has come: nobody can say that the release still holds.
func over(release *entry, says *PointSays, listed job.Point, now string) string {
	until := says.Until
	if until == "" && listed.Hours > 0 {
		given, err := time.Parse(time.RFC3339, release.Made)
		if err != nil {
			return fmt.Sprintf("it runs %d h, and when it was given cannot be read: %s", listed.Hours, release.Made)
		}
		until = given.Add(time.Duration(listed.Hours) * time.Hour).Format(time.RFC3339)
	}
	if until == "" {
		return ""
	}
	end, ok := moment(until)
	if !ok {
		return "when it ends cannot be read: " + until
	}
	if at, ok := moment(now); ok && end.Before(at) {
		return "it ran until " + until
	}
	return ""
}

// namedParty tells whether a release is by whom the contract names for its point: by the party that it gives, the role or the name of
// who recorded it. Where the contract names nobody, anybody's counts.
func namedParty(release *entry, says *PointSays, listed job.Point) bool {
	who := strings.ToLower(says.Party + "; " + release.Role + "; " + release.Person)
	return strings.Contains(who, strings.ToLower(listed.Release))
}

// Open tells whether somebody has to do something about a point: it is not released, and not all that waits for it was done while it was.
func (p *PointState) Open() bool { return p.Released.Is != Yes && !p.Done }

// SayPoint is how a point stands, in words: who released it and when, what ended that, and where it is open.
func (b *Book) SayPoint(p *PointState) string {
	switch {
	case p.Released.Is == Yes:
		return "released by " + b.gave(p, p.Released.By)
	case p.Released.Is == CantSay:
		return fmt.Sprintf("cannot say: released by %s; the contract has %s release it", b.gave(p, p.Released.By), b.listed(p.Point).Release)
	case len(p.Lapsed) == 0:
		return "not released"
	case p.Done:
		return fmt.Sprintf("released by %s; all that waits for it was done before that ended (%s)", b.gave(p, p.Releases), p.Why)
	}
	text := fmt.Sprintf("its release by %s has lapsed: %s", b.gave(p, p.Releases), p.Why)
	if len(p.Waits) > 0 {
		text += "; open at " + b.Stretches(p.Waits)
	}
	return text
}

// gave is who gave releases and when, with the party where that is another name.
func (b *Book) gave(p *PointState, ids []string) string {
	var said []string
	for _, id := range ids {
		e := b.records.of(id)
		says, _ := hear[PointSays](e)
		who := cmp.Or(says.Party, e.Person)
		if who != e.Person && e.Person != "" {
			who += " (" + e.Person + ")"
		}
		said = append(said, strings.TrimSpace(who+" "+minute(e.Made)))
	}
	return strings.Join(said, ", ")
}

// Stretches are places in laying order as people say them.
func (b *Book) Stretches(places []string) string {
	var out []string
	var units []int
	var names []string
	leg := -1
	told := func() {
		if len(units) > 0 {
			out = append(out, inStretches(units, names))
		}
		units, names = nil, nil
	}
	for _, p := range places {
		at, _ := b.at(p)
		if at.leg != leg {
			told()
			leg = at.leg
		}
		units, names = append(units, at.unit), append(names, p)
	}
	told()
	return strings.Join(out, ", ")
}

// minute is a moment to the minute, as people read it: 2026-11-27 09:00.
func minute(made string) string {
	if at := timeOf(made); at != "" {
		day, _, _ := strings.Cut(made, "T")
		return day + " " + at
	}
	return made
}
