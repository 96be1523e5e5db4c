package profile

import "trenchwright/base/measure"

const (
	mostDraws = 8
	hair      = 2e-8 // of grade: room for levels in whole nanometres, where grades are not put on a step
)

// draw makes levels of record from the best levels: breaks apart, grades on their step, limits exact. nil: in no way.
func (p *Problem) draw(w *work, origin measure.Length) *record {
	z := w.kept
	tight := p.loose()
	if hold := p.holds(w, z); hold != nil {
		tight.hold = hold
		if again := p.again(tight); again != nil {
			z = again
		} else {
			tight = p.loose() // standing apart cannot be had
		}
	}
	var best *record
	fewest := -1
	for range mostDraws {
		r, failed := p.grades(z, origin, false)
		bad, past := p.misses(r), p.past(r)
		if len(bad)+len(past) == 0 && (fewest < 0 || len(failed) < fewest) {
			best, fewest = r, len(failed)
		}
		if len(bad)+len(past)+len(failed) == 0 {
			break
		}
		p.tighten(tight, append(failed, bad...), past)
		if z = p.again(tight); z == nil {
			break
		}
	}
	if best == nil {
		best = p.drawExact(w, origin, tight)
	}
	return best
}

// drawExact leaves grades as they come, with a hair of room to every limit.
func (p *Problem) drawExact(w *work, origin measure.Length, tight *tightening) *record {
	for _, hold := range [][][]bool{tight.hold, p.loose().hold} {
		t := p.loose()
		t.hold, t.nodes = hold, hair
		for i := range t.grade {
			for k := range t.grade[i] {
				t.grade[i][k] = hair
			}
			for j := range t.change[i] {
				t.change[i][j] = hair
			}
		}
		for _, z := range [][][]float64{p.again(t), w.kept} {
			if z == nil {
				continue
			}
			if r, _ := p.grades(z, origin, true); len(p.misses(r))+len(p.past(r)) == 0 {
				return r
			}
		}
	}
	return nil
}

// again are the best levels within tighter limits; nil: there are none.
func (p *Problem) again(t *tightening) [][]float64 {
	w := (&builder{p: p, tight: t}).build()
	if !w.run() {
		return nil
	}
	return w.kept
}

func (p *Problem) loose() *tightening {
	t := &tightening{}
	for i := range p.Legs {
		m := len(p.Legs[i].Joints)
		t.change, t.level = append(t.change, make([]float64, m)), append(t.level, make([]float64, m))
		t.grade, t.hold = append(t.grade, make([]float64, m-1)), append(t.hold, make([]bool, m))
	}
	return t
}

// stretch is some units of a leg, between two joints.
type stretch struct{ leg, from, to int }

// tighten draws the limits in where levels of record could not hold them: of grades by one step, of levels by as much as they
// were passed by, at the joint and its neighbours, and by twice what they had where that was not enough.
func (p *Problem) tighten(t *tightening, where []stretch, past []pass) {
	by := max(ratio(p.Step), hair)
	half := float64(by / 2)
	for _, s := range where {
		for k := s.from; k < s.to; k++ {
			t.grade[s.leg][k] += half
		}
		for j := s.from; j <= s.to; j++ {
			t.change[s.leg][j] += by
		}
	}
	more := make([][]float64, len(p.Legs))
	for _, s := range past {
		level := t.level[s.leg]
		if more[s.leg] == nil {
			more[s.leg] = make([]float64, len(level))
		}
		for j := max(s.joint-1, 0); j <= min(s.joint+1, len(level)-1); j++ {
			more[s.leg][j] = max(more[s.leg][j], level[j]+s.by)
		}
	}
	for i := range more {
		for j := range more[i] {
			t.level[i][j] += more[i][j]
		}
	}
}
