package points

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/tools/published"
)

func show(list finding.List) string {
	var b strings.Builder
	for _, f := range list {
		fmt.Fprintf(&b, "%s %d:%d %s\n", f.Kind, f.Where.Line, f.Where.Column, f.Text)
	}
	return b.String()
}

func faults(list finding.List) string {
	var only finding.List
	for _, f := range list {
		if f.Kind == finding.Fault {
			only = append(only, f)
		}
	}
	return show(only)
}

// outside is a file of the folder beside the repository; without it the test is skipped, loudly.
func outside(t *testing.T, name string) []byte {
	t.Helper()
	return published.File(t, "data/terrain/"+name)
}

// The dialects from outside (SOURCES.md: byte-order mark, semicolons, trailing semicolon, CRLF, blanks). The last point of
// each was read off the file by eye, and every line with a digit in it is a point.
func TestOutsideDialects(t *testing.T) {
	for _, c := range []struct {
		file, order string
		last        Point
		separator   rune
	}{
		{"og_coo_list.csv", "PENZ", point("758", 655933.192, 257834.874, 117.814), ','},
		{"og_labor.csv", "PENZ", point("515", 121.983, 116.849, 121.534), ';'},
		{"og_plane.txt", "ENZ", point("", 4, 4, 5.33), ','},
		{"og_section_points.csv", "PEN--", Point{Name: "110", At: point("", 656215.780, 257921.501, 0).At}, ';'},
	} {
		data := outside(t, c.file)
		table, list := Read(bytes.NewReader(data), Options{Columns: c.order, Unit: measure.UnitMetre})
		if list.Any(finding.Fault) {
			t.Errorf("%s: %s", c.file, show(list))
			continue
		}
		written := 0
		for _, line := range strings.FieldsFunc(string(data), func(r rune) bool { return r == '\n' || r == '\r' }) {
			if strings.ContainsAny(line, "0123456789") {
				written++
			}
		}
		if len(table.Points) != written || table.Separator != c.separator || table.Decimal != '.' || table.Heading {
			t.Errorf("%s: %d points of %d lines; %s", c.file, len(table.Points), written, table.Understood)
		}
		last := table.Points[len(table.Points)-1]
		last.Line = 0
		if last != c.last {
			t.Errorf("%s: last point %+v, want %+v", c.file, last, c.last)
		}
		t.Logf("%s: %d points; %s", c.file, len(table.Points), table.Understood)
	}
}

func point(name string, e, n, z float64) Point {
	p := Point{Name: name, HasLevel: z != 0}
	p.At.E, p.At.N, p.Level = measure.FromMetres(e), measure.FromMetres(n), measure.FromMetres(z)
	return p
}

// Without an order nothing is guessed: the file is not read, and what each order would make of it is shown.
func TestOutsideOrderIsAsked(t *testing.T) {
	for file, want := range map[string]string{
		"og_coo_list.csv": "the file does not say which column is easting and which northing; the first line: " +
			"PENZ reads P base_1, E 667568.278, N 271801.865, Z 252.176; PNEZ reads P base_1, N 667568.278, E 271801.865, Z 252.176",
		"og_labor.csv": "the file does not say which column is easting and which northing; the first line: " +
			"PENZ reads P 101, E 119.197, N 118.827, Z 120.014; PNEZ reads P 101, N 119.197, E 118.827, Z 120.014",
		"og_plane.txt": "the file does not say which column is easting and which northing; the first line: ENZ reads E 0.00, N 0.00, Z 1.33; " +
			"NEZ reads N 0.00, E 0.00, Z 1.33; PEN reads P 0.00, E 0.00, N 1.33; PNE reads P 0.00, N 0.00, E 1.33",
		"og_section_points.csv": "the file does not say which column is easting and which northing",
	} {
		table, list := Read(bytes.NewReader(outside(t, file)), Options{Unit: measure.UnitMetre})
		if len(table.Points) != 0 || faults(list) != "fault 1:0 "+want+"\n" {
			t.Errorf("%s: %d points, %s\nwant %s", file, len(table.Points), faults(list), want)
		}
	}
}

