package field

import (
	"cmp"

	"trenchwright/base/measure"
)

// SetUpState is one standing of an instrument.
type SetUpState struct {
	Instrument string         `json:"instrument"`
	Name       string         `json:"name"` // as readings name it: what whoever set it up called it, else the record
	Benchmark  string         `json:"benchmark"`
	Height     measure.Length `json:"height"`
	Plus       measure.Length `json:"plus"`
	By         string         `json:"by"`     // the record
	Closes     []Closing      `json:"closes"` // readings on benchmarks since
}

// Closing is a benchmark read from a set-up that stands already.
type Closing struct {
	Benchmark string         `json:"benchmark"`
	Off       measure.Length `json:"off"` // the height of instrument that it gives, less that of the set-up
	Plus      measure.Length `json:"plus"`
	By        string         `json:"by"`
}

// SetUps are the standings of all instruments, in the order that every device has their records in, each with what closes on it: the
// records that name it, or that its own device wrote with the same instrument before it was set up again.
func (b *Book) SetUps() []SetUpState {
	var list []SetUpState
	last := map[string]int{} // by device and instrument
	for _, e := range standing(b.others[SetUp]) {
		says, ok := hear[SetUpSays](e)
		if !ok || e.Instrument == nil {
			continue
		}
		key := e.Device + " " + e.Instrument.ID
		i, stands := last[key]
		if says.Closes && stands {
			up := &list[i]
			up.Closes = append(up.Closes, Closing{says.Benchmark, says.Height() - up.Height, says.Plus, e.ID})
			continue
		}
		last[key] = len(list)
		list = append(list, SetUpState{Instrument: e.Instrument.ID, Name: cmp.Or(e.Instrument.SetUp, e.ID), Benchmark: says.Benchmark, Height: says.Height(), Plus: says.Plus, By: e.ID})
	}
	return list
}

// SetUp is how an instrument stands now, as a device has it: by the last set-up that the device recorded, else by the only one that
// anybody did. No clock chooses among several.
func (b *Book) SetUp(instrument, device string) (now SetUpState, ok bool) {
	others := 0
	for _, up := range b.SetUps() {
		if up.Instrument != instrument {
			continue
		}
		own := b.records.of(up.By).Device == device
		if own || !ok {
			now, ok = up, true
		}
		if !own {
			others++
		}
	}
	if ok && b.records.of(now.By).Device != device && others > 1 {
		return SetUpState{}, false
	}
	return now, ok
}
