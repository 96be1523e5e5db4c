package compaction

import (
	"cmp"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/solve/check"
)

// Layers is fill of a depth in layers, and the machine that compacts it.
type Layers struct {
	Depth   *measure.Length
	Layer   *measure.Length // before it is compacted as the method counts it; nil: as the machine may
	Fill    Fill
	Wholly  bool // the fill is nothing but cohesive
	Machine Machine
	From    string
}

// Machine is a machine by its class; or by its kind and what it weighs, which say the class.
type Machine struct {
	Class      Compactor
	Kind       Kind
	Weighs     *check.Quantity // kg: a vibrotamper; kg/m of drum; kg/m² of base plate
	Restricted bool            // room is restricted
}

// Kind is a kind of machine.
type Kind string

// The kinds.
const (
	AVibrotamper Kind = "vibrotamper"
	ASingleDrum  Kind = "single-drum"
	ATwinDrum    Kind = "twin-drum"
	APlate       Kind = "plate"
)

// Named are the classes by the words of a job and of a command line: the kind, and the least weight of the class.
var Named = []struct {
	Word  string
	Class Compactor
	Kind  Kind
	Above float64 // kg, kg/m or kg/m²: from more than that on; a vibrotamper from that on
}{
	{"vibrotamper-25", LightVibrotamper, AVibrotamper, 25}, {"vibrotamper-50", Vibrotamper, AVibrotamper, 50},
	{"single-drum-600", SingleDrum600, ASingleDrum, 600}, {"single-drum-1000", SingleDrum1000, ASingleDrum, 1000}, {"single-drum-2000", SingleDrum2000, ASingleDrum, 2000}, {"single-drum-3500", SingleDrum3500, ASingleDrum, 3500},
	{"twin-drum-600", TwinDrum600, ATwinDrum, 600}, {"twin-drum-1000", TwinDrum1000, ATwinDrum, 1000}, {"twin-drum-2000", TwinDrum2000, ATwinDrum, 2000},
	{"plate-1400", Plate1400, APlate, 1400}, {"plate-1800", Plate1800, APlate, 1800},
}

// ByWord is the class of the method by its word; a word that is none stays what it is, and has no row.
func ByWord(word string) Compactor {
	for _, n := range Named {
		if n.Word == word {
			return n.Class
		}
	}
	return Compactor(word)
}

// Classed is the class of a machine by its kind and weight. At the edge of two classes it is the lighter one, which has more passes. "" and
// the least weight of any class: it is lighter than all of them.
func Classed(kind Kind, weighs float64, restricted bool) (class Compactor, least float64) {
	for _, n := range Named {
		if n.Kind != kind || n.Class == LightVibrotamper && !restricted {
			continue
		}
		if least == 0 {
			least = n.Above
		}
		if weighs > n.Above || weighs == n.Above && (class == "" || kind == AVibrotamper) {
			class = n.Class
		}
	}
	return class, least
}

// Way is one way of filling a depth: so many layers of one thickness, each gone over so often.
type Way struct {
	Layers int
	Thick  measure.Length
	Passes int // on each
}

// Ways are the ways in which a class fills a depth, one for each column of the table that is permitted, the fewest passes in all first.
func Ways(class Compactor, fill Fill, wholly bool, depth measure.Length) []Way {
	var ways []Way
	for _, r := range passes() {
		if r.class != class {
			continue
		}
		for i, most := range thick {
			if n := r.on(fill, wholly, i); n > 0 && depth > 0 {
				layers := int((depth + most - 1) / most)
				ways = append(ways, Way{layers, depth / measure.Length(layers), n})
			}
		}
	}
	sorting.By(ways, func(a, b Way) int {
		return cmp.Or(cmp.Compare(a.Layers*a.Passes, b.Layers*b.Passes), cmp.Compare(a.Layers, b.Layers))
	})
	return ways
}

var methodRule = check.Rule{ID: "compaction.method", Says: "a class of machine goes so often over a layer up to 100, 150 or 200 mm of granular or cohesive fill, or is not permitted on it; nothing is read between columns", Law: Method,
	Source: "a stored copy, as read", Status: check.Read, Tests: []string{"compaction.TestPassesAsPublished", "compaction.TestWaysAgainstTable", "compaction.TestClassed"}}

