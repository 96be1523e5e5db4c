package planner

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/solve/levelling"
)

// CoverLevel is how true the covers of one supply can come to lie, from what is on file, held against the contract before
// anything is ordered.
type CoverLevel struct {
	Supply  string           `json:"supply"`
	Parts   []CoverLevelPart `json:"parts"`
	Worst   measure.MM       `json:"worst_mm"` // every part that is on file off by all of its tolerance, the same way
	Root    measure.MM       `json:"root_mm"`  // root of the sum of their squares, rounded up
	Limit   *measure.MM      `json:"limit_mm"` // the contract's, either way; null: none on file
	Source  string           `json:"limit_source"`
	Verdict string           `json:"verdict"` // meets: even at worst. Does not: not even by the root. Else cannot say
}

// CoverLevelPart is one thing that has its part in where a cover lies.
type CoverLevelPart struct {
	What   string      `json:"what"`
	Each   *measure.MM `json:"each_mm"` // either way; null: not on file
	Source string      `json:"source"`  // its document; "nothing on file"
}

// coverLevels adds up, supply by supply, the tolerances of what stands between the formation's gang and a cover's level, where
// the job asks for levels. job.Missing says what is not on file.
func (b *build) coverLevels() {
	if len(b.job.Ground.Surfaces) == 0 {
		return
	}
	for i := range b.sup {
		if s := &b.sup[i]; s.Cover != nil {
			b.coverLevel(s)
		}
	}
}

func (b *build) coverLevel(s *supply) {
	r, l := &b.job.Rules, &b.job.Levels
	parts := levelling.CoverLevel(entered(r.BedTol), entered(s.Unit.HeightTol), entered(s.Cover.ThickTol), entered(l.Reading))
	names := []string{"top of a " + b.speech().Word(wording.Pad), b.tell("height of a %s", wording.Unit), "thickness of a cover", b.speech().Word(wording.RodReading)}
	if s.Bearing.On.Value != "pads" {
		names[0] = b.tell("top of the %s", wording.Bed)
	}
	sources := []string{job.SourceFrom(b.job, r.From, r.BedTol), job.Source(b.job, s.Supply, s.Unit.HeightTol), job.Source(b.job, s.Supply, s.Cover.ThickTol), job.SourceFrom(b.job, l.From, l.Reading)}
	for k := range parts {
		parts[k].Name, parts[k].Source = names[k], sources[k]
	}
	stack, faults := levelling.Add(parts, entered(r.CoverTol))
	if len(faults) > 0 {
		for _, f := range faults {
			f.Where = finding.Where{Path: "supplies." + s.ID}
			b.add(f)
		}
		return
	}
	out := CoverLevel{Supply: s.ID, Parts: []CoverLevelPart{}, Worst: measure.MM(stack.Worst), Root: measure.MM(stack.RSS), Limit: mmOf(entered(r.CoverTol)), Verdict: string(stack.Verdict)}
	if r.CoverTol.Known {
		out.Source = job.SourceFrom(b.job, r.From, r.CoverTol)
	}
	for _, p := range parts {
		out.Parts = append(out.Parts, CoverLevelPart{What: p.Name, Each: mmOf(p.Each), Source: p.Source})
	}
	b.plan.CoverLevels = append(b.plan.CoverLevels, out)
	b.coverLevelSaid(s, parts, stack)
}

// rootSaid is a root as it is printed, rounded up to a tenth of a millimetre or a thousandth of an inch.
func (b *build) rootSaid(root measure.Length) measure.Length {
	step := measure.Millimetre / 10
	if b.imperial() {
		step = measure.Inch / 1000
	}
	return (root + step - 1) / step * step
}

// coverLevelSaid tells whoever orders where the tolerances do not come together, or may not; where one of them is missing and
// the rest stays within, what is missing was said.
func (b *build) coverLevelSaid(s *supply, parts []levelling.Allowance, stack levelling.Stack) {
	limit := b.job.Rules.CoverTol
	if !limit.Known || stack.Worst <= limit.Value {
		return
	}
	f := finding.Finding{ID: "planner.cover-level", Kind: finding.Attention, Where: finding.Where{Path: "supplies." + s.ID},
		Value: b.tell("%s either way at worst, %s as the root of the squares", stack.Worst, b.rootSaid(stack.RSS)), Limit: b.tell("%s either way", limit.Value),
		Rule: "tolerance for the level of covers, " + job.SourceFrom(b.job, b.job.Rules.From, limit), Ask: "the engineer, before anything is ordered"}
	sum, missing := b.stackWords(parts)
	by, before := b.tell("%s set", wording.Pads), b.tell("the %s are", wording.Pads)
	if s.Bearing.On.Value != "pads" {
		by, before = b.tell("the %s screeded", wording.Bed), b.tell("the %s is", wording.Bed)
	}
	switch {
	case stack.Verdict == levelling.DoesNot:
		f.Text = "covers of supply " + s.ID + " do not keep the contract's level with these tolerances, not even where they make up for each other" + sum
		f.Try = b.tell("a wider limit agreed in writing, closer tolerances from the supplier, or %s to the measured height of every %s", by, wording.Unit)
	case missing:
		f.Text = "cannot say that covers of supply " + s.ID + " keep the contract's level: what is on file is more than it allows where all lies off the same way, and not everything is on file" + sum
		f.Try = "the tolerances that are not on file, and closer ones from the supplier"
	default:
		f.Text = "cannot say that covers of supply " + s.ID + " keep the contract's level: they do where tolerances make up for each other, and not where all lies off the same way, as one lot may" + sum
		f.Try = b.tell("measure the height of some %s of the lot, and the thickness of some covers, before %s set", wording.Units, before)
	}
	b.add(f)
}

// stackWords are the parts with their tolerances, in brackets, and whether any is not on file.
func (b *build) stackWords(parts []levelling.Allowance) (words string, missing bool) {
	var said []string
	for _, p := range parts {
		if p.Each == nil {
			missing = true
			said = append(said, p.Name+" not on file")
			continue
		}
		said = append(said, b.tell("%s %s", p.Name, *p.Each))
	}
	return " (" + strings.Join(said, ", ") + ")", missing
}
