package drawing

import "trenchwright/job"

// lexicon is the trade's words where the two sides of the ocean differ.
type lexicon struct {
	unit, units   string // one trough body
	cover, covers string
	closer        string
	mitre, mitred string
	chainage      string
	upChainage    string // the way in which chainage grows
	pad           string
	endPlate      string
	transition    string
	service       string
	centre        string // as in centre of gravity
	centreline    string
	setOut        string
	metres        string
}

// words is the one table of both spellings. Whole sentences that a plan brings along are the planner's.
func (s Style) words() lexicon {
	if s.Words == job.US {
		return lexicon{
			unit: "trench section", units: "trench sections", cover: "cover", covers: "covers", closer: "closure",
			mitre: "miter", mitred: "mitered", chainage: "station", upChainage: "up-station", pad: "leveling pad",
			endPlate: "end plate", transition: "transition", service: "utility", centre: "center", centreline: "centerline",
			setOut: "layout", metres: "meters",
		}
	}
	return lexicon{
		unit: "trough unit", units: "trough units", cover: "cover", covers: "covers", closer: "closer",
		mitre: "mitre", mitred: "mitred", chainage: "chainage", upChainage: "up-chainage", pad: "pad",
		endPlate: "stop end", transition: "taper", service: "buried service", centre: "centre", centreline: "centreline",
		setOut: "setting out", metres: "metres",
	}
}
