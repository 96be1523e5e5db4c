package programme

import (
	"cmp"
	"math"
	"sort"

	"trenchwright/base/sorting"
)

// never is a moment that does not come.
const never = int64(1) << 50

// Weekly is the working week of a gang.
type Weekly struct {
	Shifts [7][]Span // by day, Monday first: within the day, from midnight on; a night shift may end behind 24 h
	Off    []Span    // nobody works then
}

// Between are the hours that are worked from one moment up to another.
func (w Weekly) Between(from, to Moment) []Span {
	var all []Span
	first := from - mod(from, Day)
	for day := first - Day; day < to; day += Day {
		// 1 January 1970 was a Thursday: day 3 of a week that begins on Monday.
		for _, s := range w.Shifts[mod(day/Day+3, 7)] {
			all = append(all, Span{max(day+s.From, from), min(day+s.To, to)})
		}
	}
	return without(joined(all), joined(w.Off))
}

func mod(a, b Moment) Moment { return ((a % b) + b) % b }

// joined are spans in order, those that touch made one, empty ones left out.
func joined(spans []Span) []Span {
	all := append([]Span(nil), spans...)
	sorting.By(all, func(a, b Span) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	var out []Span
	for _, s := range all {
		switch n := len(out); {
		case s.From >= s.To:
		case n > 0 && s.From <= out[n-1].To:
			out[n-1].To = max(out[n-1].To, s.To)
		default:
			out = append(out, s)
		}
	}
	return out
}

// Together are the hours that are in either.
func Together(a, b []Span) []Span { return joined(append(append([]Span{}, a...), b...)) }

// Both are the hours that are in the one and in the other.
func Both(a, b []Span) []Span { return within(joined(a), joined(b)) }

// within is what lies in both; both are in order and apart.
func within(a, b []Span) []Span {
	var out []Span
	for i, k := 0, 0; i < len(a) && k < len(b); {
		if s := (Span{max(a[i].From, b[k].From), min(a[i].To, b[k].To)}); s.From < s.To {
			out = append(out, s)
		}
		if a[i].To < b[k].To {
			i++
		} else {
			k++
		}
	}
	return out
}

// without is a less b; both are in order and apart.
func without(a, b []Span) []Span {
	var rest []Span
	last := Moment(math.MinInt64)
	for _, s := range b {
		rest = append(rest, Span{last, s.From})
		last = s.To
	}
	return within(a, append(rest, Span{last, math.MaxInt64}))
}

// hours is a calendar that is computed with. A place on it is the number of seconds that were worked before.
type hours struct {
	from, to, before []int64
	all              int64 // seconds in all
}

func hoursOf(spans []Span) hours {
	var h hours
	for _, s := range spans {
		h.from, h.to, h.before = append(h.from, int64(s.From)), append(h.to, int64(s.To)), append(h.before, h.all)
		h.all += int64(s.To - s.From)
	}
	return h
}

// place is how much was worked before a moment.
func (h *hours) place(t int64) int64 {
	k := sort.Search(len(h.from), func(k int) bool { return h.from[k] > t }) - 1
	if k < 0 {
		return 0
	}
	return h.before[k] + min(t, h.to[k]) - h.from[k]
}

// starts is when work goes on from a place; never behind the last hour. What may begin before the first one begins with it.
func (h *hours) starts(w int64) int64 {
	w = max(w, 0)
	if w >= h.all {
		return never
	}
	k := sort.Search(len(h.before), func(k int) bool { return h.before[k] > w }) - 1
	return h.from[k] + w - h.before[k]
}

// ends is when a place is reached: at a break its beginning.
func (h *hours) ends(w int64) int64 {
	switch {
	case w > h.all:
		return never
	case w <= 0:
		return h.from[0]
	}
	k := sort.Search(len(h.before), func(k int) bool { return h.before[k] >= w }) - 1
	return h.from[k] + w - h.before[k]
}

// reached is ends at a place between two seconds.
func (h *hours) reached(w float64) float64 {
	low := int64(math.Floor(w))
	if float64(low) == w {
		return float64(h.ends(low))
	}
	if t := h.starts(low); t != never {
		return float64(t) + (w - float64(low))
	}
	return float64(never)
}

// placeAt is place at a moment between two seconds.
func (h *hours) placeAt(t float64) float64 {
	low := int64(math.Floor(t))
	at := h.place(low)
	if part := t - float64(low); part > 0 && h.place(low+1) > at {
		return float64(at) + part
	}
	return float64(at)
}
