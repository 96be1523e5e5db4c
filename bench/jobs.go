package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/peer"
	"trenchwright/bench/process"
	"trenchwright/solve/cutstock"
)

// madeUpJob is the cutting list of a run with bends: closers, and pieces that go into a bend or come out of one, each
// with the hand of its side; some between two bends where no cast end has to be kept. They are cut from units of one or
// two lengths, some at prices, and from offcuts in the yard, some of which end in a mitre.
func madeUpJob(seed uint64) cutstock.Problem {
	r := rand.New(rand.NewPCG(seed, 300))
	longest := measure.Length([]int{2000, 2400, 3000}[r.IntN(3)]) * mm
	p := cutstock.Problem{
		Width: measure.Length(450+50*r.IntN(10)) * mm, Kerf: measure.Length(3+r.IntN(5)) * mm, KeepFrom: 600 * mm,
		FactoryEnd: r.IntN(2) == 0, MayTurn: r.IntN(4) > 0,
	}
	p.LeastSlice = p.Kerf + measure.Length(r.IntN(20))*mm
	p.Stocks = []cutstock.Stock{cutstock.Unit("long", longest)}
	if r.IntN(2) == 0 {
		p.Stocks = append(p.Stocks, cutstock.Unit("short", longest/2+measure.Length(r.IntN(400))*mm))
		if r.IntN(2) == 0 {
			p.Stocks[0].Price, p.Stocks[1].Price = int64(longest/mm)/20, int64(p.Stocks[1].Length/mm)/20+8
		}
	}
	halves := make([]measure.Angle, 2+r.IntN(10)) // half the deflection of each bend, right positive
	for i := range halves {
		halves[i] = measure.Angle([]int{450, 450, 225, 150, 300, 50 + r.IntN(400)}[r.IntN(6)]) * measure.Degree / 10
		if r.IntN(2) == 0 {
			halves[i] = -halves[i]
		}
	}
	for range 50 + r.IntN(451) {
		p.Pieces = append(p.Pieces, madeUpPiece(r, p, halves))
	}
	for range r.IntN(10) {
		o := cutstock.Stock{ID: "offcut", Length: 700*mm + measure.Length(r.IntN(int(longest/mm)-900))*mm, Count: 1, Offcut: true, A: cutstock.End{Cast: cutstock.Plain}}
		if r.IntN(3) == 0 {
			o.B.Skew = halves[r.IntN(len(halves))]
		}
		p.Stocks = append(p.Stocks, o)
	}
	return p
}

func madeUpPiece(r *rand.Rand, p cutstock.Problem, halves []measure.Angle) cutstock.Piece {
	longest := p.Stocks[0].Length
	piece := cutstock.Piece{Count: 1, Length: 600*mm + measure.Length(r.IntN(int(longest/mm)-600))*mm}
	into := func() { piece.End.Skew = halves[r.IntN(len(halves))] }
	outOf := func() { piece.Start.Skew = -halves[r.IntN(len(halves))] }
	switch n := r.IntN(12); {
	case n < 4: // a closer
	case n < 8:
		into()
	case n < 11 || p.FactoryEnd:
		outOf()
	default:
		into()
		outOf()
	}
	wedges := half(p.Width, piece.Start.Skew) + half(p.Width, piece.End.Skew)
	piece.Length = min(max(piece.Length, 350*mm+wedges), longest-p.LeastSlice-wedges)
	return piece
}

// half is how far a mitre reaches beyond the axis, rounded up to whole millimetres.
func half(width measure.Length, skew measure.Angle) measure.Length {
	reach := float64(width) / 2 * math.Abs(math.Tan(float64(skew)/float64(measure.Degree)*math.Pi/180))
	return measure.Length(math.Ceil(reach/float64(mm))) * mm
}

// cutAnswer is what a worker says of a cutting.
type cutAnswer struct {
	Verdict     cutstock.Verdict
	Proven      bool
	Cost, Bound int64
	Solve       time.Duration // processor time, without reading and checking
	Faults      []string      // what the separate checker says
}

