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
	metric, imperial []unit  // the largest first; the first one in which the figure is at least 1 is taken, else the last
	read             []unit  // further units that are read and never shown
	freezing         float64 // the imperial figure where the metric one is 0; 0 for everything but temperatures
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

// The kinds
var (
	Ratio       = &Kind{Name: "", metric: []unit{{"", 1}}, imperial: []unit{{"", 1}}}
	Count       = &Kind{Name: "count", metric: []unit{{"", 1}}, imperial: []unit{{"", 1}}}
	Percent     = &Kind{Name: "share", metric: []unit{{"%", 0.01}}, imperial: []unit{{"%", 0.01}}}
	Angle       = &Kind{Name: "angle", metric: []unit{{"deg", math.Pi / 180}}, imperial: []unit{{"deg", math.Pi / 180}}}
	Length      = &Kind{Name: "length", metric: []unit{{"m", 1}, {"mm", 0.001}}, imperial: []unit{{"ft", foot}, {"in", inch}}}
	Area        = &Kind{Name: "area", metric: []unit{{"m²", 1}, {"mm²", 1e-6}}, imperial: []unit{{"ft²", foot * foot}, {"in²", inch * inch}}, read: []unit{{"m2", 1}, {"mm2", 1e-6}, {"ft2", foot * foot}, {"in2", inch * inch}}}
	Volume      = &Kind{Name: "volume", metric: []unit{{"m³", 1}, {"cm³", 1e-6}}, imperial: []unit{{"yd³", 27 * foot * foot * foot}, {"ft³", foot * foot * foot}}, read: []unit{{"m3", 1}, {"cm3", 1e-6}, {"cc", 1e-6}, {"l", 1e-3}, {"yd3", 27 * foot * foot * foot}, {"ft3", foot * foot * foot}}}
	Mass        = &Kind{Name: "mass", metric: []unit{{"kg", 1}}, imperial: []unit{{"lb", Pound}}, read: []unit{{"g", 0.001}, {"t", 1000}}}
	Density     = &Kind{Name: "density", metric: []unit{{"kg/m³", 1}}, imperial: []unit{{"lb/ft³", Pound / (foot * foot * foot)}}, read: []unit{{"kg/m3", 1}, {"g/cm3", 1000}, {"g/cc", 1000}, {"t/m3", 1000}, {"Mg/m3", 1000}, {"lb/ft3", Pound / (foot * foot * foot)}, {"pcf", Pound / (foot * foot * foot)}}}
	UnitWeight  = &Kind{Name: "weight per volume", metric: []unit{{"kN/m³", 1000}}, imperial: []unit{{"lbf/ft³", lbf / (foot * foot * foot)}}, read: []unit{{"kN/m3", 1000}, {"lbf/ft3", lbf / (foot * foot * foot)}, {"pcf", lbf / (foot * foot * foot)}}}
	AreaMass    = &Kind{Name: "mass per area", metric: []unit{{"kg/m²", 1}}, imperial: []unit{{"lb/ft²", Pound / (foot * foot)}}, read: []unit{{"kg/m2", 1}, {"lb/ft2", Pound / (foot * foot)}, {"psf", Pound / (foot * foot)}}}
	Speed       = &Kind{Name: "speed", metric: []unit{{"km/h", 1 / 3.6}}, imperial: []unit{{"mph", 5280 * foot / 3600}}, read: []unit{{"m/s", 1}, {"m/min", 1.0 / 60}, {"ft/min", foot / 60}}}
	VolumeRate  = &Kind{Name: "volume per time", metric: []unit{{"m³/h", 1.0 / 3600}}, imperial: []unit{{"yd³/h", 27 * foot * foot * foot / 3600}}, read: []unit{{"m3/h", 1.0 / 3600}, {"yd3/h", 27 * foot * foot * foot / 3600}}}
	LineMass    = &Kind{Name: "mass per length", metric: []unit{{"kg/m", 1}}, imperial: []unit{{"lb/ft", Pound / foot}}}
	Force       = &Kind{Name: "force", metric: []unit{{"kN", 1000}, {"N", 1}}, imperial: []unit{{"lbf", lbf}}, read: []unit{{"kip", 1000 * lbf}, {"kips", 1000 * lbf}}}
	LineForce   = &Kind{Name: "force per length", metric: []unit{{"kN/m", 1000}, {"N/m", 1}}, imperial: []unit{{"lbf/ft", lbf / foot}}, read: []unit{{"plf", lbf / foot}, {"kip/ft", 1000 * lbf / foot}, {"klf", 1000 * lbf / foot}}}
	Moment      = &Kind{Name: "moment", metric: []unit{{"kN·m", 1000}, {"N·m", 1}}, imperial: []unit{{"lbf·ft", lbf * foot}}}
	LineMoment  = &Kind{Name: "moment per length", metric: []unit{{"kN·m/m", 1000}, {"N·m/m", 1}}, imperial: []unit{{"lbf·ft/ft", lbf}}}
	Pressure    = &Kind{Name: "pressure", metric: []unit{{"kPa", 1000}}, imperial: []unit{{"lbf/ft²", lbf / (foot * foot)}}, read: []unit{{"kN/m2", 1000}, {"kN/m²", 1000}, {"MPa", 1e6}, {"Pa", 1}, {"psf", lbf / (foot * foot)}, {"ksf", 1000 * lbf / (foot * foot)}, {"lbf/ft2", lbf / (foot * foot)}, {"psi", lbf / (inch * inch)}}}
	Stress      = &Kind{Name: "stress", metric: []unit{{"MPa", 1e6}}, imperial: []unit{{"lbf/in²", lbf / (inch * inch)}}, read: []unit{{"GPa", 1e9}, {"N/mm2", 1e6}, {"N/mm²", 1e6}, {"kPa", 1000}, {"psi", lbf / (inch * inch)}, {"ksi", 1000 * lbf / (inch * inch)}, {"lbf/in2", lbf / (inch * inch)}}}
	LineHeat    = &Kind{Name: "heat per length", metric: []unit{{"W/m", 1}}, imperial: []unit{{"W/ft", 1 / foot}}}
	Current     = &Kind{Name: "current", metric: []unit{{"A", 1}}, imperial: []unit{{"A", 1}}}
	Warmth      = &Kind{Name: "difference of temperature", metric: []unit{{"K", 1}}, imperial: []unit{{"°F", 5.0 / 9}}}
	Temperature = &Kind{Name: "temperature", metric: []unit{{"°C", 1}}, imperial: []unit{{"°F", 5.0 / 9}}, read: []unit{{"C", 1}}, freezing: 32}
	voltage     = &Kind{Name: "voltage", metric: []unit{{"kV", 1000}, {"V", 1}}, imperial: []unit{{"kV", 1000}, {"V", 1}}}
)

// Volts is a voltage in kilovolts.
func Volts(kilovolts float64) Quantity { return Quantity{kilovolts * 1000, voltage} }

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
	shown := q.SI / u.size
	if imperial {
		shown += q.Kind.freezing
	}
	text := significant(shown)
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
