// Package merge joins two states of a job that were made from the same one, field by field, things in lists by their ids.
// What both sides changed differently is a Clash that a person settles.
//
//	merge.go  Merge and Clash
//	three.go  one value of the job's tree, three ways
//	list.go   lists of things by their ids; order.go: in which order they stand afterwards
//	fit.go    what each side may change but both together may not
//	diff.go   Differences between two states; path.go: where in a job
//	words.go  clashes and differences for people
package merge

import (
	"trenchwright/base/finding"
	"trenchwright/job"
)

// Clash is one thing that both sides changed, and not to the same. The merged job has One until a person says otherwise.
type Clash struct {
	Path  string `json:"path"`            // route.legs[A].crossings[X1].path: things in lists by their ids
	Was   string `json:"was,omitempty"`   // before both, in words; empty: it was not there
	One   string `json:"one,omitempty"`   // on the side whose value stands; empty: it is not there
	Other string `json:"other,omitempty"` // on the other side; empty: it is not there
	Text  string `json:"text"`            // all of it in one sentence
}

// Finding is c as the program says it.
func (c Clash) Finding() finding.Finding {
	return finding.Finding{
		ID: "merge.clash", Kind: finding.Attention, Text: c.Text, Where: finding.Where{Path: c.Path},
		Try: "settle which of the two holds; until then it is the first one",
	}
}

// Merge is what becomes of base when both what one and what other changed is done to it. Where both changed the same thing
// differently, the value of one stands and a clash says so, but for the paths of clashes in take, where the value of other
// is taken. Changes that make no sense together (a leg to a node that the other side took away) clash as well: what one
// changed stands, and the job has no fault that neither side had. Only what take asks for can bring such a fault in.
//
// A merged job is no revision yet: if both sides have one of their own, it has none.
func Merge(base, one, other job.Job, take ...string) (job.Job, []Clash) {
	trees := three{job.ToTree(base), job.ToTree(one), job.ToTree(other)}
	switch {
	case same(&trees.other, &trees.base), same(&trees.other, &trees.one):
		return one, nil
	case same(&trees.one, &trees.base):
		return other, nil
	}
	f := newFitter(trees, take, job.Faults(one), job.Faults(other))
	merged, raw := f.fit()
	return merged, inWords(raw, one.Speech())
}

// three is the trees of one job: as it was, and as two made it.
type three struct{ base, one, other job.Value }
