package check

import (
	"math"
	"strconv"
	"strings"
)

// Quantity is a figure of a check in SI units, with how it is shown. It is worked with as a number and shown rounded; nothing turns
// the text back into a figure of record.
type Quantity struct {
	SI   float64
	Kind *Kind
}

// Kind is a kind of quantity: its units in both systems.
type Kind struct {
	Name             string
	metric, imperial []unit // the largest first; the first one in which the figure is at least 1 is taken, else the last
}

// unit is a unit by how much of the SI unit it holds.
type unit struct {
	name string
	size float64
}

// Exact by NIST SP 811, Appendix B, and by the standard acceleration of free fall (3rd CGPM, 1901): 1 lb = 0.453 592 37 kg,
// 1 ft = 0.3048 m, 1 lbf = 1 lb x 9.806 65 m/s2.
const (
	Gravity = 9.80665    // m/s2
	Pound   = 0.45359237 // kg
	foot    = 0.3048
	inch    = foot / 12
	lbf     = Pound * Gravity
)

// The kinds.
var (
	Ratio     = &Kind{"", []unit{{"", 1}}, []unit{{"", 1}}}
	Count     = &Kind{"count", []unit{{"", 1}}, []unit{{"", 1}}}
	Percent   = &Kind{"share", []unit{{"%", 0.01}}, []unit{{"%", 0.01}}}
	Angle     = &Kind{"angle", []unit{{"deg", math.Pi / 180}}, []unit{{"deg", math.Pi / 180}}}
	Length    = &Kind{"length", []unit{{"m", 1}, {"mm", 0.001}}, []unit{{"ft", foot}, {"in", inch}}}
	Area      = &Kind{"area", []unit{{"m²", 1}, {"mm²", 1e-6}}, []unit{{"ft²", foot * foot}, {"in²", inch * inch}}}
	Volume    = &Kind{"volume", []unit{{"m³", 1}}, []unit{{"yd³", 27 * foot * foot * foot}, {"ft³", foot * foot * foot}}}
	Mass      = &Kind{"mass", []unit{{"kg", 1}}, []unit{{"lb", Pound}}}
	Density   = &Kind{"density", []unit{{"kg/m³", 1}}, []unit{{"lb/ft³", Pound / (foot * foot * foot)}}}
	LineMass  = &Kind{"mass per length", []unit{{"kg/m", 1}}, []unit{{"lb/ft", Pound / foot}}}
	Force     = &Kind{"force", []unit{{"kN", 1000}, {"N", 1}}, []unit{{"lbf", lbf}}}
	LineForce = &Kind{"force per length", []unit{{"kN/m", 1000}, {"N/m", 1}}, []unit{{"lbf/ft", lbf / foot}}}
	Moment    = &Kind{"moment", []unit{{"kN·m", 1000}, {"N·m", 1}}, []unit{{"lbf·ft", lbf * foot}}}
	Pressure  = &Kind{"pressure", []unit{{"kPa", 1000}}, []unit{{"lbf/ft²", lbf / (foot * foot)}}}
	Stress    = &Kind{"stress", []unit{{"MPa", 1e6}}, []unit{{"lbf/in²", lbf / (inch * inch)}}}
)

// Volts is a voltage in kilovolts.
func Volts(kilovolts float64) Quantity { return Quantity{kilovolts * 1000, voltage} }

var voltage = &Kind{"voltage", []unit{{"kV", 1000}, {"V", 1}}, []unit{{"kV", 1000}, {"V", 1}}}

// Of is a figure of a kind.
func (k *Kind) Of(si float64) Quantity { return Quantity{si, k} }

// figures are how many of them a figure is shown with.
const figures = 4

// In is a figure in one system, with its unit.
func (q Quantity) In(imperial bool) string {
	if q.Kind == nil {
		return ""
	}
	units := q.Kind.metric
	if imperial {
		units = q.Kind.imperial
	}
	u := units[len(units)-1]
	for _, each := range units {
		if math.Abs(q.SI) >= each.size {
			u = each
			break
		}
	}
	text := significant(q.SI / u.size)
	switch {
	case u.name == "":
		return text
	case u.name == "%":
		return text + " %"
	}
	return text + " " + u.name
}

// Both is a figure in the job's system, and behind it in the other where that reads differently.
func (q Quantity) Both(imperial bool) string {
	first, second := q.In(imperial), q.In(!imperial)
	if first == second {
		return first
	}
	return first + " (" + second + ")"
}

// significant is x with four figures, without idle noughts behind the point.
func significant(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "no figure"
	}
	if x == 0 {
		return "0"
	}
	places := figures - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	text := strconv.FormatFloat(x, 'f', min(max(places, 0), 9), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
