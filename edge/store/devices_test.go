package store

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"trenchwright/tools/seed"
)

// A code lets a device in however a person writes it: in small letters, with spaces and dashes, with the letters that look like figures.
// Cut short, doubled, in another order or of another one it lets nobody in, and uses nothing up.
func TestCodesAsPeopleTypeThem(t *testing.T) {
	seed := seed.Of(t)
	chance := rand.New(rand.NewPCG(seed, 6))
	s := opened(t, t.TempDir())
	for n := range 30 {
		e, err := s.Enrol(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		other := []byte(e.Code)
		for string(other) == e.Code {
			chance.Shuffle(len(other), func(i, j int) { other[i], other[j] = other[j], other[i] })
			other[chance.IntN(len(other))] = codeSigns[chance.IntN(len(codeSigns))]
		}
		for _, bad := range []string{"", e.Code[:chance.IntN(codeLength)], e.Code[1:], e.Code + e.Code, e.Code + "0", string(other), e.Code + "\x00", "#" + e.Code} {
			if d, _, err := s.LetIn(t.Context(), bad, "", "phone"); err == nil {
				t.Fatalf("seed %d: %q lets %s in, and the code is %s", seed, bad, d.ID, e.Code)
			}
		}
		var written strings.Builder
		for _, sign := range e.Code {
			switch c := chance.IntN(4); {
			case sign == '0' && c < 3:
				sign = rune("0Oo"[c])
			case sign == '1' && c < 3:
				sign = rune("Iil"[c])
			case c == 0:
				written.WriteString([]string{" ", "-", " - "}[chance.IntN(3)])
			}
			if chance.IntN(2) == 0 {
				written.WriteString(strings.ToLower(string(sign)))
			} else {
				written.WriteRune(sign)
			}
		}
		id := fmt.Sprint("phone-", n)
		if _, _, err := s.LetIn(t.Context(), written.String(), id, "phone"); err != nil {
			t.Fatalf("seed %d: %s, written as %q: %v", seed, e.Code, written.String(), err)
		}
		if _, _, err := s.LetIn(t.Context(), e.Code, id, "phone"); err != nil {
			t.Errorf("seed %d: the same device with the same code once more: %v", seed, err)
		}
		if _, _, err := s.LetIn(t.Context(), e.Code, "another", "phone"); err == nil {
			t.Errorf("seed %d: a code lets two devices in", seed)
		}
	}
}

func FuzzTyped(f *testing.F) {
	f.Add("0123-45 ol")
	f.Add("ſ ı K")
	f.Fuzz(func(t *testing.T, text string) {
		code := typed(text)
		if typed(code) != code {
			t.Fatalf("%q is read as %q, and that as %q", text, code, typed(code))
		}
		if strings.ContainsAny(code, " -OIL") {
			t.Fatalf("%q is read as %q, which no code has", text, code)
		}
	})
}
