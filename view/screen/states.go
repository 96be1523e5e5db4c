package screen

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"trenchwright/base/finding"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/stamp"
)

// State is which state of the job is open, as every print says it.
type State struct {
	Brief string `json:"brief"`
	Line  string `json:"line"`
	Order string `json:"order"` // how the number is read
	Files string `json:"files"` // what the name of a file of it begins with
}

// Earlier is another state of the job, to be compared with.
type Earlier struct {
	Revision string `json:"revision"`
	Said     string `json:"said"` // its number, when and by whom
	Note     string `json:"note"` // what was changed
	Issued   string `json:"issued"`
}

// states are what people ask of a job's history; no plan is needed for it.
func states(name string, q *question) any {
	if name == "state" {
		s := q.History.Of(q.Revision)
		return State{s.Brief(q.Hash), s.Line(q.Hash, planner.Core), stamp.Order, s.FilePrefix(q.ID)}
	}
	return earlier(q.History, q.Revision)
}

// mostEarlier is how many states are told at once, the latest first.
const mostEarlier = 500

func earlier(h stamp.History, but string) []Earlier {
	numbers := h.Numbers()
	all := slices.Clone(h.Revisions)
	slices.SortFunc(all, func(a, b stamp.Revision) int {
		return cmp.Or(numbers[b.ID]-numbers[a.ID], b.At.Compare(a.At), cmp.Compare(b.ID, a.ID))
	})
	issued := map[string]string{}
	for _, i := range h.Issued {
		issued[i.Revision] = i.Name
	}
	out := []Earlier{}
	for _, r := range all {
		if r.ID != but && len(out) < mostEarlier {
			out = append(out, Earlier{r.ID, r.Said(numbers[r.ID]), r.Note, issued[r.ID]})
		}
	}
	return out
}

// differs is what changed in the open plan against one that was issued, or against the plan of an earlier state of the job,
// which is made for it.
func (d *Desk) differs(q *question, on *draft, get func(string) ([]byte, error)) (Difference, error) {
	if len(q.Was) == 0 {
		var was planner.Plan
		if err := json.Unmarshal(q.Issued, &was); err != nil {
			return Difference{}, fmt.Errorf("the earlier plan cannot be read: %w", err)
		}
		return on.differ(was), nil
	}
	was, _, err := planOf(written(q.Was), get)
	if err != nil {
		return Difference{}, err
	}
	return on.differ(was), nil
}

// planOf is the plan of another state of the job, made for a question.
func planOf(content []byte, get func(string) ([]byte, error)) (planner.Plan, job.Job, error) {
	j, faults := job.FromJSON(content)
	if faults.Any(finding.Fault) {
		return planner.Plan{}, j, errors.New("that state has faults, so nothing was planned of it: " + faults[0].Text)
	}
	surfaces, err := planner.Surfaces(j, get)
	if err != nil {
		return planner.Plan{}, j, err
	}
	p := planner.Make(j, surfaces...)
	if p.Findings.Any(finding.Fault) {
		return p, j, errors.New("that state has faults, so nothing was planned of it")
	}
	return p, j, nil
}

// would is what an answer of a leg would change in the whole plan, before anybody takes it.
func (d *Desk) would(q *question, on *draft, get func(string) ([]byte, error)) (Difference, error) {
	if d.site == nil {
		return Difference{}, ErrNoRecords
	}
	t, err := d.siteView(on).taken(q)
	if err != nil {
		return Difference{}, err
	}
	then, j, err := planOf([]byte(t.Job), get)
	if err != nil {
		return Difference{}, err
	}
	return newDraft(then, j, nil, on.view).differ(d.plan), nil
}