func TestDialects(t *testing.T) {
	one := point("7", 655738.628, 257962.892, 117.02)
	remarked := one
	remarked.Remark = "pole, steel"
	for _, c := range []struct {
		name, text string
		opts       Options
		want       Point
		understood string
	}{
		{"heading", "Point,Easting (m),Northing (m),Level\r\n7,655738.628,257962.892,117.02\r\n", Options{}, one,
			"a heading, fields parted by comma, decimal point, in m; columns as the heading says: name, easting, northing, level"},
		{"heading the other way", "\ufeffname;N;E;elevation\n7;257962,892;655738,628;117,02\n", Options{Unit: measure.UnitMetre}, one,
			"a heading, fields parted by semicolon, decimal comma, in m; columns as the heading says: name, northing, easting, level"},
		{"heading behind a sign", "# made by hand\n#name e n z\n7 655738.628 257962.892 117.02\n# the end", Options{Unit: measure.UnitMetre}, one,
			"a heading, fields parted by blank, decimal point, in m; columns as the heading says: name, easting, northing, level"},
		{"decimal comma, semicolon, trailing", "7;655738,628;257962,892;117,020;\n\n;;;\n", Options{Columns: "penz", Unit: measure.UnitMetre}, one,
			"no heading, fields parted by semicolon, decimal comma, in m; columns as asked: name, easting, northing, level"},
		{"tabs", "7\t655738.628\t257962.892\t117.02\tpole, steel", Options{Columns: "PENZD", Unit: measure.UnitMetre}, remarked,
			"no heading, fields parted by tab, decimal point, in m; columns as asked: name, easting, northing, level, remark"},
		{"quotes", `"7", 655738.628 ,257962.892,117.02,"pole, steel"`, Options{Columns: "PENZD", Unit: measure.UnitMetre}, remarked,
			"no heading, fields parted by comma, decimal point, in m; columns as asked: name, easting, northing, level, remark"},
		{"a remark with the separator", "7,655738.628,257962.892,117.02,pole, steel,", Options{Columns: "PENZD", Unit: measure.UnitMetre}, remarked,
			"no heading, fields parted by comma, decimal point, in m; columns as asked: name, easting, northing, level, remark"},
		{"blanks and a decimal comma", "  7   655738,628  257962,892   117,02  pole, steel ", Options{Columns: "PENZD", Unit: measure.UnitMetre}, remarked,
			"no heading, fields parted by blank, decimal comma, in m; columns as asked: name, easting, northing, level, remark"},
		{"old line ends", "7,655738.628,257962.892,117.02\r7a,1,2,3\r", Options{Columns: "PENZ", Unit: measure.UnitMetre}, one,
			"no heading, fields parted by comma, decimal point, in m; columns as asked: name, easting, northing, level"},
		{"columns passed over", "x,7,655738.628,257962.892,117.02", Options{Columns: "-PENZ", Unit: measure.UnitMetre}, one,
			"no heading, fields parted by comma, decimal point, in m; columns as asked: (passed over), name, easting, northing, level"},
		{"millimetres", "7,655738628,257962892,117020", Options{Columns: "PENZ", Unit: measure.UnitMillimetre}, one,
			"no heading, fields parted by comma, decimal point, in mm; columns as asked: name, easting, northing, level"},
	} {
		table, list := Read(strings.NewReader(c.text), c.opts)
		if list.Any(finding.Fault) {
			t.Errorf("%s: %s", c.name, show(list))
			continue
		}
		got := table.Points[0]
		got.Line = 0
		if got != c.want || table.Understood != c.understood {
			t.Errorf("%s: %+v, want %+v\n got %s\nwant %s", c.name, got, c.want, table.Understood, c.understood)
		}
	}
}

