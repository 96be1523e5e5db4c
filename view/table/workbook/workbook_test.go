package workbook

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"trenchwright/base/measure"
	"trenchwright/view/table"
)

func sample() []table.Table {
	return []table.Table{{
		Name: "Cutting list", Title: "Cutting list & marks, leg B",
		Notes: []string{"NOT CHECKED: no load rating on file. Ask: the supplier", "=1+1"},
		Columns: []table.Column{
			{Key: "mark", Head: "Mark", Width: 12},
			{Key: "length", Head: "Length", Kind: table.KindLength},
			{Key: "shop", Head: "Length", Kind: table.KindLength, Unit: "ft-in"},
			{Key: "mass", Head: "Mass", Kind: table.KindMass, Places: 1},
			{Key: "count", Head: "Count", Kind: table.KindCount},
			{Key: "price", Head: "Price", Kind: table.KindMoney, Unit: "EUR"},
		},
		Rows: [][]table.Cell{
			{table.Text("B-017"), table.Length(3060_700_000), table.Length(10*measure.Foot + measure.Inch/2), table.Mass(1_184_500), table.Count(2), table.Money(123_450)},
			{table.Text("=HYPERLINK(\"x\")"), table.Length(-400_000), table.Length(-measure.Inch / 2), table.Text("NOT CHECKED: no mass on file. Ask: the supplier"), {}, {}},
			{table.Text("two\nlines _x0041_x0042_ <&> \x01 ½"), table.Length(1<<63 - 1), {}, {}, {}, {}},
		},
	}, {Name: "cutting LIST", Columns: []table.Column{{Key: "only"}}}}
}

func write(t *testing.T, paper Paper, tables ...table.Table) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, paper, tables...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSameTablesSameBytes(t *testing.T) {
	first := write(t, A3, sample()...)
	for range 5 {
		if again := write(t, A3, sample()...); !bytes.Equal(first, again) {
			t.Fatal("the same tables gave other bytes")
		}
	}
}

// The library that wrote it opens it, and shows what people are to see.
func TestReopenedByItsOwnLibrary(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(write(t, A4, sample()...)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if got := fmt.Sprint(f.GetSheetList()); got != "[Cutting list cutting LIST (2)]" {
		t.Errorf("sheets %s", got)
	}
	rows, err := f.GetRows("Cutting list")
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"Cutting list & marks, leg B"},
		{"NOT CHECKED: no load rating on file. Ask: the supplier"},
		{"=1+1"},
		nil,
		{"Mark", "Length [mm]", "Length [ft-in]", "Length [mm]", "Mass [kg]", "Count", "Price [EUR]"},
		{"B-017", "3061", `10'-0 1/2"`, "3060.7", "1184.5", "2", "1234.50"},
		{`=HYPERLINK("x")`, "0", `-1/2"`, "-12.7", "NOT CHECKED: no mass on file. Ask: the supplier"},
		{"two\nlines _x0041_x0042_ <&> \ufffd ½", "9223372036854.775807"}, // more digits than a number there holds: text
	}
	if len(rows) != len(want) {
		t.Fatalf("%d rows, want %d", len(rows), len(want))
	}
	for i := range want {
		if strings.Join(rows[i], "|") != strings.Join(want[i], "|") && !(i == 6 && rows[i][1] == "-0") {
			t.Errorf("row %d: got %q, want %q", i+1, rows[i], want[i])
		}
	}
	for _, cell := range []string{"A3", "A7", "C7"} {
		if formula, err := f.GetCellFormula("Cutting list", cell); formula != "" || err != nil {
			t.Errorf("%s holds the formula %q, %v", cell, formula, err)
		}
		if kind, err := f.GetCellType("Cutting list", cell); kind != excelize.CellTypeSharedString || err != nil {
			t.Errorf("%s is of type %v, %v; want text", cell, kind, err)
		}
	}
	props, err := f.GetDocProps()
	if err != nil || props.Creator != "Trenchwright" || props.Created != fixedDate || props.Modified != fixedDate || props.Title != "Cutting list & marks, leg B" {
		t.Errorf("%+v, %v", props, err)
	}
}

