package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

func TestReadCutting(t *testing.T) {
	const inch, foot = measure.Inch, measure.Foot
	for _, c := range []struct {
		name, text string
		unit       measure.Unit
		want       []Piece
	}{
		{"plain", "length,count\n1400 mm,2\n970 mm,1\n", measure.NoUnit, []Piece{{Length: 1400 * mm, Count: 2, Line: 2}, {Length: 970 * mm, Count: 1, Line: 3}}},
		{"bare numbers", "length,count\n1400,2", measure.UnitMillimetre, []Piece{{Length: 1400 * mm, Count: 2, Line: 2}}},
		{"unit in the head", "Length [in], Count\n67 3/8,2", measure.UnitMillimetre, []Piece{{Length: 67*inch + 3*inch/8, Count: 2, Line: 2}}},
		{"unit in round brackets", "length (m);count\n1,4;2", measure.UnitMillimetre, []Piece{{Length: 1400 * mm, Count: 2, Line: 2}}},
		{"any order, semicolons, CRLF, BOM, empty lines", "\ufeffid;angle;hand;count;length\r\n\r\nB-017;22,5;left;1;1.400,5 mm\r\n;;;3;2 m\r\n \r\n", measure.NoUnit,
			[]Piece{{ID: "B-017", Length: 1400_500_000, Count: 1, Hand: Left, Angle: 22_500_000_000, Line: 3}, {Length: 2000 * mm, Count: 3, Line: 4}}},
		{"tabs, CR alone", "length\tcount\thand\tangle\r1 m\t2\tR\t45°\r", measure.NoUnit, []Piece{{Length: 1000 * mm, Count: 2, Hand: Right, Angle: 45 * measure.Degree, Line: 2}}},
		{"inch marks without quotes", "length,count\n10'-6 1/2\",2\n", measure.NoUnit, []Piece{{Length: 10*foot + 6*inch + inch/2, Count: 2, Line: 2}}},
		{"inch marks in quotes", "length,count\n \"10'-6 1/2\"\"\" ,2\n", measure.NoUnit, []Piece{{Length: 10*foot + 6*inch + inch/2, Count: 2, Line: 2}}},
		{"decimal comma in quotes", "length,count\n\"3,061 m\",2\n", measure.NoUnit, []Piece{{Length: 3061 * mm, Count: 2, Line: 2}}},
		{"separators too many", "length,count,\n1 m,2,,\n", measure.NoUnit, []Piece{{Length: 1000 * mm, Count: 2, Line: 2}}},
		{"optional fields left out", "length,count,hand,angle,id\n1 m,2\n1 m,2,square,-\n", measure.NoUnit, []Piece{{Length: 1000 * mm, Count: 2, Line: 2}, {Length: 1000 * mm, Count: 2, Line: 3}}},
	} {
		got, faults := ReadCutting("list.csv", strings.NewReader(c.text), c.unit)
		if len(faults) > 0 || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: got %+v\nwant %+v\n%s", c.name, got, c.want, faults.Render(measure.Metric))
		}
	}
	if p := (Piece{Hand: Right, Angle: 5}); p.Skew() != -5 || (Piece{Hand: Left, Angle: 5}).Skew() != 5 || (Piece{}).Skew() != 0 {
		t.Error("the long side on the left is positive")
	}
}

