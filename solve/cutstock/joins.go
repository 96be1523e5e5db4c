package cutstock

import (
	"cmp"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// joins says, for stock with given ends, what the cuts take when a set of pieces lies on one unit in the best order. It
// depends on the faces of the pieces and not on their lengths, so sets are told apart by the shapes in them alone, and
// each set is worked out once. Of pieces that are square and free at both ends a third and any further one lies beside
// another of its kind and takes one kerf more: so sets hold at most two of them.
type joins struct {
	shop  *shop
	a, b  End
	sets  []joinSet
	index map[string]setID
	plain int // the plain shape, −1: none
}

type setID int32

const (
	noSet setID = -1
	empty setID = 0
	never       = measure.Length(1) << 60
)

// joinSet is one set of shapes.
type joinSet struct {
	shapes []uint16 // rising
	open   []opening
	total  []option // all pieces and both ends of the unit
	next   []setID  // with one more of a shape; −1: not worked out
}

// option is one order of the pieces: what the cuts take, and the least that may be left over other than nothing.
type option struct{ join, spare measure.Length }

// coveredBy tells whether every length that o fits is fitted by the other too.
func (o option) coveredBy(other option) bool {
	return other.spare <= o.spare && (other.join == o.join || other.join+other.spare <= o.join)
}

// opening is the options of all orders that end in a face.
type opening struct {
	face    face
	options []option
}

func (s *shop) newJoins(a, b End) *joins {
	j := &joins{shop: s, a: a, b: b, index: map[string]setID{}, plain: slices.IndexFunc(s.shapes, s.isPlain)}
	j.add("", joinSet{})
	return j
}

func (s *shop) isPlain(sh shape) bool { return s.ends[sh[0]] == End{} && s.ends[sh[1]] == End{} }

func (j *joins) add(key string, set joinSet) setID {
	id := setID(len(j.sets))
	set.next = slices.Repeat([]setID{noSet}, len(j.shop.shapes))
	j.sets = append(j.sets, set)
	j.index[key] = id
	return id
}

// with is the set and one more piece of a shape.
func (j *joins) with(id setID, shape int) setID {
	if next := j.sets[id].next[shape]; next != noSet {
		return next
	}
	shapes := slices.Clone(j.sets[id].shapes)
	at, _ := slices.BinarySearch(shapes, uint16(shape))
	next := j.of(slices.Insert(shapes, at, uint16(shape)))
	j.sets[id].next[shape] = next
	return next
}

func (j *joins) of(shapes []uint16) setID {
	key := make([]byte, 0, 2*len(shapes))
	for _, s := range shapes {
		key = append(key, byte(s), byte(s>>8))
	}
	if id, ok := j.index[string(key)]; ok {
		return id
	}
	set := joinSet{shapes: shapes}
	for i, last := range shapes {
		if i > 0 && shapes[i-1] == last {
			continue
		}
		rest := j.of(slices.Delete(slices.Clone(shapes), i, i+1))
		for _, way := range j.shop.turned(j.shop.shapes[last]) {
			set.append(way[1], j.onto(rest, way[0]))
		}
	}
	for _, o := range set.open {
		join, spare := j.end(j.b, o.face)
		for _, option := range o.options {
			set.total = keepBest(set.total, join, spare, option)
		}
	}
	return j.add(string(key), set)
}

// onto is the options when a face is laid against an opening of a set.
func (j *joins) onto(rest setID, f face) []option {
	if rest == empty {
		join, spare := j.end(j.a, f)
		return keepBest(nil, join, spare, option{spare: never})
	}
	var out []option
	for _, o := range j.sets[rest].open {
		for _, before := range o.options {
			out = keepBest(out, j.shop.between[o.face][f], j.shop.spare[o.face][f], before)
		}
	}
	return out
}

// end is what is lost where a face lies at an end of the stock, and the least that may be left there.
func (j *joins) end(stock End, f face) (join, spare measure.Length) {
	e := j.shop.ends[f]
	if e.Cast == "" {
		return j.shop.saw.atEnd(stock.Skew, e.Skew), j.shop.saw.spare(stock.Skew, e.Skew)
	}
	if e.Cast == stock.Cast && stock.Skew == 0 {
		return 0, never
	}
	return never, never
}

func (s *joinSet) append(f face, options []option) {
	if len(options) == 0 {
		return
	}
	i := slices.IndexFunc(s.open, func(o opening) bool { return o.face == f })
	if i < 0 {
		i = len(s.open)
		s.open = append(s.open, opening{face: f})
	}
	for _, o := range options {
		s.open[i].options = keepBest(s.open[i].options, 0, never, o)
	}
}

// keepBest adds one more place to an option and keeps it unless another is at least as good.
func keepBest(list []option, join, spare measure.Length, before option) []option {
	if join == never || before.join == never {
		return list
	}
	o := option{before.join + join, min(before.spare, spare)}
	if slices.ContainsFunc(list, o.coveredBy) {
		return list
	}
	list = slices.DeleteFunc(list, func(other option) bool { return other.coveredBy(o) })
	list = append(list, o)
	sorting.By(list, func(a, b option) int { return cmp.Compare(a.join, b.join) })
	return list
}

// fits tells whether pieces of a sum of lengths, the set and some more plain ones, can be cut from a length: in some
// order of them nothing is left, or enough for the saw.
func (j *joins) fits(id setID, morePlain int, sum, length measure.Length) bool {
	rest := length - sum - measure.Length(morePlain)*j.shop.saw.kerf
	for _, o := range j.sets[id].total {
		if left := rest - o.join; left == 0 || left >= o.spare && left > 0 {
			return true
		}
	}
	return false
}

// least is what the cuts of a set take at least; never where it cannot be.
func (j *joins) least(id setID) measure.Length {
	if total := j.sets[id].total; len(total) > 0 {
		return total[0].join
	}
	if id == empty {
		return 0
	}
	return never
}
