package job

// Override is a hard stop that a named person answers for. It holds for the figures that the stop had and for no others, so that nobody
// answers for what became worse since. The stop stays on the paper, with all of this beside it.
type Override struct {
	Stop     string `json:"stop" example:"lifting.set/L1" jsonschema:"name of the stop, as trenchwright paper prints it"`
	Figures  string `json:"figures" example:"2900 kg (6393 lb) against 2600 kg (5732 lb)" jsonschema:"its figures, as trenchwright paper prints them; it counts for no others"`
	By       string `json:"by" example:"lift planner, by name" jsonschema:"who answers for it"`
	Reason   string `json:"reason" example:"the machine stands on mats 1 m nearer" jsonschema:"why"`
	Document string `json:"document" ref:"document" example:"D8" jsonschema:"document id of what says so"`
	On       string `json:"on,omitempty" rule:"date" example:"2026-03-06" jsonschema:"the day on which it was given, YYYY-MM-DD"`
}
