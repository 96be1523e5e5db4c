package levelling

import "trenchwright/base/measure"

// ByHeight is the level of every line of a book without faults, by height of instrument: the height is level and backsight,
// and every level is the height less the reading. It shares nothing with the way by rise and fall.
func ByHeight(b Book) []measure.Length {
	out := make([]measure.Length, len(b.Rows))
	var height measure.Length
	for i, r := range b.Rows {
		switch {
		case r.Fore != nil:
			out[i] = height - *r.Fore
		case r.Inter != nil:
			out[i] = height - *r.Inter
		default:
			out[i] = *r.Known
		}
		if r.Back != nil {
			height = out[i] + *r.Back
		}
	}
	return out
}
