package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/measure"
)

const mm = measure.Millimetre

// sample holds every kind of column and every trap for whoever writes it.
func sample() Table {
	return Table{
		Name: "Cutting list", Title: "Cutting list, leg B",
		Notes: []string{"NOT CHECKED: no load rating on file. Ask: the supplier", "=covers as drawn"},
		Columns: []Column{
			{Key: "mark", Head: "Mark"},
			{Key: "length", Head: "Length", Kind: KindLength, Unit: "mm"},
			{Key: "shop", Head: "Length", Kind: KindLength, Unit: "ft-in"},
			{Key: "mass", Head: "Mass", Kind: KindMass, Unit: "kg"},
			{Key: "pounds", Head: "Mass", Kind: KindMass, Unit: "lb"},
			{Key: "count", Head: "Count", Kind: KindCount},
			{Key: "angle", Head: "Saw angle", Kind: KindAngle, Places: 1},
			{Key: "fall", Head: "Fall", Kind: KindGrade, Places: 2},
			{Key: "price", Head: "Price", Kind: KindMoney, Unit: "EUR"},
			{Key: "stone", Head: "Stone", Kind: KindDecimal, Unit: "m³", Places: 1},
		},
		Rows: [][]Cell{
			{Text("B-017"), Length(3060_700_000), Length(10*measure.Foot + measure.Inch/2), Mass(1_184_500), Mass(1_183_876), Count(2),
				Angle(22_500_000_000), Grade(measure.Grade{Rise: 1, Run: 200}), Money(123_450), Decimal(1234, 2)},
			{Text(`=1+1, "x"`), Length(-400_000), Length(-measure.Inch / 2), Text("NOT CHECKED: no mass on file. Ask: the supplier"), Cell{}, Count(-3),
				Angle(-1), Grade(measure.Grade{Rise: 1, Run: 96}), Money(-5), Decimal(-5, 0)},
			{Text("two\r\nlines"), {}, {}, {}, {}, {}, {}, {}, {}, {}},
		},
	}
}

func TestWriteCSV(t *testing.T) {
	var b bytes.Buffer
	if err := WriteCSV(&b, sample()); err != nil {
		t.Fatal(err)
	}
	want := strings.Join([]string{
		`Mark,Length [mm],Length [ft-in],Length [mm],Mass [kg],Mass [lb],Mass [kg],Count,Saw angle [deg],Fall [%],Price [EUR],Stone [m³],Notes on the whole table`,
		`B-017,3060.7,"10'-0 1/2""",3060.7,1184.5,2610,1183.876,2,22.5,0.5,1234.50,12.34,NOT CHECKED: no load rating on file. Ask: the supplier`,
		`"'=1+1, ""x""",-0.4,"'-1/2""",-12.7,NOT CHECKED: no mass on file. Ask: the supplier,,,-3,-0.000000001,1:96,-0.05,-5,'=covers as drawn`,
		"\"two\r\nlines\",,,,,,,,,,,,", ""}, "\r\n")
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

func TestCheckNamesTheFirstFault(t *testing.T) {
	one := []Column{{Key: "a"}}
	for want, bad := range map[string]Table{
		`table "" has no columns`:                                                          {},
		`table "T", column 1: neither head nor key`:                                        {Name: "T", Columns: []Column{{}}},
		`table "T", column 1: 99 is no kind of column`:                                     {Name: "T", Columns: []Column{{Key: "a", Kind: 99}}},
		`table "T", column 1: "a": unit "kg"; one of ["mm" "m" "ft-in" "ft"] was expected`: {Name: "T", Columns: []Column{{Key: "a", Kind: KindLength, Unit: "kg"}}},
		`table "T", column 1: "a": 0 to 9 places and no negative width were expected`:      {Name: "T", Columns: []Column{{Key: "a", Places: 10}}},
		`table "T", row 1: 2 cells for 1 columns`:                                          {Name: "T", Columns: one, Rows: [][]Cell{{Text("x"), {}}}},
		`table "T", row 2, column "a": a cell of another kind`:                             {Name: "T", Columns: one, Rows: [][]Cell{{Text("x")}, {Length(5)}}},
	} {
		for _, err := range []error{bad.Check(), WriteCSV(&bytes.Buffer{}, bad)} {
			if err == nil || err.Error() != want {
				t.Errorf("got %v, want %s", err, want)
			}
		}
	}
}

// The zero Cell is an empty one in a column of any kind, and an empty table has its heads.
func TestZeroValues(t *testing.T) {
	for k := KindText; k <= KindDecimal; k++ {
		s := Table{Columns: []Column{{Key: "a", Kind: k}}, Rows: [][]Cell{{{}}}}
		var b bytes.Buffer
		if err := WriteCSV(&b, s); err != nil || !strings.HasSuffix(b.String(), "\r\n\"\"\r\n") {
			t.Errorf("kind %d: %q, %v", k, b.String(), err)
		}
	}
	var b bytes.Buffer
	if err := WriteCSV(&b, Table{Columns: []Column{{Key: "a"}}}); err != nil || b.String() != "a\r\n" {
		t.Errorf("%q, %v", b.String(), err)
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWritersReportTheStream(t *testing.T) {
	if err := WriteCSV(broken{}, sample()); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("%v", err)
	}
}

// Another reader of CSV, the standard library's, gets every text and every exact number back, and no field begins like a
// formula unless it is a number.
func TestCSVComesBackExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Table{Columns: []Column{{Key: "text"}, {Key: "mm", Kind: KindLength, Unit: rapid.SampledFrom([]string{"mm", "ft-in", "ft"}).Draw(t, "unit")},
			{Key: "kg", Kind: KindMass, Unit: rapid.SampledFrom([]string{"kg", "lb"}).Draw(t, "unit2")}, {Key: "n", Kind: KindDecimal}}}
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			s.Rows = append(s.Rows, []Cell{
				Text(rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.RuneFrom([]rune("=+-@'\"\r\n\t,; \x00＝")))).Draw(t, "text")),
				Length(measure.Length(rapid.Int64().Draw(t, "length"))), Mass(measure.Mass(rapid.Int64().Draw(t, "mass"))),
				Decimal(rapid.Int64().Draw(t, "n"), rapid.IntRange(0, 18).Draw(t, "places"))})
		}
		var b bytes.Buffer
		if err := WriteCSV(&b, s); err != nil {
			t.Fatal(err)
		}
		records, err := csv.NewReader(&b).ReadAll()
		if err != nil || len(records) != len(s.Rows)+1 {
			t.Fatalf("%d records, %v", len(records), err)
		}
		for i, row := range s.Rows {
			checkRecord(t, s, records[0], records[i+1], row)
		}
	})
}

