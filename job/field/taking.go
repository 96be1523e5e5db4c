package field

import (
	"slices"
	"sync"
)

// How a book takes in what came. A million records come at once where a job is opened, and they are far more than what a processor keeps
// at hand: all processors go through them once, heap by heap, and sort out what is needed to file them; then every leg is filed by itself.

// atOnce is how many records one goroutine goes through, where many came; atHand is how many of them at a time: loop by loop, so that
// what one record waits for is looked up for the next ones meanwhile, and what a loop leaves is at hand in the next.
const (
	atOnce = 2000
	atHand = 200
)

// heap are some of the records that came, sorted by where they are filed.
type heap struct {
	ids      []slot    // all of them
	legs     [][]lying // by leg, where there are many: those that lie on its piles and are filed nowhere else
	rest     []*entry  // the others
	corrects []*entry  // those that correct one
}

// lying is a record on the piles of a leg, from one unit to another.
type lying struct {
	e           *entry
	first, last int32
	kind        int32 // as ofPlaces has them
}

// each goes through what is filed of a heap.
func (h *heap) each(do func(*entry)) {
	for _, leg := range h.legs {
		for i := range leg {
			do(leg[i].e)
		}
	}
	for _, e := range h.rest {
		do(e)
	}
}

// leave has records of a heap not be filed: others of their ids stand.
func (h *heap) leave() {
	for l := range h.legs {
		h.legs[l] = slices.DeleteFunc(h.legs[l], func(on lying) bool { return on.e.again })
	}
	again := func(e *entry) bool { return e.again }
	h.rest, h.corrects = slices.DeleteFunc(h.rest, again), slices.DeleteFunc(h.corrects, again)
}

// device is one that records came from: its name, kept once, and the greatest number of its records.
type device struct {
	name string
	seen int
	rank int // among the devices by name, from 0
}

// known is the device of a name.
func (b *Book) known(name string) *device {
	d := b.devices[name]
	if d == nil {
		d = &device{name: name}
		b.devices[name] = d
		for rank, name := range named(b.devices) {
			b.devices[name].rank = rank
		}
	}
	return d
}

// heaps makes entries of records, and looks at those that are not here already.
func (b *Book) heaps(records []Record) []heap {
	var of sync.Mutex // the devices of the book
	if len(records) <= atOnce {
		return []heap{b.heap(records, 0, &of)}
	}
	heaps := make([]heap, (len(records)+atOnce-1)/atOnce)
	var wait sync.WaitGroup
	for i := range heaps {
		some := records[i*atOnce : min((i+1)*atOnce, len(records))]
		wait.Go(func() { heaps[i] = b.heap(some, len(b.legs), &of) })
	}
	wait.Wait()
	return heaps
}

// heap makes entries of some records, and sorts those out that lie on the piles of so many legs alone.
func (b *Book) heap(records []Record, legs int, devices *sync.Mutex) heap {
	h := heap{ids: make([]slot, 0, len(records)), legs: make([][]lying, legs)}
	if legs == 0 {
		h.rest = make([]*entry, 0, len(records))
	}
	for l := range h.legs {
		h.legs[l] = make([]lying, 0, len(records)/legs)
	}
	entries := make([]entry, len(records))
	var hashes []uint64
	by := senders{}
	var ears listener
	for some := range slices.Chunk(entries, atHand) {
		for i := range some {
			e, n := &some[i], len(records[i].After)
			if n > len(hashes) {
				hashes = make([]uint64, max(n, min(1024, len(records))))
			}
			e.enter(&records[i], hashes[:n:n])
			hashes = hashes[n:]
			h.ids = append(h.ids, slot{e.hash, e})
		}
		records = records[len(some):]
		for i := range some {
			e := &some[i]
			if e.again = b.records.has(e); !e.again {
				b.place(e)
			}
			by.count(b, e, devices)
		}
		for i := range some {
			if e := &some[i]; !e.again {
				ears.listen(e, len(entries))
				h.add(b, e)
			}
		}
	}
	devices.Lock()
	defer devices.Unlock()
	for _, c := range by {
		c.seen = max(c.seen, c.most)
	}
	return h
}

