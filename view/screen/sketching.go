package screen

import (
	"errors"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/edit"
	"trenchwright/job/planner"
)

// sketch lays what was touched anew: of a job that is given, or of the opened one after edits.
func (d *Desk) sketch(q *question, on *draft) (Sketch, error) {
	out := Sketch{Hash: d.hash, Legs: []Leg{}, Touched: []Redrawn{}, Nodes: []Node{}, Faults: []Finding{}, Told: []string{}}
	j := d.job
	if len(q.Job) > 0 {
		read, faults := job.FromJSON(written(q.Job))
		if faults.Any(finding.Fault) {
			out.Faults = on.others(faults)
			return out, nil
		}
		j = read
	} else {
		if len(q.Edits) == 0 {
			return out, errors.New("a sketch needs a job, or edits of the opened one")
		}
		if q.Snap != nil {
			d.snap(&q.Edits[0], *q.Snap, on, &out)
		}
		r := edit.Apply(j, q.Edits)
		if !r.Changed {
			out.Faults = on.others(r.Faults)
			return out, nil
		}
		j, out.Told = r.Job, filled(r.Said)
	}
	if !d.dragged {
		d.sketches.Open(d.job)
		d.dragged = true
	}
	p, touched := d.sketches.Lay(j)
	if p.Findings.Any(finding.Fault) || len(p.Legs) == 0 {
		out.Faults = on.others(faultsOf(p.Findings))
		return out, nil
	}
	shift(&p, p.Job.Origin[0]-d.plan.Job.Origin[0], p.Job.Origin[1]-d.plan.Job.Origin[1])
	newDraft(p, j, nil, on.view).redrawn(&out, on, touched)
	return out, nil
}

func faultsOf(all finding.List) finding.List {
	var out finding.List
	for _, f := range all {
		if f.Kind == finding.Fault {
			out = append(out, f)
		}
	}
	return out
}

// others are findings that are not the plan's own.
func (d *draft) others(all finding.List) []Finding {
	out := []Finding{}
	for _, f := range all {
		out = append(out, d.finding("", f))
	}
	return out
}

// shift moves a plan to another origin.
func shift(p *planner.Plan, east, north float64) {
	if east == 0 && north == 0 {
		return
	}
	move := func(at *[2]float64) { at[0], at[1] = at[0]+east, at[1]+north }
	for i := range p.Legs {
		for k := range p.Legs[i].Axis {
			move(&p.Legs[i].Axis[k].Start)
			move(&p.Legs[i].Axis[k].End)
		}
	}
	for i := range p.Nodes {
		move(&p.Nodes[i].At)
	}
	for i := range p.Units {
		move(&p.Units[i].Axis[0])
		move(&p.Units[i].Axis[1])
	}
}

// redrawn fills a sketch: legs that were not touched are as they were when the screen was opened.
func (d *draft) redrawn(out *Sketch, opened *draft, touched []int) {
	was := map[string]Leg{}
	for _, l := range opened.stripLegs() {
		was[l.ID] = l
	}
	is := map[int]bool{}
	for _, i := range touched {
		is[i] = true
	}
	out.Length, out.Legs = d.length, d.stripLegs()
	units := 0
	for k := range out.Legs {
		l := &out.Legs[k]
		if old, ok := was[l.ID]; ok && !is[d.order[k]] {
			l.Units, l.Verdict, l.Said, l.Why, l.Try = old.Units, old.Verdict, old.Said, old.Why, old.Try
		}
		l.First = units
		units += l.Units
	}
	for _, i := range d.order {
		if !is[i] {
			continue
		}
		r := Redrawn{Leg: d.rank[i], Zones: []Zone{}, Line: d.lines[i], Corners: make(Numbers, 0, 8*(d.first[i+1]-d.first[i]))}
		d.addUnits(i, &r.Units, nil)
		r.Units.fill()
		for u := d.first[i]; u < d.first[i+1]; u++ {
			r.Corners = d.corners(r.Corners, u)
		}
		out.Touched = append(out.Touched, r)
	}
	for _, z := range d.zones() {
		for k := range out.Touched {
			if out.Touched[k].Leg == z.Leg {
				out.Touched[k].Zones = append(out.Touched[k].Zones, z)
			}
		}
	}
	out.Nodes, out.Extent = d.nodes(), extent(d.lines)
	out.Said = fmt.Sprintf("%s, %s, %s", count(len(out.Legs), "leg", "legs"), d.unitsText(units), d.far(measure.MM(measure.FromMillimetres(d.length)))+" from node to node")
}

// edited is the opened job after edits.
func (d *Desk) edited(q *question, on *draft) Edited { return after(edit.Apply(d.job, q.Edits), on) }

// editedJob is a job that is given, after edits.
func (d *Desk) editedJob(q *question) (Edited, error) {
	j, faults := job.FromJSON(written(q.Job))
	p := planner.Plan{}
	p.Job.System, p.Job.Words = string(j.System), string(j.Words)
	on := newDraft(p, j, nil, q.view())
	if faults.Any(finding.Fault) && len(j.Supplies) == 0 && len(j.Route.Legs) == 0 {
		return Edited{Faults: on.others(faults), Said: []string{}, Keys: []string{}}, nil
	}
	return after(edit.Apply(j, q.Edits), on), nil
}

func after(r edit.Result, on *draft) Edited {
	out := Edited{Faults: on.others(r.Faults), Said: filled(r.Said), Keys: filled(r.Keys)}
	if r.Changed {
		text := job.CanonicalJSON(r.Job)
		out.Job, out.Hash = string(text), job.Hash(r.Job)
	}
	return out
}