// All faults at once, as people read them.
func TestReadCuttingSaysAllFaultsAtOnce(t *testing.T) {
	const text = `length,count,hand,angle,id
10 furlong,2,,,a
1 m,two,up,,
1 m,0,left,,
,,,10,
1 m,2,left,95,a
-5 mm,1
"1,712 mm",1
"1""2 x",1
1,5 m,2,,,,
"1 m,2
"1 m"x,2
1 m,+5,,,a
`
	pieces, faults := ReadCutting("list.csv", strings.NewReader(text), measure.NoUnit)
	if pieces != nil {
		t.Errorf("pieces in spite of faults: %v", pieces)
	}
	want := []string{
		`list.csv:2:4: fault: "10 furlong" cannot be read as a length: "furlong" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected`,
		`list.csv:3:5: fault: "two" is no count of pieces`,
		`list.csv:3:9: fault: "up" is no hand`,
		`list.csv:4:5: fault: "0" is no count of pieces`,
		`list.csv:4:12: fault: a hand without an angle`,
		`list.csv:5:1: fault: no length stands here`,
		`list.csv:5:2: fault: no count stands here`,
		`list.csv:5:3: fault: an angle without a hand: left and right are different pieces`,
		`list.csv:6:12: fault: a cut at 95 deg to a square one`,
		`list.csv:6:15: fault: the id "a" stands in line 2 already`,
		`list.csv:7:1: fault: a piece of -5 mm`,
		`list.csv:8:3: fault: "1,712 mm" cannot be read as a length: the comma can be read two ways, as 1.712 mm and as 1712 mm; write the one that is meant`,
		`list.csv:9:5: fault: "1\"2 x" cannot be read as a length: nothing more was expected after the unit`,
		`list.csv:10:2: fault: "1" cannot be read as a length: a number without a unit`,
		`list.csv:10:3: fault: "5 m" is no count of pieces`,
		`list.csv:10:7: fault: "2" is no hand`,
		`list.csv:11:1: fault: the quote that opens this field is never closed`,
		`list.csv:12:6: fault: nothing was expected between the quote that closes this field and the next one`,
		`list.csv:13:5: fault: "+5" is no count of pieces`,
		`list.csv:13:10: fault: the id "a" stands in line 2 already`,
	}
	for i, f := range faults {
		if i >= len(want) || f.String() != want[i] {
			t.Errorf("fault %d is %s, want %s", i, f, want[min(i, len(want)-1)])
		}
	}
	if len(faults) != len(want) {
		t.Errorf("%d faults, want %d", len(faults), len(want))
	}
	const first = `list.csv:2:4: fault: "10 furlong" cannot be read as a length: "furlong" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected
    10 furlong,2,,,a
       ^
  try: write for example 3.061 m, 3061 mm, 10'-0 1/2" or 67 3/8 in`
	if got := faults[0].Render(measure.Metric); got != first {
		t.Errorf("got\n%s\nwant\n%s", got, first)
	}
	wellSpoken(t, faults)
}

func TestReadCuttingHeads(t *testing.T) {
	for text, want := range map[string]string{
		"":                          "list.csv:1:1: fault: the list is empty",
		"\n \n":                     "list.csv:1:1: fault: the list is empty",
		"length,count\n":            "list.csv:2:1: fault: the list has heads and no pieces",
		"1400,2\n":                  "list.csv:1:1: fault: \"1400\" is no column of a cutting list",
		"length\n5 m\n":             "list.csv:1:1: fault: there is no column count",
		"length,count,length\n":     "list.csv:1:14: fault: the column length stands here a second time",
		"length [kg],count\n":       "list.csv:1:1: fault: \"kg\" is no unit of length",
		"length,count [m]\n":        "list.csv:1:8: fault: the column count has no unit \"m\"",
		"\"length,count\n":          "list.csv:1:1: fault: the quote that opens this field is never closed",
		"\xff\xfel\x00":             "list.csv: fault: the text is in UTF-16",
		"length,count\n1 m,\xff\n":  "list.csv:2:5: fault: from here on there are bytes that are not UTF-8",
		"length,count\n1 m\x00,2\n": "list.csv:2:4: fault: the character U+0000 cannot be part of a list",
		strings.Repeat("a", 5000):   "list.csv:1:1: fault: a line of more than 4096 bytes",
		"length,count\n" + strings.Repeat("1 m,2\n", 3<<20): "list.csv: fault: more than 16 MiB are no cutting list",
	} {
		_, faults := ReadCutting("list.csv", strings.NewReader(text), measure.NoUnit)
		if len(faults) == 0 || faults[0].String() != want {
			t.Errorf("%.40q: got %v, want %s", text, faults, want)
		}
		wellSpoken(t, faults)
	}
	_, faults := ReadCutting("list.csv", io.MultiReader(strings.NewReader("length"), failing{}), measure.NoUnit)
	if len(faults) != 1 || faults[0].Text != "the list cannot be read: cable cut" {
		t.Errorf("%v", faults)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("cable cut") }

func wellSpoken(t *testing.T, l finding.List) {
	t.Helper()
	for _, f := range l {
		if out := finding.Speech(f); len(out) > 0 {
			t.Errorf("%s: %q", f, out)
		}
	}
}

func TestReadCuttingListsFiftyFaults(t *testing.T) {
	_, faults := ReadCutting("list.csv", strings.NewReader("length,count\n"+strings.Repeat("x,2\n", 60)), measure.NoUnit)
	if faults.Count(finding.Fault) != 50 || faults[len(faults)-1].Text != "the first 50 faults are listed; 10 more are not" {
		t.Errorf("%d faults, last %s", faults.Count(finding.Fault), faults[len(faults)-1])
	}
	wellSpoken(t, faults)
}

// What CuttingList writes as CSV, ReadCutting reads, exactly.
func TestCuttingListComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pieces []Piece
		for i := range rapid.IntRange(1, 6).Draw(t, "pieces") {
			p := Piece{Length: measure.Length(rapid.Int64Range(1, 1<<62).Draw(t, "length")), Count: rapid.IntRange(1, mostCount).Draw(t, "count"), Line: i + 2}
			if rapid.Bool().Draw(t, "mitred") {
				p.Hand = rapid.SampledFrom([]Hand{Left, Right}).Draw(t, "hand")
				p.Angle = measure.Angle(rapid.Int64Range(1, int64(90*measure.Degree)-1).Draw(t, "angle"))
			}
			if rapid.Bool().Draw(t, "named") {
				p.ID = fmt.Sprintf("%s%d", rapid.SampledFrom([]string{"B-017/", "=", "'", "-", `"`, "a;b,", "½"}).Draw(t, "id"), i)
			}
			pieces = append(pieces, p)
		}
		var b bytes.Buffer
		if err := WriteCSV(&b, CuttingList(pieces)); err != nil {
			t.Fatal(err)
		}
		back, faults := ReadCutting("", bytes.NewReader(b.Bytes()), measure.NoUnit)
		if len(faults) > 0 || !reflect.DeepEqual(back, pieces) {
			t.Fatalf("%s\ncame back as %+v\n%s", b.String(), back, faults.Render(measure.Metric))
		}
	})
}

