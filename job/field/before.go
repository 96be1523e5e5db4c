package field

import "fmt"

// Before are the records of the same thing that are known here: what a new record of this kind at these places comes after. At every
// place, and of every thing there that records of this kind are about, they are the last ones: one of another place or another thing
// does not stand for them, even where its device wrote it later.
func (b *Book) Before(kind Kind, from, to string) []string {
	var ids ids
	switch {
	case kind == Angle:
		ids.last(b.angles[from])
	case kind == Service || kind == TrialHole:
		ids.lastOfEach(b.others[Service])
	case kind == Shot || kind == Entry:
		var of []*entry
		for _, e := range b.others[kind] {
			if e.From == from {
				of = append(of, e)
			}
		}
		ids.lastOfEach(of)
	case atPlaces(kind) >= 0 && from != "":
		leg, first, end, ok := b.stretch(from, to)
		if !ok {
			return nil
		}
		for i := first; i <= end; i++ {
			of := b.legs[leg].piles[i].of(kind)
			if kind != Cover {
				ids.lastOfEach(of)
				continue
			}
			for c := range b.run.Legs[leg].Units[i].Covers {
				var about []*entry
				for _, e := range of {
					if e.means(spot{leg, i}, c) {
						about = append(about, e)
					}
				}
				ids.last(about)
			}
		}
	}
	return ids.list
}

// BeforePoint are the records of a hold or witness point of one stretch that are known here.
func (b *Book) BeforePoint(point, from, to string) []string {
	var of []*entry
	for _, e := range b.points[point] {
		if e.From == from && e.To == to {
			of = append(of, e)
		}
	}
	var ids ids
	ids.last(of)
	return ids.list
}

// ids are those of records, each once, in the order in which they were found.
type ids struct {
	list  []string
	known map[string]bool
}

func (s *ids) last(of []*entry) {
	for _, e := range last(standing(of)) {
		if !s.known[e.ID] {
			if s.known == nil {
				s.known = map[string]bool{}
			}
			s.known[e.ID] = true
			s.list = append(s.list, e.ID)
		}
	}
}

// lastOfEach are the last records of each thing that records of one kind are about.
func (s *ids) lastOfEach(of []*entry) {
	var order []string
	things := map[string][]*entry{}
	for _, e := range of {
		t := thing(e)
		if things[t] == nil {
			order = append(order, t)
		}
		things[t] = append(things[t], e)
	}
	for _, t := range order {
		s.last(things[t])
	}
}

// thing is what a record is about, besides its place and kind.
func thing(e *entry) string {
	switch e.Kind {
	case Level:
		says, _ := hear[LevelSays](e)
		return says.Of
	case Layer:
		says, _ := hear[LayerSays](e)
		return fmt.Sprint(says.Number, says.Side)
	case LayerTest:
		says, _ := hear[TestSays](e)
		return fmt.Sprint(says.Number, says.Side)
	case Service, TrialHole:
		says, _ := hear[ServiceSays](e)
		return says.Leg + "/" + says.Name
	case Shot:
		says, _ := hear[ShotSays](e)
		return says.Of
	}
	return ""
}
