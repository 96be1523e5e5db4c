package schedule

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"trenchwright/base/measure"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/job/planner/randomjob"
	"trenchwright/view/jobtext"
	"trenchwright/view/table"
	"trenchwright/view/table/workbook"
)

// everyPlan calls try with the plans of the demo jobs and of random networks.
func everyPlan(t *testing.T, try func(name string, p planner.Plan, j job.Job)) {
	t.Helper()
	for _, name := range demo.Names() {
		text, err := demo.File(name)
		if err != nil {
			t.Fatal(err)
		}
		j, faults := jobtext.Read(name+".yaml", bytes.NewReader(text))
		if len(faults) > 0 {
			t.Fatalf("%s has faults: %v", name, faults)
		}
		try(name, planner.Make(j), j)
	}
	for seed := range uint64(12) {
		j := randomjob.Job(seed)
		try(fmt.Sprintf("random job of seed %d", seed), planner.Make(j), j)
	}
}

// sheet is a table read back from CSV: its columns by head.
type sheet struct {
	heads []string
	rows  [][]string
}

func (s sheet) column(t *testing.T, head string) int {
	t.Helper()
	i := slices.Index(s.heads, head)
	if i < 0 {
		t.Fatalf("no column %q among %q", head, s.heads)
	}
	return i
}

// readBack writes a table as CSV and reads that with the standard library. Lines that hold a note alone are left out.
func readBack(t *testing.T, one table.Table) sheet {
	t.Helper()
	var b bytes.Buffer
	if err := table.WriteCSV(&b, one); err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return sheet{lines[0], lines[1 : 1+len(one.Rows)]}
}

// exact is a figure as a rational number.
func exact(t *testing.T, text string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q is no number", text)
	}
	return r
}

// same tells whether a figure of CSV is a length of the plan, to the nanometre.
func same(t *testing.T, text string, l measure.MM) bool {
	t.Helper()
	return exact(t, text).Cmp(exact(t, measure.Length(l).MMString())) == 0
}

// Every piece that is cut stands in exactly one row of the cutting list, with the plan's figures; what is not cut in none.
func TestEveryCutPieceHasOneRow(t *testing.T) {
	cut := 0
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		s := readBack(t, Of(p, j).Cutting())
		mark, what := s.column(t, "mark"), s.column(t, "what")
		length, left, right := s.column(t, "length on axis [mm]"), s.column(t, "left side [mm]"), s.column(t, "right side [mm]")
		start, end := s.column(t, "angle at start [deg]"), s.column(t, "angle at end [deg]")
		rows := map[string][][]string{}
		for _, r := range s.rows {
			if r[what] != "offcut" {
				rows[r[mark]] = append(rows[r[mark]], r)
			}
		}
		check := func(m string, isCut, hold bool, l, leftSide, rightSide measure.MM, startAngle, endAngle float64, sided bool) {
			if !isCut && !hold {
				if len(rows[m]) > 0 {
					t.Errorf("%s: %s is not cut and stands in the cutting list", name, m)
				}
				return
			}
			cut++
			if len(rows[m]) != 1 {
				t.Errorf("%s: %s stands in %d rows of the cutting list", name, m, len(rows[m]))
				return
			}
			r := rows[m][0]
			if !same(t, r[length], l) || sided && (!same(t, r[left], leftSide) || !same(t, r[right], rightSide)) {
				t.Errorf("%s: %s reads %s, sides %s and %s", name, m, r[length], r[left], r[right])
			}
			for i, want := range map[int]float64{start: startAngle, end: endAngle} {
				if got := exact(t, r[i]); got.Cmp(exact(t, measure.FromDegrees(want).DegString())) != 0 {
					t.Errorf("%s: %s, %s: %s, %v was expected", name, m, s.heads[i], r[i], want)
				}
			}
		}
		for _, u := range p.Units {
			w := planner.Piece{}
			if u.Piece != nil {
				w = *u.Piece
			}
			check(u.Mark, u.Cut, u.Hold, u.Length, w.LeftSide, w.RightSide, u.StartAngle, u.EndAngle, u.Piece != nil)
		}
		for _, c := range p.Covers {
			check(c.Mark, c.Cut, false, c.Length, c.LeftSide, c.RightSide, c.StartAngle, c.EndAngle, true)
		}
	})
	if cut < 100 {
		t.Errorf("only %d cut pieces were looked at", cut)
	}
}

