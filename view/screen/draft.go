package screen

import (
	"math"
	"strconv"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
)

// draft is a plan as a screen draws it, with everything found by name.
type draft struct {
	plan   planner.Plan
	job    job.Job
	view   View
	speech wording.Speech
	ground ground.Ground
	order  []int          // of plan.Legs, in walking order
	rank   []int          // of each of plan.Legs: its number in order
	begins []float64      // of each of plan.Legs: where it begins on the strip
	legs   map[string]int // of plan.Legs, by name
	first  []int          // of each of plan.Legs: its first in plan.Units; one more for the end
	unitAt map[string]int // of plan.Units, by mark
	shown  []int          // of each of plan.Units: its number on the screen
	drawn  []int          // the other way round
	rows   []int          // of each of plan.Legs: its first in plan.SetOut; one more for the end
	joints []int          // likewise in plan.Joints
	covers []int          // of each of plan.Units: its first in plan.Covers; one more for the end
	supply map[string]int // of plan.Supplies
	scales []float64      // of each of plan.Units: chainage for a length on its axis
	lines  []PlanLeg      // of each of plan.Legs
	length float64        // of the strip
	widths []float64      // of each of plan.Supplies: drawn, mm
	found  map[string]bool
	metres float64 // in one coordinate unit
	unit   string  // its name
	places int     // decimals of a level
	asked  map[string]job.Leg
	early  bool // the plan is not made yet, but for its legs
}

// viewOf is the view that a job asks for itself.
func viewOf(p *planner.Plan) View { return View{System: p.Job.System, Words: p.Job.Words} }

// filled is a view with what it leaves open as the job has it.
func (v View) filled(p *planner.Plan) View {
	own := viewOf(p)
	if v.System != string(job.Metric) && v.System != string(job.Imperial) {
		v.System = own.System
	}
	if v.Words != string(job.UK) && v.Words != string(job.US) {
		v.Words = own.Words
	}
	return v
}

func newDraft(p planner.Plan, j job.Job, surfaces []*ground.Surface, view View) *draft {
	declare(&p, j)
	d := &draft{plan: p, job: j, view: view.filled(&p), ground: surfaces, legs: map[string]int{}, unitAt: map[string]int{}, supply: map[string]int{}, found: map[string]bool{}, asked: map[string]job.Leg{}}
	d.plan.Job.System, d.plan.Job.Words = d.view.System, d.view.Words
	d.speech = d.plan.Job.Speech()
	d.metres, d.unit, d.places = j.Coordinates.Unit.Metres(), j.Coordinates.Unit.Word(), j.Coordinates.Unit.LevelPlaces()
	for _, l := range j.Route.Legs {
		d.asked[l.ID] = l
	}
	for i, l := range p.Legs {
		d.legs[l.Name] = i
	}
	for i, s := range p.Supplies {
		d.supply[s.ID] = i
		d.widths = append(d.widths, width(s))
	}
	d.walk()
	d.parts()
	for i := range p.Legs {
		d.lines = append(d.lines, d.line(i))
	}
	return d
}

// width is the outer width that a supply is drawn with, mm. Without one on file it is a third of a metre, and NOT CHECKED.
func width(s planner.SupplyHead) float64 {
	if s.OuterWidth != nil && *s.OuterWidth > 0 {
		return mm(*s.OuterWidth)
	}
	return 333
}

// drawnWidth is the width that a supply is drawn with, mm, also where none is on file.
func (d *draft) drawnWidth(supply string) float64 {
	if i, ok := d.supply[supply]; ok {
		return d.widths[i]
	}
	return width(planner.SupplyHead{})
}

// mm is a length in millimetres, for drawing.
func mm(l measure.MM) float64 { return measure.Length(l).Millimetres() }

// walk puts the legs end to end: each is followed by the first leg, as they were declared, that begins where it ends.
func (d *draft) walk() {
	n := len(d.plan.Legs)
	d.rank, d.begins = make([]int, n), make([]float64, n)
	next := map[string][]int{}
	for i, l := range d.plan.Legs {
		next[l.From] = append(next[l.From], i)
		d.rank[i] = -1
	}
	for i := range d.plan.Legs {
		for at := i; at >= 0 && d.rank[at] < 0; {
			d.rank[at], d.begins[at] = len(d.order), d.length
			d.order = append(d.order, at)
			d.length += mm(d.plan.Legs[at].NodeLength)
			after := -1
			for _, k := range next[d.plan.Legs[at].To] {
				if d.rank[k] < 0 {
					after = k
					break
				}
			}
			at = after
		}
	}
}

