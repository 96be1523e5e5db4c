package dossier

import (
	"testing"
	"trenchwright/demo"
	"trenchwright/job/planner"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// What a dossier has of a run that was built in play is what really lies there: every end and every gap as well as it was read, against
// the place and the gap that people held as they set it, every unit and every cover; and no work was hidden that waits for a release.
func TestDossierAgreesWithWhatLies(t *testing.T) {
	ends, gaps, moved := 0, 0, 0
	for _, in := range built() {
		d, truth := Of(in), lies[in.Job.ID]
		laid := 0
		for _, l := range d.State().Legs {
			of := d.builtTable(l)
			_, rows := of.Shown()
			at := func(key string) int {
				for i, c := range of.Columns {
					if c.Key == key {
						return i
					}
				}
				t.Fatalf("no column %s", key)
				return -1
			}
			for i, u := range l.Units {
				row, sign := rows[i], measure.Length(1)
				if d.back[l.ID] {
					row, sign = rows[len(rows)-1-i], -1
				}
				is, lies := truth[u.Place]
				if set := row[at("set")] == string(field.Yes); set != lies {
					t.Errorf("%s %s: lies %v, set %v", in.Job.ID, u.Place, lies, set)
				}
				laid += is.Covers
				if known(u.End) {
					ends++
					if off := difference(t, in, row[at("chainage_off")]); (off - sign*is.Off).Abs() > u.End.Plus+step(in) {
						t.Errorf("%s %s: its end is %v off, the dossier says %v ± %v", in.Job.ID, u.Place, sign*is.Off, off, u.End.Plus)
					}
					if *u.Ahead != u.End.Value {
						moved++
					}
				}
				if at := at("left"); known(u.Left) && known(u.Right) && is.Joined && !d.back[l.ID] {
					gaps++
					if left, right := difference(t, in, row[at]), difference(t, in, row[at+1]); (left-is.Left).Abs() > u.Left.Plus+step(in) || (right-is.Right).Abs() > u.Right.Plus+step(in) {
						t.Errorf("%s %s: the gap after it is %v and %v, the dossier says %v and %v ± %v", in.Job.ID, u.Place, is.Left, is.Right, left, right, u.Left.Plus)
					}
				}
			}
		}
		if have := d.State().Legs; laid == 0 || laid != lidsOf(have) {
			t.Errorf("%s: %d covers lie, the dossier has %d", in.Job.ID, laid, lidsOf(have))
		}
		for _, h := range d.book.Unreleased(d.asks, d.state.Points) {
			t.Errorf("%s: %s has no release at %s of leg %s", in.Job.ID, h.Point.Name, h.Stretches(), h.Leg)
		}
	}
	if ends < 60 || gaps < 60 || moved == 0 {
		t.Errorf("%d ends and %d gaps compared, %d of them set by an earlier plan", ends, gaps, moved)
	}
}

func lidsOf(legs []field.LegState) (n int) {
	for _, l := range legs {
		n += l.Laid
	}
	return n
}

// Where an answer was taken, records go with the job that it made: with the job as it was before, the dossier says that they were
// written where the plan had other places. With their own it says which answers were taken, and nothing else.
func TestRecordsGoWithTheirJob(t *testing.T) {
	others := 0
	for _, in := range built() {
		d := Of(in)
		if list := d.otherPlan(); len(list) > 0 {
			t.Errorf("%s, with its own job: %q", in.Job.ID, list)
		}
		legs := 0
		for _, l := range in.Job.Route.Legs {
			if b := l.Built; b != nil && (b.To != "" || len(b.Beyond)+len(b.Withdrawn)+len(b.Counted) > 0) {
				legs++
			}
		}
		if rows := d.answerTable().Rows; len(rows) != legs {
			t.Errorf("%s: %d legs were planned anew, %d stand in the table of answers", in.Job.ID, legs, len(rows))
		}
		g, err := demo.Surveyed(in.Job.ID)
		if err != nil {
			t.Fatal(err)
		}
		in.Job, in.Plan = g.Job, planner.Make(g.Job, g.Surfaces...)
		others += len(Of(in).otherPlan())
	}
	if others == 0 {
		t.Error("no records of another plan were found")
	}
}