// Every unit, cover and joint stands once, in laying order, with the plan's figures; places never go back within a leg.
func TestEveryPlaceHasOneRow(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		set := Of(p, j)
		s := readBack(t, set.Laying())
		units := map[string]planner.Unit{}
		for _, u := range p.Units {
			units[u.Mark] = u
		}
		place, length, at := s.column(t, "place"), s.column(t, "length [mm]"), s.column(t, "start on axis [mm]")
		seen := map[string]bool{}
		for _, r := range s.rows {
			u, ok := units[r[place]]
			if !ok || seen[r[place]] || !same(t, r[length], u.Length) || !same(t, r[at], u.Start) {
				t.Errorf("%s: row %q of the schedule is wrong, or there twice", name, r)
			}
			seen[r[place]] = true
		}
		if len(s.rows) != len(p.Units) || p.Totals.Units != len(p.Units) {
			t.Errorf("%s: %d units, %d in the schedule, %d in the totals", name, len(p.Units), len(s.rows), p.Totals.Units)
		}
		s = readBack(t, set.Covers())
		start, long, cutCovers := s.column(t, "start on it [mm]"), s.column(t, "length on axis [mm]"), 0
		for i, c := range p.Covers {
			if r := s.rows[i]; r[1] != c.Mark || !same(t, r[start], c.Start) || !same(t, r[long], c.Length) {
				t.Errorf("%s: row %q is not cover %s", name, r, c.Mark)
			}
			if c.Cut {
				cutCovers++
			}
		}
		if len(s.rows) != p.Totals.Covers || cutCovers != p.Totals.CutCovers {
			t.Errorf("%s: %d covers, %d cut; the totals say %d and %d", name, len(s.rows), cutCovers, p.Totals.Covers, p.Totals.CutCovers)
		}
		s = readBack(t, set.Joints())
		gap, left := s.column(t, "gap [mm]"), s.column(t, "left [mm]")
		for i, j := range p.Joints {
			if r := s.rows[i]; r[0] != j.Name || !same(t, r[gap], j.Gap) || !same(t, r[left], j.Budget.Left) {
				t.Errorf("%s: row %q is not joint %s", name, r, j.Name)
			}
		}
		if len(s.rows) != p.Totals.Joints {
			t.Errorf("%s: %d joints, the totals say %d", name, len(s.rows), p.Totals.Joints)
		}
	})
}

// Lengths, gaps and set-backs of a leg add up in its schedule and joints: to its clear length, to the nanometre.
func TestLegsAddUp(t *testing.T) {
	legs := 0
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		set := Of(p, j)
		s, joints := readBack(t, set.Laying()), readBack(t, set.Joints())
		length, gap := s.column(t, "length [mm]"), joints.column(t, "gap [mm]")
		for _, l := range p.Legs {
			if l.Verdict != "found" || slices.ContainsFunc(l.Axis, func(a planner.AxisPart) bool { return a.Radius != 0 }) {
				continue // on a curve units are chords: their lengths do not add up to the arc's
			}
			sum, n := new(big.Rat), 0
			for _, r := range s.rows {
				if r[0] == l.Name {
					sum.Add(sum, exact(t, r[length]))
					n++
				}
			}
			for _, r := range joints.rows {
				if r[1] == l.Name {
					sum.Add(sum, exact(t, r[gap]))
				}
			}
			legs++
			if want := exact(t, measure.Length(l.ClearLength).MMString()); sum.Cmp(want) != 0 || n != l.Count.Units {
				t.Errorf("%s, leg %s: %d units and their gaps make %s mm, clear length %s mm", name, l.Name, n, sum.FloatString(6), want.FloatString(6))
			}
		}
	})
	if legs < 20 {
		t.Errorf("only %d legs were looked at", legs)
	}
}

// The bill orders what the totals say was bought, and no less than is needed; orders are its lines, sorted by supply.
func TestTheBillAddsUp(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		set := Of(p, j)
		bill, orders := readBack(t, set.Bill()), readBack(t, set.Orders())
		item, order, of := bill.column(t, "item"), bill.column(t, "to order"), bill.column(t, "of")
		lines := map[string]int{}
		for i, r := range bill.rows {
			if exact(t, r[order]).Cmp(exact(t, p.Bill[i].Order)) != 0 {
				t.Errorf("%s: %s: %s ordered, the plan says %s", name, r[item], r[order], p.Bill[i].Order)
			}
			lines[r[item]+"|"+r[order]+"|"+r[of]+"|"+p.Bill[i].Supply]++
		}
		last, seen := "", map[string]bool{}
		for _, r := range orders.rows {
			if r[0] != last && seen[r[0]] {
				t.Errorf("%s: supply %q is ordered from twice", name, r[0])
			}
			last, seen[r[0]] = r[0], true
			lines[r[1]+"|"+r[2]+"|"+r[3]+"|"+r[0]]--
		}
		for line, n := range lines {
			if n != 0 {
				t.Errorf("%s: %q is in the bill and the orders %d times too often", name, line, n)
			}
		}
	})
}