// A small reader of plain zip and XML, which knows nothing of the library, finds the same.
func TestReadAsPlainZipAndXML(t *testing.T) {
	for paper, size := range map[Paper]string{A4: "9", A3: "8"} {
		book := openPlain(t, write(t, paper, sample()...))
		if got := fmt.Sprint(book.names); got != "[Cutting list cutting LIST (2)]" {
			t.Errorf("sheets %s", got)
		}
		s := book.sheets[0]
		for ref, want := range map[string]cell{
			"A1": {"s", "Cutting list & marks, leg B"}, "A3": {"s", "=1+1"}, "A5": {"s", "Mark"}, "D5": {"s", "Length [mm]"},
			"B6": {"", "3060.7"}, "C6": {"s", `10'-0 1/2"`}, "D6": {"", "3060.7"}, "E6": {"", "1184.5"}, "F6": {"", "2"}, "G6": {"", "1234.5"},
			"A7": {"s", `=HYPERLINK("x")`}, "B7": {"", "-0.4"}, "E7": {"s", "NOT CHECKED: no mass on file. Ask: the supplier"}, "F7": {},
			"A8": {"s", "two\nlines _x0041_x0042_ <&> \ufffd ½"}, "B8": {"s", "9223372036854.775807"},
		} {
			if got := s.cells[ref]; got != want {
				t.Errorf("%s: got %+v, want %+v", ref, got, want)
			}
		}
		if s.formulas != 0 {
			t.Errorf("%d formulas", s.formulas)
		}
		if s.pane != (pane{YSplit: "5", TopLeft: "A6", State: "frozen"}) {
			t.Errorf("frozen as %+v", s.pane)
		}
		if s.page != (page{Paper: size, Orientation: "landscape", Wide: "1", Long: "0"}) || !s.fit {
			t.Errorf("page %+v, fit %v", s.page, s.fit)
		}
		if s.footer != "&LCutting list && marks, leg B&R&P / &N" {
			t.Errorf("footer %q", s.footer)
		}
		if s.widths[0] != "12" {
			t.Errorf("widths %q", s.widths)
		}
		for i, want := range []string{"'Cutting list'!$5:$5", "'cutting LIST (2)'!$1:$1"} {
			if got := book.printTitles[fmt.Sprint(i)]; got != want {
				t.Errorf("sheet %d repeats %q on every page, want %q", i, got, want)
			}
		}
		if s.format(book, "B6") != "0" || s.format(book, "E6") != "0.0" || s.format(book, "G6") != "0.00" || s.format(book, "A7") != "@" || s.format(book, "D6") != "General" {
			t.Errorf("number formats %q %q %q %q %q", s.format(book, "B6"), s.format(book, "E6"), s.format(book, "G6"), s.format(book, "A7"), s.format(book, "D6"))
		}
	}
}

// Whatever text and lengths a table holds, the plain reader gets them back, exactly.
func TestEverythingComesBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.SampledFrom([]string{"", "_x0041_", "_x005F_x0041_"}).Draw(rt, "sign") + rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.RuneFrom([]rune("=+-@<&>'\"\r\n\t _x0041\x00")))).Draw(rt, "text")
		l := measure.Length(rapid.OneOf(rapid.Int64(), rapid.Int64Range(-1e15, 1e15)).Draw(rt, "length"))
		tab := table.Table{Name: "t", Columns: []table.Column{{Key: "text"}, {Key: "mm", Kind: table.KindLength}}, Rows: [][]table.Cell{{table.Text(text), table.Length(l)}}}
		var b bytes.Buffer
		if err := Write(&b, A4, tab); err != nil {
			rt.Fatal(err)
		}
		s := openPlain(t, b.Bytes()).sheets[0]
		if got := s.cells["A2"].text; got != table.Printable(text) {
			rt.Fatalf("text %q came back as %q", text, got)
		}
		if got := s.cells["B2"].text; got != l.MMString() {
			rt.Fatalf("%s mm came back as %s", l.MMString(), got)
		}
		if s.formulas != 0 {
			rt.Fatalf("%q became a formula", text)
		}
	})
}

func TestSheetNames(t *testing.T) {
	long := strings.Repeat("n", 40)
	var tables []table.Table
	for _, n := range []string{"", "History", "a/b:c*d?[e]\\", "'quoted'", long, long, "𝛼" + long, "  two\n lines "} {
		tables = append(tables, table.Table{Name: n, Columns: []table.Column{{Key: "a"}}})
	}
	want := []string{"Table", "Table (2)", "a-b-c-d--e--", "quoted", strings.Repeat("n", 31), strings.Repeat("n", 27) + " (2)", "𝛼" + strings.Repeat("n", 29), "two lines"}
	got := openPlain(t, write(t, A4, tables...)).names
	if strings.Join(got, "|") != strings.Join(want, "|") {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

type brokenStream struct{}

func (brokenStream) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestRefusals(t *testing.T) {
	one := table.Table{Name: "T", Columns: []table.Column{{Key: "a"}}}
	long := one
	long.Rows = [][]table.Cell{{table.Text(strings.Repeat("x", 32768))}}
	wide := table.Table{Name: "T", Columns: make([]table.Column, 16_385)}
	for i := range wide.Columns {
		wide.Columns[i].Key = "a"
	}
	for want, tables := range map[string][]table.Table{
		"a workbook needs at least one table":                      nil,
		`sheet "T": table "T" has no columns`:                      {{Name: "T"}},
		`sheet "T": cell A2: 32768 characters; a cell holds 32767`: {long},
		`sheet "T": 16385 columns; a sheet holds 16384`:            {wide},
	} {
		if err := Write(&bytes.Buffer{}, A4, tables...); err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if err := Write(brokenStream{}, A4, one); err == nil || !strings.Contains(err.Error(), "disk full") {
		t.Errorf("%v", err)
	}
}

func BenchmarkWrite(b *testing.B) {
	t := table.Table{Name: "Schedule", Columns: []table.Column{{Key: "mark"}, {Key: "start", Kind: table.KindLength}, {Key: "mass", Kind: table.KindMass}}}
	for i := range 20_000 {
		t.Rows = append(t.Rows, []table.Cell{table.Text(fmt.Sprintf("B-%05d", i)), table.Length(measure.Length(i) * 3010 * measure.Millimetre), table.Mass(1_184_500)})
	}
	for b.Loop() {
		if err := Write(&bytes.Buffer{}, A4, t); err != nil {
			b.Fatal(err)
		}
	}
}
