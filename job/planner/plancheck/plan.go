package plancheck

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// nm is a length of plan.json: decimal millimetres there, whole nanometres here.
type nm int64

// UnmarshalJSON reads decimal millimetres exactly, as a number or as text; more than six decimals are refused.
func (n *nm) UnmarshalJSON(text []byte) error {
	v, err := parseMillimetres(strings.Trim(string(text), `"`))
	*n = v
	return err
}

func parseMillimetres(s string) (nm, error) {
	rest, negative := strings.CutPrefix(s, "-")
	whole, fraction, _ := strings.Cut(rest, ".")
	if whole == "" || len(whole) > 12 || len(fraction) > 6 {
		return 0, fmt.Errorf("%q is no length in decimal millimetres, exact to 1e-6", s)
	}
	var v nm
	for _, digit := range whole + fraction + strings.Repeat("0", 6-len(fraction)) {
		if digit < '0' || digit > '9' {
			return 0, fmt.Errorf("%q is no length in decimal millimetres", s)
		}
		v = v*10 + nm(digit-'0')
	}
	if negative {
		v = -v
	}
	return v, nil
}

// String writes millimetres, exactly.
func (n nm) String() string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	s := fmt.Sprintf("%s%d.%06d", sign, n/1e6, n%1e6)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + " mm"
}

func (n nm) metres() float64 { return float64(n) / 1e9 }

func (n nm) abs() nm {
	if n < 0 {
		return -n
	}
	return n
}

// elevation is a level of plan.json: metres there, whole nanometres here.
type elevation nm

// UnmarshalJSON reads metres. A float64 holds a level to less than a tenth of a nanometre up to 100 km.
func (e *elevation) UnmarshalJSON(text []byte) error {
	v, err := strconv.ParseFloat(string(text), 64)
	*e = metresUp(v)
	return err
}

func metresUp(v float64) elevation { return elevation(math.Round(v * 1e9)) }

// apart is how far two levels differ.
func apart(a, b elevation) nm { return nm(a - b).abs() }

// String writes metres, exactly.
func (e elevation) String() string { return strconv.FormatFloat(float64(e)/1e9, 'f', 9, 64) + " m" }

// plan is plan.json as this checker reads it: only what a rule below needs, with types of its own.
type plan struct {
	Format      int           `json:"format"`
	Job         head          `json:"job"`
	Legs        []leg         `json:"legs"`
	Nodes       []node        `json:"nodes"`
	Units       []unit        `json:"units"`
	Covers      []cover       `json:"covers"`
	Joints      []joint       `json:"joints"`
	Zones       []zone        `json:"zones"`
	Supplies    []supplyHead  `json:"supplies"`
	Cutting     []cutting     `json:"cutting"`
	SetOut      []setOut      `json:"set_out"`
	Pegs        []peg         `json:"pegs"`
	Benchmarks  []surveyPoint `json:"benchmarks"`
	Control     []surveyPoint `json:"control"`
	Grades      []gradeRun    `json:"grades"`
	CoverLevels []coverLevel  `json:"cover_levels"`
	Drain       *drain        `json:"drain"`
	Bill        []billLine    `json:"bill"`
	Totals      totals        `json:"totals"`
	Proof       struct {
		Legs []legProof `json:"legs"`
	} `json:"proof"`
	Dig      *dig      `json:"dig"`
	Findings []finding `json:"findings"`
}

type head struct {
	Grid        string     `json:"grid"`
	HeightDatum string     `json:"height_datum"`
	ScaleFactor string     `json:"scale_factor"`
	DrawnLine   string     `json:"drawn_line"`
	Origin      [2]float64 `json:"origin_m"`
}

