package field

import (
	"bytes"
	"encoding/json"
	"slices"
	"sync"

	"trenchwright/base/finding"
)

// Book holds the records of one job against one issued plan, and says what they come to. Records are added as they arrive, in any
// order and as often as they like. What they touch is worked out again when somebody asks, and nothing else is: one more record in a
// book of a million costs what its own places cost. A Book is for one goroutine at a time; what it hands out may be kept and read
// anywhere, and never changes.
type Book struct {
	index
	records   byID
	gone      map[uint64][]*entry // by the short number of a record's id: what corrects it
	double    map[string]bool     // ids that two different records have
	devices   map[string]*device
	legs      []shelf
	yard      yard
	matters   map[string][]*entry // by number of the nonconformance
	points    map[string][]*entry // inspections, notices, releases by point
	angles    map[string][]*entry // by node
	others    map[Kind][]*entry   // records that stand for themselves, by kind
	ranOut    []*entry            // read with an instrument whose calibration had run out
	unended   map[string][]*entry // read with one of which nobody said when that ends, by instrument
	elsewhere []*entry            // of stretches that had other places when they were written
	astray    []*entry            // units that were set, with an end off that is not among them
	odd       []*entry            // of a kind or at a place that is not known here
	asks      *Contract           // nil: nobody said what the job asks
	worked    worked
	version   int
}

// worked is what was worked out and is told again until a record changes it.
type worked struct {
	services kept[[]ServiceState]
	angles   kept[[]AngleState]
	matters  kept[[]MatterState]
	entries  kept[[]EntryState]
	shots    kept[[]ShotState]
	goods    kept[[]GoodsState]
	odd      kept[finding.List]
	others   kept[finding.List]
	amiss    kept[finding.List]
	ranOut   kept[[]RanOut]
	unended  kept[[]string]
	points   kept[[]PointState]
	moment   string                // that the points were worked out for
	units    map[spot]finding.List // what is odd about units
}

// kept is an answer that holds until it is stirred.
type kept[T any] struct {
	fresh bool
	is    T
}

func (k *kept[T]) get(make func() T) T {
	if !k.fresh {
		k.is, k.fresh = make(), true
	}
	return k.is
}

// NewBook is an empty book over the places of a plan.
func NewBook(run *Run) *Book {
	b := &Book{index: indexed(run), gone: map[uint64][]*entry{}, double: map[string]bool{}, devices: map[string]*device{},
		points: map[string][]*entry{}, matters: map[string][]*entry{}, angles: map[string][]*entry{}, others: map[Kind][]*entry{}, unended: map[string][]*entry{}}
	b.worked.units = map[spot]finding.List{}
	b.yard.stacks = map[Piece]*stack{}
	b.legs = make([]shelf, len(run.Legs))
	for i := range run.Legs {
		b.legs[i] = b.shelf(i)
	}
	return b
}

// Under has a book know what its job asks: who has to release a point, what ends that, and what waits for it.
func (b *Book) Under(c *Contract) *Book {
	b.asks, b.worked.points.fresh = c, false
	return b
}

// Add takes records in. One that is here already is the same one; where it comes with its number at the server now, it has that from
// then on, and of two numbers the lesser. Two different ones of one id cannot be: that is said, and
// everywhere the same of the two stands, whichever came first. The book keeps the records that it is given: they are not changed after.
func (b *Book) Add(records ...Record) {
	heaps := b.heaps(records)
	again := b.own(heaps, len(records))
	b.take(heaps...)
	for _, e := range again {
		old := b.records.of(e.ID)
		if alike(old.Record, e.Record) {
			old.numbered(e.Seq)
			continue
		}
		x, y := written(*old.Record), written(*e.Record)
		if x == y {
			old.numbered(e.Seq)
			continue
		}
		b.double[e.ID] = true
		if y < x {
			b.leave(old)
			b.records.replace(e)
			e.again = false
			b.place(e)
			h := heap{}
			h.add(b, e)
			b.version++
			b.take(h)
		}
	}
}

// alike tells quickly that two records are the same; where it says no, they may be so written differently.
func alike(a, b *Record) bool {
	return a.Device == b.Device && a.Number == b.Number && a.Kind == b.Kind && a.From == b.From && a.To == b.To && a.Job == b.Job &&
		a.Person == b.Person && a.Role == b.Role && a.Made == b.Made && a.Corrects == b.Corrects && a.Rule == b.Rule && a.Text == b.Text &&
		bytes.Equal(a.Says, b.Says) && slices.Equal(a.After, b.After) && slices.Equal(a.Photos, b.Photos) && same(a.Fix, b.Fix) && same(a.Instrument, b.Instrument) && a.Planned.same(b.Planned)
}

