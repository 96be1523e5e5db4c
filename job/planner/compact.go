package planner

import (
	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/solve/check/compaction"
)

// Passes is how often the compactor goes over each layer of fill, by the method whose table is on file.
type Passes struct {
	Class  string     `json:"class"`
	Fill   string     `json:"fill"`
	Layer  measure.MM `json:"layer_mm"`
	Passes int        `json:"passes"`
	Rule   string     `json:"rule"`
}

// compact says how often each layer is gone over, where class, fill and layer are on file; job.Missing says what is not.
func (b *build) compact() {
	m, layer := b.job.Dig.Method, b.job.Dig.Layer
	if m == nil || !layer.Known {
		return
	}
	class, fill := compaction.ByWord(m.Class), compaction.Fill(m.Fill)
	n, f := compaction.Passes(b.job.Speech(), class, fill, m.Cohesive, layer.Value, finding.Where{Path: "dig.method"})
	if f != nil {
		b.add(*f)
		return
	}
	b.plan.Dig.Passes = &Passes{Class: string(class), Fill: m.Fill, Layer: measure.MM(layer.Value), Passes: n, Rule: compaction.Method}
	b.add(finding.Finding{ID: "planner.passes", Kind: finding.Note, Where: finding.Where{Path: "dig.method"}, Rule: compaction.Method,
		Text: b.tell("each %s of up to %s of %s fill takes %d passes with a compactor of class %s. Whether the owner takes this method is the owner's word", wording.Layer, layer.Value, m.Fill, n, string(class))})
}