// parts finds where each leg's units, joints, places and covers stand in the plan. They stand leg by leg, along the leg.
func (d *draft) parts() {
	p := &d.plan
	unit, row, joint := 0, 0, 0
	for _, l := range p.Legs {
		d.first, d.rows, d.joints = append(d.first, unit), append(d.rows, row), append(d.joints, joint)
		from := unit
		for unit < len(p.Units) && p.Units[unit].Leg == l.Name {
			unit++
		}
		if n := unit - from; n > 0 {
			row, joint = min(row+n+1, len(p.SetOut)), min(joint+n-1, len(p.Joints))
		}
	}
	d.first, d.rows, d.joints = append(d.first, unit), append(d.rows, row), append(d.joints, joint)
	d.shown = make([]int, len(p.Units))
	for _, leg := range d.order {
		for u := d.first[leg]; u < d.first[leg+1]; u++ {
			d.shown[u] = len(d.drawn)
			d.drawn = append(d.drawn, u)
		}
	}
	k := 0
	for i, u := range p.Units {
		d.unitAt[u.Mark] = i
		d.covers = append(d.covers, k)
		for k < len(p.Covers) && p.Covers[k].Unit == u.Mark {
			k++
		}
	}
	d.covers = append(d.covers, k)
	d.scale()
}

// scale finds how much chainage a length on each unit's axis takes: 1 on the level, less on a slope.
func (d *draft) scale() {
	d.scales = make([]float64, len(d.plan.Units))
	for leg, l := range d.plan.Legs {
		last := 1.0
		if along := mm(l.ClearLength) + mm(l.StartSetback) + mm(l.EndSetback); along > 0 {
			last = mm(l.NodeLength) / along
		}
		for u := d.first[leg]; u < d.first[leg+1]; u++ {
			if u+1 < d.first[leg+1] {
				a, b := &d.plan.Units[u], &d.plan.Units[u+1]
				if along := mm(b.Start) - mm(a.Start); along > 0 {
					last = (mm(b.Chainage) - mm(a.Chainage)) / along
				}
			}
			d.scales[u] = last
		}
	}
}

// strip is where a chainage of a leg lies on the strip.
func (d *draft) strip(leg int, chainage measure.MM) float64 { return d.begins[leg] + mm(chainage) }

// onStrip is where a station of a leg's laying axis lies on the strip: by the unit that it lies on.
func (d *draft) onStrip(leg int, at measure.MM) float64 {
	l := &d.plan.Legs[leg]
	low, high := d.first[leg], d.first[leg+1]-1
	if high < low || at < 0 {
		return d.begins[leg] + mm(at) + mm(l.StartSetback)
	}
	for low < high {
		mid := (low + high + 1) / 2
		if d.plan.Units[mid].Start <= at {
			low = mid
		} else {
			high = mid - 1
		}
	}
	u := &d.plan.Units[low]
	return d.strip(leg, u.Chainage) + float64((mm(at)-mm(u.Start))*d.scales[low])
}

// ends are where a unit begins and ends on the strip.
func (d *draft) ends(unit int) (from, to float64) {
	u := &d.plan.Units[unit]
	from = d.strip(d.legs[u.Leg], u.Chainage)
	return from, from + float64(mm(u.Length)*d.scales[unit])
}

// levelText is a level in the unit of the job's coordinates.
func (d *draft) levelText(m float64) string { return fixed(m/d.metres, d.places) + " " + d.unit }

func fixed(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }

// chainage is a chainage as set-out sheets write it.
func (d *draft) chainage(l measure.MM) string {
	system, places := measure.Metric, 3
	if d.speech.Imperial {
		system, places = measure.Imperial, 2
	}
	return measure.Chainage(measure.Length(l), system, places)
}

// degrees is an angle to its third decimal, without idle noughts.
func degrees(a float64) string {
	return strconv.FormatFloat(math.Round(a*1000)/1000, 'f', -1, 64) + "°"
}