// NIST SP 811: the US survey foot is 1200/3937 m. The two feet differ by 2 parts in a million, and that is said.
func TestFeet(t *testing.T) {
	const text = "1,3937000,0"
	for unit, want := range map[measure.Unit]measure.Length{measure.UnitSurveyFoot: 1_200_000 * measure.Metre, measure.UnitFoot: 3_937_000 * measure.Foot} {
		table, list := Read(strings.NewReader(text), Options{Columns: "PEN", Unit: unit})
		if table.Points[0].At.E != want || !strings.Contains(show(list), "the furthest coordinate would be 2.400 m another") {
			t.Errorf("%s: %v; %s", unit, table.Points[0].At.E, show(list))
		}
	}
	// A heading that says ft leaves open which; whoever imports may say.
	table, list := Read(strings.NewReader("name,e (ft),n (ft)\n1,3937000,0\n"), Options{Unit: measure.UnitSurveyFoot})
	if list.Any(finding.Fault) || table.Points[0].At.E != 1_200_000*measure.Metre {
		t.Error(show(list))
	}
}

func TestWhatIsUnclearIsAsked(t *testing.T) {
	m := measure.UnitMetre
	for _, c := range []struct {
		name, text string
		opts       Options
		want       string
	}{
		{"x and y", "name,x,y\n1,5.5,6.5", Options{Unit: m}, "fault 2:0 the heading says x and y, and not which of them is easting: both are in use; the first line: " +
			"ENZ reads E 1, N 5.5, Z 6.5; NEZ reads N 1, E 5.5, Z 6.5; PEN reads P 1, E 5.5, N 6.5; PNE reads P 1, N 5.5, E 6.5\n"},
		{"thousands", "1;655,738;257,962", Options{Columns: "PEN", Unit: m}, "fault 1:11 the comma in \"257,962\" may be a decimal sign or part thousands\n"},
		{"both signs", "1;655.738;257,9", Options{Columns: "PEN", Unit: m}, "fault 1:11 some numbers have a decimal point and some a comma, such as \"257,9\"\n"},
		{"two separators", "1,2;3,4\n5,6;7,8", Options{Columns: "EN", Unit: m}, ""},
		{"more fields than columns", "1\t2;3;4\n5\t6;7;8", Options{Columns: "EN", Unit: m}, "fault 1:7 3 fields, and the order EN has 2 columns\nfault 2:7 3 fields, and the order EN has 2 columns\n"},
		{"which separator", "1;2;3\t4\t5\n6;7;8\t9\t5", Options{Columns: "PEN", Unit: m}, "fault 1:0 the fields may be parted by tab or semicolon: the lines fit each of them\n"},
		{"no unit", "1,2,3", Options{Columns: "PEN"}, "fault 0:0 nobody has said in which unit the coordinates are\n"},
		{"two units", "e [m],n [ft]\n1,2", Options{}, "fault 1:0 the heading states two units: m and ft\n"},
		{"another unit", "e [m],n [m]\n1,2", Options{Unit: measure.UnitFoot}, "fault 0:0 the heading says m, and ft was asked for\n"},
		{"alike", "e,e,n\n1,2,3", Options{Unit: m}, "fault 1:0 the heading names two columns alike, the second is \"e\"\n"},
		{"empty", "", Options{Unit: m}, "fault 0:0 the file holds no points\n"},
		{"blank", "\n;;;\n  \n", Options{Unit: m}, "fault 0:0 the file holds no points\n"},
		{"words", "dear all\nplease find below\n", Options{Unit: m}, "fault 1:0 no separator parts these lines into fields with two numbers beside each other\n"},
		{"zero bytes", "a\x00b", Options{Unit: m}, "fault 1:0 this is not text: it holds a zero byte\n"},
		{"order", "1,2,3", Options{Unit: m, Columns: "PEX"}, "fault 0:0 the order \"PEX\" has \"X\"; its letters are P name, E easting, N northing, Z level, C code, L line, D remark, - pass over\n"},
		{"order without north", "1,2,3", Options{Unit: m, Columns: "PE"}, "fault 0:0 the order \"PE\" has no E and N\n"},
		{"order twice", "1,2,3", Options{Unit: m, Columns: "PEEN"}, "fault 0:0 the order \"PEEN\" has E twice\n"},
		{"comma twice", "1,2,3", Options{Unit: m, Columns: "PEN", Separator: ',', Decimal: ','}, "fault 0:0 the comma cannot both part the fields and be the decimal sign\n"},
	} {
		_, list := Read(strings.NewReader(c.text), c.opts)
		if got := faults(list); got != c.want {
			t.Errorf("%s: got\n%swant\n%s", c.name, got, c.want)
		}
	}
}

