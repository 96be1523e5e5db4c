package job

import (
	"math"
	"testing"

	"trenchwright/base/measure"
)

// A yard is 0.9144 m (international yard and pound agreement, 1959), and a short ton 2000 lb of 0.45359237 kg.
func TestReadLoad(t *testing.T) {
	for text, want := range map[string]Load{
		"8": {Volume: 8}, "8 m3": {Volume: 8}, "7.5m³": {Volume: 7.5}, "10 yd3": {Volume: 10 * 0.9144 * 0.9144 * 0.9144}, "1 yd³": {Volume: 0.764554857984},
		"12 t": {Mass: 12_000_000}, "13 short tons": {Mass: 11_793_402}, "26000 lb": {Mass: 11_793_402},
	} {
		got, err := ReadLoad(text)
		if err != nil || math.Abs(got.Volume-want.Volume) > 1e-12 || got.Mass != want.Mass {
			t.Errorf("%s: %+v, %v; want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "0", "-8", "8 ft", "12 tons", "0 t", "-1 t", "m3", "1e3", "8 m3 yd3", "NaN"} {
		if got, err := ReadLoad(text); err == nil {
			t.Errorf("%q is read as %+v", text, got)
		}
	}
}

func TestReadDensity(t *testing.T) {
	for text, want := range map[string]float64{"1600 kg/m3": 1600, "1.6 t/m³": 1600, "2700 lb/yd3": 1601.841} {
		if got, err := ReadDensity(text); err != nil || math.Abs(got-want) > 0.01 {
			t.Errorf("%s: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "1600", "1600 kg", "1600 kg/ft", "1600/m3", "0 kg/m3", "kg/m3", "1 ton/m3"} {
		if got, err := ReadDensity(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

func FuzzReadLoad(f *testing.F) {
	for _, text := range []string{"8", "10 yd3", "12 t", "1600 kg/m3", "13 short tons", "²"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if l, err := ReadLoad(text); err == nil && (l.Volume > 0) == (l.Mass > measure.Mass(0)) {
			t.Errorf("%q: %+v", text, l)
		}
		if d, err := ReadDensity(text); err == nil && !(d > 0) {
			t.Errorf("%q: %v", text, d)
		}
	})
}