// senders are devices with the greatest number of their records in a heap.
type senders map[string]*struct {
	*device
	most int
}

// count has a record know its device.
func (by senders) count(b *Book, e *entry, devices *sync.Mutex) {
	c := by[e.Device]
	if c == nil {
		devices.Lock()
		c = &struct {
			*device
			most int
		}{b.known(e.Device), 0}
		devices.Unlock()
		by[c.name] = c
	}
	e.device, c.most = c.device, max(c.most, e.Number)
}

// add sorts a record in by where it is filed.
func (h *heap) add(b *Book, e *entry) {
	e.astray = e.Kind == Set && len(b.elsewhereOff(e)) > 0
	if e.Corrects != "" {
		h.corrects = append(h.corrects, e)
	}
	if kind := atPlaces(e.Kind); len(h.legs) > 0 && kind >= 0 && e.placed && !e.other && !e.astray && e.Instrument == nil && e.Kind != Cut && e.Kind != Damage {
		h.legs[e.from.leg] = append(h.legs[e.from.leg], lying{e, int32(min(e.from.unit, e.to.unit)), int32(max(e.from.unit, e.to.unit)), int32(kind)})
		return
	}
	h.rest = append(h.rest, e)
}

// place finds the places of a record.
func (b *Book) place(e *entry) {
	e.from, e.to, e.placed = b.marks(e.From, e.To)
	e.other = e.placed && !e.alone && e.Places != "" && e.Places != b.lists[e.from.leg]
}

// own has the records stand for their ids that are new here, and hands out the others.
func (b *Book) own(heaps []heap, n int) (again []*entry) {
	b.records.room(n)
	for h := range heaps {
		for _, s := range heaps[h].ids {
			if !b.records.put(s) {
				s.e.again = true
				again = append(again, s.e)
			}
		}
	}
	b.version += n - len(again)
	if len(again) > 0 {
		for h := range heaps {
			heaps[h].leave()
		}
	}
	return again
}

// take files records that are here now.
func (b *Book) take(heaps ...heap) {
	if len(b.gone) > 0 { // corrections that came before what they correct
		for h := range heaps {
			heaps[h].each(func(e *entry) {
				if len(b.gone[e.hash]) == 0 {
					return
				}
				b.worked.amiss.fresh = false
				e.gone = b.corrected(e)
				b.begins(e, longestChain)
			})
		}
	}
	b.pile(heaps)
	for h := range heaps {
		for _, e := range heaps[h].rest {
			b.file(e, put)
		}
	}
	for h := range heaps {
		for _, e := range heaps[h].corrects {
			into(b.gone, hashOf(e.Corrects), e, put)
		}
	}
	for h := range heaps {
		for _, e := range heaps[h].corrects {
			b.regard(e.Corrects)
		}
	}
}

// pile files the records that lie on piles and nowhere else, as toPlaces does one by one: leg by leg, for no record lies on two.
func (b *Book) pile(heaps []heap) {
	if len(heaps[0].legs) == 0 {
		return
	}
	if b.asks != nil {
		b.worked.points.fresh = false
	}
	var wait sync.WaitGroup
	for l := range b.legs {
		wait.Go(func() { b.legs[l].pile(heaps, l, b.version) })
	}
	wait.Wait()
}

// pile files the records of heaps that lie on one leg. Its lists are as long as they come to be from the start.
func (s *shelf) pile(heaps []heap, leg, version int) {
	more := make([][len(ofPlaces)]int32, len(s.piles))
	for h := range heaps {
		for _, on := range heaps[h].legs[leg] {
			for i := on.first; i <= on.last; i++ {
				more[i][on.kind]++
			}
		}
	}
	for i := range more {
		for kind, n := range more[i] {
			if n > 0 {
				s.piles[i].kinds[kind] = slices.Grow(s.piles[i].kinds[kind], int(n))
				s.touch(i, version)
			}
		}
	}
	for h := range heaps {
		for _, on := range heaps[h].legs[leg] {
			for i := on.first; i <= on.last; i++ {
				put(&s.piles[i].kinds[on.kind], on.e)
			}
		}
	}
}
