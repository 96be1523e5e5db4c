package measure

// System is metric or imperial. The zero value is metric.
type System uint8

// The two systems of units that people build in.
const (
	Metric System = iota
	Imperial
)

// String is "metric" or "imperial".
func (s System) String() string {
	if s == Imperial {
		return "imperial"
	}
	return "metric"
}

// Unit is a unit that a length is written in. The zero value is none: a bare number then has no meaning.
type Unit uint8

// The units that lengths are read in.
const (
	NoUnit Unit = iota
	UnitMillimetre
	UnitCentimetre
	UnitMetre
	UnitKilometre
	UnitInch
	UnitFoot
	UnitYard
	UnitSurveyFoot
)

// comma says how a comma before exactly three digits is read, where both readings are possible.
type comma uint8

const (
	commaRefused   comma = iota // 1,712 mm: 1.712 or 1712, and both are lengths that people write
	commaDecimal                // 3,061 m: metres with millimetres behind the comma
	commaThousands              // 2,610 lb: nobody with a decimal comma builds in pounds and feet
)

// ratio is how many of our smallest units one written unit holds, as a fraction.
type ratio struct{ num, den uint64 }

// row is one unit: what it is called in print, its size, how its comma is read, and in what system it lives.
type row struct {
	name   string
	size   ratio
	comma  comma
	system System
}

// rows is indexed by Unit. Sizes are in nanometres: NIST SP 811 has the foot as 0.3048 m exactly and the US survey foot
// as 1200/3937 m exactly.
var rows = [...]row{
	NoUnit:         {name: ""},
	UnitMillimetre: {"mm", ratio{uint64(Millimetre), 1}, commaRefused, Metric},
	UnitCentimetre: {"cm", ratio{uint64(10 * Millimetre), 1}, commaRefused, Metric},
	UnitMetre:      {"m", ratio{uint64(Metre), 1}, commaDecimal, Metric},
	UnitKilometre:  {"km", ratio{uint64(Kilometre), 1}, commaDecimal, Metric},
	UnitInch:       {"in", ratio{uint64(Inch), 1}, commaThousands, Imperial},
	UnitFoot:       {"ft", ratio{uint64(Foot), 1}, commaThousands, Imperial},
	UnitYard:       {"yd", ratio{uint64(3 * Foot), 1}, commaThousands, Imperial},
	UnitSurveyFoot: {"US survey ft", ratio{1200 * uint64(Metre), 3937}, commaThousands, Imperial},
}

// row is u's row; a unit that does not exist has the row of none.
func (u Unit) row() row {
	if int(u) < len(rows) {
		return rows[u]
	}
	return rows[NoUnit]
}

// String is the unit as it is printed, "" for none.
func (u Unit) String() string { return u.row().name }

// System is the system that u belongs to.
func (u Unit) System() System { return u.row().system }

// word is one spelling of something; longer spellings stand before their beginnings.
type word[T any] struct {
	text string
	is   T
}

// lengthWords holds every spelling in small letters that a length's unit is read from.
var lengthWords = []word[Unit]{
	{"us survey foot", UnitSurveyFoot}, {"us survey feet", UnitSurveyFoot}, {"us survey ft", UnitSurveyFoot},
	{"ussurveyfoot", UnitSurveyFoot}, {"us-ft", UnitSurveyFoot}, {"us ft", UnitSurveyFoot},
	{"usft", UnitSurveyFoot}, {"ftus", UnitSurveyFoot},
	{"millimetres", UnitMillimetre}, {"millimeters", UnitMillimetre},
	{"millimetre", UnitMillimetre}, {"millimeter", UnitMillimetre}, {"mm", UnitMillimetre},
	{"centimetres", UnitCentimetre}, {"centimeters", UnitCentimetre},
	{"centimetre", UnitCentimetre}, {"centimeter", UnitCentimetre}, {"cm", UnitCentimetre},
	{"kilometres", UnitKilometre}, {"kilometers", UnitKilometre},
	{"kilometre", UnitKilometre}, {"kilometer", UnitKilometre}, {"km", UnitKilometre},
	{"metres", UnitMetre}, {"meters", UnitMetre}, {"metre", UnitMetre}, {"meter", UnitMetre}, {"m", UnitMetre},
	{"inches", UnitInch}, {"inch", UnitInch}, {"in.", UnitInch}, {"in", UnitInch}, {`"`, UnitInch}, {"''", UnitInch},
	{"feet", UnitFoot}, {"foot", UnitFoot}, {"ft.", UnitFoot}, {"ft", UnitFoot}, {"'", UnitFoot},
	{"yards", UnitYard}, {"yard", UnitYard}, {"yd.", UnitYard}, {"yd", UnitYard},
}
