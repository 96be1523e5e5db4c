package routein

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

func TestANameFitsALegWhereverThePatternSaysSo(t *testing.T) {
	pattern := regexp.MustCompile(`^[A-Za-z0-9](?:[A-Za-z0-9-]{0,6}[A-Za-z0-9])?$`)
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringOfN(rapid.SampledFrom([]rune("aZ09--é \n")), 0, 10, -1).Draw(t, "name")
		if got, want := fitsLeg(name), pattern.MatchString(name); got != want {
			t.Fatalf("%q: %v, by the pattern %v", name, got, want)
		}
	})
}
