package jobtext

import (
	"trenchwright/base/finding"
)

// Locate gives faults that speak of a path in a job their line, column and excerpt in the text that it was read from:
// those of its geometry are found when the text is gone. Everything else stays as it is.
func Locate(name string, data []byte, list finding.List) finding.List {
	if !list.Any(finding.Fault) {
		return list
	}
	text := newText(data)
	tree, faults := treeOf(name, text.string)
	if faults.Any(finding.Fault) {
		return list
	}
	out := append(finding.List{}, list...)
	for i := range out {
		w := &out[i].Where
		if out[i].Kind != finding.Fault || w.File != "" || w.Path == "" {
			continue
		}
		w.Line, w.Column = tree.Position(w.Path)
		w.File, w.Excerpt = name, text.excerpt(w.Line, w.Column)
	}
	return out
}
