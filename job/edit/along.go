package edit

import (
	"reflect"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// What lies along a leg is told by the leg's id and chainages. Parting or joining legs moves all of it: things in the leg's
// own lists, and whatever else in the job names a leg and a chainage on it.

// part moves what lies behind a chainage of leg i to leg i+1, which begins there at a node.
func (w *work) part(i int, at measure.Length, node string) {
	a, b := &w.job.Route.Legs[i], &w.job.Route.Legs[i+1]
	a.Crossings, b.Crossings = parted(a.Crossings, at, func(c *job.Crossing) *measure.Length { return &c.At })
	a.Entries, b.Entries = parted(a.Entries, at, func(e *job.ConduitEntry) *measure.Length { return &e.At })
	a.Services, b.Services = parted(a.Services, at, func(s *job.Service) *measure.Length { return &s.At })
	a.Joints, b.Joints = parted(a.Joints, at, func(f *job.ForcedJoint) *measure.Length { return &f.At })
	for _, s := range a.Supports {
		if s.Every > 0 && s.At < at { // a row that goes on behind the node
			next := s
			next.At += (at - s.At + s.Every - 1) / s.Every * s.Every
			next.ID = w.freshThing("support", next.ID)
			a.Supports = append(a.Supports, next)
		}
	}
	a.Supports, b.Supports = parted(a.Supports, at, func(s *job.Support) *measure.Length { return &s.At })
	var before []job.Zone
	for _, z := range a.Zones {
		next := z
		next.From, next.To = max(0, z.From-at), z.To-at
		switch {
		case z.From >= at:
			b.Zones = append(b.Zones, next)
			continue
		case z.To > at:
			z.To, next.ID = at, w.freshThing("zone", z.ID)
			b.Zones = append(b.Zones, next)
		}
		before = append(before, z)
	}
	a.Zones = before
	w.elsewhere(func(list reflect.Value) {
		for k := 0; k < list.Len(); k++ {
			one := list.Index(k)
			if one.FieldByName("Leg").String() == a.ID {
				k += partOne(list, k, at, a, b, node)
			}
		}
	})
}

// parted are the things before a place, and those behind it, counted from there.
func parted[T any](list []T, at measure.Length, place func(*T) *measure.Length) (before, behind []T) {
	for _, one := range list {
		if p := place(&one); *p < at {
			before = append(before, one)
		} else {
			*p -= at
			behind = append(behind, one)
		}
	}
	return before, behind
}

// elsewhere calls see with every list outside the legs whose items name a leg and a chainage on it.
func (w *work) elsewhere(see func(list reflect.Value)) {
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice:
			if t := v.Type().Elem(); t.Kind() == reflect.Struct {
				if f, ok := t.FieldByName("Leg"); ok && f.Tag.Get("ref") == "leg" {
					see(v)
					return
				}
				for i := range v.Len() {
					walk(v.Index(i))
				}
			}
		}
	}
	j := reflect.ValueOf(&w.job).Elem()
	for i := range j.NumField() {
		if j.Type().Field(i).Name != "Route" {
			walk(j.Field(i))
		}
	}
}

// length is a chainage of an item; nil: it has none of that name.
func length(item reflect.Value, name string) *measure.Length {
	f := item.FieldByName(name)
	if !f.IsValid() || f.Type() != reflect.TypeFor[measure.Length]() {
		return nil
	}
	return f.Addr().Interface().(*measure.Length)
}

// partOne moves one item of leg a that lies behind a chainage to leg b; a stretch over it becomes two, of which the second is
// put in behind the first: then it returns 1. A stretch whose To is 0 reaches to the end of its leg.
func partOne(list reflect.Value, k int, at measure.Length, a, b *job.Leg, node string) int {
	one := list.Index(k)
	if p := length(one, "At"); p != nil {
		if *p >= at {
			*p -= at
			one.FieldByName("Leg").SetString(b.ID)
		}
		return 0
	}
	if at, behind, ok := partList(one, at); ok {
		return putBehind(list, k, at, behind, b.ID)
	}
	from, to := length(one, "From"), length(one, "To")
	if from == nil || to == nil {
		return 0
	}
	behind := func(v reflect.Value) {
		f, t := length(v, "From"), length(v, "To")
		*f = max(0, *f-at)
		if *t != 0 {
			*t -= at
		}
		v.FieldByName("Leg").SetString(b.ID)
		toward(v, a.From, node)
	}
	switch {
	case *from >= at:
		behind(one)
	case *to != 0 && *to <= at:
		toward(one, b.To, node)
	default:
		next := reflect.New(one.Type()).Elem()
		next.Set(copier{}.of(one))
		behind(next)
		*to = 0
		toward(one, b.To, node)
		insert(list, k+1, next)
		return 1
	}
	return 0
}

