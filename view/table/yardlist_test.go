package table

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
)

func TestReadYard(t *testing.T) {
	got, faults := ReadYard("yard.csv", strings.NewReader("mark,length,count,end a,end b,supply\n,2400,3,,,\nB-017/a,1240 mm,1,factory,-22.5,trough\nA-002/a,3 ft,0,square,22.5°,\n"), measure.UnitMillimetre)
	if len(faults) > 0 || len(got) != 3 {
		t.Fatal(got, faults)
	}
	half := 45 * measure.Degree / 2
	for i, want := range []InYard{
		{Length: 2400 * measure.Millimetre, Count: 3, Line: 2},
		{"trough", 1240 * measure.Millimetre, 1, "B-017/a", [2]End{{Factory: true}, {Angle: -half}}, 3},
		{"", 3 * measure.Foot, 0, "A-002/a", [2]End{{}, {Angle: half}}, 4},
	} {
		if got[i] != want {
			t.Errorf("%+v, not %+v", got[i], want)
		}
	}
}

func TestReadYardFaults(t *testing.T) {
	for list, want := range map[string]string{
		"length,count\n2400,\n":                           "no count stands here",
		"length\n2400\n":                                  "no column count",
		"length,count,mark\n1240,2,B-017/a\n":             "from 0 to 1",
		"length,count,end a\n1240,2,factory\n":            "without a mark",
		"length,count,mark,end b\n1240,1,B-017/a,90\n":    "saw cut",
		"length,count,mark,end b\n1240,1,B-017/a,steep\n": "steep",
	} {
		if got, faults := ReadYard("yard.csv", strings.NewReader(list), measure.UnitMillimetre); len(got) > 0 || len(faults) != 1 || !strings.Contains(faults[0].String(), want) {
			t.Errorf("%q: %v %v, want %q", list, got, faults, want)
		}
	}
}

func FuzzReadYard(f *testing.F) {
	f.Add("length,count,mark,end a,end b\n1240,1,B-017/a,factory,22.5°\n2400,3,,,\n")
	f.Add("supply;length [ft];count\ntrough;10-6;½\n\"\"\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, faults := ReadYard("x", strings.NewReader(text), measure.UnitMillimetre)
		if (len(got) == 0) == (len(faults) == 0) {
			t.Fatalf("%d rows and %d faults", len(got), len(faults))
		}
		for _, y := range got {
			if y.Length <= 0 || y.Count < 0 || y.Mark != "" && y.Count > 1 || y.Mark == "" && y.Ends != [2]End{} {
				t.Errorf("%+v", y)
			}
		}
	})
}