type leg struct {
	Name         string   `json:"name"`
	From         string   `json:"from"`
	To           string   `json:"to"`
	Supply       string   `json:"supply"`
	Verdict      string   `json:"verdict"`
	Why          string   `json:"why"`
	ClearLength  nm       `json:"clear_length_mm"`
	NodeLength   nm       `json:"node_length_mm"`
	StartSetback nm       `json:"start_setback_mm"`
	EndSetback   nm       `json:"end_setback_mm"`
	SlopeRise    nm       `json:"slope_rise_mm"`
	LaidFrom     string   `json:"laid_from"`
	Axis         []axisPt `json:"axis"`
	Count        struct {
		Units     int `json:"units"`
		Cuts      int `json:"cuts"`
		CutCovers int `json:"cut_covers"`
	} `json:"count"`
}

type axisPt struct {
	From   nm         `json:"from_mm"`
	To     nm         `json:"to_mm"`
	Start  [2]float64 `json:"start_m"`
	End    [2]float64 `json:"end_m"`
	Radius float64    `json:"radius_m"`
}

type node struct {
	ID         string     `json:"id"`
	Kind       string     `json:"kind"`
	At         [2]float64 `json:"at_m"`
	Level      *elevation `json:"level_m"`
	Legs       []string   `json:"legs"`
	Headings   []float64  `json:"headings_deg"`
	Made       string     `json:"made"`
	Deflection float64    `json:"deflection_deg"`
	Bend       *struct {
		SawAngle  float64 `json:"saw_angle_deg"`
		Gap       nm      `json:"gap_mm"`
		Setback   nm      `json:"setback_mm"`
		LongShort nm      `json:"long_less_short"`
		PadAcross nm      `json:"pad_across_mm"`
		In        string  `json:"in"`
		Out       string  `json:"out"`
	} `json:"bend"`
}

type unit struct {
	Mark       string        `json:"mark"`
	Leg        string        `json:"leg"`
	Supply     string        `json:"supply"`
	Start      nm            `json:"start_mm"`
	Length     nm            `json:"length_mm"`
	Stock      nm            `json:"stock_mm"`
	Cut        bool          `json:"cut"`
	Hold       bool          `json:"hold"`
	StartAngle float64       `json:"start_angle_deg"`
	EndAngle   float64       `json:"end_angle_deg"`
	Mass       *float64      `json:"mass_kg"`
	Axis       [2][2]float64 `json:"axis_m"`
	Bearing    float64       `json:"bearing_deg"`
	Chainage   nm            `json:"chainage_mm"`
	Piece      *piece        `json:"piece"`
}

type piece struct {
	LeftSide  nm     `json:"left_side_mm"`
	RightSide nm     `json:"right_side_mm"`
	DiagonalA nm     `json:"diagonal_a_mm"`
	DiagonalB nm     `json:"diagonal_b_mm"`
	KeptEnd   string `json:"kept_end"`
	CutFrom   string `json:"cut_from"`
	Turned    bool   `json:"turned"`
}

type cover struct {
	Mark       string   `json:"mark"`
	Unit       string   `json:"unit"`
	Start      nm       `json:"start_mm"`
	Length     nm       `json:"length_mm"`
	Stock      nm       `json:"stock_mm"`
	Cut        bool     `json:"cut"`
	StartAngle float64  `json:"start_angle_deg"`
	EndAngle   float64  `json:"end_angle_deg"`
	Mass       *float64 `json:"mass_kg"`
	LeftSide   nm       `json:"left_side_mm"`
	RightSide  nm       `json:"right_side_mm"`
}

type joint struct {
	Name   string `json:"name"`
	Leg    string `json:"leg"`
	At     nm     `json:"at_mm"`
	Gap    nm     `json:"gap_mm"`
	GapMin nm     `json:"gap_min_mm"`
	GapMax nm     `json:"gap_max_mm"`
	Budget struct {
		Room    nm       `json:"room_mm"`
		Turn    nm       `json:"turn_mm"`
		Grade   nm       `json:"grade_mm"`
		Square  nm       `json:"square_mm"`
		Reserve nm       `json:"reserve_mm"`
		Left    nm       `json:"left_mm"`
		Missing []string `json:"missing"`
	} `json:"budget"`
}