// Coordinates stand in the job's unit and exact beside it. A US survey foot is 1200/3937 m by definition, and no foot.
func TestCoordinatesAreInTheJobsUnit(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		for unit, head := range map[job.CoordUnit]string{job.CoordMetres: "easting [m]", job.CoordFeet: "easting [mm]", job.CoordUSSurvey: "easting [US survey ft]"} {
			j.Coordinates.Unit = unit
			s := readBack(t, Of(p, j).SetOut())
			at := s.column(t, head)
			for i, r := range p.SetOut {
				got, _ := exact(t, s.rows[i][at]).Float64()
				want := map[job.CoordUnit]float64{job.CoordMetres: r.E, job.CoordFeet: r.E * 1000, job.CoordUSSurvey: r.E * 3937 / 1200}[unit]
				if math.Abs(got-want) > 2e-6*math.Max(1, math.Abs(want)*1e-9) {
					t.Errorf("%s: %s: %s %v, %v was expected", name, r.Place, head, got, want)
				}
			}
		}
	})
}

// The workbook, opened by another reader than ours, holds the figures of CSV.
func TestTheWorkbookHoldsTheSameFigures(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		if strings.HasPrefix(name, "random") && !strings.HasSuffix(name, "seed 3") {
			return
		}
		tables := Of(p, j).All()
		var b bytes.Buffer
		if err := workbook.Write(&b, workbook.A3, tables...); err != nil {
			t.Fatal(err)
		}
		book, err := excelize.OpenReader(&b)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range tables {
			lines, err := book.GetRows(one.Name, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			s := readBack(t, one)
			heads := s.heads[:len(s.heads)-1] // without the notes
			from := slices.IndexFunc(lines, func(l []string) bool { return len(l) >= len(heads) && slices.Equal(l[:len(heads)], heads) })
			if from < 0 {
				t.Fatalf("%s: sheet %s has no line of heads %q", name, one.Name, heads)
			}
			for i, want := range s.rows {
				got := append(lines[from+1+i], make([]string, len(heads))...)
				for c := range heads {
					if got[c] == want[c] || "'"+got[c] == want[c] {
						continue
					}
					x, ok := new(big.Rat).SetString(got[c])
					y, also := new(big.Rat).SetString(want[c])
					if !ok || !also || x.Cmp(y) != 0 {
						t.Errorf("%s: sheet %s, row %d, %s: %q, in CSV %q", name, one.Name, i+1, heads[c], got[c], want[c])
					}
				}
			}
		}
	})
}

// Heads and notes are in the job's words: no trough unit in the US, no trench section elsewhere.
func TestHeadsAreInTheJobsWords(t *testing.T) {
	everyPlan(t, func(name string, p planner.Plan, j job.Job) {
		for _, one := range Of(p, j).All() {
			said := one.Title
			for _, c := range one.Columns {
				said += " | " + c.Head
			}
			us := p.Job.Words == string(job.US)
			for _, foreign := range map[bool][]string{true: {"chainage", "trough", "mitred", "centreline"}, false: {"trench section", "station", "leveling", "mitered"}}[us] {
				if strings.Contains(strings.ToLower(said), foreign) {
					t.Errorf("%s: table %s says %q", name, one.Name, foreign)
				}
			}
		}
	})
}

// Where levels were solved the set-out has them all, with the way and the depth of the dig in exact figures that add up.
func TestSetOutHasLevels(t *testing.T) {
	g, err := demo.Surveyed("tram-depot")
	if err != nil {
		t.Fatal(err)
	}
	p := planner.Make(g.Job, g.Surfaces...)
	l := *p.SetOut[3].Levels
	raised := *l.Existing + 0.25
	l.Formation = &raised
	p.SetOut[3].Levels = &l
	read := readBack(t, Of(p, g.Job).SetOut())
	column := func(head string) int { return read.column(t, head) }
	for i, r := range p.SetOut {
		row := read.rows[i]
		for head, want := range map[string]*float64{"finished ground [m]": r.Levels.Finished, "top of cover [m]": r.Levels.Cover, "invert [m]": r.Levels.Invert, "pad top [m]": r.Levels.PadTop} {
			if got, _ := exact(t, row[column(head)]).Float64(); math.Abs(got-*want) > 1e-9 {
				t.Errorf("%s: %s is %s, not %.9f", r.Place, head, row[column(head)], *want)
			}
		}
		way, sign := "cut ↓", int64(1)
		if i == 3 {
			way, sign = "fill ↑", -1
		}
		depth := new(big.Rat).Sub(exact(t, row[column("ground as it is [m]")]), exact(t, row[column("formation [m]")]))
		if row[column("cut or fill")] != way || depth.Cmp(new(big.Rat).Mul(exact(t, row[column("depth of dig [m]")]), big.NewRat(sign, 1))) != 0 {
			t.Errorf("%s: %s %s, from %s to %s", r.Place, row[column("cut or fill")], row[column("depth of dig [m]")], row[column("ground as it is [m]")], row[column("formation [m]")])
		}
		if grade := row[column("grade behind, %")]; (grade == "") != strings.HasPrefix(r.Place, "end of") {
			t.Errorf("%s: grade behind %q", r.Place, grade)
		}
	}
}
