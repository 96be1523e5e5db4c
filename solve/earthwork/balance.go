package earthwork

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// State is one heap of ground as it lies in the ground, loose, and compacted. Without a factor only one of the three is known.
type State struct {
	Bank, Loose, Compacted measure.Volume
	Known                  bool // all three are
}

// Bank is ground as it lies; f may be nil.
func (f *Factor) Bank(v measure.Volume) State {
	if f == nil {
		return State{Bank: v}
	}
	return State{v, measure.Volume(float64(v) * f.Loose), measure.Volume(float64(v) * f.Compacted), true}
}

// InPlace is fill that was compacted; f may be nil.
func (f *Factor) InPlace(v measure.Volume) State {
	if f == nil {
		return State{Compacted: v}
	}
	bank := float64(v) / f.Compacted
	return State{measure.Volume(bank), measure.Volume(bank * f.Loose), v, true}
}

// Balance is what becomes of one material: dug + brought in = back + leaves, in the ground.
type Balance struct {
	Of                    Material
	Dug, Back, In, Leaves State
	Loads                 *int     // that leave; nil: no factor or no size of a load on file
	Load                  *float64 // loose m³ in one of them
	Source                string
	Open                  bool // without a factor nobody can tell how much of what was dug the fill takes: In and Leaves are not known
}

// loadOf is the loose volume of one load of a material; nil: not on file.
func (p *Problem) loadOf(f *Factor) *float64 {
	if p.Weighed {
		return f.Load
	}
	return p.Load
}

func factorOf(p *Problem, m Material) *Factor {
	for i := range p.Factors {
		if p.Factors[i].Of == m {
			return &p.Factors[i]
		}
	}
	return nil
}

func (out *Solution) balance(p *Problem) {
	b, said := balances(p, out.Total)
	out.Balances = b
	out.Findings = append(out.Findings, said...)
}

// balances are what goes back, what leaves and what is brought in. Rock is not filled in again; topsoil goes back on top,
// and what is left of it leaves; soil goes back where somebody said that it may.
func balances(p *Problem, q Quantities) ([]Balance, finding.List) {
	var out []Balance
	var said finding.List
	for _, m := range []struct {
		of        Material
		dug, back measure.Volume
		reuse     bool
	}{{Topsoil, q.Topsoil, q.TopsoilBack, true}, {Soil, q.Soil, q.Fill, p.Reuse != nil && *p.Reuse}, {Rock, q.Rock, 0, false}} {
		if m.dug == 0 && m.back == 0 {
			continue
		}
		f := factorOf(p, m.of)
		b := Balance{Of: m.of, Dug: f.Bank(m.dug)}
		if f == nil {
			said = append(said, finding.NoneOnFile(fmt.Sprintf("bulking of %s", m.of), "the engineer who looked at the ground", where("factors")))
		} else {
			b.Source = f.Source
		}
		b.settle(f, m.back, m.reuse)
		if f != nil && b.Leaves.Loose > 0 {
			switch load := p.loadOf(f); {
			case load != nil:
				b.Loads, b.Load = new(Loads(b.Leaves.Loose, measure.Volume(*load))), load
			case p.Weighed:
				said = append(said, finding.NoneOnFile(fmt.Sprintf("loose density of %s", m.of), "the engineer who looked at the ground", where("bulking")))
			default:
				said = append(said, finding.NoneOnFile("size of a load", "whoever carts it away", where("load")))
			}
		}
		out = append(out, b)
	}
	if p.Reuse == nil && q.Soil > 0 && q.Fill > 0 {
		said = append(said, finding.NoneOnFile("word that dug soil may be filled in again", "the engineer", where("reuse")))
	}
	return out, said
}

// settle parts what was dug into what goes back and what leaves. Without a factor nobody can tell how much of it the fill
// takes: then only the fill in place is known.
func (b *Balance) settle(f *Factor, back measure.Volume, reuse bool) {
	need := f.InPlace(back)
	switch {
	case !reuse || f == nil && back == 0:
		b.Leaves = b.Dug
		b.In = State{Compacted: back}
		b.Back = b.In
	case f == nil:
		b.Back, b.Open = need, true
	case need.Bank <= b.Dug.Bank:
		b.Back = need
		b.Leaves = f.Bank(b.Dug.Bank - need.Bank)
	default:
		b.Back = need
		b.In = f.Bank(need.Bank - b.Dug.Bank)
	}
}

// Loads is how many loads a loose volume takes; what is less than a billionth of a load is rounding, not another load.
func Loads(loose, load measure.Volume) int {
	return int(math.Ceil(float64(loose/load) - 1e-9))
}

func where(path string) finding.Where { return finding.Where{Path: "dig." + path} }
