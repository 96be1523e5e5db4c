package main

import (
	"fmt"
	"math/rand/v2"
	"time"

	"trenchwright/base/measure"
	"trenchwright/solve/delivery"
)

// bringing is so many pieces of a made-up run, brought on two kinds of vehicles.
type bringing struct {
	Pieces int
	Ahead  measure.Length // of run that a bundle may come before its turn
	Seed   uint64
}

// broughtAnswer is what a worker says of a bringing; times are processor time.
type broughtAnswer struct {
	Loads, Least int
	Took         time.Duration
}

const (
	bringWithin = time.Second
	bringOver   = 2 // in 100 above what any order needs
)

// problem is long and short units, now and then a special one, and pallets of covers.
func (b bringing) problem() delivery.Problem {
	const mm, kg = measure.Millimetre, measure.Mass(1000)
	r := rand.New(rand.NewPCG(b.Seed, 4))
	p := delivery.Problem{Ahead: b.Ahead, Kinds: []delivery.Kind{
		{Name: "unit 3000", Length: 3000 * mm, Width: 700 * mm, Height: 560 * mm, Mass: 1305 * kg, Bundle: 2, Wide: 1, Bearer: 80 * mm, High: 2, On: []int{0}},
		{Name: "unit 1500", Length: 1500 * mm, Width: 700 * mm, Height: 560 * mm, Mass: 652 * kg, Bundle: 2, Wide: 1, Bearer: 80 * mm, High: 2, On: []int{0, 1}},
		{Name: "cover 996", Length: 996 * mm, Width: 640 * mm, Height: 70 * mm, Mass: 110 * kg, Bundle: 8, Wide: 1, Tare: 18 * kg, High: 1},
	}, Vehicles: []delivery.Vehicle{
		{Name: "lorry", Payload: 12_000 * kg, Deck: &delivery.Deck{Length: 7200 * mm, Width: 2450 * mm, Height: 2600 * mm},
			Axles: &delivery.Axles{Ahead: 1100 * mm, Apart: 5300 * mm, Empty: [2]measure.Mass{5600 * kg, 4900 * kg}, Limit: [2]measure.Mass{8000 * kg, 19_000 * kg}}},
		{Name: "trailer", Payload: 26_500 * kg, Deck: &delivery.Deck{Length: 13_600 * mm, Width: 2480 * mm, Height: 2700 * mm},
			Axles: &delivery.Axles{Ahead: -1000 * mm, Apart: 7700 * mm, Empty: [2]measure.Mass{2500 * kg, 4500 * kg}, Limit: [2]measure.Mass{12_000 * kg, 24_000 * kg}}},
	}}
	for turn := measure.Length(0); len(p.Pieces) < b.Pieces; {
		kind, length := 0, 3000*mm
		switch x := r.IntN(40); {
		case x == 0:
			kind, length = len(p.Kinds), measure.Length(600+r.IntN(2300))*mm
			p.Kinds = append(p.Kinds, delivery.Kind{Name: fmt.Sprint("special ", len(p.Pieces)), Length: length, Width: 700 * mm, Height: 560 * mm, Mass: measure.Mass(length / mm * 435)})
		case x < 7:
			kind, length = 1, 1500*mm
		}
		p.Pieces = append(p.Pieces, delivery.Piece{Name: fmt.Sprint(len(p.Pieces)), Kind: kind, Turn: turn})
		for range (length + 999*mm) / (1000 * mm) {
			p.Pieces = append(p.Pieces, delivery.Piece{Name: fmt.Sprint(len(p.Pieces)), Kind: 2, Turn: turn})
		}
		turn += length + 10*mm
	}
	p.Pieces = p.Pieces[:b.Pieces]
	return p
}

// delivery times loads in laying order: strictly, and with some run ahead; both beside the count that no order can do with fewer.
func (b *bench) delivery() error {
	for _, v := range []struct {
		what  string
		ahead measure.Length
		bound bool
	}{{"delivery: pieces on vehicles by mass, deck and axles, 60 m of run ahead", 60 * measure.Metre, true}, {"the same, strictly in laying order", 0, false}} {
		n := 10_000
		if b.quick {
			n = 2000
		}
		file, err := b.file("delivery.json", bringing{Pieces: n, Ahead: v.ahead, Seed: 1})
		if err != nil {
			return err
		}
		var a broughtAnswer
		if _, err := hire("delivery", file, &a); err != nil {
			return err
		}
		target, met := secs(bringWithin), a.Took <= bringWithin
		if v.bound { // in strict order loads are as full as their order lets them be
			target, met = fmt.Sprintf("%s, at most %d in 100 above the bound, or one", target, bringOver), met && a.Loads-a.Least <= max(1, bringOver*a.Least/100)
		}
		b.report.row(row{what: v.what, size: fmt.Sprintf("%s pieces", count(n)), ours: fmt.Sprintf("%s, %d loads, bound %d", secs(a.Took), a.Loads, a.Least), target: target, verdict: within(met)})
	}
	return nil
}

func deliveryWorker(file string) (any, error) {
	var b bringing
	if err := readJSON(file, &b); err != nil {
		return nil, err
	}
	p := b.problem()
	began := cpuTime()
	s, bad := delivery.Solve(p)
	took := cpuTime() - began
	if len(bad) == 0 {
		bad = delivery.Check(&p, &s)
	}
	if len(bad) > 0 {
		return nil, fmt.Errorf("%s", bad[0].Text)
	}
	return broughtAnswer{Loads: len(s.Loads), Least: s.Bound.Loads, Took: took}, nil
}
