package screen

// Section is the run from its side, on the strip's axis. Levels are metres above the height datum.
type Section struct {
	Said     string         `json:"said"` // why there is none, or what it lacks
	Low      float64        `json:"low_m"`
	High     float64        `json:"high_m"`
	Stations []Numbers      `json:"stations"` // strip positions that lines share
	Lines    []SectionLine  `json:"lines"`
	Grades   []SectionGrade `json:"grades"`
	Services []SectionThing `json:"services"`
	Pins     []SectionThing `json:"pins"`
	Outlets  []SectionThing `json:"outlets"`
}

// SectionLine is one line of a leg from its side: as many levels as its stations are, null where it is not known.
type SectionLine struct {
	Of       string `json:"of"` // existing, finished, rock, water, cover, wall, invert, underside, pad, formation, under_pad, drain
	Leg      int    `json:"leg"`
	Stations int    `json:"stations"` // of Section.Stations
	Levels   Gaps   `json:"levels_m"`
}

// SectionGrade is a stretch on one grade.
type SectionGrade struct {
	Of    string  `json:"of"` // run or drain
	Leg   int     `json:"leg"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Label string  `json:"label"` // falls 0.55 % ↘
}

// SectionThing is something with a level at one place.
type SectionThing struct {
	Key    string   `json:"key"`
	ID     string   `json:"id"`
	Leg    int      `json:"leg"`
	At     float64  `json:"at"`
	From   float64  `json:"from"`
	To     float64  `json:"to"`
	Top    *float64 `json:"top_m"` // null: no level of it on file
	Bottom *float64 `json:"bottom_m"`
	Of     string   `json:"of"` // of a pin: cover, wall, invert; of an outlet: run, drain, both
	Label  string   `json:"label"`
}
