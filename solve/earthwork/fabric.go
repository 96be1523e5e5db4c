package earthwork

import (
	"math"

	"trenchwright/base/measure"
)

// FabricOrder is the separation fabric of the whole run: sheets lie along it, each leg begins with a new one.
type FabricOrder struct {
	Covered float64 // m² of formation and sides that are covered once
	Order   float64 // m² with laps
	Sheets  int
	Laps    int
}

func (out *Solution) order(p *Problem) {
	if p.Fabric == nil {
		return
	}
	out.Fabric = &FabricOrder{}
	for i, l := range p.Legs {
		if len(out.Legs[i].Spans) > 0 {
			out.Fabric.leg(p.Fabric, &l, l.Spans[0].From, l.Spans[len(l.Spans)-1].To)
		}
	}
}

// leg adds the fabric of a leg between two chainages. Its width is that of the bottom, the sides of the drain's trench, and what goes up each
// side; its length is along the slope of the formation, with the dig's free ends.
func (o *FabricOrder) leg(f *Fabric, l *Leg, from, to measure.Length) {
	long, area, widest := 0.0, 0.0, 0.0
	for i := range l.Spans {
		t := newTemplate(&l.Spans[i])
		a, b := max(from, l.Spans[i].From), min(to, l.Spans[i].To)
		if a >= b {
			continue
		}
		run := (b - a).Metres()
		if i == 0 && a == l.Spans[i].From {
			run += l.Start.Beyond.Metres()
		}
		if i == len(l.Spans)-1 && b == l.Spans[i].To {
			run += l.End.Beyond.Metres()
		}
		grade := (t.end[lFormation] - t.start[lFormation]) / (t.to - t.from)
		along := float64(run * math.Sqrt(1+float64(grade*grade)))
		wide := float64(2*t.half) + float64(2*f.Up.Metres()) + float64(2*t.sinks())
		long, area, widest = long+along, area+float64(along*wide), max(widest, wide)
	}
	if long == 0 {
		return
	}
	n, lap := Sheets(record(long), f.Sheet, f.Lap), f.Lap.Metres()
	o.Covered += area
	o.Sheets += n
	o.Laps += n - 1
	o.Order += area + float64(float64(float64(n-1)*lap)*widest)
}

// sinks is how far the drain's trench lies below the formation, on average of the span's ends.
func (t *template) sinks() float64 {
	if !t.drain {
		return 0
	}
	return (max(0, t.start[lFormation]-t.start[lDrain]) + max(0, t.end[lFormation]-t.end[lDrain])) / 2
}

// Sheets is how many sheets cover a length when each laps the one before.
func Sheets(length, sheet, lap measure.Length) int {
	if length <= sheet {
		return 1
	}
	return 1 + int((length-sheet+(sheet-lap)-1)/(sheet-lap))
}
