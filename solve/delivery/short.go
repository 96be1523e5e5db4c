package delivery

// Due is a unit that is still to be laid, by its place.
type Due struct {
	Name string
	Kind int
}

// Stretch is how far one leg can be laid.
type Stretch struct {
	Units int // from where laying starts
	Stop  int // the first place whose piece is not there, of the leg's; -1: all of it can be laid
	Alone int // units that could be laid if all that is there went into this leg
}

// Short says how far each leg can be laid with what is there: legs and their units in laying order, and how many of each kind there
// are. A plain unit goes into whichever place of its kind is next, so that a leg ends where the last of them is used up, and not where
// the one that is missing was to lie. What one leg takes, the legs behind it do not have.
func Short(legs [][]Due, there []int) []Stretch {
	out := make([]Stretch, len(legs))
	left := append([]int{}, there...)
	for i, leg := range legs {
		alone := append([]int{}, there...)
		out[i] = Stretch{Units: reach(leg, left), Alone: reach(leg, alone), Stop: -1}
		if out[i].Units < len(leg) {
			out[i].Stop = out[i].Units
		}
	}
	return out
}

// reach is how many units of a leg can be laid; they are taken off what is there.
func reach(leg []Due, there []int) int {
	for n, d := range leg {
		if there[d.Kind] == 0 {
			return n
		}
		there[d.Kind]--
	}
	return len(leg)
}