func checkRecord(t *rapid.T, s Table, heads, record []string, row []Cell) {
	if got := unguarded(record[0]); got != Printable(row[0].text) {
		t.Fatalf("text %q came back as %q", row[0].text, got)
	}
	for i, f := range record {
		_, isNumber := new(big.Rat).SetString(f)
		if f != "" && strings.ContainsRune(risky, []rune(f)[0]) && !(isNumber && f[0] == '-') {
			t.Fatalf("under %q stands %q, which a spreadsheet would calculate", heads[i], f)
		}
		switch heads[i] {
		case "mm [mm]":
			equal(t, f, row[1].number, 1e6)
		case "kg [kg]":
			equal(t, f, row[2].number, 1e3)
		}
	}
}

func equal(t *rapid.T, text string, n, per int64) {
	got, ok := new(big.Rat).SetString(text)
	if !ok || got.Cmp(big.NewRat(n, per)) != 0 {
		t.Fatalf("%d/%d was written as %s", n, per, text)
	}
}

// What people are shown agrees with rationals rounded half away from zero.
func TestPlacesAgreesWithRationals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, have, want := rapid.Int64().Draw(t, "n"), rapid.IntRange(0, 18).Draw(t, "have"), rapid.IntRange(0, 9).Draw(t, "want")
		got, rounded := places(decimal(n, have), want)
		exact := new(big.Rat).SetFrac(big.NewInt(n), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(have)), nil))
		if text := exact.FloatString(want); got != text && "-"+got != text { // no minus before nought
			t.Fatalf("%s to %d places: got %s, want %s", decimal(n, have), want, got, text)
		}
		back, _ := new(big.Rat).SetString(got)
		if rounded != (back.Cmp(exact) != 0) {
			t.Fatalf("%s to %d places is %s: rounded %v", decimal(n, have), want, got, rounded)
		}
	})
	if got, _ := places(decimal(math.MinInt64, 18), 2); got != "-9.22" {
		t.Error(got)
	}
}

func TestGuard(t *testing.T) {
	for text, want := range map[string]string{"": "", "a": "a", "=a": "'=a", "'a": "''a", "-1": "'-1", "@x": "'@x", "\tx": "'\tx", "＋1": "'＋1", "1-2": "1-2"} {
		if got := guarded(text); got != want || unguarded(got) != text {
			t.Errorf("%q: %q, back %q", text, got, unguarded(got))
		}
	}
	if unguarded("'tis") != "'tis" {
		t.Error("an apostrophe that guards nothing was taken off")
	}
}
