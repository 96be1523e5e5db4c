package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/earthwork"
)

// Passes is how often the compactor goes over each layer of fill, by the method whose table is on file.
type Passes struct {
	Class  string     `json:"class"`
	Fill   string     `json:"fill"`
	Layer  measure.MM `json:"layer_mm"`
	Passes int        `json:"passes"`
	Rule   string     `json:"rule"`
}

// compactorOf is the class of the method by the words of a job.
func compactorOf(word string) earthwork.Compactor {
	for _, c := range [...]struct {
		word  string
		class earthwork.Compactor
	}{
		{"vibrotamper-25", earthwork.LightVibrotamper}, {"vibrotamper-50", earthwork.Vibrotamper},
		{"single-drum-600", earthwork.SingleDrum600}, {"single-drum-1000", earthwork.SingleDrum1000}, {"single-drum-2000", earthwork.SingleDrum2000}, {"single-drum-3500", earthwork.SingleDrum3500},
		{"twin-drum-600", earthwork.TwinDrum600}, {"twin-drum-1000", earthwork.TwinDrum1000}, {"twin-drum-2000", earthwork.TwinDrum2000},
		{"plate-1400", earthwork.Plate1400}, {"plate-1800", earthwork.Plate1800},
	} {
		if c.word == word {
			return c.class
		}
	}
	return earthwork.Compactor(word)
}

// compact says how often each layer is gone over, where class, fill and layer are on file; job.Missing says what is not.
func (b *build) compact() {
	m, layer := b.job.Dig.Method, b.job.Dig.Layer
	if m == nil || !layer.Known {
		return
	}
	class, fill := compactorOf(m.Class), earthwork.Fill(m.Fill)
	n, f := earthwork.Passes(b.job.Speech(), class, fill, m.Cohesive, layer.Value, finding.Where{Path: "dig.method"})
	if f != nil {
		b.add(*f)
		return
	}
	b.plan.Dig.Passes = &Passes{Class: string(class), Fill: m.Fill, Layer: measure.MM(layer.Value), Passes: n, Rule: earthwork.PassRule}
	b.add(finding.Finding{ID: "planner.passes", Kind: finding.Note, Where: finding.Where{Path: "dig.method"}, Rule: earthwork.PassRule,
		Text: b.tell("each %s of up to %s of %s fill takes %d passes with a compactor of class %s. Whether the owner takes this method is the owner's word", wording.Layer, layer.Value, m.Fill, n, string(class))})
}
