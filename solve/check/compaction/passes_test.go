package compaction

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/tools/published"
)

// Passes for layers of 100, 150 and 200 mm; what is not permitted blocks, and says so.
func TestPassesAsPublished(t *testing.T) {
	where := finding.Where{Path: "dig.layer"}
	passes := func(class Compactor, fill Fill, wholly bool) (all []float64) {
		for _, layer := range thick {
			n, said := Passes(wording.Speech{}, class, fill, wholly, layer, where)
			times := float64(n)
			if said != nil {
				times = math.NaN()
				if err := finding.Speech(*said); err != nil || n != 0 {
					t.Error(n, err)
				}
			}
			all = append(all, times)
		}
		return all
	}
	published.Hold(t, "compaction.granular", func(g published.Given) []float64 { return passes(ByWord(g[0]), Granular, false) })
	published.Hold(t, "compaction.cohesive", func(g published.Given) []float64 { return passes(ByWord(g[0]), Cohesive, false) })
	marked := map[Compactor]bool{}
	published.Hold(t, "compaction.wholly", func(g published.Given) []float64 {
		marked[ByWord(g[0])] = true
		return passes(ByWord(g[0]), Cohesive, true)
	})
	for _, n := range Named {
		if got := fmt.Sprint(passes(n.Class, Cohesive, true)) == fmt.Sprint(passes(n.Class, Cohesive, false)); got == marked[n.Class] {
			t.Errorf("%s: wholly cohesive fill as any other: %v", n.Class, got)
		}
	}
	if n, _ := Passes(wording.Speech{}, Plate1800, Granular, false, 100*mm+1, where); n != 5 {
		t.Errorf("just over 100 mm takes the passes of 150 mm, not %d", n)
	}
	if n, said := Passes(wording.Speech{}, Plate1800, Granular, false, 200*mm+1, where); n != 0 || said == nil {
		t.Errorf("just over 200 mm is not in the table: %d", n)
	}
	if n, said := Passes(wording.Speech{}, "hand rammer", Granular, false, 100*mm, where); n != 0 || said.Kind != finding.NotChecked {
		t.Error(n, said)
	}
}

// Each side of the ocean reads its own words; the table's figure stays in the table's millimetres.
func TestPassesInBothWords(t *testing.T) {
	for _, c := range []struct {
		words              wording.Speech
		text, limit, value string
	}{
		{wording.Speech{}, "in layers of 203.2 mm this method", "layers up to 150 mm", "203.2 mm"},
		{wording.Speech{US: true, Imperial: true}, `in lifts of 8" this method`, `lifts up to 150 mm, that is 5 7/8" (5.906 in)`, `8"`},
	} {
		_, f := Passes(c.words, Vibrotamper, Granular, false, 8*measure.Inch, finding.Where{})
		if f == nil || !strings.Contains(f.Text, c.text) || f.Limit != c.limit || f.Value != c.value {
			t.Errorf("%+v, want %q, %q, %q", f, c.text, c.limit, c.value)
		}
	}
	if _, f := Passes(wording.Speech{US: true}, SingleDrum600, Cohesive, false, 100*mm, finding.Where{}); f == nil || f.Limit != "no lift at all" {
		t.Errorf("%+v", f)
	}
}