type zone struct {
	Leg   string `json:"leg"`
	From  nm     `json:"from_mm"`
	To    nm     `json:"to_mm"`
	Why   string `json:"why"`
	Kind  string `json:"kind"`
	ID    string `json:"id"`
	NoCut bool   `json:"no_cut"`
}

type supplyHead struct {
	ID          string `json:"id"`
	Lengths     []nm   `json:"lengths_mm"`
	OuterWidth  *nm    `json:"outer_width_mm"`
	OuterHeight *nm    `json:"outer_height_mm"`
	InnerWidth  *nm    `json:"inner_width_mm"`
	InnerHeight *nm    `json:"inner_height_mm"`
	CoverWidth  *nm    `json:"cover_width_mm"`
	Rating      string `json:"rating"`
	CoverRating string `json:"cover_rating"`
	Kerf        *nm    `json:"kerf_mm"`
}

type cutting struct {
	Supply   string    `json:"supply"`
	Of       string    `json:"of"`
	Patterns []pattern `json:"patterns"`
	Bought   int       `json:"bought"`
	Bound    int       `json:"bound"`
	Proven   bool      `json:"proven"`
}

type pattern struct {
	Name    string     `json:"name"`
	Stock   nm         `json:"stock_mm"`
	Offcut  bool       `json:"offcut"`
	Pieces  []cutPlace `json:"pieces"`
	Left    []leftOver `json:"left"`
	Saws    int        `json:"saws"`
	SawLoss nm         `json:"saw_loss_mm"`
}

type cutPlace struct {
	Mark    string  `json:"mark"`
	From    nm      `json:"from_mm"`
	To      nm      `json:"to_mm"`
	FromTan float64 `json:"from_tan"`
	ToTan   float64 `json:"to_tan"`
	Turned  bool    `json:"turned"`
}

type leftOver struct {
	Mark string `json:"mark"`
	From nm     `json:"from_mm"`
	To   nm     `json:"to_mm"`
}

type setOut struct {
	Leg      string     `json:"leg"`
	Place    string     `json:"place"`
	Chainage nm         `json:"chainage_mm"`
	Planned  *nm        `json:"planned_mm"`
	At       nm         `json:"at_mm"`
	E        float64    `json:"easting_m"`
	N        float64    `json:"northing_m"`
	Bearing  float64    `json:"bearing_deg"`
	Level    *elevation `json:"level_m"`
	Levels   *levels    `json:"levels"`
}

// levelled is the chainage that its levels belong to: of what lies, where it was planned.
func (s *setOut) levelled() nm {
	if s.Planned != nil {
		return *s.Planned
	}
	return s.Chainage
}

// levels is what stands under a row of the set-out. Walls are left and right of the unit before, left and right of the one
// behind; falls of the pad likewise on the grade before and behind.
type levels struct {
	under
	Before  *under        `json:"before"` // left out: nothing lies otherwise than behind
	Walls   [4]*elevation `json:"walls_m"`
	PadFall [2]*nm        `json:"pad_fall_mm"`

	Finished *elevation `json:"finished_m"`
}

// under is what stands under the left wall of one unit.
type under struct {
	Cover     *elevation `json:"cover_m"`
	Wall      *elevation `json:"wall_m"`
	Underside *elevation `json:"underside_m"`
	PadTop    *elevation `json:"pad_top_m"`
	PadBase   *elevation `json:"pad_base_m"`
	UnderPad  *elevation `json:"formation_under_pad_m"`
	Formation *elevation `json:"formation_m"`
	Invert    *elevation `json:"invert_m"`
	Drain     *elevation `json:"drain_m"`
}

// drain is the pipe in the bed.
type drain struct {
	Verdict string       `json:"verdict"`
	Why     string       `json:"why"`
	Grades  []drainGrade `json:"grades"`
}

