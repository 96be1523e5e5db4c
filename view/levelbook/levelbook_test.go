package levelbook

import (
	"fmt"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

func book(t *testing.T, text string, unit measure.Unit) (levelling.Book, finding.List) {
	t.Helper()
	b, said := ReadBook(strings.NewReader(text), Options{File: "book.csv", Unit: unit})
	for _, f := range said {
		if bad := finding.Speech(f); len(bad) > 0 {
			t.Errorf("%s: %q", f, bad)
		}
	}
	return b, said
}

// One book, written in many ways, is one book.
func TestOneBookInManyDialects(t *testing.T) {
	want := []string{"100.000 m", "100.550 m", "99.700 m", "98.850 m"}
	for name, text := range map[string]string{
		"commas":         "point,bs,is,fs,known\nA,1.35,,,100\nE1,,0.80,,\nCP1,1.40,,1.65,\nB,,,2.25,\n",
		"semicolons":     "\ufeffpoint;bs;is;fs;known;\r\nA;1,35;;;100;\r\nE1;;0,80\r\nCP1;1,40;;1,65;;\r\n\r\nB;;;2,25;;\r\n",
		"tabs":           "Point\tBS\tIS\tFS\tKnown\rA\t1,35\t\t\t100\rE1\t\t0,8\rCP1\t1,40\t\t1,65\rB\t\t\t2,25",
		"other order":    "known [m];fs;remark;is;bs;Pt.\n100,000;-;start;-;1,35;A\n;;;0,80;;E1\n;1,65;wet;;1,40;CP1\n;2,25;;;;B",
		"quoted":         "point,bs,is,fs,known\n\"A\",\"1,35\",,,\"100,000\"\nE1,,\"0,80\",,\nCP1,\"1,40\",,\"1,65\",\nB,,,\"2,25\",\n",
		"millimetres":    "point,bs,is,fs,known\nA,1350 mm,,,100 m\nE1,,800 mm,,\nCP1,1400 mm,,1650 mm,\nB,,,2250 mm,\n",
		"without a sign": "point,bs,is,fs,known\nA,1350,,,100000\nE1,,800,,\nCP1,1400,,1650,\nB,,,2250,\n",
		"with its foot":  "point,bs,is,fs,known,rise,fall,level\nA,1.35,,,100,,,100\nE1,,0.80,,,.55,,100.55\nCP1,1.40,,1.65,,,.85,99.7\nB,,,2.25,,,.85,98.85\nTotal,2.75,0.80,3.90,,0.55,1.70,\n",
	} {
		unit := measure.UnitMetre
		if name == "without a sign" {
			unit = measure.UnitMillimetre
		}
		b, said := book(t, text, unit)
		if said.Any(finding.Fault) {
			t.Errorf("%s: %s", name, said.Render(measure.Metric))
			continue
		}
		r, said := levelling.Reduce(b)
		if len(said) > 0 {
			t.Errorf("%s: %s", name, said.Render(measure.Metric))
			continue
		}
		for i, l := range r.Rows {
			if got := b.Figures.AtLeast(3).Say(l.Level); got != want[i] {
				t.Errorf("%s: %s is %s, want %s", name, l.Point, got, want[i])
			}
		}
	}
}

// Without a unit anywhere figures are kept as they are written; feet and inches, and sixteenths, are exact.
func TestUnits(t *testing.T) {
	b, said := book(t, "point,bs,fs,known\nA,3.10,,100.00\nB,,9.82,\n", measure.NoUnit)
	if len(said) > 0 || b.Figures != (levelling.Figures{Places: 2}) || b.Step != 10*measure.Millimetre {
		t.Errorf("%+v %s", b.Figures, said.Render(measure.Metric))
	}
	b, said = book(t, "point,bs,fs,known\nA,\"3'-1 1/2\"\"\",,100 ft\nB,,9'-10\",\n", measure.NoUnit)
	r, more := levelling.Reduce(b)
	if len(said)+len(more) > 0 || r.Last().Level != 93*measure.Foot+3*measure.Inch+measure.Inch/2 || b.Figures.Unit != measure.UnitFoot || b.Step != measure.Inch/2 {
		t.Errorf("%+v %+v %s%s", b.Figures, r, said.Render(measure.Metric), more.Render(measure.Metric))
	}
}

// Every fault as whole text, with its line.
func TestFaultsAreSaidWithTheirLines(t *testing.T) {
	for text, want := range map[string]string{
		"":                                          "book.csv:1:1: fault: there is nothing in the level book",
		"point,bs,fs\n":                             "book.csv:1:1: fault: there is nothing in the level book",
		"point,bs\nA,1\n":                           "book.csv:1:1: fault: there is no column fs",
		"point,bs,fs,bs\nA,1,,\n":                   "book.csv:1:13: fault: the column bs stands here a second time",
		"point,bs [m],fs [ft]\nA,1,\n":              "book.csv:1:14: fault: this head says ft, and m holds already",
		"point,bs [furlong],fs\nA,1,\n":             `book.csv:1:7: fault: "furlong" is no unit of length`,
		"point,bs,fs,known\nA,1.3x,,100\n":          `book.csv:2:6: fault: "1.3x" cannot be read as a length: "x" is no unit of length; mm, cm, m, km, in, ft, yd or usft was expected`,
		"point,bs,fs\nA,1,35,,100\n":                "book.csv:2:9: fault: 5 fields stand under 3 heads",
		"point;bs;fs;known\nA;1,35;;100.0\n":        `book.csv:2:9: fault: "100.0" has a point, and in line 2 there is a decimal comma`,
		"point;bs;fs;known\nA;1.35;;100,0\n":        `book.csv:2:9: fault: "100,0" has a comma, and in line 2 there is a decimal point`,
		"point,bs,fs,known\nA,1.35 m,,100\n":        `book.csv:2:11: fault: "100" has no unit, and in line 2 there is one in m`,
		"point,bs,fs\n\"A,1,\n":                     "book.csv:2:1: fault: the quote that opens this field is not closed, or more stands behind it",
		"point,bs,fs\nA,\xff,\n":                    "book.csv:2:3: fault: from here on there are bytes that are not UTF-8",
		"point,bs,fs\nA,\x00,\n":                    "book.csv:2:3: fault: the character U+0000 cannot be part of a table",
		"\xff\xfep\x00":                             "book.csv: fault: the text is in UTF-16",
		"point,bs,fs,tolerance\nA,1,,5 mm\n":        "book.csv:2:6: fault: a tolerance stands here, and no design level",
		"point,bs,fs\n" + strings.Repeat("9", 5000): "book.csv:2:1: fault: a line of more than 4096 bytes",
	} {
		_, said := book(t, text, measure.NoUnit)
		if len(said) == 0 || said[0].String() != want {
			t.Errorf("%.60q: got\n%swant\n%s", text, said.Render(measure.Metric), want)
		}
	}
	_, said := book(t, "point,bs,fs,wind\nA,1,,3\nB,,1,2\n", measure.NoUnit)
	if len(said) != 1 || said[0].Kind != finding.Note {
		t.Errorf("%s", said.Render(measure.Metric))
	}
	_, said = book(t, "point,bs,fs\n"+strings.Repeat("A,x,\n", 60), measure.NoUnit)
	if len(said) != 51 || said[50].Text != "10 more of these are not listed" {
		t.Errorf("%d", len(said))
	}
}

// A sum at the foot that is not that of its column refuses the book.
func TestFootOfABook(t *testing.T) {
	b, said := book(t, "point,bs,fs,known\nA,1.35,,100\nB,,2.25,\nSum,1.35,2.52,\n", measure.UnitMetre)
	if len(said) > 0 {
		t.Fatal(said)
	}
	_, said = levelling.Reduce(b)
	if len(said) != 1 || said[0].Where.Line != 4 || said[0].Text != "the sum of the foresights is booked as 2.52 m; the column adds up to 2.25 m" {
		t.Errorf("%s", said.Render(measure.Metric))
	}
}

func TestReadNetwork(t *testing.T) {
	n, said := ReadNetwork(strings.NewReader("from;to;rise [m];length;setups;sd;known\n4;;;;;;101,345\n1;2;-0,749;1,1 km;11;0,77 mm;\n2;4;-2,141;1900 m;19;;\n"), Options{File: "net.csv"})
	if len(said) > 0 || len(n.Lines) != 2 || n.Lines[0].Distance != 1100*measure.Metre || n.Lines[0].SD != 770*measure.Micrometre || n.Lines[1].Setups != 19 || n.Weigh != levelling.ByDistance ||
		n.Fixed[0] != (levelling.Fixed{Point: "4", Level: 101_345 * measure.Millimetre, Row: 2}) || n.Figures != (levelling.Figures{Unit: measure.UnitMetre, Places: 3}) {
		t.Errorf("%+v\n%s", n, said.Render(measure.Metric))
	}
	for text, want := range map[string]string{
		"from,to,rise\nA,B,\n":              "net.csv:2:1: fault: the line has no rise",
		"from,to,rise,setups\nA,B,1,two\n":  `net.csv:2:7: fault: "two" is no count`,
		"from,to,rise,known\nA,B,1,100\n":   "net.csv:2:7: fault: a known level stands on a line between two points",
		"from,to\nA,B\n":                    "net.csv:1:1: fault: there is no column rise",
		"from,to,rise\nA,B,1 m\nB,C,2,,5\n": "net.csv:3:8: fault: 5 fields stand under 3 heads; where numbers",
	} {
		_, said := ReadNetwork(strings.NewReader(text), Options{File: "net.csv"})
		if len(said) == 0 || !strings.HasPrefix(said[0].String(), strings.Split(want, ";")[0]) {
			t.Errorf("%q: got\n%swant\n%s", text, said.Render(measure.Metric), want)
		}
	}
}

var seeds = []string{
	"point,bs,is,fs,known\nA,1.35,,,100\nE1,,0.80,,\nCP1,1.40,,1.65,\nB,,,2.25,\n",
	"\ufeffpoint;bs;fs;known;rise;fall;level;hi;design;tolerance\r\nA;1,35;;100;;;100;101,35;;\r\nB;;2,25;;;0,9;99,1;;99;5 mm\r\nSum;1,35;2,25\r\n",
	"point\tbs [ft]\tfs\tknown\nA\t3'-1 1/2\"\t\t100\nB\t\t\"9'-10\"\"\"\t\n",
	"from,to,rise,length,setups,sd,known\nA,,,,,,100\nA,B,1.5,1.1km,3,,\nB,A,-1.4,2km,4,,\n",
	"point,bs,fs,known\nA,-9223372036 m,,9999999999 km\nB,,1e9,\n", "\"", ",;\t", "point,bs,fs\n\"\"\"\",1,2\n",
}

// No text makes the reader or what comes behind it fall over; faults have lines, and a book that is reduced passes its checks.
func FuzzReadBook(f *testing.F) {
	for _, s := range seeds {
		f.Add(s, uint8(0))
		f.Add(s, uint8(measure.UnitFoot))
	}
	f.Fuzz(func(t *testing.T, text string, unit uint8) {
		b, said := ReadBook(strings.NewReader(text), Options{File: "f", Unit: measure.Unit(unit % 9)})
		held(t, said)
		if said.Any(finding.Fault) {
			return
		}
		r, more := levelling.Reduce(b)
		held(t, more)
		if len(more) > 0 {
			return
		}
		for i, l := range levelling.ByHeight(b) {
			if r.Rows[i].Level != l {
				t.Fatalf("%s and %s", r.Rows[i].Level, l)
			}
		}
		_, more = levelling.SpreadOut(b, r, levelling.BySetups, levelling.Tolerance{})
		held(t, more)
	})
}

func FuzzReadNetwork(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, said := ReadNetwork(strings.NewReader(text), Options{File: "f"})
		held(t, said)
		if said.Any(finding.Fault) || len(n.Lines) > 200 {
			return
		}
		n.Suspect = 4
		a, said := levelling.Adjust(n)
		held(t, said)
		if len(said) == 0 {
			if bad := levelling.CheckNetwork(n, a); len(bad) > 0 {
				t.Fatalf("%q", bad)
			}
		}
		held(t, a.Said)
	})
}

func held(t *testing.T, said finding.List) {
	t.Helper()
	for _, f := range said {
		if bad := finding.Speech(f); len(bad) > 0 {
			t.Fatal(fmt.Sprint(f, bad))
		}
	}
}
