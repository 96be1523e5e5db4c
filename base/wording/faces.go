package wording

// The faces that a unit stands on have one name each, on every sheet, card, screen and table.

// StandsOn is the face that a rod is held on before a unit is set: the top of its pads, or of the bed where it has none.
func (s Speech) StandsOn(padded bool) string {
	if padded {
		return s.Word(Pad) + " top"
	}
	return s.Word(Bed) + " top"
}

// UnderPad is the face below a pad.
func (s Speech) UnderPad() string { return s.Say("%s under the %s", Bed, Pad) }
