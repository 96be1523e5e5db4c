package field

import (
	"cmp"
	"slices"

	"trenchwright/base/sorting"
)

// Doubt is what an instrument that turned out wrong has left behind: what was read with it since it was last known to be right.
type Doubt struct {
	Instrument string    `json:"instrument"`
	SetUp      string    `json:"set_up"` // only readings of this standing; empty: of all
	Checks     []Checked `json:"checks"`
	Again      []Again   `json:"again"`   // what to read again, stretch by stretch
	Before     int       `json:"before"`  // readings that are known to be older than its last good check
	Records    []string  `json:"records"` // those that are in doubt
}

// Checked is one check of an instrument.
type Checked struct {
	By     string `json:"by"`
	Person string `json:"person"`
	Made   string `json:"made"`
	Method string `json:"method"`
	Off    string `json:"off"` // by how much it was out; empty: not told
	Met    Fact   `json:"met"`
}

// Again is a stretch to read again.
type Again struct {
	Leg     string   `json:"leg"`  // empty: what is of no unit, such as shots and bends
	What    string   `json:"what"` // the kind, for levels with what they are of
	From    string   `json:"from"`
	To      string   `json:"to"`
	Places  int      `json:"places"`
	SetUps  []string `json:"set_ups"`
	Records []string `json:"records"`
}

// Doubt says what to read again when an instrument is doubted: everything that was read with it, but for what is known to be older than
// its last check that it met. Known is what its device wrote before that check, and what whoever checked it says was known to them; no
// clock is asked, and what nobody can place is read again.
func (b *Book) Doubt(instrument, setUp string) Doubt {
	d := Doubt{Instrument: instrument, SetUp: setUp}
	var good []*entry
	for _, e := range standing(b.others[Check]) {
		says, ok := hear[CheckSays](e)
		if !ok || e.Instrument == nil || e.Instrument.ID != instrument {
			continue
		}
		c := Checked{By: e.ID, Person: e.Person, Made: e.Made, Method: says.Method, Met: Fact{Is: No}}
		if says.Off != nil {
			c.Off = says.Off.String()
		}
		if says.Met != nil {
			c.Met = fact([]*entry{e}, func(*entry) bool { return *says.Met })
			if *says.Met {
				good = append(good, e)
			}
		}
		d.Checks = append(d.Checks, c)
	}
	var doubted []*entry
	for e := range b.records.all() {
		switch {
		case e.gone || e.Kind == Check || e.Instrument == nil || e.Instrument.ID != instrument || setUp != "" && e.Instrument.SetUp != setUp:
		case slices.ContainsFunc(good, func(c *entry) bool { return older(e, c) }):
			d.Before++
		default:
			doubted = append(doubted, e)
		}
	}
	slices.SortFunc(doubted, inOrder)
	for _, e := range doubted {
		d.Records = append(d.Records, e.ID)
	}
	d.Again = b.again(doubted)
	return d
}

// older tells whether a reading is known to be older than a check.
func older(e, check *entry) bool {
	if e.Device == check.Device {
		return e.Number < check.Number
	}
	says, _ := hear[CheckSays](check)
	return e.Number <= says.Seen[e.Device] || slices.Contains(check.After, e.ID)
}

// again are records by what was read and where, neighbouring places together.
func (b *Book) again(of []*entry) []Again {
	type thing struct {
		leg  int
		what string
	}
	type where struct {
		thing
		unit int
	}
	at := map[where][]*entry{}
	var list []Again
	for _, e := range of {
		what := string(e.Kind)
		if says, ok := hear[LevelSays](e); e.Kind == Level && ok {
			what += " of " + says.Of
		}
		leg, first, end, ok := b.stretch(e.From, e.To)
		if !ok {
			list = append(list, Again{What: what, From: e.From, To: e.To, Places: 1, SetUps: e.setUps(nil), Records: []string{e.ID}})
			continue
		}
		for i := first; i <= end; i++ {
			k := where{thing{leg, what}, i}
			at[k] = append(at[k], e)
		}
	}
	places := make([]where, 0, len(at))
	for k := range at {
		places = append(places, k)
	}
	sorting.By(places, func(a, b where) int { return cmp.Or(a.leg-b.leg, cmp.Compare(a.what, b.what), a.unit-b.unit) })
	for i, k := range places {
		leg := &b.run.Legs[k.leg]
		if i == 0 || places[i-1].thing != k.thing || places[i-1].unit != k.unit-1 {
			list = append(list, Again{Leg: leg.ID, What: k.what, From: leg.Units[k.unit].Place})
		}
		a := &list[len(list)-1]
		a.To = leg.Units[k.unit].Place
		a.Places++
		for _, e := range at[k] {
			a.SetUps = e.setUps(a.SetUps)
			if !slices.Contains(a.Records, e.ID) {
				a.Records = append(a.Records, e.ID)
			}
		}
	}
	return list
}

func (e *entry) setUps(list []string) []string {
	if s := e.Instrument.SetUp; s != "" && !slices.Contains(list, s) {
		list = append(list, s)
		slices.Sort(list)
	}
	return list
}
