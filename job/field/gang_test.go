package field

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/tools/seed"
)

func chance(t testing.TB) *rand.Rand {
	return rand.New(rand.NewPCG(seed.Of(t), 1))
}

const mm = measure.Millimetre

var plain, lid = Piece{Supply: "T3", What: "unit", Length: 3000 * mm}, Piece{Supply: "T3", What: "cover", Length: 500 * mm}

// small is a run of two legs, four units each, two covers a unit; the last unit of each leg is a cut piece.
func small() *Run {
	run := &Run{}
	for _, id := range []string{"A", "B"} {
		l := Leg{ID: id}
		for i := range 4 {
			u := Unit{Place: fmt.Sprintf("%s-%03d", id, i+1), Start: measure.Length(i) * 3010 * mm, Gap: 10 * mm, Piece: plain, Stock: plain}
			u.End = u.Start + 3000*mm
			if i == 3 {
				u.Piece = Piece{Supply: "T3", What: "unit", Mark: u.Place}
			}
			for c := range 2 {
				u.Covers = append(u.Covers, fmt.Sprintf("%s.%d", u.Place, c+1))
				u.Lids = append(u.Lids, lid)
			}
			l.Units = append(l.Units, u)
		}
		run.Legs = append(run.Legs, l)
	}
	return run
}

// gang is people with devices, who make records.
type gang struct {
	t      testing.TB
	r      *rand.Rand
	number map[string]int
}

func people(t testing.TB) *gang { return &gang{t, chance(t), map[string]int{}} }

// makes is a record of a device, with an id of its own.
func (g *gang) makes(device string, kind Kind, from, to string, says any, after ...string) Record {
	g.t.Helper()
	b, err := json.Marshal(says)
	if err != nil {
		g.t.Fatal(err)
	}
	g.number[device]++
	var ten [10]byte
	for i := range ten {
		ten[i] = byte(g.r.IntN(256))
	}
	return Record{ID: ULID(1_790_000_000_000+int64(g.r.IntN(1e9)), ten), Job: "j", Device: device, Number: g.number[device], Person: "p of " + device,
		Made: fmt.Sprintf("20%02d-01-01T00:00:00Z", g.r.IntN(90)), Kind: kind, From: from, To: to, After: after, Says: b}
}

func stateOf(records ...Record) State {
	b := NewBook(small())
	b.Add(records...)
	return b.State("")
}

func (s State) at(place string) UnitState {
	for _, l := range s.Legs {
		for _, u := range l.Units {
			if u.Place == place {
				return *u
			}
		}
	}
	return UnitState{}
}

func (s State) has(p Piece) Stock {
	for _, y := range s.Yard {
		if y.Piece == p {
			return y
		}
	}
	return Stock{}
}

func said(s State) string { return s.Findings.Render(measure.Metric) }