type drainGrade struct {
	Leg     string        `json:"leg"`
	FromMM  nm            `json:"from_mm"`
	ToMM    nm            `json:"to_mm"`
	Starts  elevation     `json:"from_level_m"`
	Ends    elevation     `json:"to_level_m"`
	Inverts [2]*elevation `json:"inverts_m"`
}

type gradeRun struct {
	Leg     string `json:"leg"`
	From    string `json:"from"`
	To      string `json:"to"`
	FromMM  nm     `json:"from_mm"`
	ToMM    nm     `json:"to_mm"`
	Grade   string `json:"grade"`
	Rise    nm     `json:"rise_mm"`
	OnStep  bool   `json:"on_step"`
	Stepped bool   `json:"stepped"`
	Step    *nm    `json:"step_mm"`
}

// step is how far the run steps up where a grade ends.
func (r *gradeRun) step() nm {
	if r.Step == nil {
		return 0
	}
	return *r.Step
}

type billLine struct {
	Item   string `json:"item"`
	Supply string `json:"supply"`
	Kind   string `json:"kind"`
	Length *nm    `json:"length_mm"`
	Need   string `json:"need"`
	Spare  string `json:"spare"`
	Order  string `json:"order"`
	Unit   string `json:"unit"`
	Pack   int    `json:"pack"`
	Packs  int    `json:"packs"`
}

type totals struct {
	Legs        int      `json:"legs"`
	ClearLength nm       `json:"clear_length_mm"`
	Units       int      `json:"units"`
	Plain       int      `json:"plain"`
	Cuts        int      `json:"cuts"`
	Covers      int      `json:"covers"`
	CutCovers   int      `json:"cut_covers"`
	Joints      int      `json:"joints"`
	Bought      int      `json:"bought"`
	CoversBuy   int      `json:"covers_bought"`
	MassKG      *float64 `json:"mass_kg"`
}

type legProof struct {
	Leg      string `json:"leg"`
	Verified bool   `json:"verified"`
}

type finding struct {
	ID    string `json:"id"`
	Kind  string `json:"kind"`
	Text  string `json:"text"`
	Ask   string `json:"ask"`
	Where struct {
		Leg      string `json:"leg"`
		Place    string `json:"place"`
		Path     string `json:"path"`
		Chainage string `json:"chainage_m"`
	} `json:"where"`
}

// contract are the keys that every plan.json has, whatever its job.
var contract = map[string][]string{
	"":         {"format", "job", "legs", "nodes", "units", "covers", "joints", "zones", "supplies", "cutting", "set_out", "bill", "totals", "proof", "findings"},
	"legs":     {"name", "from", "to", "verdict", "clear_length_mm"},
	"units":    {"mark", "leg", "start_mm", "length_mm", "cut", "start_angle_deg", "end_angle_deg", "mass_kg"},
	"covers":   {"mark", "unit", "start_mm", "length_mm", "cut"},
	"joints":   {"leg", "at_mm", "gap_mm", "gap_min_mm", "gap_max_mm"},
	"zones":    {"leg", "from_mm", "to_mm", "why"},
	"findings": {"id", "kind", "text"},
}

// checkContract names the keys of the contract that are missing.
func checkContract(text []byte, r *report) {
	var top map[string]json.RawMessage
	if json.Unmarshal(text, &top) != nil {
		return
	}
	for _, key := range contract[""] {
		if _, ok := top[key]; !ok {
			r.say("plan.json has no %s", key)
		}
	}
	for _, list := range []string{"legs", "units", "covers", "joints", "zones", "findings"} {
		var rows []map[string]json.RawMessage
		if json.Unmarshal(top[list], &rows) != nil {
			continue
		}
		for i, row := range rows {
			for _, key := range contract[list] {
				if _, ok := row[key]; !ok {
					r.say("%s[%d] has no %s", list, i, key)
				}
			}
		}
	}
	if bytes.Contains(text, []byte("NaN")) || bytes.Contains(text, []byte("Infinity")) {
		r.say("plan.json holds something that is no number")
	}
}
