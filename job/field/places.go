package field

// places finds marks by the names of places. A million records name a place each, and more: so a name of up to 16 letters, as those of
// a plan are, stands in the table itself, and one look does.
type places struct {
	slots []named16       // a power of two of them, at most two thirds of them taken
	long  map[string]mark // under longer names
}

// named16 is a mark under its name.
type named16 struct {
	short
	leg, unit, cover int32
}

// short is a name of up to 16 letters; the zero value is none.
type short struct {
	head, tail uint64 // its first eight letters and its last eight, which may be the same ones; all are in head where there are fewer
	size       int32  // one more than it has letters
}

// placesFor has room for so many.
func placesFor(n int) places {
	size := 16
	for 2*size < 3*n {
		size *= 2
	}
	return places{make([]named16, size), map[string]mark{}}
}

func shortOf(name string) (short, bool) {
	s := short{size: int32(len(name) + 1)}
	switch n := len(name); {
	case n > 16:
		return short{}, false
	case n >= 8:
		s.head, s.tail = eight(name), eight(name[n-8:])
	default:
		for i := range n {
			s.head |= uint64(name[i]) << (8 * i)
		}
	}
	return s, true
}

// eight are the first eight letters of a text as a number.
func eight(s string) uint64 {
	_ = s[7]
	return uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 | uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56
}

// at is where a name is, or where it belongs.
func (p *places) at(name short) *named16 {
	const odd = 0x9e3779b97f4a7c15
	h := name.head * odd
	h = (h ^ h>>32 ^ name.tail) * odd
	last := uint64(len(p.slots) - 1)
	for i := (h ^ h>>32) & last; ; i = (i + 1) & last {
		if s := &p.slots[i]; s.size == 0 || s.short == name {
			return s
		}
	}
}

// put has a mark be under a name, in place of another that was.
func (p *places) put(name string, m mark) {
	if s, ok := shortOf(name); ok {
		*p.at(s) = named16{s, int32(m.leg), int32(m.unit), int32(m.cover)}
		return
	}
	p.long[name] = m
}

// of is the mark of a name; the zero value where there is none.
func (p *places) of(name string) (m mark, ok bool) {
	short, ok := shortOf(name)
	if !ok {
		m, ok = p.long[name]
		return m, ok
	}
	s := p.at(short)
	return mark{spot{int(s.leg), int(s.unit)}, int(s.cover)}, s.size > 0
}
