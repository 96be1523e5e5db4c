package compaction

import (
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// published.md 7.1 (R, transport.gov.scot j232592-23): passes for layers of 100, 150 and 200 mm; what is not permitted blocks.
func TestPassesAsPublished(t *testing.T) {
	classes := []Compactor{Vibrotamper, SingleDrum600, SingleDrum1000, SingleDrum2000, SingleDrum3500, TwinDrum600, TwinDrum1000, TwinDrum2000, Plate1400, Plate1800, LightVibrotamper}
	granular := [][3]int{{4, 8, 0}, {12, 0, 0}, {6, 0, 0}, {3, 5, 7}, {3, 4, 6}, {6, 0, 0}, {3, 6, 0}, {2, 3, 4}, {5, 0, 0}, {3, 5, 7}, {6, 0, 0}}
	cohesive := [][3]int{{4, 8, 0}, {}, {8, 0, 0}, {3, 6, 0}, {3, 4, 6}, {}, {4, 8, 0}, {2, 3, 5}, {}, {3, 6, 0}, {}}
	wholly := [][3]int{{4, 0, 0}, {}, {8, 0, 0}, {3, 6, 0}, {3, 4, 0}, {}, {4, 8, 0}, {2, 3, 0}, {}, {3, 6, 0}, {}}
	where := finding.Where{Path: "dig.layer"}
	for i, c := range classes {
		for k, thick := range []int64{100, 150, 200} {
			for _, one := range []struct {
				fill   Fill
				wholly bool
				want   int
			}{{Granular, false, granular[i][k]}, {Cohesive, false, cohesive[i][k]}, {Cohesive, true, wholly[i][k]}} {
				got, said := Passes(wording.Speech{}, c, one.fill, one.wholly, measure.Length(thick)*mm, where)
				if got != one.want || (said == nil) != (one.want > 0) {
					t.Errorf("%s, %s, %v mm: %d, want %d", c, one.fill, thick, got, one.want)
				}
				if said != nil {
					if err := finding.Speech(*said); err != nil {
						t.Error(err)
					}
				}
			}
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
