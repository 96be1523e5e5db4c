package screen

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestNamesAndFiguresAreThoseOfTheirPatterns holds what is written out to the patterns that it stands for.
func TestNamesAndFiguresAreThoseOfTheirPatterns(t *testing.T) {
	figures, names := regexp.MustCompile(`[\d.,'"/ ]*\d[\d.,'"/]*`), regexp.MustCompile(`(?:^|[ (])"[^"]+"`)
	hold := func(t interface{ Errorf(string, ...any) }, text string) {
		if got, want := unfigured(text), figures.ReplaceAllString(text, "0"); got != want {
			t.Errorf("%q: %q, the pattern has %q", text, got, want)
		}
		if got, want := namesIn(text), strings.Join(names.FindAllString(text, -1), ","); got != want {
			t.Errorf("%q: names %q, the pattern has %q", text, got, want)
		}
	}
	for _, text := range []string{"", `"`, `""`, `"a"`, `leg A is 12.40 m, 3'-4 1/2" long`, `("a" "b"c "d")`, `1"`, ` 5" "x"`, "ö 1 ü", "a. b 7,"} {
		hold(t, text)
	}
	rapid.Check(t, func(t *rapid.T) {
		hold(t, rapid.StringOfN(rapid.SampledFrom([]rune("a ö1234.,'\"\"/ (")), 0, 24, -1).Draw(t, "text"))
	})
}
