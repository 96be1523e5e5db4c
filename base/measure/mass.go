package measure

import "strings"

const (
	aMass             = "a mass"
	massExample       = "1184 kg, 1.184 t or 2610 lb"
	aLinearMass       = "a mass per length"
	linearMassExample = "385 kg/m or 259 lb/ft"
)

// NIST SP 811: 1 lb is 0.453 592 37 kg exactly, here in grams; a pound per foot then is 453.59237/0.3048 g/m.
var (
	asKilograms = smallest{"kg", 3}
	asPerMetre  = smallest{"kg/m", 3}
	pound       = ratio{45_359_237, 100_000}
	poundFoot   = ratio{45_359_237, 30_480}

	kgRow   = row{name: "kg", size: ratio{1000, 1}, comma: commaRefused}
	gRow    = row{name: "g", size: ratio{1, 1}, comma: commaRefused}
	tRow    = row{name: "t", size: ratio{1_000_000, 1}, comma: commaDecimal}
	lbRow   = row{name: "lb", size: pound, comma: commaThousands}
	tonRow  = row{name: "ton"}
	kgmRow  = row{name: "kg/m", size: ratio{1000, 1}, comma: commaRefused}
	tmRow   = row{name: "t/m", size: ratio{1_000_000, 1}, comma: commaDecimal}
	lbftRow = row{name: "lb/ft", size: poundFoot, comma: commaThousands}
)

var massWords = []word[row]{
	{"kilograms", kgRow}, {"kilogram", kgRow}, {"kg", kgRow}, {"grams", gRow}, {"gram", gRow}, {"g", gRow},
	{"short tons", row{name: "short ton", size: ratio{2000 * pound.num, pound.den}, comma: commaThousands}},
	{"short ton", row{name: "short ton", size: ratio{2000 * pound.num, pound.den}, comma: commaThousands}},
	{"tonnes", tRow}, {"tonne", tRow}, {"tons", tonRow}, {"ton", tonRow}, {"t", tRow},
	{"pounds", lbRow}, {"pound", lbRow}, {"lbs.", lbRow}, {"lbs", lbRow}, {"lb.", lbRow}, {"lb", lbRow},
}

var linearMassWords = []word[row]{
	{"kg per metre", kgmRow}, {"kg per meter", kgmRow}, {"kg per m", kgmRow}, {"kg/m", kgmRow},
	{"t per m", tmRow}, {"t/m", tmRow},
	{"lb per foot", lbftRow}, {"lb per ft", lbftRow}, {"lbs/ft", lbftRow}, {"lb/ft", lbftRow}, {"plf", lbftRow},
}

// ParseMass reads a mass: g, kg, t, lb, short ton. A ton alone is refused, for there are three of them; so is a number
// without a unit.
func ParseMass(text string) (Said[Mass], error) {
	return parseOne[Mass](text, aMass, massExample, massWords, asKilograms)
}

// ParseLinearMass reads a mass per length: kg/m, t/m, lb/ft.
func ParseLinearMass(text string) (Said[LinearMass], error) {
	return parseOne[LinearMass](text, aLinearMass, linearMassExample, linearMassWords, asPerMetre)
}

// parseOne reads one number with one unit.
func parseOne[T ~int64](text, what, example string, words []word[row], exact smallest) (Said[T], error) {
	s, err := scan(text, what, example)
	if err != nil {
		return Said[T]{}, err
	}
	negative := s.sign()
	l, err := s.literal()
	if err != nil {
		return Said[T]{}, err
	}
	s.spaces()
	column := s.pos + 1
	unit, ok := oneOf(s, words)
	switch {
	case !ok && s.end():
		return Said[T]{}, s.here("a number without a unit")
	case !ok:
		return Said[T]{}, s.here("a unit was expected behind the number")
	case unit.size.num == 0:
		return Said[T]{}, s.fault(column, "a ton can be a short ton of 2000 lb, a long ton of 2240 lb or a tonne of 1000 kg; write lb, kg or t")
	}
	if err := s.finish("the unit"); err != nil {
		return Said[T]{}, err
	}
	n, err := s.number(l, unit.comma, unit.name)
	if err != nil {
		return Said[T]{}, err
	}
	return said[T](s, negative, n, unit, exact)
}

// String is m exactly, as "1184.5 kg".
func (m Mass) String() string { return exactDecimal(int64(m), 3) + " kg" }

// MarshalText writes m exactly, as "1184.5 kg".
func (m Mass) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads any mass that is written with its unit.
func (m *Mass) UnmarshalText(text []byte) error {
	said, err := ParseMass(string(text))
	if err == nil {
		*m = said.Value
	}
	return err
}

// String is m exactly, as "385 kg/m".
func (m LinearMass) String() string { return exactDecimal(int64(m), 3) + " kg/m" }

// MarshalText writes m exactly, as "385 kg/m".
func (m LinearMass) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads any mass per length that is written with its unit.
func (m *LinearMass) UnmarshalText(text []byte) error {
	said, err := ParseLinearMass(string(text))
	if err == nil {
		*m = said.Value
	}
	return err
}

// Mass is m to the nearest kg or lb, with one decimal below 10 of them: 1184 kg, 2,610 lb, 0.4 kg.
func (f Format) Mass(m Mass) string {
	if f.System == Imperial {
		return f.heavy(int64(m), pound, " lb")
	}
	return f.heavy(int64(m), kgRow.size, " kg")
}

// LinearMass is m to the nearest kg/m or lb/ft, with one decimal below 10 of them.
func (f Format) LinearMass(m LinearMass) string {
	if f.System == Imperial {
		return f.heavy(int64(m), poundFoot, " lb/ft")
	}
	return f.heavy(int64(m), kgmRow.size, " kg/m")
}

// heavy shows a count of grams (per metre) in a unit of that size.
func (f Format) heavy(grams int64, size ratio, unit string) string {
	mag := magnitude(grams)
	places := 0
	n, _, _ := mulDiv(mag, size.den, size.num)
	if n < 10 {
		places = 1
		n, _, _ = mulDiv(mag, 10*size.den, size.num)
	}
	text := fixedDecimal(n, places)
	switch {
	case f.Plain:
	case f.System == Imperial:
		text = grouped(text, ",", 4)
	default:
		text = grouped(text, thinSpace, 5)
	}
	return minus(grams < 0 && strings.Trim(text, "0.") != "") + text + unit
}