// Faults list line and column, all at once, up to 50; good lines among them do not hide them.
func TestFaultsAtOnce(t *testing.T) {
	text := "1,2.0,3.0\n2,x,3.0\n3,2.0\n4,2.0,3.0,4.0,5.0\n5,2e5,1e400\n6,2.0,3.0\n7,2.0,3.0,z\n8,2.0,3.0\n9,2.0,3.0\n10,99999999999,3.0\n11,1,1\n12,1,1\n13,1,1\n14,1,1\n15,1,1\n16,1,1"
	table, list := Read(strings.NewReader(text), Options{Columns: "PENZ", Unit: measure.UnitMetre, File: "p.csv"})
	want := `fault 2:3 "x" is not a number with a decimal point
fault 3:6 the northing is missing
fault 4:15 5 fields, and the order PENZ has 4 columns
fault 5:3 "2e5" is not a number with a decimal point
fault 5:7 "1e400" is not a number with a decimal point
fault 7:11 "z" is not a number with a decimal point
`
	got := faults(list)
	if !strings.HasPrefix(got, want) || strings.Count(got, "\n") != 7 || !strings.Contains(got, "fault 10:4 ") || len(table.Points) != 0 {
		t.Errorf("got\n%swant\n%sand one on line 10", got, want)
	}
	if list[1].Where.File != "p.csv" {
		t.Error("the file is not named")
	}
	text = "1,2,3\n" + strings.Repeat("1,2,3\n", 300) + strings.Repeat("a,b,c\n", 200)
	_, list = Read(strings.NewReader(text), Options{Columns: "PEN", Unit: measure.UnitMetre})
	if n := strings.Count(faults(list), "\n"); n != 51 || !strings.Contains(faults(list), "reading stopped after 50 faults") {
		t.Errorf("%d faults", n)
	}
}

func TestNotes(t *testing.T) {
	table, list := Read(strings.NewReader("name,north,east,when\n1,5,6,x\n1,5,7,x\n1,5,6,x\n# gone,1,2,3\n2,5,6,\xff\n"), Options{Unit: measure.UnitMetre})
	want := `note 1:0 columns passed over: when
note 0:0 read with a heading, fields parted by comma, decimal point, in m; columns as the heading says: name, northing, easting, (passed over)
attention 3:0 point "1" stood on line 2 already, at another place
attention 0:0 1 lines that begin with # were passed over
` + "attention 0:0 some letters are not UTF-8 and stand as \ufffd in names and remarks\n"
	if show(list) != want || len(table.Points) != 4 {
		t.Errorf("%d points, got\n%swant\n%s", len(table.Points), show(list), want)
	}
	_, list = Read(strings.NewReader("name,north,east\n1,5,6\n"), Options{Columns: "PEN", Unit: measure.UnitMetre})
	if !strings.Contains(show(list), "attention 1:0 the heading reads as PNE; read as PEN, as asked") {
		t.Errorf("got %s", show(list))
	}
}

func TestLimits(t *testing.T) {
	many := strings.Repeat("1,2,3\n", 1000)
	for _, c := range []struct {
		text   string
		limits Limits
		want   string
	}{
		{many, Limits{Points: 500}, "the file holds more than 500 points"},
		{many, Limits{Bytes: 3000}, "the file is longer than 0 MB"},
		{"1,2,3\n" + strings.Repeat("9", 200_000), Limits{}, "fault 2:0 the line is longer than 65536 bytes"},
	} {
		if _, list := Read(strings.NewReader(c.text), Options{Columns: "PEN", Unit: measure.UnitMetre, Limits: c.limits}); !strings.Contains(faults(list), c.want) {
			t.Errorf("got %s, want %s", faults(list), c.want)
		}
	}
}

