package compaction

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Compactor is a machine of a class of the method specification in Roller.
type Compactor string

// The classes. Drum masses are per metre of drum, plate masses per square metre of base.
const (
	Vibrotamper      Compactor = "vibrotamper of 50 kg or more"
	SingleDrum600    Compactor = "single drum, 600 to 1000 kg/m"
	SingleDrum1000   Compactor = "single drum, 1000 to 2000 kg/m"
	SingleDrum2000   Compactor = "single drum, 2000 to 3500 kg/m"
	SingleDrum3500   Compactor = "single drum, over 3500 kg/m"
	TwinDrum600      Compactor = "twin drum, 600 to 1000 kg/m"
	TwinDrum1000     Compactor = "twin drum, 1000 to 2000 kg/m"
	TwinDrum2000     Compactor = "twin drum, over 2000 kg/m"
	Plate1400        Compactor = "plate, 1400 to 1800 kg/m²"
	Plate1800        Compactor = "plate, over 1800 kg/m²"
	LightVibrotamper Compactor = "vibrotamper of 25 kg or more, where room is restricted"
)

// Fill is what is compacted.
type Fill string

// The fills of the table.
const (
	Granular Fill = "granular"
	Cohesive Fill = "cohesive"
)

// passRow is a row of the table: passes for layers up to 100, 150 and 200 mm; 0: not permitted. part marks passes that do
// not hold for a fill that is wholly cohesive.
type passRow struct {
	class              Compactor
	granular, cohesive [3]int
	part               [3]bool
}

// passes is Table A8.1 of the Specification for the Reinstatement of Openings in Roads (Scotland), third edition, Appendix
// A8, read in a copy at transport.gov.scot (j232592-23).
func passes() []passRow {
	return []passRow{
		{Vibrotamper, [3]int{4, 8, 0}, [3]int{4, 8, 0}, [3]bool{1: true}},
		{SingleDrum600, [3]int{12, 0, 0}, [3]int{}, [3]bool{}},
		{SingleDrum1000, [3]int{6, 0, 0}, [3]int{8, 0, 0}, [3]bool{}},
		{SingleDrum2000, [3]int{3, 5, 7}, [3]int{3, 6, 0}, [3]bool{}},
		{SingleDrum3500, [3]int{3, 4, 6}, [3]int{3, 4, 6}, [3]bool{2: true}},
		{TwinDrum600, [3]int{6, 0, 0}, [3]int{}, [3]bool{}},
		{TwinDrum1000, [3]int{3, 6, 0}, [3]int{4, 8, 0}, [3]bool{}},
		{TwinDrum2000, [3]int{2, 3, 4}, [3]int{2, 3, 5}, [3]bool{2: true}},
		{Plate1400, [3]int{5, 0, 0}, [3]int{}, [3]bool{}},
		{Plate1800, [3]int{3, 5, 7}, [3]int{3, 6, 0}, [3]bool{}},
		{LightVibrotamper, [3]int{6, 0, 0}, [3]int{}, [3]bool{}},
	}
}

// Method is the method as findings cite it.
const Method = "Specification for the Reinstatement of Openings in Roads (Scotland), Table A8.1"

// Passes is how often a compactor goes over a layer of fill by that method. A layer between two columns of the table takes
// the thicker one: nothing is interpolated. What is not permitted, and a compactor that is not in the table, is a finding.
// wholly: the fill is nothing but cohesive. words are those of what is found.
func Passes(words wording.Speech, class Compactor, fill Fill, wholly bool, layer measure.Length, where finding.Where) (int, *finding.Finding) {
	column := 0
	for column < len(thick) && layer > thick[column] {
		column++
	}
	for _, r := range passes() {
		if r.class != class {
			continue
		}
		if n := r.on(fill, wholly, column); n > 0 && layer > 0 {
			return n, nil
		}
		return 0, &finding.Finding{ID: "compaction.layer-not-permitted", Kind: finding.Attention, Where: where, Rule: Method,
			Text:  words.Say("%s does not meet the stated figure: in %s of %s this method does not permit it on %s fill", class, wording.Layers, layer, fill),
			Value: words.Length(layer), Limit: thickest(words, r, fill, wholly), Try: words.Say("thinner %s or a heavier compactor", wording.Layers)}
	}
	f := finding.NoneOnFile(fmt.Sprintf("method for compacting with %q", string(class)), "the engineer", where)
	return 0, &f
}

// thick are the columns of the table: layers up to so much.
var thick = [3]measure.Length{100 * measure.Millimetre, 150 * measure.Millimetre, 200 * measure.Millimetre}

// on is how often the row's machine goes over a layer of a column; 0: not permitted, or beyond the table.
func (r passRow) on(fill Fill, wholly bool, column int) int {
	switch {
	case column >= len(thick) || fill == Cohesive && wholly && r.part[column]:
		return 0
	case fill == Cohesive:
		return r.cohesive[column]
	}
	return r.granular[column]
}

// thickest is the thickest layer that the table permits, in words: in the table's own millimetres, whatever the job's system.
func thickest(words wording.Speech, r passRow, fill Fill, wholly bool) string {
	for i := len(thick) - 1; i >= 0; i-- {
		if r.on(fill, wholly, i) > 0 {
			mm := int(thick[i] / measure.Millimetre)
			if words.Imperial {
				return words.Say("%s up to %d mm, that is %s", wording.Layers, mm, thick[i])
			}
			return words.Say("%s up to %d mm", wording.Layers, mm)
		}
	}
	return words.Say("no %s at all", wording.Layer)
}
