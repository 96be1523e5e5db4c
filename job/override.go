package job

import (
	"fmt"

	"trenchwright/base/finding"
)

// Override is a hard stop that a named person answers for. It holds for the figures that the stop had and for no others, so that nobody
// answers for what became worse since. The stop stays on the paper, with all of this beside it.
type Override struct {
	Stop     string `json:"stop" example:"lifting.set/L1" jsonschema:"name of the stop, as trenchwright paper prints it"`
	Figures  string `json:"figures" example:"2900 kg (6393 lb) against 2600 kg (5732 lb)" jsonschema:"its figures, as trenchwright paper prints them; it counts for no others"`
	By       string `json:"by" example:"V. Alder, lift planner" jsonschema:"who answers for it"`
	Reason   string `json:"reason" example:"the machine stands on mats 1 m nearer" jsonschema:"why"`
	Document string `json:"document" ref:"document" example:"D8" jsonschema:"document id of what says so"`
	On       string `json:"on,omitempty" rule:"date" example:"2026-03-06" jsonschema:"the day on which it was given, YYYY-MM-DD"`
}

// Overridden is every hard stop that somebody answers for. They stand so in every output.
func Overridden(j Job) finding.List {
	var list finding.List
	for i, o := range j.Overrides {
		source := SourceFrom(j, o.Document, Known(""))
		list = append(list, finding.Finding{ID: "job.override", Kind: finding.Attention, Text: fmt.Sprintf("hard stop %s (%s) is overridden by %s: %s", o.Stop, o.Figures, o.By, o.Reason), Rule: source,
			Where: finding.Where{Path: (*place)(nil).field("overrides").item(i, "").path()}, Ask: o.By, Try: "look whether what was answered for is still so"})
	}
	return list
}
