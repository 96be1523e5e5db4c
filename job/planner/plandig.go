package planner

import "trenchwright/base/measure"

// Dig is what is dug, what goes back and what leaves, in cubic metres; in the ground (bank) where nothing else is said.
type Dig struct {
	Total    DigVolumes   `json:"total"`
	Legs     []LegDig     `json:"legs"`
	Balances []DigBalance `json:"balances"`
	Fabric   *DigFabric   `json:"fabric"` // null: none is asked for
	Strip    []StripNeed  `json:"strip"`
	Passes   *Passes      `json:"passes"` // null: no compactor, fill and layer of the method on file, or a layer that it does not permit
	Pits     []DigPit     `json:"pits"`   // for castings
	Sections []DigSection `json:"sections"`
	LeftOut  int          `json:"sections_left_out"` // changes and stated places beyond the number that is drawn
}

// DigVolumes are the quantities of a stretch of run.
type DigVolumes struct {
	Run         float64      `json:"run_m"` // in plan
	Dug         float64      `json:"dug_m3"`
	Topsoil     float64      `json:"topsoil_m3"`
	Soil        float64      `json:"soil_m3"`
	Rock        float64      `json:"rock_m3"`
	Stone       float64      `json:"stone_m3"` // of the bed, in place
	Pads        float64      `json:"pads_m3"`
	Pipe        float64      `json:"pipe_m3"`
	Unit        float64      `json:"unit_m3"` // what the units displace
	Fill        float64      `json:"fill_m3"` // in place
	TopsoilBack float64      `json:"topsoil_back_m3"`
	Layers      [][2]float64 `json:"layers_m3"` // from the underside of the unit up: left, right
	Opened      float64      `json:"opened_m2"` // in plan
}

// InPlace is what a plan takes of something that comes loose: stone of the bed, fill, topsoil that goes back, in cubic metres as it lies
// in the end; false: it takes none, or there is no dig.
func (p *Plan) InPlace(what string) (m3 float64, ok bool) {
	if p.Dig == nil {
		return 0, false
	}
	v := &p.Dig.Total
	m3 = map[string]float64{"stone": v.Stone, "fill": v.Fill, "topsoil": v.TopsoilBack}[what]
	return m3, m3 > 0
}

// LegDig is the dig of one leg, its exact volume beside the trade's approximations of the same length.
type LegDig struct {
	Leg        string       `json:"leg"`
	Volumes    DigVolumes   `json:"volumes"`
	Exact      float64      `json:"exact_m3"`
	EndArea    float64      `json:"average_end_area_m3"`
	Prismoidal float64      `json:"prismoidal_m3"`
	DeepestAt  measure.MM   `json:"deepest_at_mm"`
	Deepest    measure.MM   `json:"deepest_mm"`
	Running    []DigRunning `json:"running"`
	Marks      []DigMark    `json:"marks"`
}

// DigRunning is a point of the running curve of a leg.
type DigRunning struct {
	At      measure.MM  `json:"at_mm"`
	Dug     float64     `json:"dug_m3"`
	Fill    float64     `json:"fill_m3"`
	Stone   float64     `json:"stone_m3"`
	Mass    *float64    `json:"mass_m3"`              // soil dug less soil that the fill needs, in the ground; null: no factor for soil on file
	Leaves  *float64    `json:"leaves_m3"`            // what leaves less what is brought in, in the ground; null: a factor is not on file
	Deepest *measure.MM `json:"deepest_mm,omitempty"` // of the span that begins here
}

// DigBalance is what becomes of one material: dug and brought in is back and leaves.
type DigBalance struct {
	Of     string   `json:"of"`
	Dug    DigState `json:"dug"`
	Back   DigState `json:"back"`
	In     DigState `json:"brought_in"`
	Leaves DigState `json:"leaves"`
	Loads  *int     `json:"loads"`   // that leave; null: no factor or no size of a load on file
	Load   *float64 `json:"load_m3"` // loose, in one of them; of loads by mass by the density on file
	Source string   `json:"source,omitempty"`
}

// DigState is one heap as it lies in the ground, loose and compacted; null: no factor is on file.
type DigState struct {
	Bank      *float64 `json:"bank_m3"`
	Loose     *float64 `json:"loose_m3"`
	Compacted *float64 `json:"compacted_m3"`
}

// DigFabric is the separation fabric of the run.
type DigFabric struct {
	Covered float64 `json:"covered_m2"`
	Order   float64 `json:"order_m2"` // with laps
	Sheets  int     `json:"sheets"`
	Laps    int     `json:"laps"`
}

// StripNeed is what one side of a leg needs beside the dig, where it needs most.
type StripNeed struct {
	Leg   string       `json:"leg"`
	Side  string       `json:"side"`
	At    measure.MM   `json:"at_mm"`
	Edge  measure.MM   `json:"edge_mm"` // of the dig, from the centreline
	Uses  []StripPlace `json:"uses"`
	Need  measure.MM   `json:"need_mm"` // from the centreline
	Land  *measure.MM  `json:"land_mm"` // null: none on file
	Whole bool         `json:"whole"`   // everything in it was on file
}

// StripPlace is one thing beside the dig.
type StripPlace struct {
	What  string     `json:"what"`
	From  measure.MM `json:"from_mm"` // from the centreline
	Width measure.MM `json:"width_mm"`
}

// Excavation is one leg's dig held against the rules of a jurisdiction. This is a calculator and a record: the soil's class,
// the release for entry and the daily inspection are the competent person's.
type Excavation struct {
	Leg     string             `json:"leg"`
	From    *measure.MM        `json:"from_mm"` // chainage; null, as to_mm: all of the leg is dug in one way
	To      *measure.MM        `json:"to_mm"`
	Rules   string             `json:"rules"`
	Read    string             `json:"read"` // the day on which they were read
	Deepest measure.MM         `json:"deepest_mm"`
	Stopped bool               `json:"stopped"` // nothing goes on before the person named in a result has answered
	Results []ExcavationResult `json:"results"`
	Ladders []float64          `json:"ladders_m"` // chainages where the fewest ways out stand evenly
}

// ExcavationResult is one check: meets the stated figure, does not meet the stated figure, or cannot say.
type ExcavationResult struct {
	ID      string `json:"id"`
	What    string `json:"what"`
	Verdict string `json:"verdict"`
	Value   string `json:"value"`
	Limit   string `json:"limit"`
	Rule    string `json:"rule"`
	Stop    bool   `json:"stop,omitempty"`
}
