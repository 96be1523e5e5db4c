package merge_test

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/view/jobtext"
)

// demoJob is one of the invented jobs, read anew: a test may change it.
func demoJob(t testing.TB, name string) job.Job {
	t.Helper()
	text, err := demo.File(name)
	if err != nil {
		t.Fatal(err)
	}
	j, faults := jobtext.Read(name, bytes.NewReader(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

// spareDocuments are documents that nothing refers to, until a change does.
const spareDocuments = 3

// playground is a small job for random changes, with documents and a supply that nothing refers to yet.
func playground(t testing.TB) job.Job {
	j := demoJob(t, "hand-troughs")
	for i := range spareDocuments {
		j.Documents = append(j.Documents, job.Document{ID: fmt.Sprintf("S%d", i), Title: "letter"})
	}
	j.Route.Legs[0].Zones = append(j.Route.Legs[0].Zones, job.Zone{ID: "Z1", From: measure.Metre, To: 2 * measure.Metre, Why: "mast"},
		job.Zone{ID: "Z2", From: 4 * measure.Metre, To: 5 * measure.Metre, Why: "mast"})
	return j
}

// copied is j with nothing in common with it.
func copied(t testing.TB, j job.Job) job.Job {
	t.Helper()
	again, faults := job.FromJSON(job.CanonicalJSON(j))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return again
}

// chance is where tests draw from.
type chance interface{ below(n int) int }

type drawn struct{ t *rapid.T }

func (d drawn) below(n int) int { return rapid.IntRange(0, n-1).Draw(d.t, "pick") }

// change is one thing that somebody does to the tree of a job. It knows nothing of what merging looks at.
func change(v *job.Value, c chance, key string) {
	for {
		switch v.Kind {
		case job.KindMap:
			if len(v.Fields) == 0 {
				return
			}
			i := c.below(len(v.Fields))
			if f := v.Fields[i]; c.below(12) == 0 && f.Value.Kind != job.KindList { // left out
				v.Fields = append(v.Fields[:i:i], v.Fields[i+1:]...)
				return
			}
			v, key = &v.Fields[i].Value, v.Fields[i].Name
		case job.KindList:
			switch n := len(v.Items); {
			case n == 0:
				return
			case c.below(6) == 0: // removed
				i := c.below(n)
				v.Items = append(v.Items[:i:i], v.Items[i+1:]...)
				return
			case c.below(6) == 0 && n > 1: // put elsewhere
				i, k := c.below(n), c.below(n)
				v.Items[i], v.Items[k] = v.Items[k], v.Items[i]
				return
			case c.below(5) == 0: // one more of its kind
				again := deep(v.Items[c.below(n)])
				for k := range again.Fields {
					if again.Fields[k].Name == "id" {
						again.Fields[k].Value.Text = fmt.Sprintf("Q%d", c.below(4))
					}
				}
				v.Items = append(v.Items, again)
				return
			default:
				v = &v.Items[c.below(n)]
			}
		default:
			scalarChange(v, c, key)
			return
		}
	}
}

func scalarChange(v *job.Value, c chance, key string) {
	var l measure.Length
	switch {
	case key == "at" && v.Kind == job.KindNumber:
		v.Text = fmt.Sprint(1000 + c.below(50))
	case v.Kind == job.KindBool:
		v.Text = fmt.Sprint(v.Text != "true")
	case l.UnmarshalText([]byte(v.Text)) == nil:
		v.Text = (l + measure.Length(1+c.below(3))*measure.Millimetre).String()
	case v.Kind == job.KindText:
		v.Text += fmt.Sprintf(" %d", c.below(3))
	}
}

func deep(v job.Value) job.Value {
	v.Items = append([]job.Value(nil), v.Items...)
	for i := range v.Items {
		v.Items[i] = deep(v.Items[i])
	}
	v.Fields = append([]job.Field(nil), v.Fields...)
	for i := range v.Fields {
		v.Fields[i].Value = deep(v.Fields[i].Value)
	}
	return v
}

// paperwork takes a spare document away, or makes a part of the job refer to one: what is right on each side by itself may
// be wrong when both meet.
func paperwork(j *job.Job, c chance) {
	id := fmt.Sprintf("S%d", c.below(spareDocuments))
	switch c.below(4) {
	case 0:
		j.Rules.From = id
	case 1:
		j.Supplies[0].From = id
	case 2:
		j.Levels.From = id
	default:
		j.Documents = slices.DeleteFunc(slices.Clone(j.Documents), func(d job.Document) bool { return d.ID == id })
	}
}

// changed is j after up to most changes that leave it without faults.
func changed(j job.Job, c chance, most int) job.Job {
	for range c.below(most + 1) {
		for range 8 {
			tree := deep(job.ToTree(j))
			if c.below(4) == 0 {
				next, _ := job.FromTree(tree)
				paperwork(&next, c)
				tree = job.ToTree(next)
			} else {
				change(&tree, c, "")
			}
			if next, faults := job.FromTree(tree); len(faults) == 0 {
				j = next
				break
			}
		}
	}
	return j
}
