package merge

import (
	"slices"

	"trenchwright/job"
)

// order is in which order the things that stand come, by their keys: as on the side that changed it, else as before. What
// stands on one side alone comes behind what it stood behind there.
func (m *merger) order(p path, base, one, other []string) []string {
	common := m.commonOrder(p, base, among(one, other), among(other, one))
	isCommon := set(common)
	behind := map[string][]string{} // the runs that go behind a key; "" is the beginning
	place := func(mine []string) map[string][]string {
		runs := map[string][]string{}
		last := ""
		for _, k := range mine {
			if isCommon[k] {
				last = k
			} else {
				runs[last] = append(runs[last], k)
			}
		}
		return runs
	}
	oneRuns, otherRuns := place(one), place(other)
	for _, k := range append([]string{""}, common...) {
		a, b := oneRuns[k], otherRuns[k]
		if len(a) > 0 && len(b) > 0 && b[0] < a[0] { // the same, whichever side comes first
			a, b = b, a
		}
		behind[k] = append(slices.Clone(a), b...)
	}
	merged := behind[""]
	for _, k := range common {
		merged = append(append(merged, k), behind[k]...)
	}
	return merged
}

// commonOrder is the order of what stands on both sides.
func (m *merger) commonOrder(p path, base, one, other []string) []string {
	if slices.Equal(one, other) {
		return one
	}
	at := p.into(ordered)
	why, held := m.hold[at.String()]
	was := among(base, one)
	oneKept, otherKept := slices.Equal(among(one, base), was), slices.Equal(among(other, base), was)
	switch {
	case held:
	case oneKept && otherKept: // both added the same things, at other places
		if slices.Compare(other, one) < 0 {
			return other
		}
		return one
	case oneKept:
		return other
	case otherKept:
		return one
	}
	theirs := texts(other)
	if m.clash(rawClash{at: at, was: texts(was), one: texts(one), other: theirs, why: why}) == theirs {
		return other
	}
	return one
}

// among is what of list is in other, too, in the order of list.
func among(list, other []string) []string {
	in := set(other)
	return slices.DeleteFunc(slices.Clone(list), func(k string) bool { return !in[k] })
}

func set(list []string) map[string]bool {
	in := make(map[string]bool, len(list))
	for _, k := range list {
		in[k] = true
	}
	return in
}

// texts is keys as a list of a job's tree.
func texts(list []string) *job.Value {
	v := job.Value{Kind: job.KindList}
	for _, k := range list {
		v.Items = append(v.Items, job.Value{Kind: job.KindText, Text: k})
	}
	return &v
}
