package job

import (
	"errors"
	"strconv"
	"strings"

	"trenchwright/base/measure"
)

// Load is what one vehicle carts: a loose volume, or a mass. The other of the two is 0.
type Load struct {
	Volume float64 // m³ loose
	Mass   measure.Mass
}

// cubicYard in cubic metres: 0.9144 m cubed, exactly.
const cubicYard = 0.764554857984

// ReadLoad reads a load: 8 or 8 m3, 10 yd3, 12 t, 13 short tons.
func ReadLoad(text string) (Load, error) {
	if v, ok := cubic(text); ok {
		return Load{Volume: v}, nil
	}
	m, err := measure.ParseMass(text)
	if err != nil {
		return Load{}, err
	}
	if m.Value <= 0 {
		return Load{}, errors.New("it is not above 0")
	}
	return Load{Mass: m.Value}, nil
}

// cubic reads cubic metres, with their unit or bare, or cubic yards.
func cubic(text string) (float64, bool) {
	number, size := strings.TrimSpace(text), 1.0
	for _, unit := range []struct {
		name string
		size float64
	}{{"m3", 1}, {"m³", 1}, {"yd3", cubicYard}, {"yd³", cubicYard}} {
		if before, ok := strings.CutSuffix(number, unit.name); ok {
			number, size = strings.TrimSpace(before), unit.size
			break
		}
	}
	if !isDecimal(number) {
		return 0, false
	}
	v, err := strconv.ParseFloat(number, 64)
	return v * size, err == nil && v > 0
}

// ReadDensity reads a mass per loose volume in kilograms per cubic metre: 1600 kg/m3, 1.6 t/m3, 2700 lb/yd3.
func ReadDensity(text string) (float64, error) {
	mass, per, ok := strings.Cut(text, "/")
	size, known := map[string]float64{"m3": 1, "m³": 1, "yd3": cubicYard, "yd³": cubicYard}[strings.TrimSpace(per)]
	if !ok || !known {
		return 0, errors.New("it is no mass in a cubic metre or a cubic yard")
	}
	m, err := measure.ParseMass(mass)
	if err != nil {
		return 0, err
	}
	if m.Value <= 0 {
		return 0, errors.New("it is not above 0")
	}
	return float64(m.Value) / 1000 / size, nil
}
