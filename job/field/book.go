package field

import (
	"encoding/json"
	"slices"

	"trenchwright/base/sorting"
)

// Book holds the records of one job against one issued plan, and says what they come to. Records are added as they arrive, in any
// order and as often as they like; what they touch is worked out again when somebody asks.
type Book struct {
	index
	records map[string]*Record
	gone    map[string][]*Record // by the id of a record: what corrects it
	places  [][]pile             // by leg and unit
	yard    map[Piece]*stack
	nodes   map[string][]*Record // angles and shots by place
	found   []*Record            // services and trial holes
	points  map[string][]*Record // inspections, notices, releases by point
	matters map[string][]*Record // by number of the nonconformance
	events  []*Record
	odd     []*Record // of a kind or at a place that is not known here
	double  map[string]bool
	diary   int // records that are words alone
}

// pile are the records of one unit's place, by what they are about. A record of a stretch lies on the pile of each of its units.
type pile struct {
	set, gap, level, rock, layer, test, cover, coverTest, fabric, area, part, bond, damage []*Record
	cut                                                                                    []*Record
	known                                                                                  *UnitState // what they come to; nil: to be worked out
}

// NewBook is an empty book over the places of a plan.
func NewBook(run *Run) *Book {
	b := &Book{index: indexed(run), records: map[string]*Record{}, gone: map[string][]*Record{}, yard: map[Piece]*stack{},
		nodes: map[string][]*Record{}, points: map[string][]*Record{}, matters: map[string][]*Record{}, double: map[string]bool{}}
	b.places = make([][]pile, len(run.Legs))
	for i, l := range run.Legs {
		b.places[i] = make([]pile, len(l.Units))
	}
	return b
}

// Add takes records in. One that is here already is the same one. Two different ones of one id cannot be: that is said, and
// everywhere the same of the two stands, whichever came first.
func (b *Book) Add(records ...Record) {
	for i := range records {
		r := records[i]
		if old, here := b.records[r.ID]; here {
			if x, y := written(*old), written(r); x != y {
				b.double[r.ID] = true
				if y < x {
					b.instead(r)
				}
			}
			continue
		}
		b.records[r.ID] = &r
		if r.Corrects != "" {
			b.gone[r.Corrects] = append(b.gone[r.Corrects], &r)
			if old, here := b.records[r.Corrects]; here {
				b.touch(old)
			}
		}
		b.file(&r)
	}
}

// written is a record as text, without what the server adds to it.
func written(r Record) string {
	r.Seq = 0
	b, err := json.Marshal(r)
	if err != nil {
		return r.ID // a record that was read can be written
	}
	return string(b)
}

// instead files everything anew with another record under an id.
func (b *Book) instead(r Record) {
	all, double := b.All(), b.double
	*b = *NewBook(b.run)
	for _, old := range all {
		if old.ID == r.ID {
			old = r
		}
		b.Add(old)
	}
	b.double = double
}

// Len is how many records there are.
func (b *Book) Len() int { return len(b.records) }

// Record is one record by its id.
func (b *Book) Record(id string) (Record, bool) {
	r, ok := b.records[id]
	if !ok {
		return Record{}, false
	}
	return *r, true
}

// All are the records in the order that every device has them in.
func (b *Book) All() []Record {
	list := make([]*Record, 0, len(b.records))
	for _, r := range b.records {
		list = append(list, r)
	}
	slices.SortFunc(list, inOrder)
	all := make([]Record, len(list))
	for i, r := range list {
		all[i] = *r
	}
	return all
}

// file puts a record where its kind belongs.
func (b *Book) file(r *Record) {
	switch r.Kind {
	case Delivery, Count:
		b.toYard(r)
	case Damage:
		if r.From == "" {
			b.toYard(r)
		} else {
			b.toPlaces(r)
		}
	case Service, TrialHole:
		b.found = append(b.found, r)
	case Angle, Shot, Entry:
		b.nodes[r.From] = append(b.nodes[r.From], r)
	case Inspection, Notice, Release:
		if p, ok := heard[PointSays](*r); ok && p.Point != "" {
			b.points[p.Point] = append(b.points[p.Point], r)
		} else {
			b.odd = append(b.odd, r)
		}
	case Event:
		b.events = append(b.events, r)
	case Nonconforming, Repair:
		if m, ok := heard[MatterSays](*r); ok && m.Number != "" {
			b.matters[m.Number] = append(b.matters[m.Number], r)
		} else {
			b.odd = append(b.odd, r)
		}
	case Diary, Note:
		b.diary++
	default:
		b.toPlaces(r)
		if r.Kind == Cut {
			b.toYard(r)
		}
	}
}

