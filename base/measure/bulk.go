package measure

// Bulk is a volume of goods as they come, on tickets, in cubic centimetres.
type Bulk int64

const (
	aBulk       = "a volume of goods"
	bulkExample = "12 m3, 8.5 yd3 or 200 L"
)

// A cubic yard is 0.9144³ m³ exactly (NIST SP 811: 1 yd is 0.9144 m), here in cubic centimetres.
var (
	asCubicMetres = smallest{"m³", 6}
	m3Row         = row{name: "m³", size: ratio{1_000_000, 1}, comma: commaDecimal}
	yd3Row        = row{name: "yd³", size: ratio{764_554_857_984, 1_000_000}, comma: commaThousands}
	litreRow      = row{name: "L", size: ratio{1000, 1}, comma: commaRefused}
)

var bulkWords = []word[row]{
	{"cubic metres", m3Row}, {"cubic metre", m3Row}, {"cubic meters", m3Row}, {"cubic meter", m3Row}, {"cu m", m3Row}, {"m³", m3Row}, {"m^3", m3Row}, {"m3", m3Row},
	{"cubic yards", yd3Row}, {"cubic yard", yd3Row}, {"cu yd", yd3Row}, {"yd³", yd3Row}, {"yd^3", yd3Row}, {"yd3", yd3Row}, {"cy", yd3Row},
	{"litres", litreRow}, {"litre", litreRow}, {"liters", litreRow}, {"liter", litreRow}, {"L", litreRow}, {"l", litreRow},
}

// ParseBulk reads a volume of goods: m³, yd³, L. A number without a unit is refused.
func ParseBulk(text string) (Said[Bulk], error) {
	return parseOne[Bulk](text, aBulk, bulkExample, bulkWords, asCubicMetres)
}

// String is b exactly, as "12.5 m³".
func (b Bulk) String() string { return exactDecimal(int64(b), 6) + " m³" }

// MarshalText writes b exactly, as "12.5 m³".
func (b Bulk) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// UnmarshalText reads any volume of goods that is written with its unit.
func (b *Bulk) UnmarshalText(text []byte) error {
	said, err := ParseBulk(string(text))
	if err == nil {
		*b = said.Value
	}
	return err
}

// Volume is b in cubic metres, to be shown.
func (b Bulk) Volume() Volume { return Volume(float64(b) / 1e6) }
