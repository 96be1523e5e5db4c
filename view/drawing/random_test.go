package drawing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
)

// randomRun builds a run by hand from a seed: legs of any length, bends of any angle, curves, and things along them.
func randomRun(seed uint64) (planner.Plan, job.Job) {
	r := rand.New(rand.NewPCG(seed, 7))
	b := newBricklayer(fmt.Sprintf("Random run %d with a name that is somewhat longer than most names are", seed))
	long := []float64{1000, 1500, 2400, 3000, 6000}[r.IntN(5)]
	width := 200 + 50*float64(r.IntN(20))
	b.supply("standard", "Standard trough", stock{long, width, width - 60})
	b.supply("heavy", "Heavy trough", stock{long, width + 60, width})
	if r.IntN(3) == 0 {
		b.job.System, b.job.Words, b.job.Coordinates.Unit = job.Imperial, job.US, job.CoordFeet
	}
	legs := 1 + r.IntN(9)
	turns := make([]float64, legs)
	for i := range turns {
		steepest := math.Atan(0.3*long/(width/2)) * 180 / math.Pi // no short side below a fifth of a unit
		turns[i] = math.Trunc(min(1200, 20*steepest)*(2*r.Float64()-1)) / 10
		if r.IntN(4) == 0 {
			turns[i] /= 40
		}
	}
	b.spots["N0"] = spot{}
	b.node(planner.Node{ID: "N0", Kind: "end", Legs: []string{"A"}, Made: []string{"building", "existing", "temporary", "open"}[r.IntN(4)]})
	bearing, before := float64(r.IntN(3600))/10, end{260, 0}
	for i := range legs {
		name, last := string(rune('A'+i)), i == legs-1
		after, next := end{90, 0}, end{}
		if !last {
			after, next = mitre(turns[i], false), mitre(turns[i], true)
		}
		lengths := several(1+r.IntN(25), long, 0.5*long+float64(r.IntN(int(0.45*long))))
		var curve []float64
		if total := float64(len(lengths)) * long; r.IntN(4) == 0 && len(lengths) > 8 {
			radius := 20 + float64(r.IntN(300))
			curve = []float64{total / 5, radius, min(60, total/3/1000/radius*57.3)}
		}
		bearing = b.leg(name, fmt.Sprintf("N%d", i), fmt.Sprintf("N%d", i+1), "standard", bearing, before, after, lengths, curve...)
		b.alongAtRandom(r, name, long)
		if !last {
			bearing += turns[i]
			b.bend(fmt.Sprintf("N%d", i+1), turns[i], width, fmt.Sprintf("%s-%03d", name, len(lengths)), fmt.Sprintf("%c-001", 'B'+i), name, string(rune('B'+i)))
		}
		before = next
	}
	b.node(planner.Node{ID: fmt.Sprintf("N%d", legs), Kind: "end", Legs: []string{string(rune('A' + legs - 1))}, Made: "end plate"})
	return b.finish(b.randomFindings(r)...)
}

// alongAtRandom puts things on the leg laid last.
func (b *bricklayer) alongAtRandom(r *rand.Rand, name string, long float64) {
	l := b.plan.Legs[len(b.plan.Legs)-1]
	clear := mm(l.ClearLength)
	at := func() measure.Length { return measure.Length(length(clear * r.Float64())) }
	some := func(mm float64) measure.Length { return measure.Length(length(mm)) }
	a := job.Leg{ID: name}
	for i := range r.IntN(3) {
		a.Crossings = append(a.Crossings, job.Crossing{ID: fmt.Sprintf("%s-x%d", name, i), Name: "access road", At: at(), Path: some(3500), Skew: measure.Angle(30+r.IntN(60)) * measure.Degree})
	}
	for i := range r.IntN(4) {
		a.Entries = append(a.Entries, job.ConduitEntry{ID: fmt.Sprintf("%s-e%d", name, i), At: at(), Side: []string{"left", "right", "floor"}[r.IntN(3)], Diameter: some(110)})
	}
	for i := range r.IntN(3) {
		a.Services = append(a.Services, job.Service{ID: fmt.Sprintf("%s-w%d", name, i), Name: "water main of cast iron", At: at(), Width: some(300), Clear: some(400)})
	}
	for _, t := range a.Entries {
		m := measure.MM(t.At)
		b.plan.Zones = append(b.plan.Zones, planner.Zone{Leg: name, From: m - length(300), To: m + length(300), Kind: "entry", ID: t.ID, Why: "conduit"})
	}
	b.job.Route.Legs = append(b.job.Route.Legs, a)
	for i := range b.plan.Units {
		if u := &b.plan.Units[i]; u.Leg == name && !u.Cut && r.IntN(12) == 0 {
			u.Supply, u.Demands = "heavy", "crossing "+name+"-x0"
		} else if u.Leg == name && u.Cut && r.IntN(6) == 0 {
			u.Hold = true
		}
	}
}

func (b *bricklayer) randomFindings(r *rand.Rand) finding.List {
	var out finding.List
	kinds := []finding.Kind{finding.NotChecked, finding.Attention, finding.Assumed, finding.Note}
	for i := range r.IntN(40) {
		f := finding.Finding{ID: "some.finding", Kind: kinds[r.IntN(len(kinds))], Text: strings.Repeat("something has to be said of this place ", 1+r.IntN(3)), Ask: "the supplier"}
		if u := b.plan.Units[r.IntN(len(b.plan.Units))]; i%3 > 0 {
			f.Where = finding.Where{Leg: u.Leg, Chainage: pointer(measure.Length(u.Chainage))}
			if i%3 == 1 {
				f.Where.Place = u.Mark
			}
		}
		out = append(out, f)
	}
	return out
}

// Whatever the run: nothing on any page lies on anything else.
func TestRandomRunsCanBeRead(t *testing.T) {
	for seed := range uint64(9) {
		plan, j := randomRun(seed)
		size := []Size{A3, A4, A1}[seed%3]
		for _, p := range Bind(pagesOf(plan, j, StyleFor(j, size)), "revision "+plan.Job.Revision) {
			checkPage(t, fmt.Sprintf("seed %d %s", seed, size), p)
		}
	}
}