// What is written in any dialect reads back exactly, to the nanometre.
func TestWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		separator := []string{",", ";", "\t", " ", " ; "}[d.IntN(5)]
		decimal := []string{".", ","}[d.IntN(2)]
		if separator == "," {
			decimal = "."
		}
		order := []string{"ENZ", "NEZ", "PENZ", "PNEZ", "PENZD", "EN", "DPNE"}[d.IntN(7)]
		ends := []string{"\n", "\r\n", "\r"}[d.IntN(3)]
		number := func(l measure.Length) string {
			text := strconv.FormatInt(int64(l), 10)
			sign := ""
			if l < 0 {
				sign, text = "-", text[1:]
			}
			text = strings.Repeat("0", max(0, 10-len(text))) + text
			return sign + text[:len(text)-9] + decimal + text[len(text)-9:]
		}
		var want []Point
		var b strings.Builder
		if d.IntN(2) == 0 {
			b.WriteString("\ufeff")
		}
		for i := range 1 + d.IntN(30) {
			p := Point{Name: fmt.Sprint("P", i), Remark: "pole"}
			p.At.E, p.At.N, p.Level = measure.Length(d.Int64N(2e18)-1e18), measure.Length(d.Int64N(2e16)), measure.Length(d.Int64N(2e12)-1e12)
			for k, c := range order {
				if k > 0 {
					b.WriteString(separator)
				}
				b.WriteString(map[rune]string{'P': p.Name, 'E': number(p.At.E), 'N': number(p.At.N), 'Z': number(p.Level), 'D': p.Remark}[c])
			}
			if d.IntN(4) == 0 {
				b.WriteString(strings.TrimSpace(separator))
			}
			b.WriteString(ends)
			if !strings.Contains(order, "P") {
				p.Name = ""
			}
			if !strings.Contains(order, "D") {
				p.Remark = ""
			}
			if p.HasLevel = strings.Contains(order, "Z"); !p.HasLevel {
				p.Level = 0
			}
			want = append(want, p)
		}
		table, list := Read(strings.NewReader(b.String()), Options{Columns: order, Unit: measure.UnitMetre})
		if list.Any(finding.Fault) || len(table.Points) != len(want) {
			t.Fatalf("%d points of %d, %s\n%s", len(table.Points), len(want), show(list), b.String())
		}
		for i, p := range table.Points {
			p.Line = 0
			if p != want[i] {
				t.Fatalf("got %+v, want %+v\n%s", p, want[i], b.String())
			}
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add("name,e (m),n (m)\n1,2.5,3.5\n", "", byte(0))
	f.Add("1;655738,628;257962,892;117,020;\r\n# x\n\"a;\"\"b\";1;2;3", "PENZ", byte(3))
	f.Add("\ufeff1 2 3 \"4", "PEND", byte(8))
	f.Add("1,2,3,4,kerb,k\n2,2,3,4,kerb,k\n3,4,5,6,,\n", "PENZCL", byte(3))
	f.Add("+-1,--2\n5.,.5\n", "EN", byte(5))
	f.Fuzz(func(t *testing.T, text, order string, unit byte) {
		table, list := Read(strings.NewReader(text), Options{Columns: order, Unit: measure.Unit(unit % 10)})
		for _, x := range list {
			if x.Text == "" || x.ID == "" {
				t.Fatalf("a finding without a sentence: %+v", x)
			}
		}
		if list.Any(finding.Fault) != (len(table.Points) == 0) {
			t.Fatalf("%d points and %s", len(table.Points), show(list))
		}
		for _, line := range append(table.Breaklines(), table.ByCode("kerb")...) {
			for k, i := range line.Points {
				if len(line.Points) < 2 || k > 0 && i <= line.Points[k-1] || i >= len(table.Points) {
					t.Fatalf("line %+v of %d points", line, len(table.Points))
				}
			}
		}
		for _, p := range table.Points {
			if p.At.E > furthest || p.At.N > furthest || p.At.E < -furthest || p.At.N < -furthest {
				t.Fatalf("point %+v", p)
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	var text strings.Builder
	for i := range 10_000 {
		fmt.Fprintf(&text, "%d,655738.%03d,257962.892,117.020\n", i, i%1000)
	}
	b.SetBytes(int64(text.Len()))
	for b.Loop() {
		if _, list := Read(strings.NewReader(text.String()), Options{Columns: "PENZ", Unit: measure.UnitMetre}); list.Any(finding.Fault) {
			b.Fatal(show(list))
		}
	}
}
