package delivery

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Largest values that are taken, so that no moment and no sum here can overflow.
const (
	longest  = 100 * measure.Metre
	heaviest = measure.Mass(500_000_000) // 500 t
	mostOf   = 1 << 20                   // pieces in all
)

// Faults lists what is wrong with a Problem as it stands. Solve takes none that has any.
func Faults(p *Problem) finding.List {
	f := faults{p: p}
	if len(p.Pieces) > mostOf {
		f.add("problem", "pieces", "too many pieces for one delivery", fmt.Sprint(len(p.Pieces)), fmt.Sprint(mostOf), "part the run")
	}
	if p.Ahead < 0 {
		f.add("range", "ahead", "nothing comes less than 0 mm ahead of its turn", p.Words.Length(p.Ahead), "at least 0", "leave it out: everything then comes in laying order")
	}
	for i := range p.Kinds {
		f.kind(fmt.Sprintf("kinds[%d]", i), &p.Kinds[i])
	}
	for i, x := range p.Pieces {
		if x.Kind < 0 || x.Kind >= len(p.Kinds) || i > 0 && x.Turn < p.Pieces[i-1].Turn || x.Turn < 0 {
			f.add("piece", fmt.Sprintf("pieces[%d]", i), "piece "+x.Name+" is of no kind, or stands before one that is laid earlier", "", "", "give pieces in laying order")
		}
	}
	for i := range p.Vehicles {
		f.vehicle(fmt.Sprintf("vehicles[%d]", i), &p.Vehicles[i])
	}
	return f.list
}

type faults struct {
	p    *Problem
	list finding.List
}

func (f *faults) add(id, path, text, value, limit, try string) {
	f.list = append(f.list, finding.Finding{ID: "delivery." + id, Kind: finding.Fault, Text: text, Where: finding.Where{Path: path}, Value: value, Limit: limit, Try: try})
}

const fromDrawing = "the figure from the supplier's drawing, or none"

func (f *faults) kind(path string, k *Kind) {
	for _, l := range []struct {
		what string
		is   measure.Length
	}{{"length", k.Length}, {"width", k.Width}, {"height", k.Height}, {"bearer", k.Bearer}} {
		if l.is < 0 || l.is > longest {
			f.add("range", path, l.what+" of "+k.Name+" cannot be", f.p.Words.Length(l.is), "0 to "+f.p.Words.Length(longest), fromDrawing)
		}
	}
	for _, m := range []struct {
		what string
		is   measure.Mass
	}{{"mass", k.Mass}, {"mass of the packing", k.Tare}} {
		if m.is < 0 || m.is > heaviest {
			f.add("range", path, m.what+" of "+k.Name+" cannot be", f.p.mass(m.is), "0 to "+f.p.mass(heaviest), fromDrawing)
		}
	}
	if k.Bundle < 0 || k.Wide < 0 || k.High < 0 || k.Bearers < 0 || k.Bundle > 0 && k.Wide > k.Bundle {
		f.add("bundle", path, fmt.Sprintf("a bundle of %s cannot be: %d in it, %d side by side, %d on one another, %d bearers", k.Name, k.Bundle, k.Wide, k.High, k.Bearers), "", "", "counts of 0 and more, no more side by side than there are in it")
	}
	if k.Bundle > 1 && (k.Mass > heaviest/measure.Mass(k.Bundle)) {
		f.add("bundle", path, "a bundle of "+k.Name+" is heavier than anything that is brought", fmt.Sprintf("%d of %s", k.Bundle, f.p.mass(k.Mass)), f.p.mass(heaviest), fromDrawing)
	}
	for _, on := range k.On {
		if on < 0 || on >= len(f.p.Kinds) {
			f.add("bundle", path, k.Name+" is said to stand on a kind that there is none of", "", "", "name a kind of the problem")
		}
	}
}

func (f *faults) vehicle(path string, v *Vehicle) {
	if v.Payload <= 0 || v.Payload > heaviest {
		f.add("range", path, "the payload of "+v.Name+" cannot be", f.p.mass(v.Payload), "more than 0 and at most "+f.p.mass(heaviest), "the figure from the haulier")
	}
	if d := v.Deck; d != nil {
		for _, l := range []struct {
			what string
			is   measure.Length
		}{{"length", d.Length}, {"width", d.Width}, {"height", d.Height}} {
			if l.is <= 0 || l.is > longest {
				f.add("range", path, l.what+" of the deck of "+v.Name+" cannot be", f.p.Words.Length(l.is), "more than 0 and at most "+f.p.Words.Length(longest), "the figure from the haulier")
			}
		}
	}
	a := v.Axles
	if a == nil {
		return
	}
	if a.Apart <= 0 || a.Apart > longest || a.Ahead < -longest || a.Ahead > longest {
		f.add("axles", path, "the axles of "+v.Name+" cannot stand like that", f.p.Words.Length(a.Apart)+" apart", "more than 0", "measure from the middle of the first group to the middle of the second")
	}
	for i, group := range [2]string{"front", "rear"} {
		if a.Empty[i] < 0 || a.Limit[i] > heaviest || a.Limit[i] <= a.Empty[i] {
			f.add("axles", path, "the "+group+" axles of "+v.Name+" bear their limit without a load", f.p.mass(a.Empty[i]), f.p.mass(a.Limit[i]), "the figures from its papers: empty below the limit")
		}
	}
}

// mass is a mass in the job's system.
func (p *Problem) mass(m measure.Mass) string {
	format := measure.Format{}
	if p.Words.Imperial {
		format.System = measure.Imperial
	}
	return format.Mass(m)
}

// tooLarge says of a bundle that goes on no vehicle what keeps it off the one that comes nearest.
func (q *question) tooLarge(b int) finding.Finding {
	box, k := &q.bundles[b], q.kindOf(b)
	name := k.Name
	if len(box.Pieces) > 1 {
		name = fmt.Sprintf("a bundle of %d of %s", len(box.Pieces), k.Name)
	}
	f := finding.Finding{ID: "delivery.too-large", Kind: finding.Impossible, Where: finding.Where{Place: q.Pieces[box.Pieces[0]].Name}, Try: "a larger vehicle, or ask the supplier for a shorter or lighter piece"}
	most := q.Vehicles[q.least[len(q.least)-1]]
	f.Text, f.Value, f.Limit = name+" is heavier than any vehicle on file may bring", q.mass(box.Mass), q.mass(most.Payload)+" on "+most.Name
	if box.Mass > most.Payload || !q.sized {
		return f
	}
	for side, what := range [3]string{"longer", "wider", "higher"} {
		of := func(d *Deck) measure.Length { return [3]measure.Length{d.Length, d.Width, d.Height}[side] }
		is, room, on := [3]measure.Length{box.Length, box.Width, box.Height}[side], measure.Length(0), ""
		for i := range q.Vehicles {
			if v := &q.Vehicles[i]; v.Payload >= box.Mass && of(v.Deck) > room {
				room, on = of(v.Deck), v.Name
			}
		}
		if is > room {
			f.Text, f.Value, f.Limit = name+" is "+what+" than the deck of any vehicle that bears it", q.Words.Length(is), q.Words.Length(room)+" on "+on
			return f
		}
	}
	f.Text, f.Value, f.Limit = name+" overloads an axle of every vehicle on file, wherever it stands, or fits none in all three sizes", q.mass(box.Mass), q.mass(most.room())+" on both groups of "+most.Name
	return f
}
