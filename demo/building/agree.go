package building

import (
	"fmt"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// result is what a build came to, and what of it is open.
func (s *site) result() *Result {
	r := &Result{Records: s.server.records, Told: s.told, Job: s.job, Plan: s.plan, Lies: s.inGround()}
	for _, d := range s.devices {
		r.Devices = append(r.Devices, DeviceFile{d.name, d.wrote})
	}
	b := field.NewBook(s.plan.Places())
	b.Add(r.Records...)
	r.State = b.State("")
	s.open(r)
	s.evidence(b, r.say)
	s.trueToLevel(b, r.say)
	r.Count = s.counted(r)
	return r
}

// inGround are the units as they really lie.
func (s *site) inGround() map[string]Lie {
	out := map[string]Lie{}
	for _, l := range s.legs {
		for k := range l.laid {
			u := Lie{Off: l.off(k)}
			for _, c := range l.laid[k].lids {
				if c.lies {
					u.Covers++
				}
			}
			out[l.laid[k].place] = u
		}
	}
	for _, l := range s.legs {
		for k := range l.laid {
			if _, j := s.jointAfter(l.id, l.laid[k].place); j > 0 {
				u := out[l.laid[k].place]
				u.Joined = true
				u.Left, u.Right = l.walls(j)
				out[l.laid[k].place] = u
			}
		}
	}
	return out
}

// say adds to what is open.
func (r *Result) say(format string, args ...any) {
	r.Open = append(r.Open, fmt.Sprintf(format, args...))
}

// open says what is not as it has to be at the end.
func (s *site) open(r *Result) {
	say := r.say
	for _, l := range s.legs {
		if !l.handedOver() {
			say("leg %s is not handed over: %d of %d units lie; %s", l.id, len(l.laid), len(l.places), l.trouble)
		}
		if l.handedOver() && l.trouble != "" {
			say("leg %s: %s", l.id, l.trouble)
		}
		s.truth(l, say)
		for i := range r.State.Legs {
			if r.State.Legs[i].ID == l.id {
				s.recorded(l, &r.State.Legs[i], say)
			}
		}
	}
	for _, c := range s.checks {
		for _, l := range r.State.Legs {
			for _, u := range l.Units {
				for _, m := range []*field.Measured{u.Left, u.Right, u.End} {
					if m != nil && slices.ContainsFunc(m.Readings, func(x field.Reading) bool { return x.By == c.wrong }) {
						say("at %s the record %s stands, which %s corrected", u.Place, c.wrong, c.by)
					}
				}
			}
		}
	}
	for _, b := range s.bends {
		for _, a := range r.State.Angles {
			if off := a.Angle - b.is; a.Node == b.node && (!a.Known || max(off, -off) > a.Plus) {
				say("the bend at %s is %s, the records say %s ± %s", b.node, b.is, a.Angle, a.Plus)
			}
		}
	}
	for _, m := range r.State.Matters {
		if m.Closed.Is != field.Yes {
			say("nonconformance %s is open", m.Number)
		}
	}
	stone := measure.Mass(0)
	for _, g := range r.State.Goods {
		stone += g.Mass
	}
	if stone != s.yard.stone {
		say("%s of stone came, the records come to %s", s.yard.stone, stone)
	}
	for _, y := range r.State.Yard {
		if have := s.yard.have[y.Piece]; y.Have != have {
			say("%d of %s lie in the yard, the records come to %d", have, y.Name(s.size), y.Have)
		}
	}
}

// truth looks at what lies there itself.
func (s *site) truth(l *leg, say func(string, ...any)) {
	for k := range l.laid {
		u := &l.laid[k]
		if k > 0 && (u.before < u.least-s.feel.plus || u.before > u.most+s.feel.plus) {
			say("the joint before %s is %s wide, it may be %s to %s", u.place, u.before, u.least, u.most)
		}
		if !u.onOneUnit() {
			say("a cover of %s does not lie on it wholly", u.place)
		}
		for _, c := range u.lids {
			if !c.lies {
				say("cover %s does not lie", c.name)
			}
		}
		if k == 0 {
			continue
		}
		for _, z := range l.zones {
			if near := s.tape.plus + 2*mm; u.start-u.before < z.to-near && u.start > z.from+near { // as well as hands and a tape can
				say("the joint before %s stands over %s", u.place, z.why)
			}
		}
	}
	if n := len(l.laid); n > 0 {
		if off := l.laid[n-1].end - l.length; l.handedOver() && off.Abs() > s.tape.plus+4*mm {
			say("leg %s ends %s off", l.id, off)
		}
	}
}

// recorded holds what the records say of a leg against what lies there.
func (s *site) recorded(l *leg, ls *field.LegState, say func(string, ...any)) {
	lids := 0
	for k := range l.laid {
		u := &l.laid[k]
		for _, c := range u.lids {
			if c.lies {
				lids++
			}
		}
		i := slices.IndexFunc(ls.Units, func(x *field.UnitState) bool { return x.Place == u.place })
		if i < 0 || ls.Units[i].Set.Is != field.Yes {
			say("%s lies, and the records do not say so", u.place)
			continue
		}
		r := ls.Units[i]
		s.near(say, "the end of "+u.place, r.End, l.off(k))
		if m, j := s.jointAfter(l.id, u.place); m != nil {
			left, right := l.walls(j)
			s.near(say, "the joint after "+u.place+", left", r.Left, left)
			s.near(say, "the joint after "+u.place+", right", r.Right, right)
		}
		for _, v := range r.Levels {
			t, known := l.levels[levelAt{u.place, v.Of}]
			for c, m := range v.Four {
				if known {
					s.near(say, fmt.Sprintf("corner %d of the %s at %s", c+1, v.Of, u.place), m, t.want[c]+t.lies[c])
				} else if m != nil {
					say("the %s at %s has a level on record, and nobody read one", v.Of, u.place)
				}
			}
		}
	}
	if ls.Set != len(l.laid) || ls.Laid != lids {
		say("leg %s: %d units and %d covers lie, the records come to %d and %d", l.id, len(l.laid), lids, ls.Set, ls.Laid)
	}
}

func (s *site) near(say func(string, ...any), what string, m *field.Measured, truth measure.Length) {
	switch {
	case m == nil:
	case !m.Known:
		say("%s: readings differ, and nobody measured once more", what)
	case (m.Value - truth).Abs() > m.Plus:
		say("%s is %s, the records say %s ± %s", what, truth, m.Value, m.Plus)
	}
}