func (t *Then) same(o *Then) bool {
	return t == o || t != nil && o != nil && same(t.Gap, o.Gap) && slices.Equal(t.Four, o.Four)
}

func same[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// written is a record as text, without what the server says of it.
func written(r Record) string {
	b, err := json.Marshal(r)
	if err != nil {
		return r.ID // a record that was read can be written
	}
	return string(b)
}

// begins has what a record's corrections touch worked out anew, where they came before it: what they tell of was there since it was
// written (origin).
func (b *Book) begins(e *entry, deep int) {
	if deep == 0 {
		return
	}
	for _, c := range b.gone[e.hash] {
		if c.Corrects == e.ID && c != e {
			b.file(c, stir)
			b.begins(c, deep-1)
		}
	}
}

// leave takes a record out of everything that it was filed in.
func (b *Book) leave(e *entry) {
	b.file(e, drop)
	if e.Corrects != "" {
		into(b.gone, hashOf(e.Corrects), e, drop)
		b.regard(e.Corrects)
	}
}

// regard looks again whether a record still stands, and has what it touches worked out anew where that changed.
func (b *Book) regard(id string) {
	b.worked.amiss.fresh = false
	if e := b.records.of(id); e != nil {
		if was := e.gone; b.corrected(e) != was {
			e.gone = !was
			b.file(e, stir)
		}
	}
}

// corrected tells whether another record took a record's place. A record that corrects itself, or two that correct each other, take
// nothing away, and neither does one of another kind or of places elsewhere (mends).
func (b *Book) corrected(e *entry) bool { return b.correction(e) != nil }

// correction is the record that took another's place, of several the first in the order of All; nil: none did.
func (b *Book) correction(e *entry) *entry {
	var by *entry
	for _, c := range b.gone[e.hash] {
		if c.Corrects == e.ID && c != e && e.Corrects != c.ID && b.mends(c, e) == "" && (by == nil || inOrder(c, by) < 0) {
			by = c
		}
	}
	return by
}

// mends tells why a record does not take the place of the one that it says it corrects: it is of another kind, or of other places.
// Empty: it does take it.
func (b *Book) mends(c, old *entry) string {
	looked := func(k Kind) bool { return k == Service || k == TrialHole }
	named := func(e *entry) bool { return e.Kind == Angle || e.Kind == Entry || e.Kind == Shot } // by the name of their place alone
	switch {
	case c.Kind != old.Kind && !(looked(c.Kind) && looked(old.Kind)):
		return "of another kind"
	case c.placed && old.placed && !b.touches(c, old), named(c) && c.From != "" && old.From != "" && c.From != old.From:
		return "of another place"
	}
	return ""
}

// amiss are corrections that take no record's place: of another kind, of other places, or of an id that no record here has. The record
// that they name stands as it did.
func (b *Book) amiss() (list finding.List) {
	var those []*entry
	for _, of := range b.gone {
		for _, c := range of {
			if !c.gone {
				those = append(those, c)
			}
		}
	}
	slices.SortFunc(those, inOrder)
	said := make([]finding.List, (len(those)+many-1)/many)
	var wait sync.WaitGroup
	for i := range said {
		wait.Go(func() {
			for _, c := range those[i*many : min((i+1)*many, len(those))] {
				if f, ok := b.amissAt(c); ok {
					said[i] = append(said[i], f)
				}
			}
		})
	}
	wait.Wait()
	return slices.Concat(said...)
}

// amissAt says of one correction that it takes no record's place; false: it takes one.
func (b *Book) amissAt(c *entry) (f finding.Finding, ok bool) {
	old, why := b.records.of(c.Corrects), ""
	if old != nil {
		if why = b.mends(c, old); old == c || why == "" {
			return f, false
		}
	}
	f = finding.Finding{ID: "field.corrects-another", Kind: finding.Attention, Where: finding.Where{Place: c.From},
		Try: "If the earlier one is wrong, record that thing once more at its own place, naming it."}
	if f.Text = "Record " + c.ID + b.ofWhom(c) + " says that it takes the place of " + c.Corrects; old != nil {
		f.Text += b.ofWhom(old) + ", and is " + why + ": both stand."
		return f, true
	}
	f.ID = "field.corrects-unknown"
	f.Text += ", and no record here has that id."
	f.Try = "Send what other devices still keep; if it is nowhere, look at the id."
	return f, true
}

// ofWhom is in brackets what a record is about, by whom it is and when it was made.
func (b *Book) ofWhom(e *entry) string {
	return " (" + string(e.Kind) + b.stretchWords(e.From, e.To) + ", by " + e.Person + ", " + e.Made + ")"
}

// Correction is the record that took the place of the one with this id.
func (b *Book) Correction(id string) (Record, bool) {
	if e := b.records.of(id); e != nil {
		if c := b.correction(e); c != nil {
			return *c.Record, true
		}
	}
	return Record{}, false
}

// put, drop and stir are what filing does with a record and a list that it belongs in.
func put(list *[]*entry, e *entry) {
	if *list == nil {
		*list = make([]*entry, 0, 4)
	}
	*list = append(*list, e)
}

func drop(list *[]*entry, e *entry) {
	if i := slices.Index(*list, e); i >= 0 {
		*list = slices.Concat((*list)[:i], (*list)[i+1:])
	}
}

func stir(*[]*entry, *entry) {}

// filing does something with a record and one list that it belongs in.
type filing func(list *[]*entry, e *entry)

// file goes through the lists that a record belongs in by its kind, and has what depends on them worked out again.
func (b *Book) file(e *entry, do filing) {
	b.toCalibration(e, do)
	switch e.Kind {
	case Delivery, Count:
		b.toYard(e, do)
	case Damage:
		if e.From == "" {
			b.toYard(e, do)
		} else {
			b.toPlaces(e, do)
		}
	case Inspection, Notice, Release:
		if p, ok := hear[PointSays](e); ok && p.Point != "" {
			b.worked.points.fresh = false
			into(b.points, p.Point, e, do)
		} else {
			b.toOdd(e, do)
		}
	case Nonconforming, Repair:
		if m, ok := hear[MatterSays](e); ok && m.Number != "" {
			b.worked.matters.fresh = false
			into(b.matters, m.Number, e, do)
		} else {
			b.toOdd(e, do)
		}
	case Angle:
		b.worked.angles.fresh = false
		into(b.angles, e.From, e, do)
	case Service, TrialHole:
		b.worked.services.fresh = false
		into(b.others, Service, e, do)
	case Event:
		b.worked.points.fresh = false
		into(b.others, Event, e, do)
	case Shot:
		b.worked.shots.fresh = false
		into(b.others, Shot, e, do)
	case Entry:
		b.worked.entries.fresh = false
		into(b.others, Entry, e, do)
	case Diary, Note, SetUp, Check:
		into(b.others, e.Kind, e, do)
	case Photo, Voice:
		if e.placed {
			b.toPlaces(e, do)
		} else {
			into(b.others, e.Kind, e, do)
		}
	case Cut:
		b.toPlaces(e, do)
		b.toYard(e, do)
	case Set:
		b.toPlaces(e, do)
		if e.astray {
			do(&b.astray, e)
		}
	default:
		b.toPlaces(e, do)
	}
}

func (b *Book) toOdd(e *entry, do filing) {
	b.worked.odd.fresh = false
	do(&b.odd, e)
}

// into is filing in one list of a table.
func into[K comparable](table map[K][]*entry, key K, e *entry, do filing) {
	list := table[key]
	do(&list, e)
	if len(list) == 0 {
		delete(table, key)
		return
	}
	table[key] = list
}

// Len is how many records there are.
func (b *Book) Len() int { return b.records.n }

// Record is one record by its id.
func (b *Book) Record(id string) (Record, bool) {
	e := b.records.of(id)
	if e == nil {
		return Record{}, false
	}
	return *e.Record, true
}

// All are the records in the order that every device has them in.
func (b *Book) All() []Record { return b.those(func(*entry) bool { return true }) }

// Standing are those of some kinds whose place no other record took.
func (b *Book) Standing(kinds ...Kind) []Record {
	return b.those(func(e *entry) bool { return !e.gone && slices.Contains(kinds, e.Kind) })
}

func (b *Book) those(wanted func(*entry) bool) []Record {
	list := make([]*entry, 0, b.records.n)
	for e := range b.records.all() {
		if wanted(e) {
			list = append(list, e)
		}
	}
	slices.SortFunc(list, inOrder)
	out := make([]Record, len(list))
	for i, e := range list {
		out[i] = *e.Record
	}
	return out
}

// Seen is how far the records of each device are known here.
func (b *Book) Seen() map[string]int {
	seen := make(map[string]int, len(b.devices))
	for name, d := range b.devices {
		seen[name] = d.seen
	}
	return seen
}