// toPlaces puts a record on the piles of its places.
func (b *Book) toPlaces(r *Record) {
	leg, first, last, ok := b.stretch(r.From, r.To)
	list := pileOf(r.Kind)
	if !ok || list == nil {
		b.odd = append(b.odd, r)
		return
	}
	for i := first; i <= last; i++ {
		p := &b.places[leg][i]
		l := list(p)
		*l = append(*l, r)
		p.known = nil
	}
}

// touch has the places of a record worked out again.
func (b *Book) touch(r *Record) {
	if leg, first, last, ok := b.stretch(r.From, r.To); ok {
		for i := first; i <= last; i++ {
			b.places[leg][i].known = nil
		}
	}
}

// pileOf is the list on a pile that records of a kind lie in; nil: such records are not about places.
func pileOf(k Kind) func(*pile) *[]*Record {
	switch k {
	case Set:
		return func(p *pile) *[]*Record { return &p.set }
	case Gap:
		return func(p *pile) *[]*Record { return &p.gap }
	case Level:
		return func(p *pile) *[]*Record { return &p.level }
	case Rock:
		return func(p *pile) *[]*Record { return &p.rock }
	case Layer:
		return func(p *pile) *[]*Record { return &p.layer }
	case LayerTest:
		return func(p *pile) *[]*Record { return &p.test }
	case Cover:
		return func(p *pile) *[]*Record { return &p.cover }
	case CoverTest:
		return func(p *pile) *[]*Record { return &p.coverTest }
	case Fabric:
		return func(p *pile) *[]*Record { return &p.fabric }
	case Area:
		return func(p *pile) *[]*Record { return &p.area }
	case Part:
		return func(p *pile) *[]*Record { return &p.part }
	case Bond:
		return func(p *pile) *[]*Record { return &p.bond }
	case Damage:
		return func(p *pile) *[]*Record { return &p.damage }
	case Cut:
		return func(p *pile) *[]*Record { return &p.cut }
	}
	return nil
}

// Before are the records of the same thing that are known here: what a new record of this kind at these places comes after.
func (b *Book) Before(kind Kind, from, to string) []string {
	var of []*Record
	switch {
	case kind == Angle || kind == Shot || kind == Entry:
		of = b.nodes[from]
	case kind == Service || kind == TrialHole:
		of = b.found
	case pileOf(kind) != nil && from != "":
		leg, first, end, ok := b.stretch(from, to)
		if !ok {
			return nil
		}
		for i := first; i <= end; i++ {
			for _, r := range *pileOf(kind)(&b.places[leg][i]) {
				if !slices.Contains(of, r) {
					of = append(of, r)
				}
			}
		}
	}
	var ids []string
	for _, r := range last(b.standing(of)) {
		ids = append(ids, r.ID)
	}
	return ids
}

// Seen is how far the records of each device are known here.
func (b *Book) Seen() map[string]int {
	seen := map[string]int{}
	for _, r := range b.records {
		seen[r.Device] = max(seen[r.Device], r.Number)
	}
	return seen
}

// standing are the records of a list that nothing corrects, each once, in the order that every device has them in. A correction
// that names a record of a list it does not belong to takes it away all the same.
func (b *Book) standing(of []*Record) []*Record {
	var list []*Record
	for _, r := range of {
		if !b.corrected(r) {
			list = append(list, r)
		}
	}
	sorting.By(list, inOrder)
	return list
}

// corrected tells whether another record took a record's place. A record that corrects itself, or two that correct each other, take
// nothing away.
func (b *Book) corrected(r *Record) bool {
	for _, c := range b.gone[r.ID] {
		if c != r && !(r.Corrects == c.ID) {
			return true
		}
	}
	return false
}
