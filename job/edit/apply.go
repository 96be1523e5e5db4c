package edit

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/route"
)

// Result is what came of edits.
type Result struct {
	Job     job.Job      // with all edits; as it was where Changed is false
	Changed bool         // all edits were made; false: none was
	Faults  finding.List // why none was made; after Changed: what was wrong before and still is
	Said    []string     // what was understood, one line for each edit
	Keys    []string     // what was made or changed, as a screen names it: node/N4, crossing/A/X2
}

// Apply makes all edits, one after another, or none of them. It refuses what would leave a job with faults that it did not
// have before; what was wrong before may stay, so that it can be mended step by step. The job itself is not touched.
func Apply(j job.Job, edits []Edit) Result {
	w := &work{job: copied(j)}
	w.speech = j.Speech()
	for i := range edits {
		if !w.one(&edits[i]) {
			return Result{Job: j, Faults: w.faults}
		}
	}
	w.job = copied(w.job)
	now := job.Faults(w.job)
	if w.faults = added(now, j); len(w.faults) > 0 {
		return Result{Job: j, Faults: w.faults}
	}
	if told := carried(j, w.job, edits); told != "" {
		w.said = append(w.said, told)
	}
	return Result{Job: w.job, Changed: true, Faults: now, Said: w.said, Keys: w.keys}
}

// added are the faults that a job did not have before; its own are asked for only where there are any now.
func added(now finding.List, before job.Job) finding.List {
	if len(now) == 0 {
		return nil
	}
	had := map[string]int{}
	for _, f := range job.Faults(before) {
		had[f.ID+f.Text]++
	}
	var out finding.List
	for _, f := range now {
		if had[f.ID+f.Text]--; had[f.ID+f.Text] < 0 {
			out = append(out, f)
		}
	}
	return out
}

// work is a job while it is changed.
type work struct {
	job    job.Job
	speech wording.Speech
	faults finding.List
	said   []string
	keys   []string
	given  []string       // ids of new things, before these stand in the job
	net    *route.Network // of the job as it is now; nil: not known yet
}

func (w *work) one(e *Edit) bool {
	w.net = nil
	switch e.Op {
	case MoveNode:
		return w.moveNode(e)
	case InsertBend:
		return w.insertBend(e)
	case RemoveBend:
		return w.removeBend(e)
	case Draw:
		return w.draw(e)
	case Extend:
		return w.extend(e)
	case Branch:
		return w.branch(e)
	case RemoveLeg:
		return w.removeLeg(e)
	case Add:
		return w.add(e)
	case Move:
		return w.move(e)
	case Remove:
		return w.remove(e)
	case Set:
		return w.set(e)
	case Clear:
		return w.clear(e)
	case Rename:
		return w.rename(e)
	case Take:
		return w.take(e)
	}
	return w.fault("unknown", "", fmt.Sprintf("%q is no edit", e.Op), "one of "+opsText())
}

func opsText() string {
	var all []string
	for _, op := range Ops() {
		all = append(all, string(op))
	}
	return strings.Join(all, ", ")
}

// fault says why an edit is not made. It is always false.
func (w *work) fault(id, path, text, try string) bool {
	w.faults = append(w.faults, finding.Finding{ID: "edit." + id, Kind: finding.Fault, Text: text, Where: finding.Where{Path: path}, Try: try})
	return false
}

// misread says that typed text was not understood. It is always false.
func (w *work) misread(path string, err error) bool {
	f := finding.Misread("edit.misread", err, finding.Where{Path: path})
	if f.Try == "" {
		f.Try = "look at what was typed"
	}
	w.faults = append(w.faults, f)
	return false
}

// say tells what an edit was understood as, and what it made or changed.
func (w *work) say(key, form string, args ...any) bool {
	w.said = append(w.said, w.speech.Say(form, args...))
	if key != "" {
		w.keys = append(w.keys, key)
	}
	return true
}

// both is a length in both systems, the job's own first.
func (w *work) both(l measure.Length) string {
	other := wording.Speech{US: w.speech.US, Imperial: !w.speech.Imperial}
	return w.speech.Length(l) + " = " + other.Length(l)
}

// bothFar is a distance along the run in both systems, the job's own first.
func (w *work) bothFar(l measure.Length) string {
	other := wording.Speech{US: w.speech.US, Imperial: !w.speech.Imperial}
	return w.speech.Far(wording.Far(l)) + " = " + other.Far(wording.Far(l))
}

// declared turns a route that was told as a walk into nodes and legs, for what is to be drawn on.
func (w *work) declared() bool {
	if len(w.job.Route.Walk) == 0 {
		return true
	}
	j, faults := planner.Declared(w.job)
	if len(faults) > 0 {
		w.faults = append(w.faults, faults...)
		return false
	}
	w.job = copied(j)
	return w.say("", "the walk became %d nodes and %d legs", len(w.job.Route.Nodes), len(w.job.Route.Legs))
}

// network is where the run goes now.
func (w *work) network() (route.Network, bool) {
	if w.net == nil {
		net, _, faults := planner.Run(w.job)
		if faults.Any(finding.Fault) {
			w.faults = append(w.faults, faults...)
			return net, false
		}
		w.net = &net
	}
	return *w.net, true
}

func (w *work) node(id string) (*job.Node, bool) {
	for i := range w.job.Route.Nodes {
		if w.job.Route.Nodes[i].ID == id {
			return &w.job.Route.Nodes[i], true
		}
	}
	return nil, w.fault("no-node", "route.nodes", fmt.Sprintf("there is no node %q", id), "an id that stands in the job")
}

func (w *work) leg(id string) (int, bool) {
	for i := range w.job.Route.Legs {
		if w.job.Route.Legs[i].ID == id {
			return i, true
		}
	}
	return -1, w.fault("no-leg", "route.legs", fmt.Sprintf("there is no leg %q", id), "an id that stands in the job")
}

// meeting are the legs that meet at a node, by index.
func (w *work) meeting(node string) []int {
	var out []int
	for i := range w.job.Route.Legs {
		if l := &w.job.Route.Legs[i]; l.From == node || l.To == node {
			out = append(out, i)
		}
	}
	return out
}