// insert puts an item into a list.
func insert(list reflect.Value, at int, one reflect.Value) {
	grown := reflect.Append(list, one)
	for n := grown.Len() - 1; n > at; n-- {
		grown.Index(n).Set(grown.Index(n - 1))
	}
	grown.Index(at).Set(one)
	list.Set(grown)
}

// chainages are those of an item that has several; none: it holds all along its leg. false: it is no such item.
func chainages(item reflect.Value) (*[]measure.Length, bool) {
	f := item.FieldByName("At")
	if !f.IsValid() || f.Type() != reflect.TypeFor[[]measure.Length]() {
		return nil, false
	}
	return f.Addr().Interface().(*[]measure.Length), true
}

// partList parts the chainages of an item: those before a place, and those behind it, counted from there.
func partList(item reflect.Value, at measure.Length) (before, behind []measure.Length, ok bool) {
	all, ok := chainages(item)
	if !ok {
		return nil, nil, false
	}
	before, behind = parted(*all, at, func(l *measure.Length) *measure.Length { return l })
	return before, behind, true
}

// putBehind gives the leg behind a node its part of an item with several chainages, or the whole item where it has none.
func putBehind(list reflect.Value, k int, before, behind []measure.Length, leg string) int {
	one := list.Index(k)
	all, _ := chainages(one)
	switch {
	case len(before) == 0 && len(behind) > 0:
		*all = behind
		one.FieldByName("Leg").SetString(leg)
		return 0
	case len(before) > 0 && len(behind) == 0:
		return 0
	}
	next := reflect.New(one.Type()).Elem()
	next.Set(copier{}.of(one))
	next.FieldByName("Leg").SetString(leg)
	*all = before
	insert(list, k+1, next)
	all, _ = chainages(list.Index(k + 1))
	*all = behind
	return 1
}

// toward lets water that runs to a node which is no end of the leg any more run to the node that is.
func toward(item reflect.Value, was, now string) {
	if f := item.FieldByName("Toward"); f.IsValid() && f.String() == was {
		f.SetString(now)
	}
}

// joinLegs moves what lies on leg b to leg a, which goes on to its end: on b it stays as far from that end as it was.
func (w *work) joinLegs(a, b *job.Leg, lengthB, lengthNow measure.Length, node string) {
	on := func(ch measure.Length) measure.Length { return max(0, lengthNow-(lengthB-ch)) }
	for _, c := range b.Crossings {
		c.At = on(c.At)
		a.Crossings = append(a.Crossings, c)
	}
	for _, e := range b.Entries {
		e.At = on(e.At)
		a.Entries = append(a.Entries, e)
	}
	for _, s := range b.Services {
		s.At = on(s.At)
		a.Services = append(a.Services, s)
	}
	for _, s := range b.Supports {
		s.At = on(s.At)
		a.Supports = append(a.Supports, s)
	}
	for _, z := range b.Zones {
		z.From, z.To = on(z.From), on(z.To)
		a.Zones = append(a.Zones, z)
	}
	for _, f := range b.Joints {
		f.At = on(f.At)
		a.Joints = append(a.Joints, f)
	}
	w.elsewhere(func(list reflect.Value) {
		for k := range list.Len() {
			one := list.Index(k)
			leg := one.FieldByName("Leg")
			if leg.String() != b.ID && leg.String() != a.ID {
				continue
			}
			far := a.From
			if leg.String() == b.ID {
				for _, name := range []string{"At", "From"} {
					if p := length(one, name); p != nil {
						*p = on(*p)
					}
				}
				if p := length(one, "To"); p != nil && *p != 0 {
					*p = on(*p)
				}
				if all, ok := chainages(one); ok {
					for i := range *all {
						(*all)[i] = on((*all)[i])
					}
				}
				leg.SetString(a.ID)
			} else {
				far = b.To
				if p := length(one, "To"); p != nil && *p == 0 && length(one, "From") != nil {
					*p = lengthNow - lengthB // it reached to the end of its leg, not of the longer one
				}
			}
			toward(one, node, far)
		}
		together(list, a.ID)
	})
}

// together makes one of two items of a leg that differ in nothing but their several chainages.
func together(list reflect.Value, leg string) {
	for k := list.Len() - 1; k > 0; k-- {
		for i := range k {
			one, other := list.Index(i), list.Index(k)
			all, ok := chainages(one)
			more, _ := chainages(other)
			if !ok || one.FieldByName("Leg").String() != leg {
				continue
			}
			was := *more
			*more = *all
			if reflect.DeepEqual(one.Interface(), other.Interface()) && (len(*all) == 0) == (len(was) == 0) {
				*all = append(*all, was...)
				cut(list, k)
				break
			}
			*more = was
		}
	}
}
