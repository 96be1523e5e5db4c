package table

import (
	"strings"
	"testing"

	"trenchwright/base/measure"
)

func TestReadStock(t *testing.T) {
	got, faults := ReadStock("stock.csv", strings.NewReader("price;length;count\n100;3000;\n45;1600 mm;2\n30;4 ft;0\n"), measure.UnitMillimetre)
	want := []Stock{
		{Length: 3000 * measure.Millimetre, Count: -1, Price: 100, Line: 2},
		{Length: 1600 * measure.Millimetre, Count: 2, Price: 45, Line: 3},
		{Length: 48 * measure.Inch, Count: 0, Price: 30, Line: 4},
	}
	if len(faults) > 0 || len(got) != len(want) {
		t.Fatalf("%v %v", got, faults)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("row %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	if got, faults = ReadStock("stock.csv", strings.NewReader("length\n3 m\n"), measure.UnitMillimetre); len(faults) > 0 || got[0].Price != 1 || got[0].Count != -1 {
		t.Errorf("a length alone: %+v %v", got, faults)
	}
}

// Every fault of a list is said at once, each with its line and its column.
func TestReadStockFaults(t *testing.T) {
	for _, c := range []struct {
		list string
		want []string
	}{
		{"length,count,price\n-3000,1,100\n3000,many,1.5\n3000,-1,1\n,1,1\n", []string{
			"stock.csv:2:1: fault: a unit of -3000 mm", `stock.csv:3:6: fault: "many" is no whole number from 0 to 1000000`,
			`stock.csv:3:11: fault: "1.5" is no whole number`, `stock.csv:4:6: fault: "-1" is no whole number`, "stock.csv:5:1: fault: no length stands here"}},
		{"length,count,price\n3000,1,\n", []string{`stock.csv:2:8: fault: "" is no whole number`}},
		{"length,hand\n3000,left\n", []string{`stock.csv:1:8: fault: "hand" is no column of a list of stock`}},
		{"count,price\n1,1\n", []string{"stock.csv:1:1: fault: there is no column length"}},
		{"length\n", []string{"stock.csv:2:1: fault: the list has heads and no stock"}},
		{"", []string{"stock.csv:1:1: fault: the list is empty"}},
		{"length,count\n3000,1,7\n", []string{"stock.csv:2:8: fault: 3 fields under 2 heads"}},
	} {
		got, faults := ReadStock("stock.csv", strings.NewReader(c.list), measure.UnitMillimetre)
		if len(got) > 0 || len(faults) != len(c.want) {
			t.Errorf("%q: %v %v", c.list, got, faults)
			continue
		}
		for i, f := range faults {
			if !strings.HasPrefix(f.String(), c.want[i]) || f.Try == "" {
				t.Errorf("%q: %q, want %q", c.list, f, c.want[i])
			}
		}
	}
}

func FuzzReadStock(f *testing.F) {
	f.Add("length,count,price\n3000,,100\n1600,2,45\n")
	f.Add("length [ft];price\n10-6;\u00bd\n\"\"\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		got, faults := ReadStock("x", strings.NewReader(text), measure.UnitMillimetre)
		if (len(got) == 0) == (len(faults) == 0) {
			t.Fatalf("%d rows and %d faults", len(got), len(faults))
		}
		for _, s := range got {
			if s.Length <= 0 || s.Count < -1 || s.Price < 0 {
				t.Errorf("%+v", s)
			}
		}
	})
}
