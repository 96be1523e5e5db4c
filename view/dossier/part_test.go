package dossier

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/job/field"
	"trenchwright/solve/levelling"
)

// A stretch alone has its units and no others, in tables and drawings, with the figures that they have on the whole run; and it
// proves itself.
func TestAStretchAlone(t *testing.T) {
	for _, in := range built() {
		whole := Of(in)
		k := slices.IndexFunc(whole.State().Legs, func(l field.LegState) bool { return len(l.Units) >= 6 })
		leg := whole.State().Legs[k]
		part := in
		part.Part = Part{From: leg.Units[4].Place, To: leg.Units[2].Place} // said the wrong way round
		if err := part.Part.Fault(in.Plan); err != nil {
			t.Fatal(err)
		}
		d := Of(part)
		_, all := whole.builtTable(leg).Shown()
		_, rows := d.builtTable(d.State().Legs[k]).Shown()
		if len(rows) != 3 {
			t.Fatalf("%s: %d rows", in.Job.ID, len(rows))
		}
		for _, r := range rows {
			i := slices.IndexFunc(all, func(a []string) bool { return a[0] == r[0] })
			if i < 0 || !slices.Equal(all[i][:8], r[:8]) {
				t.Errorf("%s: %q on the stretch alone", in.Job.ID, r)
			}
		}
		here := map[string]bool{leg.Units[2].Place: true, leg.Units[3].Place: true, leg.Units[4].Place: true}
		for _, pages := range d.drawings() {
			for group := range letteringOf(pages) {
				name := group[strings.LastIndex(group, " ")+1:]
				if _, unit := whole.units[name]; unit && !here[name] {
					t.Errorf("%s: %s is drawn on %s", in.Job.ID, name, pages[0].Title)
				}
			}
		}
		for _, h := range d.held() {
			if !here[h.Place] {
				t.Errorf("%s: %s is held", in.Job.ID, h.Place)
			}
		}
		if p, err := Verify(files(t, part)); err != nil || !p.Proven() {
			t.Errorf("%s: %+v, %v", in.Job.ID, p, err)
		}
	}
	plan := built()[0].Plan
	for _, p := range []Part{{Legs: []string{"nowhere"}}, {From: "A-001"}, {From: "A-001", To: "B-001"}, {Legs: []string{"A"}, From: "A-001", To: "A-001"}} {
		if p.Fault(plan) == nil {
			t.Errorf("%+v is taken", p)
		}
	}
}

// What the inspection and test plan counts is what is held against limits, counted another way; what has no figure is never closed.
func TestTheInspectionPlanIsClosedOut(t *testing.T) {
	for _, in := range built() {
		d := Of(in)
		want := map[string]int{}
		for _, h := range d.book.Held(field.Asks(in.Job)) {
			want[h.Verdict]++
		}
		_, rows := d.inspectionTable().Shown()
		got := map[string]int{}
		for _, r := range rows {
			if !strings.HasSuffix(r[0], "against its limit") {
				continue
			}
			got[string(levelling.Meets)] += number(t, r[4])
			got[string(levelling.DoesNot)] += number(t, r[5])
			got[string(levelling.CannotSay)] += number(t, r[6])
			if strings.HasPrefix(r[9], "NOT CHECKED") {
				got[field.NotChecked] += number(t, r[3])
				if r[8] != field.NotChecked {
					t.Errorf("%s: %q", in.Job.ID, r)
				}
			}
		}
		for verdict, n := range want {
			if got[verdict] != n {
				t.Errorf("%s: %d %s in the plan, %d held", in.Job.ID, got[verdict], verdict, n)
			}
		}
	}
}

// A listed hold point without a release over what was hidden is a gap at the places that were hidden, and at no other; with its release it
// is none. Everything is released in play; here nobody released but before setting.
func TestAHoldPointWithoutReleaseIsAGap(t *testing.T) {
	for _, in := range built() {
		gaps := func(d *Dossier) map[string]int {
			_, rows := d.hiddenTable().Shown()
			of := map[string]int{}
			for _, r := range rows {
				if strings.HasPrefix(r[3], "release of ") && r[2] == "yes" {
					of[r[3]] += number(t, r[4])
				}
			}
			return of
		}
		before := map[string]string{}
		for _, p := range in.Job.Rules.Points {
			before[p.Name] = p.Before
		}
		in.Records = slices.DeleteFunc(slices.Clone(in.Records), func(r field.Record) bool {
			var says field.PointSays
			return r.Kind == field.Release && json.Unmarshal(r.Says, &says) == nil && before[says.Point] != "" && before[says.Point] != "set"
		})
		d := Of(in)
		want := map[string]int{}
		for _, p := range in.Job.Rules.Points {
			for _, l := range d.state.Legs {
				for _, u := range l.Units {
					done := map[string]bool{"dig": u.Read("bed") || u.Read("pad") || u.Read("formation") || u.Set.Is == field.Yes, "bed": u.Read("bed") || u.Read("pad") || u.Set.Is == field.Yes, "set": u.Set.Is == field.Yes, "fill": len(u.Layers) > 0,
						"handover": u.Area != nil && u.Area.To == "client"}[p.Before]
					released := slices.ContainsFunc(d.state.Points, func(s field.PointState) bool {
						return s.Point == p.Name && (s.Released.Is == field.Yes || len(s.Lapsed) > 0) && s.From <= u.Place && u.Place <= max(s.From, s.To)
					})
					if p.Kind != "witness" && done && !released {
						want["release of "+d.pointName(p)]++
					}
				}
			}
		}
		if got := gaps(d); !maps.Equal(got, want) || len(want) == 0 {
			t.Errorf("%s: %v, want %v", in.Job.ID, got, want)
		}
		in.Job.Rules.Points = nil
		if got := gaps(Of(in)); len(got) != 0 {
			t.Errorf("%s lists no point: %v", in.Job.ID, got)
		}
	}
}

// The levels on the cross sections are those of the plan and of the records.
func TestCrossSectionsAgreeWithTheRecords(t *testing.T) {
	n := 0
	for _, in := range built() {
		d := Of(in)
		says := letteringOf(d.crossPages())
		for _, c := range d.crossPlaces() {
			for _, l := range d.crossLevels(c) {
				for k := range 2 {
					if l.planned[k] == nil || l.is[k] == nil || !l.is[k].Known {
						continue
					}
					n++
					for _, figure := range []string{d.levelFigure(*l.planned[k]), d.levelFigure(l.is[k].Value)} {
						if !slices.Contains(says[c.leg.Units[c.i].Place], figure) {
							t.Errorf("%s %s: %s of %s is not on it: %q", in.Job.ID, c.leg.Units[c.i].Place, figure, l.of, says[c.leg.Units[c.i].Place])
						}
					}
				}
			}
		}
	}
	if n < 6 {
		t.Errorf("%d levels compared", n)
	}
}

func number(t *testing.T, text string) int {
	t.Helper()
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(strings.ReplaceAll(text, " ", ""))
	if err != nil {
		t.Fatal(err)
	}
	return n
}