// layers holds the thickness of the layers against the thickest that the method permits.
func (p *Problem) layers(out *Solution) {
	l := p.Layers
	if l == nil {
		return
	}
	a := p.answer("compaction.layer", "the thickness of the layers for this machine", methodRule, "thinner layers or a heavier machine")
	a.Stop = true
	class, ok := l.class(&a)
	if l.Fill == "" {
		a.Missing = append(a.Missing, check.Missing{What: "kind of fill, granular or cohesive", Ask: engineer})
	} else {
		a.What += fmt.Sprintf(" on %s fill", l.Fill)
	}
	depth, deep := a.Need("depth of the fill", check.Long(l.Depth), l.From, "whoever levels")
	if !ok || l.Fill == "" {
		out.Answers = append(out.Answers, a)
		return
	}
	most := measure.Length(0)
	for _, r := range passes() {
		for i := range thick {
			if r.class == class && r.on(l.Fill, l.Wholly, i) > 0 {
				most = thick[i]
			}
		}
	}
	layer := l.Layer
	if deep {
		out.Ways = Ways(class, l.Fill, l.Wholly, *l.Depth)
		if layer == nil && len(out.Ways) > 0 {
			layer = &out.Ways[0].Thick
		}
	}
	if most == 0 {
		a.Work("the method permits this class on this fill", "row of the table", check.Count.Of(0))
		a.Missing = nil
		a.Hold(check.Length.Of(thick[0].Metres()), check.Length.Of(0), Method, finding.DoesNot)
		a.What = fmt.Sprintf("%s on %s fill: the method permits no layer at all, the thinnest it has", class, l.Fill)
		out.Answers = append(out.Answers, a)
		return
	}
	is, stated := a.Need("thickness of one layer", check.Long(layer), l.From, engineer)
	if stated {
		p.gone(&a, class, is, depth, deep)
		a.Hold(is, check.Length.Of(most.Metres()), Method, check.AtMost(is.SI, 0, most.Metres()))
	}
	out.Answers = append(out.Answers, a)
}

// gone says how often the machine goes over each layer, and over all of them.
func (p *Problem) gone(a *check.Answer, class Compactor, is, depth check.Quantity, deep bool) {
	l := p.Layers
	n, stop := Passes(p.Words, class, l.Fill, l.Wholly, measure.FromMetres(is.SI), p.Where)
	if stop != nil {
		return
	}
	passes := a.Work("passes on each layer", "row of the class, next thicker column", check.Count.Of(float64(n)))
	if deep {
		full := measure.FromMetres(is.SI)
		layers := a.Work("layers", "depth / thickness, rounded up", check.Count.Of(float64((measure.FromMetres(depth.SI)+full-1)/full)))
		a.Work("passes over all of them", "layers x passes", check.Count.Of(layers.SI*passes.SI))
	}
}

// class takes in the machine; without its weight class nobody can say.
func (l *Layers) class(a *check.Answer) (Compactor, bool) {
	m := l.Machine
	if m.Class != "" {
		for _, n := range Named {
			if n.Class == m.Class {
				a.What += ", " + string(m.Class) + ","
				return m.Class, true
			}
		}
		a.Missing = append(a.Missing, check.Missing{What: fmt.Sprintf("method for compacting with %q", string(m.Class)), Ask: engineer})
		return "", false
	}
	if m.Kind == "" {
		a.Missing = append(a.Missing, check.Missing{What: "machine that compacts, and its weight class", Ask: "whoever brings it"})
		return "", false
	}
	weighs, ok := a.Need("weight of the "+string(m.Kind)+", which says its class", m.Weighs, "its plate", "whoever brings it")
	if !ok {
		return "", false
	}
	class, least := Classed(m.Kind, weighs.SI, m.Restricted)
	if class == "" {
		a.Missing = append(a.Missing, check.Missing{What: fmt.Sprintf("class for a %s of %s; the method begins at %g, and nothing lighter is", m.Kind, weighs.In(false), least), Ask: engineer})
		return "", false
	}
	a.What += ", " + string(class) + ","
	return class, true
}
