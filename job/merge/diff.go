package merge

import (
	"slices"

	"trenchwright/job"
)

// Difference is one thing that two states of a job have differently.
type Difference struct {
	Path string `json:"path"`          // route.legs[A].crossings[X1].path: things in lists by their ids
	Was  string `json:"was,omitempty"` // in words; empty: it was not there
	Is   string `json:"is,omitempty"`  // in words; empty: it is not there any more
	Text string `json:"text"`          // all of it in one sentence
}

// Differences is what was changed from one state of a job to another, as finely as Merge looks at it. The names of the two
// states are no difference.
func Differences(from, to job.Job) []Difference {
	from.Revision, to.Revision = nil, nil
	a, b := job.ToTree(from), job.ToTree(to)
	return saidDifferences(changes(nil, &a, &b), to.Speech())
}

// change is one place where two trees differ. A value that is nil is not there.
type change struct {
	at      path
	was, is *job.Value
}

// changes is every place where is differs from was: things that came or went, figures, texts and orders.
func changes(p path, was, is *job.Value) []change {
	if same(was, is) {
		return nil
	}
	inList := len(p) > 0 && p.isItem()
	switch {
	case was == nil && isGroup(is) && !inList, is == nil && isGroup(was) && !inList, isGroup(was) && isGroup(is):
		return fieldChanges(p, was, is)
	case (was == nil || isList(was)) && (is == nil || isList(is)):
		if key := sharedKey(was, is); key != "" {
			return thingChanges(p, key, was, is)
		}
	}
	return []change{{p, was, is}}
}

func fieldChanges(p path, was, is *job.Value) []change {
	var list []change
	if was != nil {
		for _, f := range was.Fields {
			list = append(list, changes(p.into(f.Name), &f.Value, get(is, f.Name))...)
		}
	}
	if is != nil {
		for _, f := range is.Fields {
			if get(was, f.Name) == nil {
				list = append(list, changes(p.into(f.Name), nil, &f.Value)...)
			}
		}
	}
	return list
}

func thingChanges(p path, key string, was, is *job.Value) []change {
	wasOrder, wasThings := keys(was, key)
	isOrder, isThings := keys(is, key)
	var list []change
	for _, k := range wasOrder {
		list = append(list, changes(p.item(k), wasThings[k], isThings[k])...)
	}
	for _, k := range isOrder {
		if wasThings[k] == nil {
			list = append(list, changes(p.item(k), nil, isThings[k])...)
		}
	}
	before, after := among(wasOrder, isOrder), among(isOrder, wasOrder)
	if !slices.Equal(before, after) {
		list = append(list, change{p.into(ordered), texts(before), texts(after)})
	}
	return list
}
