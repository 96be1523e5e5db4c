package interchange

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTheCodeOfASystemIsReadAsThePatternSays(t *testing.T) {
	pattern := regexp.MustCompile(`^(?:(.*) \(EPSG:? ?([0-9]+)\)|EPSG:? ?([0-9]+))$`)
	parts := rapid.SampledFrom([]string{"ETRS89", " ", "(", ")", " (EPSG", "EPSG", ":", ": ", "25832", "7", "UTM zone 32N", "é"})
	rapid.Check(t, func(t *rapid.T) {
		system := strings.Join(rapid.SliceOfN(parts, 0, 7).Draw(t, "parts"), "")
		name, number, ok := coded(system)
		m := pattern.FindStringSubmatch(system)
		if ok != (m != nil) || ok && (name != m[1] || number != m[2]+m[3]) {
			t.Fatalf("%q: %q, %q, %v, by the pattern %q", system, name, number, ok, m)
		}
	})
	for system, want := range map[string][2]string{"ETRS89 / UTM zone 32N (EPSG 25832)": {"ETRS89 / UTM zone 32N", "25832"}, "EPSG:25832": {"", "25832"}, "local (EPSG: 4)": {"local", "4"}} {
		if name, number, ok := coded(system); !ok || name != want[0] || number != want[1] {
			t.Errorf("%q: %q, %q, %v", system, name, number, ok)
		}
	}
}
