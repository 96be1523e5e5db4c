package measure

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// roundTrip writes v as text and reads it back.
func roundTrip[T any, P interface {
	*T
	UnmarshalText([]byte) error
}](t *rapid.T, v T, marshal func(T) ([]byte, error)) T {
	t.Helper()
	text, err := marshal(v)
	if err != nil {
		t.Fatalf("%v: %v", v, err)
	}
	var back T
	if err := P(&back).UnmarshalText(text); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return back
}

func TestTextIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if l := anyLength(t); roundTrip(t, l, Length.MarshalText) != l {
			t.Fatalf("%d nm came back otherwise", l)
		}
		if a := Angle(anyInt("angle")(t)); roundTrip(t, a, Angle.MarshalText) != a {
			t.Fatalf("%d came back otherwise", a)
		}
		if m := Mass(anyInt("mass")(t)); roundTrip(t, m, Mass.MarshalText) != m {
			t.Fatalf("%d g came back otherwise", m)
		}
		if m := LinearMass(anyInt("linear mass")(t)); roundTrip(t, m, LinearMass.MarshalText) != m {
			t.Fatalf("%d g/m came back otherwise", m)
		}
		g := Grade{Length(anyInt("rise")(t)), Length(anyInt("run")(t))}
		if g.Run != 0 && g.Rise != math.MinInt64 && g.Run != math.MinInt64 {
			if back := roundTrip(t, g, Grade.MarshalText); back.Cmp(g) != 0 {
				t.Fatalf("%v came back as %v", g, back)
			}
		}
		lo, mid, hi := anyLength(t), anyLength(t), anyLength(t)
		lo, mid = min(lo, mid), max(lo, mid)
		mid, hi = min(mid, hi), max(mid, hi)
		lo, mid = min(lo, mid), max(lo, mid)
		if w := (Window{mid, lo, hi}); roundTrip(t, w, Window.MarshalText) != w {
			t.Fatalf("%v came back otherwise", w)
		}
	})
}

func TestMMString(t *testing.T) {
	for l, want := range map[Length]string{
		0: "0", 1: "0.000001", -1: "-0.000001", 3_060_700_000: "3060.7", Metre: "1000", -Inch: "-25.4", Inch / 64: "0.396875",
		math.MinInt64: "-9223372036854.775808", math.MaxInt64: "9223372036854.775807",
	} {
		if got := l.MMString(); got != want {
			t.Errorf("%d nm: %s, want %s", int64(l), got, want)
		}
		if r, err := Parse(l.MString() + " m"); err != nil || r.Length != l || r.Rounded {
			t.Errorf("%d nm as %s m came back as %v, %v", int64(l), l.MString(), r.Length, err)
		}
	}
}

// What JSON holds of the quantities, keys and text included.
func TestJSON(t *testing.T) {
	type all struct {
		Length Length         `json:"length"`
		Angle  Angle          `json:"angle"`
		Mass   Mass           `json:"mass"`
		Linear LinearMass     `json:"linear"`
		Grade  Grade          `json:"grade"`
		Window Window         `json:"window"`
		MM     MM             `json:"start_mm"`
		By     map[Length]int `json:"by"`
	}
	v := all{3_060_700_000, 22_500_000_000, 1_184_500, 385_000, Grade{1, 200}, Window{10, 8, 14}, 3_060_700_000, map[Length]int{Metre: 1}}
	const want = `{"length":"3060.7 mm","angle":"22.5 deg","mass":"1184.5 kg","linear":"385 kg/m","grade":"0.5 %",` +
		`"window":"0.00001 mm in 0.000008 mm..0.000014 mm","start_mm":3060.7,"by":{"1000 mm":1}}`
	data, err := json.Marshal(v)
	if err != nil || string(data) != want {
		t.Errorf("got %s, %v\nwant %s", data, err, want)
	}
	var back all
	if err := json.Unmarshal(data, &back); err != nil || back.MM != v.MM || back.Window != v.Window || back.By[Metre] != 1 {
		t.Errorf("came back as %+v, %v", back, err)
	}
	if err := json.Unmarshal([]byte(`{"length":"3061"}`), &back); err == nil || !strings.Contains(err.Error(), "a number without a unit") {
		t.Errorf("a bare number as text: %v", err)
	}
	for _, bad := range []struct {
		into interface{ UnmarshalText([]byte) error }
		text string
	}{{new(Angle), "5"}, {new(Mass), "5"}, {new(LinearMass), "5 kg"}, {new(Grade), "5"}, {new(Window), "14 mm..8 mm"}} {
		if err := bad.into.UnmarshalText([]byte(bad.text)); err == nil {
			t.Errorf("%s was read as a %T", bad.text, bad.into)
		}
	}
	if _, err := json.Marshal(Window{Nominal: 5}); err == nil {
		t.Error("a window that aims outside itself was written")
	}
	if _, err := json.Marshal(Grade{Rise: 5}); err == nil {
		t.Error("a rise over no run was written")
	}
}

func TestMMJSON(t *testing.T) {
	for text, want := range map[string]MM{
		"0": 0, "-0": 0, "3060.7": 3_060_700_000, "-0.000001": -1, "1e3": MM(Metre), "1E-6": 1, "25.400000000": MM(Inch), "3.0607e+3": 3_060_700_000,
		"9223372036854.775807": math.MaxInt64, "-9223372036854.775808": math.MinInt64, "0e300": 0, "null": 7,
	} {
		m := MM(7)
		if err := json.Unmarshal([]byte(text), &m); err != nil || m != want {
			t.Errorf("%s: %d, %v; want %d", text, m, err, want)
		}
	}
	for _, text := range []string{"0.0000001", "1e-7", "9223372036854.775808", "1e14", "1e300", "1e999", `"5 mm"`, "true", "[]"} {
		m := MM(7)
		if err := json.Unmarshal([]byte(text), &m); err == nil || m != 7 {
			t.Errorf("%s was read as %d", text, m)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		m := MM(anyLength(t))
		data, err := json.Marshal(m)
		var back MM
		if err != nil || json.Unmarshal(data, &back) != nil || back != m {
			t.Fatalf("%d: %s, %v, back %d", m, data, err, back)
		}
	})
}

// The quick reader of our own texts says what Parse says, and reads all that String writes of lengths on this earth.
func TestOwnTextIsReadAsParseReadsIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLength(t)
		if v, ok := ownText([]byte(l.String())); ok && v != l || !ok && l.Abs() < 10_000_000*Metre && l != math.MinInt64 {
			t.Fatalf("%s was read as %v, %v", l, v, ok)
		}
		text := rapid.OneOf(rapid.StringMatching(`-?[0-9]{1,13}\.?[0-9]{0,7} ?mm`), rapid.StringMatching(`[-+.0-9 ]{0,6} mm`)).Draw(t, "text")
		v, ok := ownText([]byte(text))
		if r, err := Parse(text); ok && (err != nil || r.Length != v) {
			t.Fatalf("%q was read as %v; Parse says %v, %v", text, v, r.Length, err)
		}
	})
}
