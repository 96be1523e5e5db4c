package merge

import (
	"trenchwright/base/finding"
	"trenchwright/job"
)

// fitter looks for what of the other side can come in.
type fitter struct {
	three
	take  map[string]bool
	known map[saying]bool   // faults that one of the sides has by itself
	hold  map[string]string // paths of what cannot come in, and why
	held  []path
}

// saying is a fault wherever it stands: the same one may have another index after a merge.
type saying struct{ id, text string }

func newFitter(trees three, take []string, faults ...finding.List) *fitter {
	f := &fitter{three: trees, take: set(take), known: map[saying]bool{}, hold: map[string]string{}}
	for _, list := range faults {
		for _, one := range list {
			f.known[saying{one.ID, one.Text}] = true
		}
	}
	return f
}

// fit merges, looks what is wrong with the whole that was wrong with neither side, keeps those changes of the other side
// out that have to do with it, and merges again. Every round keeps more out; in the end nothing is left but one.
func (f *fitter) fit() (job.Job, []rawClash) {
	for {
		m := merger{take: f.take, hold: f.hold, held: f.held}
		tree := m.value(nil, &f.base, &f.one, &f.other)
		merged, faults := job.FromTree(*tree)
		fresh := f.fresh(faults)
		if len(fresh) == 0 || !f.keepOut(tree, fresh) {
			return merged, m.clashes
		}
	}
}

// fresh are the faults that neither side has by itself.
func (f *fitter) fresh(faults finding.List) finding.List {
	var list finding.List
	for _, one := range faults {
		if !f.known[saying{one.ID, one.Text}] {
			list = append(list, one)
		}
	}
	return list
}

// keepOut holds back what other changed at the places of faults, or, where it changed nothing there, in the same part of
// the job, or, where it changed nothing there either, everything. It is false when nothing is left to be held back.
func (f *fitter) keepOut(tree *job.Value, faults finding.List) bool {
	var came []change
	for _, c := range changes(nil, &f.one, tree) {
		name := c.at.String()
		if _, held := f.hold[name]; !held && !f.take[name] && c.at[0] != "revision" {
			came = append(came, c)
		}
	}
	any := false
	for _, near := range [...]func(change, place) bool{atThePlace, inThePart, anywhere} {
		for _, fault := range faults {
			var at place
			at.path, at.value = byKey(*tree, fault.Where.Path)
			for _, c := range came {
				name := c.at.String()
				if _, held := f.hold[name]; !held && near(c, at) {
					f.hold[name] = fault.Text
					f.held = append(f.held, c.at)
					any = true
				}
			}
		}
		if any {
			return true
		}
	}
	return false
}

// place is where something is wrong, and what stands there.
type place struct {
	path  path
	value *job.Value
}

// atThePlace tells whether c is at the place itself, or took or brought what the place names: a node, a supply, a document.
func atThePlace(c change, at place) bool {
	if len(at.path) == 0 {
		return false
	}
	named := at.value.Kind == job.KindText && c.at[len(c.at)-1] == "["+at.value.Text+"]"
	return named || c.at.touches(at.path)
}

func inThePart(c change, at place) bool { return len(at.path) > 0 && c.at[0] == at.path[0] }

func anywhere(change, place) bool { return true }
