package delivery

import (
	"cmp"

	"trenchwright/base/measure"
	"trenchwright/base/sorting"
)

// bundles puts pieces of each kind together as the supplier does, those first that are laid first.
func bundles(p *Problem) []Bundle {
	byKind := make([][]int, len(p.Kinds))
	for i := range p.Pieces {
		k := p.Pieces[i].Kind
		byKind[k] = append(byKind[k], i)
	}
	var out []Bundle
	for k, pieces := range byKind {
		each := max(1, p.Kinds[k].Bundle)
		for len(pieces) > 0 {
			n := min(each, len(pieces))
			out = append(out, p.bundle(k, pieces[:n]))
			pieces = pieces[n:]
		}
	}
	sorting.By(out, func(a, b Bundle) int {
		return cmp.Or(cmp.Compare(a.Turn, b.Turn), cmp.Compare(a.Pieces[0], b.Pieces[0]))
	})
	return out
}

// bundle is pieces of one kind as one box. A bundle that is not full has fewer layers, and the whole width of one unless it has
// less than a layer.
func (p *Problem) bundle(kind int, pieces []int) Bundle {
	k, n := &p.Kinds[kind], len(pieces)
	b := Bundle{Kind: kind, Pieces: pieces, Turn: p.Pieces[pieces[0]].Turn}
	if k.Mass > 0 {
		b.Mass = k.Mass*measure.Mass(n) + k.Tare
	}
	wide := k.Wide
	if k.Bundle <= 1 {
		wide = 1
	}
	if wide > 0 {
		layers := (n + wide - 1) / wide
		b.Length, b.Width = k.Length, k.Width*measure.Length(min(n, wide))
		if k.Height > 0 {
			b.Height = (k.Height + k.Bearer) * measure.Length(layers)
		}
	}
	return b
}

// sized tells whether all three sizes of a bundle are on file.
func (b *Bundle) sized() bool { return b.Length > 0 && b.Width > 0 && b.Height > 0 }
