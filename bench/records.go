package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"time"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// folding is a made-up run and what ten devices recorded along it.
type folding struct {
	Units, Records int
	Seed           uint64
}

// foldAnswer is what a worker says of a folding; times are processor time.
type foldAnswer struct {
	Records, Bytes       int
	Read, Fold, One, Ask time.Duration // One: one more record and the whole state; Ask: one more and its own unit
	Clock                time.Duration // of the fold, which uses all cores
	Cores                int
}

// The promises: one record more is a unit that somebody just measured, and the next piece is asked for.
const (
	foldWithin = 2 * time.Second
	oneWithin  = 5 * time.Millisecond
)

// records times what records come to: read from their text, folded at once, and one more.
func (b *bench) records() error {
	f := folding{Units: 20_000, Records: 1_000_000, Seed: 1}
	if b.quick {
		f.Units, f.Records = 2_000, 50_000
	}
	file, err := b.file("folding.json", f)
	if err != nil {
		return err
	}
	var a foldAnswer
	if _, err := hire("fold", file, &a); err != nil {
		return err
	}
	size := fmt.Sprintf("%d records, %d units", a.Records, f.Units)
	b.report.row(row{what: "records folded into what is in the ground and in the yard", size: size, ours: fmt.Sprintf("%s by the clock on %d cores, %s of processor", secs(a.Clock), a.Cores, secs(a.Fold)), target: secs(foldWithin), verdict: within(a.Clock <= foldWithin)})
	b.report.row(row{what: "the same, one record more", size: size, ours: secs(a.One), target: secs(oneWithin), verdict: within(a.One <= oneWithin)})
	b.report.row(row{what: "the same, asked for its unit alone", size: size, ours: secs(a.Ask), target: secs(oneWithin), verdict: within(a.Ask <= oneWithin)})
	b.report.row(row{what: "the same records read from lines of JSON", size: fmt.Sprintf("%d MB", a.Bytes/1_000_000), ours: secs(a.Read)})
	return nil
}

func foldWorker(file string) (any, error) {
	var f folding
	if err := readJSON(file, &f); err != nil {
		return nil, err
	}
	run, r := f.run(), rand.New(rand.NewPCG(f.Seed, 1))
	var text bytes.Buffer
	if err := field.Write(&text, f.recorded(r)); err != nil {
		return nil, err
	}
	a := foldAnswer{Bytes: text.Len()}
	began := cpuTime()
	records, faults := field.Read(&text)
	a.Read, a.Records = cpuTime()-began, len(records)
	if len(faults) > 0 {
		return nil, fmt.Errorf("the made-up records are none: %v", faults[0])
	}
	a.Cores = runtime.NumCPU()
	runtime.GOMAXPROCS(a.Cores) // as where a job is opened
	runtime.GC()                // what was made up and read is not counted
	clock := time.Now()
	began = cpuTime()
	book := field.NewBook(run)
	book.Add(records...)
	book.State("")
	a.Fold, a.Clock = cpuTime()-began, time.Since(clock)
	var ones, asks []time.Duration
	for range 201 {
		began = cpuTime()
		book.Add(f.one(r, len(records)+2*len(ones)))
		book.State("")
		ones = append(ones, cpuTime()-began)
		one := f.one(r, len(records)+2*len(asks)+1)
		began = cpuTime()
		book.Add(one)
		if _, ok := book.Unit(one.From); !ok {
			return nil, fmt.Errorf("there is no %s", one.From)
		}
		asks = append(asks, cpuTime()-began)
	}
	slices.Sort(ones)
	slices.Sort(asks)
	a.One, a.Ask = ones[100], asks[100]
	return a, nil
}

// run is ten legs with six covers on each unit.
func (f folding) run() *field.Run {
	plain, lid := field.Piece{Supply: "T3", What: "unit", Length: 3000 * measure.Millimetre}, field.Piece{Supply: "T3", What: "cover", Length: 500 * measure.Millimetre}
	run := &field.Run{}
	for l := range 10 {
		leg := field.Leg{ID: fmt.Sprint(l)}
		for i := range f.Units / 10 {
			u := field.Unit{Place: place(l, i), Piece: plain}
			for c := range 6 {
				u.Covers, u.Lids = append(u.Covers, fmt.Sprintf("%s.%d", u.Place, c+1)), append(u.Lids, lid)
			}
			leg.Units = append(leg.Units, u)
		}
		run.Legs = append(run.Legs, leg)
	}
	return run
}

func place(leg, unit int) string { return fmt.Sprintf("%d-%05d", leg, unit+1) }

// recorded is what was recorded: most of it by people who knew what was recorded there before, one in fifty a correction of that.
func (f folding) recorded(r *rand.Rand) []field.Record {
	list := make([]field.Record, f.Records)
	before := map[string]string{}
	for i := range list {
		list[i] = f.one(r, i)
		thing := string(list[i].Kind) + list[i].From
		if id := before[thing]; id != "" && i%5 != 0 {
			list[i].After = []string{id}
		}
		if i%50 == 49 {
			list[i].Corrects = before[thing]
		}
		before[thing] = list[i].ID
	}
	return list
}

// one is the i-th record: a unit set, a gap, pads at four corners, covers, a layer of fill, a delivery.
func (f folding) one(r *rand.Rand, i int) field.Record {
	const mm = measure.Millimetre
	var chance [10]byte
	for k := range chance {
		chance[k] = byte(r.IntN(256))
	}
	rec := field.Record{ID: field.ULID(1_790_000_000_000+int64(i), chance), Job: "j", Device: fmt.Sprint("device-", i%10), Number: i/10 + 1, Person: "foreman",
		Made: "2026-11-27T08:00:00Z", From: place(r.IntN(10), r.IntN(f.Units/10))}
	var says any
	switch i % 8 {
	case 0, 1:
		rec.Kind, says = field.Set, field.SetSays{Within: true, Off: []field.Off{{Place: rec.From, By: 3 * mm}}, Plus: mm}
	case 2, 3:
		rec.Kind, says = field.Gap, field.GapSays{Left: new(10 * mm), Right: new(11 * mm), Plus: mm}
	case 4:
		rec.Kind, says = field.Level, field.LevelSays{Of: "pad", Four: []measure.Length{100 * mm, 100 * mm, 101 * mm, 100 * mm}, Plus: mm}
	case 5:
		rec.Kind, says = field.Cover, field.CoverSays{Done: "laid"}
	case 6:
		rec.Kind, rec.From, says = field.Delivery, "", field.DeliverySays{Ticket: "t", Lines: []field.Delivered{{Piece: field.Piece{Supply: "T3", What: "unit", Length: 3000 * mm}, Came: 12}}}
	default:
		rec.Kind, says = field.Layer, field.LayerSays{Number: 1 + i%4, Side: "both"}
	}
	rec.Says, _ = json.Marshal(says) // of our own types: cannot fail
	return rec
}
