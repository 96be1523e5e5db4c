package check

import (
	"trenchwright/base/finding"
	"trenchwright/base/wording"
)

// Bound is what a figure can be: within least and most, both in the kind's own SI unit. What lies outside is a slip of the pen, and
// nothing is computed from it.
type Bound struct {
	name        string
	is          *Quantity // nil: nobody entered one
	least, most float64
	try         string
}

// Between is the bound of a figure that is called by its name.
func Between(name string, is *Quantity, least, most float64, try string) Bound {
	return Bound{name, is, least, most, try}
}

// Above is the bound of what is more than nothing.
func Above(name string, is *Quantity, most float64) Bound {
	return Bound{name, is, 1e-9, most, "a figure above 0, from the document that it stands in"}
}

// Outside are the faults of figures that cannot be, each a sentence.
func Outside(all []Bound, id string, where finding.Where, words wording.Speech) (out finding.List) {
	for _, b := range all {
		if b.is != nil && !(b.is.SI >= b.least && b.is.SI <= b.most) {
			out = append(out, finding.Finding{ID: id, Kind: finding.Fault, Text: b.name + " of " + b.is.Both(words.Imperial) + " cannot be", Where: where, Try: b.try})
		}
	}
	return out
}
