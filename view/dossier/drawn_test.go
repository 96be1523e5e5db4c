package dossier

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job/field"
	"trenchwright/view/scene"
)

// lettering are the texts of marks, group by group: by the names of the groups that they stand in, joined by " ".
func lettering(marks []scene.Mark, in string, to map[string][]string) {
	for _, m := range marks {
		switch m := m.(type) {
		case scene.Group:
			name := in
			if m.Name != "" {
				name = strings.TrimSpace(in + " " + m.Name)
			}
			lettering(m.Marks, name, to)
		case scene.Text:
			to[in] = append(to[in], strings.Split(m.String, "\n")...)
		}
	}
}

func letteringOf(pages []scene.Page) map[string][]string {
	out := map[string][]string{}
	for _, p := range pages {
		lettering(p.Marks, "", out)
	}
	return out
}

// difference is a difference as a drawing has it: in mm, or in inches.
func difference(t *testing.T, in Input, text string) measure.Length {
	t.Helper()
	negative := strings.HasPrefix(text, "−")
	text = strings.TrimLeft(text, "−+")
	unit := measure.UnitMillimetre
	if in.Job.Speech().Imperial {
		unit = measure.UnitInch
	}
	r, err := measure.ParseIn(text, unit)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	if negative {
		return -r.Length
	}
	return r.Length
}

// step is how finely differences are drawn.
func step(in Input) measure.Length {
	if in.Job.Speech().Imperial {
		return measure.Inch / 32
	}
	return measure.Millimetre / 10
}

// What stands on the drawings is what was recorded: under each unit of the plan how far it is off, in each lane of the section the
// corner that is off most with its planned and measured level, on the map of covers each cover that has room for its number.
func TestDrawingsAgreeWithTheRecords(t *testing.T) {
	ends, levels, words := 0, 0, 0
	for _, in := range built() {
		d := Of(in)
		plan, section := letteringOf(d.planPages()), letteringOf(d.sectionDrawings())
		for _, l := range d.State().Legs {
			sign := measure.Length(1)
			if d.back[l.ID] {
				sign = -1
			}
			for i, u := range l.Units {
				says := plan[u.Place]
				if len(says) < 2 {
					t.Fatalf("%s %s: the plan says %q", in.Job.ID, u.Place, says)
				}
				switch {
				case u.End != nil && u.End.Known:
					ends++
					if got, want := difference(t, in, says[1]), sign*u.End.Value; (got - want).Abs() > step(in) {
						t.Errorf("%s %s: %v off, the plan says %q", in.Job.ID, u.Place, want, says)
					}
				case u.Within:
					words++
					if says[1] != "within" && says[1] != "w" {
						t.Errorf("%s %s: said to be within, the plan says %q", in.Job.ID, u.Place, says)
					}
				}
				for _, v := range u.Levels {
					levels += d.laneAgrees(t, in, l, i, v, section["lane "+v.Of+" "+u.Place])
				}
			}
		}
	}
	if ends < 20 || levels < 20 || words == 0 {
		t.Errorf("%d ends, %d levels, %d words compared", ends, levels, words)
	}
}

// laneAgrees holds the figures of a unit in a lane against its four corners, one after the other.
func (d *Dossier) laneAgrees(t *testing.T, in Input, l field.LegState, i int, v field.LevelState, says []string) int {
	t.Helper()
	worst, at, value := measure.Length(-1), "", measure.Length(0)
	for k, m := range v.Four {
		want := d.wanted(l.Units, i, v.Of)[k]
		if m == nil || !m.Known || want == nil {
			continue
		}
		if off := m.Value - *want; off.Abs() > worst {
			worst, at, value = off.Abs(), []string{"sl", "sr", "el", "er"}[k], m.Value
		}
	}
	place := l.Units[i].Place
	if worst < 0 {
		if len(says) > 0 {
			t.Errorf("%s %s: no figure was measured, the lane says %q", in.Job.ID, place, says)
		}
		return 0
	}
	if len(says) != 3 || !strings.HasSuffix(says[2], " "+at) {
		t.Fatalf("%s %s: the lane says %q, worst at %s", in.Job.ID, place, says, at)
	}
	if got := difference(t, in, strings.TrimSuffix(says[2], " "+at)).Abs(); (got - worst).Abs() > step(in) {
		t.Errorf("%s %s: off by %v, the lane says %q", in.Job.ID, place, worst, says)
	}
	unit := measure.UnitMetre
	if in.Job.Speech().Imperial {
		unit = measure.UnitFoot
	}
	if r, err := measure.ParseIn(says[1], unit); err != nil || (r.Length-value).Abs() > measure.Millimetre {
		t.Errorf("%s %s: at %v, the lane says %q (%v)", in.Job.ID, place, value, says, err)
	}
	return 1
}

// Every cover of a run stands on the map once, under its unit, and as many are said to lie as the state has.
func TestTheMapOfCoversHasAll(t *testing.T) {
	for _, in := range built() {
		d := Of(in)
		laid, all := 0, 0
		for _, p := range d.coverPages() {
			for _, texts := range letteringOf([]scene.Page{p}) {
				for _, text := range texts {
					_, counts, ok := strings.Cut(text, ": ")
					f := strings.Fields(counts)
					if !ok || len(f) != 5 || f[4] != "laid" {
						continue
					}
					n, err1 := strconv.Atoi(f[0])
					of, err2 := strconv.Atoi(f[2])
					if err1 != nil || err2 != nil {
						t.Fatal(text)
					}
					laid, all = laid+n, all+of
				}
			}
		}
		want := 0
		for _, l := range d.State().Legs {
			want += l.Laid
		}
		if laid != want || all != len(in.Plan.Covers) {
			t.Errorf("%s: %d of %d on the map, %d of %d by the records", in.Job.ID, laid, all, want, len(in.Plan.Covers))
		}
	}
}

// A job that was begun and never measured is drawn too: nothing is made up.
func TestDrawingsOfNothing(t *testing.T) {
	in := built()[0]
	in.Records, in.Came, in.Photos = nil, nil, nil
	for name, says := range letteringOf(Of(in).planPages()) {
		if _, unit := Of(in).units[name]; unit && !slices.Contains(says, "not set") && !slices.Contains(says, "×") {
			t.Errorf("%s: %q", name, says)
		}
	}
}
