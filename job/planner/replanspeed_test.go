package planner_test

import (
	"testing"

	"trenchwright/base/measure"
	"trenchwright/demo/longrun"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// BenchmarkReplan plans 5 km again after one record.
func BenchmarkReplan(b *testing.B) {
	plan, answers := planner.Ask(longrun.Job(5, 1))
	if answers == nil {
		b.Fatal(plan.Findings)
	}
	s := &site{run: plan.Places(), plan: plan}
	for _, l := range s.run.Legs {
		s.set(l.ID, len(l.Units)/4, 2*mm)
	}
	book := field.NewBook(s.run)
	book.Add(s.book...)
	answers.Replan(book.State(""))
	units := s.run.Legs[0].Units
	at := len(units) / 4
	off := func(n int) measure.Length { return measure.Length(3+n%5) * mm }
	b.Run("one record", func(b *testing.B) {
		for n := 0; b.Loop(); n++ {
			book.Add(recordOf(1000+n, units[at].Place, "", field.SetSays{Within: true, Off: []field.Off{{Place: units[at].Place, By: off(n)}}}))
			answers.Replan(book.State(""))
		}
	})
	b.Run("one record, other pieces", func(b *testing.B) {
		for n := 0; b.Loop(); n++ {
			book.Add(recordOf(100_000_000+n, units[at].Place, "", field.SetSays{Within: true, Off: []field.Off{{Place: units[at].Place, By: 400*mm + off(n)}}}))
			answers.Replan(book.State(""))
		}
	})
}
