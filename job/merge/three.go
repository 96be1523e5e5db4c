package merge

import "trenchwright/job"

// merger walks over three trees at once.
type merger struct {
	take    map[string]bool   // paths where the value of other is wanted, clash or not
	hold    map[string]string // paths where what other changed must not come in, and why
	held    []path            // the same paths
	clashes []rawClash
}

// rawClash is a clash before it is put in words. A value that is nil is not there.
type rawClash struct {
	at              path
	was, one, other *job.Value
	why             string // what would be wrong with both together; empty: both changed the same thing
}

// value merges what stands at p; nil is what is not there.
func (m *merger) value(p path, base, one, other *job.Value) *job.Value {
	if same(one, other) || same(base, other) {
		return one
	}
	if why, held := m.hold[p.String()]; held {
		return m.clash(rawClash{at: p, was: base, one: one, other: other, why: why})
	}
	untouched := same(base, one)
	switch {
	case untouched && !m.heldBelow(p):
		return other
	case len(p) == 1 && p[0] == "revision":
		return nil
	case one == nil || other == nil, base == nil && len(p) > 0 && p.isItem():
	case p.isWhole():
	case isGroup(one) && isGroup(other) && (base == nil || isGroup(base)):
		return m.group(p, base, one, other)
	case isList(one) && isList(other) && (base == nil || isList(base)):
		if key := sharedKey(base, one, other); key != "" {
			return m.list(p, key, base, one, other)
		}
	}
	if untouched {
		return other
	}
	return m.clash(rawClash{at: p, was: base, one: one, other: other})
}

// heldBelow tells whether something below p must not come in.
func (m *merger) heldBelow(p path) bool {
	for _, q := range m.held {
		if len(q) > len(p) && p.touches(q) {
			return true
		}
	}
	return false
}

// clash is the value that stands where both sides want another.
func (m *merger) clash(c rawClash) *job.Value {
	if m.take[c.at.String()] {
		return c.other
	}
	m.clashes = append(m.clashes, c)
	return c.one
}

// group merges field by field. A group that nobody wrote is one without fields.
func (m *merger) group(p path, base, one, other *job.Value) *job.Value {
	merged := job.Value{Kind: job.KindMap}
	field := func(name string) {
		v := m.value(p.into(name), get(base, name), get(one, name), get(other, name))
		if v != nil {
			merged.Fields = append(merged.Fields, job.Field{Name: name, Value: *v})
		}
	}
	for _, f := range one.Fields {
		field(f.Name)
	}
	for _, f := range other.Fields {
		if get(one, f.Name) == nil {
			field(f.Name)
		}
	}
	return &merged
}
