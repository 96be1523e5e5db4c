package drawing

import (
	"trenchwright/base/wording"
	"trenchwright/job"
)

// lexicon is the trade's words where the two sides of the ocean differ.
type lexicon struct {
	unit, units   string // one trough body
	cover, covers string
	closer        string
	mitre, mitred string
	chainage      string
	upChainage    string // the way in which chainage grows
	pad, pads     string
	padTop        string // what a unit on pads stands on
	bedTop        string // and one without
	underPad      string // what a pad lies on
	endPlate      string
	transition    string
	service       string
	centre        string // as in centre of gravity
	centreline    string
	setOut        string
	metres        string
	millimetres   string
	nought        string
	formation     string // the bottom of the dig
	bed           string
	layer, layers string // of fill
	rod           string // that a level is read on
	rodReading    string
	instrument    string // how high its line of sight is
	benchmark     string
}

// words are those of the style's side of the ocean. Whole sentences that a plan brings along are the planner's.
func (s Style) words() lexicon {
	speech := wording.Speech{US: s.Words == job.US}
	w := speech.Word
	return lexicon{
		unit: w(wording.Body), units: w(wording.Bodies), cover: "cover", covers: "covers", closer: w(wording.Closer),
		mitre: w(wording.Mitre), mitred: w(wording.Mitred), chainage: w(wording.Chainage), upChainage: w(wording.UpChainage),
		pad: w(wording.Pad), pads: w(wording.Pads), padTop: speech.StandsOn(true), bedTop: speech.StandsOn(false), underPad: speech.UnderPad(), endPlate: w(wording.EndPlate), transition: w(wording.Transition),
		service: w(wording.Service), centre: w(wording.Centre), centreline: w(wording.Centreline), setOut: w(wording.SetOut),
		metres: w(wording.Metres), millimetres: w(wording.Millimetres), nought: w(wording.Nought),
		formation: w(wording.Formation), bed: w(wording.Bed), layer: w(wording.Layer), layers: w(wording.Layers),
		rod: w(wording.Rod), rodReading: w(wording.RodReading), instrument: w(wording.Instrument), benchmark: w(wording.Benchmark),
	}
}
