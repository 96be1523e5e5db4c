package screen

// Numbers is a column of numbers for drawing, written as JSON with three decimals at most.
type Numbers []float64

// Gaps is a column of numbers of which some are not known: NaN here, null in JSON.
type Gaps []float64

// MarshalJSON writes the column, an empty one as [].
func (n Numbers) MarshalJSON() ([]byte, error) { return column(nil, n), nil }

// MarshalJSON writes the column, an empty one as [].
func (n Gaps) MarshalJSON() ([]byte, error) { return column(nil, n), nil }
