package levelling

import (
	"encoding/json"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

// bookInput is the input of the published level books and loops.
type bookInput struct {
	Unit       string
	BM         []json.RawMessage
	Rows       [][]json.RawMessage
	Known      map[string]float64
	Distribute string
}

func (in bookInput) book(t *testing.T) Book {
	t.Helper()
	b := Book{Figures: Figures{Places: 3}, Step: 10 * measure.Millimetre}
	for i, raw := range in.Rows {
		var r Row
		var figures [3]*float64
		published.Decode(t, raw[0], &r.Point)
		for k := range figures {
			published.Decode(t, raw[k+1], &figures[k])
		}
		r.Line, r.Back, r.Inter, r.Fore = i+2, opt(figures[0]), opt(figures[1]), opt(figures[2])
		if i == 0 {
			var level float64
			published.Decode(t, in.BM[1], &level)
			r.Known = new(units(level))
		} else if l, ok := in.Known[r.Point]; ok {
			r.Known = new(units(l))
		}
		b.Rows = append(b.Rows, r)
	}
	return b
}

// published.md 3.1 (R H, expertsmind 91876) and 3.2 (R H, askfilo, ft): level books by rise and fall and by height.
func TestLevelBooksAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "level_book", 2) {
		var in bookInput
		var want struct {
			RL                map[string]float64
			SumBS             float64  `json:"sum_bs"`
			SumFS             float64  `json:"sum_fs"`
			SumRise           *float64 `json:"sum_rise"`
			SumFall           *float64 `json:"sum_fall"`
			Check, Misclosure *float64
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		b := in.book(t)
		r, said := Reduce(b)
		none(t, said)
		found := 0
		for i, row := range r.Rows {
			if l, ok := want.RL[row.Point]; ok {
				found++
				near(t, v.ID+" "+row.Point, row.Level, l, 1e-9)
				near(t, v.ID+" by height "+row.Point, ByHeight(b)[i], l, 1e-9)
			}
		}
		if found != len(want.RL) {
			t.Errorf("%s: %d levels of %d", v.ID, found, len(want.RL))
		}
		near(t, v.ID+" ΣBS", r.SumBack, want.SumBS, 1e-9)
		near(t, v.ID+" ΣFS", r.SumFore, want.SumFS, 1e-9)
		if want.SumRise != nil {
			near(t, v.ID+" Σ rise", r.SumRise, *want.SumRise, 1e-9)
			near(t, v.ID+" Σ fall", r.SumFall, *want.SumFall, 1e-9)
		}
		if want.Check != nil {
			for _, s := range r.Checks[0].Sides {
				near(t, v.ID+" "+s.Name, s.Value, *want.Check, 1e-9)
			}
		}
		if want.Misclosure != nil {
			tie, ok := r.Closing()
			if !ok {
				t.Fatalf("%s: nothing closes", v.ID)
			}
			near(t, v.ID+" misclosure", tie.Misclosure, *want.Misclosure, 1e-9)
		}
		for _, c := range r.Checks {
			if !c.Holds() || len(c.Sides) < 2 {
				t.Errorf("%s: %+v", v.ID, c)
			}
		}
	}
}

// published.md 3.2 (R H): the heights of instrument, as printed.
func TestHeightsOfInstrumentAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "level_book", 2) {
		if v.ID != "3.2" {
			continue
		}
		var in bookInput
		published.Decode(t, v.Input, &in)
		r, said := Reduce(in.book(t))
		none(t, said)
		for i, want := range []float64{103.10, 99.72, 101.52, 105.37} {
			near(t, "height", *r.Rows[i].Height, want, 1e-9)
		}
	}
}

// published.md 3.3 (Ri H, transtutors): a loop of four set-ups, shared out equally.
func TestLevelLoopAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "level_loop", 1) {
		var in bookInput
		var want struct {
			Raw, Adjusted []float64
			Misclosure    float64
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		b := in.book(t)
		r, said := Reduce(b)
		none(t, said)
		tie, ok := r.Closing()
		if !ok || !tie.Loop {
			t.Fatalf("%s: no loop: %+v", v.ID, tie)
		}
		near(t, "misclosure", tie.Misclosure, want.Misclosure, 1e-9)
		near(t, "ΣBS", r.SumBack, 24.80, 1e-9)
		near(t, "ΣFS", r.SumFore, 24.72, 1e-9)
		s, said := SpreadOut(b, r, BySetups, Tolerance{Rule: Outright, K: units(0.08)})
		none(t, said)
		for i := range want.Raw {
			near(t, "raw", r.Rows[i+1].Level, want.Raw[i], 1e-9)
			near(t, "adjusted", s.Levels[i+1], want.Adjusted[i], 1e-9)
		}
		s, said = SpreadOut(b, r, BySetups, Tolerance{Rule: Outright, K: units(0.0799)})
		if len(s.Levels) != 0 || len(said) != 1 || said[0].ID != "levelling.does-not-close" || said[0].Where.Line != 6 {
			t.Errorf("0.08 was spread where 0.0799 is allowed: %v", said)
		}
		spoken(t, said)
		s, said = SpreadOut(b, r, BySetups, Tolerance{})
		if len(s.Levels) != 5 || len(said) != 1 || said[0].Kind != finding.NotChecked {
			t.Errorf("without a tolerance: %v", said)
		}
		spoken(t, said)
	}
}

// A misclosure on the limit meets it, a nanometre more does not.
func TestToleranceAsPublished(t *testing.T) {
	published.Hold(t, "level.tolerance", func(g published.Given) []float64 {
		tl := Tolerance{Rule: RootKm, K: measure.FromMillimetres(g.N(0))}
		d := measure.FromMetres(g.N(1) * 1000)
		allowed, ok := tl.Allowed(&d, 0)
		if !ok {
			t.Fatal("nothing is allowed")
		}
		if got := tl.Close(allowed, &d, 0, finding.Where{}).Verdict; got != Meets {
			t.Errorf("%s over %s km: %s %s", tl, g[1], allowed, got)
		}
		if got := tl.Close(-allowed-1, &d, 0, finding.Where{}).Verdict; got != DoesNot {
			t.Errorf("%s over %s km: a nanometre more than %s %s", tl, g[1], allowed, got)
		}
		return []float64{allowed.Millimetres()}
	})
}

// published.md 3.6 (R H, textbook companion Ex 12.1).
func TestTwoPegAsPublished(t *testing.T) {
	for _, v := range published.Values(t, "two_peg", 1) {
		var in struct {
			AB      float64
			Mid     [2]float64
			CBeyond float64    `json:"c_beyond_b"`
			AtC     [2]float64 `json:"at_c"`
		}
		var want struct {
			True      float64
			Per100    float64 `json:"per_100m"`
			Corrected [2]float64
		}
		published.Decode(t, v.Input, &in)
		published.Decode(t, v.Expect, &want)
		c, said := MidAndBeyond(units(in.AB), units(in.CBeyond), units(in.Mid[0]), units(in.Mid[1]), units(in.AtC[0]), units(in.AtC[1])).Test()
		none(t, said)
		near(t, "true", c.True, want.True, 1e-9)
		near(t, "apparent", c.Apparent, 0.550, 1e-9)
		near(t, "per 100 m", c.Over(100*measure.Metre), want.Per100, 1e-9)
		near(t, "A", c.Corrected.A, want.Corrected[0], 1e-9)
		near(t, "B", c.Corrected.B, want.Corrected[1], 1e-9)
		if got := c.Corrected.A - c.Corrected.B; got != c.True {
			t.Errorf("the corrected readings differ by %s, not by %s", got, c.True)
		}
	}
}