// On lines that RFC 4180 allows, the standard library's reader parts the fields in the same way.
func TestFieldsAgreeWithAnotherReader(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sep := rapid.SampledFrom([]rune{',', ';', '\t'}).Draw(t, "separator")
		var want, line []string
		for range rapid.IntRange(1, 5).Draw(t, "fields") {
			text := rapid.StringOf(rapid.RuneFrom([]rune("ab1½'\"-,; "))).Draw(t, "field")
			want = append(want, text)
			line = append(line, `"`+strings.ReplaceAll(text, `"`, `""`)+`"`)
			if plain := rapid.StringMatching(`[a-z½'][a-z½" -]*`).Draw(t, "plain"); rapid.Bool().Draw(t, "plain too") && !strings.Contains(plain, `"`) {
				want, line = append(want, plain), append(line, plain)
			}
		}
		joined := strings.Join(line, string(sep))
		r := csv.NewReader(strings.NewReader(joined))
		r.Comma = sep
		other, err := r.Read()
		if err != nil || !slices.Equal(other, want) {
			t.Fatalf("%s: the other reader has %q, %v; written was %q", joined, other, err, want)
		}
		got, bad := fields(joined, sep)
		if bad != nil || len(got) != len(want) {
			t.Fatalf("%s: %d fields, %v; want %d", joined, len(got), bad, len(want))
		}
		for i, f := range got {
			if f.text != want[i] {
				t.Fatalf("%s: field %d is %q, want %q", joined, i, f.text, want[i])
			}
			n := 0
			for _, c := range f.text {
				if at := []rune(joined)[f.columnOf(n)-1]; at != c {
					t.Fatalf("%s: character %d of field %d is %q, and column %d holds %q", joined, n, i, c, f.columnOf(n), at)
				}
				n++
			}
		}
	})
}

func FuzzReadCutting(f *testing.F) {
	for _, s := range []string{
		"length,count\n1400 mm,2\n", "\ufefflength;count\r\n1,5 m;2\r\n", "length [in],count,hand,angle,id\n67 3/8,2,left,22.5,a\n", "\"length\",\"count\"\n\"10'-6\"\"\",1",
		"length,count\n\"1 m,2\n\"\"\"", "length\tcount\n1 m\t2", "\xff\xfe", "length,count\n1,1712 mm,2", "id,length,count\n'=x,1 m,2\n''=x,1 m,2", "length,count,angle\n1 m,1,90°",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		pieces, faults := ReadCutting("list.csv", strings.NewReader(text), measure.UnitMillimetre)
		wellSpoken(t, faults)
		lines := strings.Count(text, "\n") + strings.Count(text, "\r") + 1
		for _, x := range faults {
			if x.Where.Line > lines || x.Where.Column > len(text)+1 {
				t.Fatalf("%q: %s lies outside", text, x)
			}
		}
		if (len(pieces) == 0) == (len(faults) == 0) {
			t.Fatalf("%q: %d pieces and %d faults", text, len(pieces), len(faults))
		}
		if len(faults) > 0 {
			return
		}
		var b bytes.Buffer
		if err := WriteCSV(&b, CuttingList(pieces)); err != nil {
			t.Fatal(err)
		}
		back, faults := ReadCutting("", bytes.NewReader(b.Bytes()), measure.NoUnit)
		if len(faults) > 0 || len(back) != len(pieces) {
			t.Fatalf("%q was written as %q and refused:\n%s", text, b.String(), faults.Render(measure.Metric))
		}
		for i := range back {
			back[i].Line = pieces[i].Line
		}
		if !reflect.DeepEqual(back, pieces) {
			t.Fatalf("%q was written as %q and came back as %+v, not %+v", text, b.String(), back, pieces)
		}
	})
}
