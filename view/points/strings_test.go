package points

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"text/tabwriter"

	"pgregory.net/rapid"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

const survey = `point;easting (m);northing (m);level;code;line;remarks
1;0.0;0.0;10.0;KERB;K1;start
2;0.0;5.0;10.1;CL;C;
3;0.5;0.0;9.9;KERB;K1;
4;0.5;5.0;10.0;CL;C;
5;3.0;3.0;9.5;TREE;;oak
6;1.0;0.0;9.8;kerb;K1;end
7;9.0;9.0;9.0;POST;P;
`

// Points of one line name are one line, in the order of the file, however other points lie between them.
func TestBreaklines(t *testing.T) {
	table, list := Read(strings.NewReader(survey), Options{Levels: true})
	want := `note 0:0 read with a heading, fields parted by semicolon, decimal point, in m; columns as the heading says: name, easting, northing, level, code, line, remark
attention 8:0 line "P" has this point only; it is read as a single point
note 0:0 2 lines with 5 points on them; 2 points on no line
`
	if show(list) != want || len(table.Points) != 7 {
		t.Errorf("%d points, got\n%swant\n%s", len(table.Points), show(list), want)
	}
	if p := table.Points[4]; p.Code != "TREE" || p.OfLine != "" || p.Remark != "oak" {
		t.Errorf("%+v", p)
	}
	if got := table.Breaklines(); !reflect.DeepEqual(got, []Breakline{{"K1", []int{0, 2, 5}}, {"C", []int{1, 3}}}) {
		t.Errorf("lines %v", got)
	}
	if got := table.ByCode("Kerb", "TREE", "none"); !reflect.DeepEqual(got, []Breakline{{"kerb", []int{0, 2, 5}}}) {
		t.Errorf("by code %v", got)
	}
	// The same without a heading, by an order.
	_, body, _ := strings.Cut(survey, "\n")
	again, list := Read(strings.NewReader(body), Options{Levels: true, Columns: "PENZCLD", Unit: measure.UnitMetre})
	for i := range again.Points {
		again.Points[i].Line++
	}
	if !reflect.DeepEqual(again.Points, table.Points) {
		t.Errorf("%+v\nwant %+v\n%s", again.Points, table.Points, show(list))
	}
	if none := (Table{}); none.Breaklines() != nil || none.ByCode("a") != nil {
		t.Error("lines of no points")
	}
}

// Ground has a level everywhere: a point without one is a fault where levels are asked for, and no zero.
func TestLevelsAreAsked(t *testing.T) {
	for text, want := range map[string]string{
		"name,e,n,z\n1,2,3,4\n2,3,4,\n3,4,5":                          "fault 3:7 the level is missing\nfault 4:6 the level is missing\n",
		"name,e,n\n1,2,3\n":                                           "fault 1:0 the columns PEN hold no level, and ground has one at every point\n",
		"name,e,n,z\n1,2,3,NaN\n2,3,4,5\n3,4,5,6\n4,5,6,7\n5,6,7,8\n": "fault 2:7 \"NaN\" is not a number with a decimal point\n",
	} {
		table, list := Read(strings.NewReader(text), Options{Unit: measure.UnitMetre, Levels: true})
		if faults(list) != want || len(table.Points) != 0 {
			t.Errorf("%q: got\n%swant\n%s", text, faults(list), want)
		}
	}
	if table, list := Read(strings.NewReader("name,e,n,z\n1,2,3,4\n2,3,4,\n"), Options{Unit: measure.UnitMetre}); list.Any(finding.Fault) || table.Points[1].HasLevel {
		t.Error(show(list))
	}
}

// Every file from outside is read or refused with a sentence, as ground and as it stands. One table. The
// lowest and highest levels were found by another program. The points of the plane lie on 4/3 + 2/3·easting + 1/3·northing, as its two decimals give it.
func TestOutsideTable(t *testing.T) {
	outside(t, "og_plane.txt") // skips, loudly
	files, _ := filepath.Glob(filepath.Join("..", "..", "..", "shared", "data", "terrain", "*"))
	orders := map[string]string{"og_coo_list.csv": "PENZ", "og_labor.csv": "PENZ", "og_plane.txt": "ENZ", "og_section_points.csv": "PEN--"}
	levels := map[string][2]float64{"og_coo_list.csv": {114.650, 252.176}, "og_labor.csv": {118.947, 121.585}, "og_plane.txt": {1.33, 5.33}}
	var out strings.Builder
	w := tabwriter.NewWriter(&out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "file\tasked for\tpoints\tlevels m\twhat is said")
	for _, name := range files {
		id := filepath.Base(name)
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if orders[id] == "" {
			t.Errorf("%s is a file that this test does not know", id)
		}
		for _, ask := range []Options{{Unit: measure.UnitMetre}, {Unit: measure.UnitMetre, Columns: orders[id]}, {Unit: measure.UnitMetre, Columns: orders[id], Levels: true}} {
			table, list := Read(bytes.NewReader(data), ask)
			refused := list.Any(finding.Fault)
			if want := ask.Columns == "" || ask.Levels && levels[id] == [2]float64{}; refused != want {
				t.Errorf("%s, %+v: %s", id, ask, show(list))
			}
			said, low, high := table.Understood, math.Inf(1), math.Inf(-1)
			if refused {
				said = "refused: " + list[len(list)-1].Text
				if len(said) < 30 {
					t.Errorf("%s was refused without a sentence: %s", id, said)
				}
			}
			for _, p := range table.Points {
				low, high = min(low, p.Level.Metres()), max(high, p.Level.Metres())
				if onPlane := 4./3 + 2./3*p.At.E.Metres() + p.At.N.Metres()/3; id == "og_plane.txt" && math.Abs(p.Level.Metres()-onPlane) > 0.005 {
					t.Errorf("%+v does not lie on the plane at %.4f", p, onPlane)
				}
			}
			span := "-"
			if want := levels[id]; !refused && want != [2]float64{} {
				span = fmt.Sprintf("%.3f to %.3f", low, high)
				if math.Abs(low-want[0]) > 1e-9 || math.Abs(high-want[1]) > 1e-9 {
					t.Errorf("%s: levels %s, want %v", id, span, want)
				}
			}
			asked := ask.Columns
			if ask.Levels {
				asked += " with levels"
			}
			fmt.Fprintf(w, "%s\t%s\t%d\t%s\t%s\n", id, asked, len(table.Points), span, said)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	t.Log("\n" + out.String())
}

// The fast way to read a number gives what the exact one gives.
func TestWholeAgainstExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		for range 100 {
			text := strconv.FormatInt(d.Int64()>>d.IntN(63), 10)
			if i := d.IntN(len(text) + 4); i < len(text) {
				text = text[:i] + "." + text[i:]
			}
			text = []string{"", "-", "+"}[d.IntN(3)] + text
			for unit := range measure.UnitSurveyFoot + 2 {
				fast, ok := whole(text, unit)
				if !ok {
					continue
				}
				slow, err := measure.ParseIn(strings.TrimPrefix(text, "+"), unit)
				if err != nil || slow.Length != fast {
					t.Fatalf("%s %s: %d, and exactly %d %v", text, unit, fast, slow.Length, err)
				}
			}
		}
	})
}
