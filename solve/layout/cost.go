package layout

// cost is a Count in one word, so that comparing two words compares the tuples: units, then cuts, then cut covers.
type cost uint64

const (
	coverBits, cutBits = 22, 20
	oneCover           = cost(1)
	oneCut             = cost(1) << coverBits
	oneUnit            = cost(1) << (coverBits + cutBits)
	noCost             = ^cost(0)
	// full has the upper bit of every field: a cost that meets it is close to running over, and the leg is left undecided.
	full = cost(1)<<63 | oneUnit>>1 | oneCut>>1
)

func (c Count) cost() cost {
	return cost(c.Units)*oneUnit + cost(c.Cuts)*oneCut + cost(c.CutCovers)*oneCover
}

func (c cost) count() Count {
	return Count{
		Units:     int(c / oneUnit),
		Cuts:      int(c % oneUnit / oneCut),
		CutCovers: int(c % oneCut),
	}
}
