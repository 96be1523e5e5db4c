package measure

import "testing"

// The zero value of every type is zero of it, and every verb survives it.
func TestZeroValues(t *testing.T) {
	for got, want := range map[string]string{
		Length(0).String():                    "0 mm",
		Angle(0).String():                     "0 deg",
		Mass(0).String():                      "0 kg",
		LinearMass(0).String():                "0 kg/m",
		Grade{}.String() + " grade":           "0 % grade",
		Grade{}.Percent(2):                    "0.00 %",
		Window{}.String() + " wide":           "0 mm wide",
		Format{}.Length(0) + " shown":         "0 mm shown",
		Chainage(0, Metric, 3):                "0+000.000",
		Chainage(0, Imperial, 2):              "0+00.00",
		Angle(0).Bearing():                    "N00-00-00E",
		Format{}.Reading(Reading{}) + " read": "0 mm read",
		System(0).String():                    "metric",
		NoUnit.String():                       "",
		Unit(200).String():                    "",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	var (
		l Length
		a Angle
		m Mass
		n LinearMass
		g Grade
		w Window
		j MM
	)
	for _, err := range []error{
		l.UnmarshalText([]byte("0 mm")), a.UnmarshalText([]byte("0 deg")), m.UnmarshalText([]byte("0 kg")), n.UnmarshalText([]byte("0 kg/m")),
		g.UnmarshalText([]byte("0 %")), w.UnmarshalText([]byte("0 mm")), j.UnmarshalJSON([]byte("0")), w.Check(),
	} {
		if err != nil {
			t.Error(err)
		}
	}
	if l != 0 || a != 0 || m != 0 || n != 0 || g.Cmp(Grade{}) != 0 || w != (Window{}) || j != 0 {
		t.Error("nought does not come back as nought")
	}
	if r, err := ParseIn("5", Unit(200)); err == nil {
		t.Errorf("a bare number in a unit that does not exist was read as %s", r.As)
	}
	var p ParseError
	if p.Error() == "" {
		t.Error("an empty fault says nothing")
	}
}