func cutWorker(file string) (any, error) {
	var p cutstock.Problem
	if err := readJSON(file, &p); err != nil {
		return nil, err
	}
	before := cpuTime()
	s, err := cutstock.Solve(p, cutstock.Limits{})
	if err != nil {
		return nil, err
	}
	a := cutAnswer{Verdict: s.Verdict, Proven: s.Proven, Cost: s.Cost, Bound: s.Bound, Solve: cpuTime() - before}
	for _, f := range cutstock.Check(p, s) {
		a.Faults = append(a.Faults, f.Where.Path+": "+f.Text)
	}
	return a, nil
}

// cut has a worker cut a problem, and notes what its checker says against the answer.
func (b *bench) cut(name string, p cutstock.Problem) (cutAnswer, process.Cost, error) {
	var a cutAnswer
	file, err := b.file("cut.json", p)
	if err != nil {
		return a, process.Cost{}, err
	}
	cost, err := hire("cut", file, &a)
	for _, f := range a.Faults {
		b.report.wrong = append(b.report.wrong, name+": the checker says: "+f)
	}
	return a, cost, err
}

func (b *bench) jobs() error {
	number, sample, ways := 300, 3, 40_000
	if b.quick {
		number, sample, ways = 12, 1, 4_000
	}
	var times []time.Duration
	var slow, open []string
	pieces, proven := 0, 0
	for seed := range uint64(number) {
		p := madeUpJob(seed)
		a, _, err := b.cut(fmt.Sprint("job ", seed), p)
		if err != nil {
			return err
		}
		times = append(times, a.Solve)
		pieces += len(p.Pieces)
		if a.Proven {
			proven++
		} else {
			open = append(open, fmt.Sprintf("%d (%s, cost %d, bound %d)", seed, a.Verdict, a.Cost, a.Bound))
		}
		if a.Solve > time.Second {
			slow = append(slow, fmt.Sprintf("%d (%s)", seed, secs(a.Solve)))
		}
	}
	slices.Sort(times)
	middle, most := times[(len(times)-1)/2], times[len(times)-1]
	size := fmt.Sprintf("%d jobs, %d pieces each", number, pieces/number)
	b.report.row(row{what: "cutting of made-up jobs", size: size, ours: fmt.Sprintf("%d proven", proven), target: "all proven", verdict: within(proven == number)})
	b.report.row(row{what: "its time", size: size, ours: fmt.Sprintf("%s, slowest %s", secs(middle), secs(most)), target: "1 s each", verdict: within(most <= time.Second)})
	b.report.note("Made-up jobs have 50 to 500 pieces with mitres of both hands, a kerf, a least slice, offcuts in the yard; seeds 0 to %d. Not proven: %s. Slower than 1 s: %s.", number-1, list(open), list(slow))
	return b.jobsAndPeers(sample, ways)
}

// jobsAndPeers asks the peers for the first jobs whose ways of sawing a unit can be listed, of each kind so many.
func (b *bench) jobsAndPeers(sample, ways int) error {
	var all []duel
	for _, kept := range []bool{true, false} {
		here := 0
		for seed := uint64(0); here < sample && seed < 300; seed++ {
			p := madeUpJob(seed)
			if p.FactoryEnd != kept {
				continue
			}
			began := time.Now()
			m, err := peer.Sawing(p, ways)
			if err != nil {
				continue
			}
			name := fmt.Sprintf("job %d, %d pieces, any ends", seed, len(p.Pieces))
			if kept {
				name = fmt.Sprintf("job %d, %d pieces, cast ends kept", seed, len(p.Pieces))
			}
			d, err := b.duel(name, p, m, time.Since(began))
			if err != nil {
				return err
			}
			all = append(all, d)
			here++
		}
	}
	b.report.duels("Made-up jobs: all ways of sawing a unit as one integer programme", all)
	b.report.duelRow("cutting of made-up jobs beside cbc", all, 0)
	b.report.note("Peers get a made-up job as the choice among all ways of sawing one unit, where there are at most %s of them. Making a model is not counted as their time.", count(ways))
	return nil
}
