package screen

// Figure is something drawn to scale, in millimetres, up and to the right positive.
type Figure struct {
	Box    [4]float64    `json:"box"` // left, bottom, right, top
	Lines  []FigureLine  `json:"lines"`
	Labels []FigureLabel `json:"labels"`
	Notes  []string      `json:"notes"`
}

// FigureLine is one line or one area.
type FigureLine struct {
	Of     string  `json:"of"`     // what it is: unit, cover, joint, zone, existing, rock, bed, …
	Points Numbers `json:"points"` // x and y of each
	Closed bool    `json:"closed"`
	Area   bool    `json:"area"` // to be filled with its hatch
}

// FigureLabel is a text beside a point.
type FigureLabel struct {
	At   [2]float64 `json:"at"`
	Text string     `json:"text"`
	Of   string     `json:"of"`
}
