package screen

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
	"trenchwright/job/planner"
	"trenchwright/view/recorded"
)

// nextLevel is the planned level of what a unit stands on at its two ends, or what the rod shows there.
func (v *siteView) nextLevel(out *Next, leg, u int, height string) {
	h := v.figuresAt(leg, u)
	of, word := "formation", v.speech.Word(wording.Formation)
	if out.Stage == "bed" {
		of, word = "bed", v.speech.Word(wording.Bed)
		if v.standsOn() == wording.Pad {
			of, word = "pad", v.speech.Word(wording.Pad)
		}
	}
	tol, _ := v.tolerance(of)
	for i, end := range []string{"start", "end"} {
		row := v.rows[leg] + u - v.first[leg] + i
		if row >= v.rows[leg+1] {
			continue
		}
		level := v.planned(row, of)
		switch {
		case level == nil:
			out.Open = append(out.Open, fmt.Sprintf("NOT CHECKED: no level of the %s at %s on file. Ask: whoever has the levels", word, v.plan.SetOut[row].Place))
		case strings.TrimSpace(height) == "":
			h.level(word+", "+end, level)
		default:
			high, err := measure.ParseIn(height, v.levelUnit())
			if err != nil {
				out.Open = append(out.Open, "The "+v.speech.Word(wording.Instrument)+" was not understood: "+err.Error())
				break
			}
			h.say(v.speech.Word(wording.RodReading)+", "+word+", "+end, v.levelText(high.Length.Metres()-*level), "level "+v.levelText(*level))
		}
	}
	if tol.Known {
		out.Aside = "within " + v.speech.Built(tol.Value)
	}
	out.Figures, out.Open = append(out.Figures, h.out.Big...), append(out.Open, h.out.Open...)
}

func (v *siteView) figuresAt(leg, u int) hereMaker {
	return hereMaker{draft: v.draft, answers: v.answers, other: wording.Speech{US: v.speech.US, Imperial: !v.speech.Imperial}, leg: leg, unit: u}
}

// nextCovers are the covers of a unit that are not laid yet: how many of which length, and each that is cut on its own.
func (v *siteView) nextCovers(out *Next, leg, u int) {
	h, state := v.figuresAt(leg, u), v.unitState(v.is(), leg, u)
	whole, n, all := map[measure.MM]int{}, 0, v.covers[u+1]-v.covers[u]
	var lengths []measure.MM
	for c := v.covers[u]; c < v.covers[u+1]; c++ {
		one, k := &v.plan.Covers[c], c-v.covers[u]
		if k < len(state.Covers) && state.Covers[k].Laid.Is == field.Yes {
			continue
		}
		n++
		name := one.Mark
		if one.Cut {
			h.size(name+", cut", one.Length)
			continue
		}
		if whole[one.Length] == 0 {
			lengths = append(lengths, one.Length)
		}
		whole[one.Length]++
		if n < all && all-v.laidOf(state) < all {
			h.say("missing", name, v.size(one.Length))
		}
	}
	out.What = count(n, "cover", "covers")
	if n < all {
		out.What += fmt.Sprintf(" of %d", all)
	}
	var parts []string
	for _, l := range lengths {
		parts = append(parts, fmt.Sprintf("%d whole, %s", whole[l], v.size(l)))
	}
	out.Aside = strings.Join(parts, "; ")
	if state.Set.Is != field.Yes {
		out.Open = append(out.Open, out.Place+" is not recorded as set.")
	}
	out.Figures = append(out.Figures, h.out.Big...)
}

func (v *siteView) laidOf(u *field.UnitState) (n int) {
	for _, c := range u.Covers {
		if c.Laid.Is == field.Yes {
			n++
		}
	}
	return n
}

// wayWanted says in every stage that a leg does not come right as it is planned: whoever digs or levels goes by the plan as well.
func (v *siteView) wayWanted(out *Next) {
	for _, r := range v.rest() {
		if r.Leg != out.Leg {
			continue
		}
		switch r.Answer {
		case planner.OtherPiece:
			out.Answers = true
			out.Open = append(out.Open, v.otherPieces(&r))
		case planner.Stopped, planner.NoAnswer:
			out.Answers = true
			for _, f := range r.Findings {
				out.Stop = append(out.Stop, v.stopped(&f))
			}
		}
	}
}

// stopped is what stops a leg: where that is, by chainage and place, what it is, and where somebody found it, who and when.
func (v *siteView) stopped(f *finding.Finding) string {
	where, text := f.Where, f.Text
	if at := where.Chainage; at != nil {
		for i := range v.plan.Units {
			if u := &v.plan.Units[i]; where.Place == "" && u.Leg == where.Leg && u.Chainage <= measure.MM(*at) && measure.MM(*at) < u.Chainage+u.Length {
				where.Place = u.Mark
			}
		}
		for _, s := range v.is().Services {
			if r, ok := v.book.Record(s.By[0]); ok && s.Leg == where.Leg && s.At == *at {
				text += " " + capital(recorded.By(&r)) + "."
			}
		}
	}
	return strings.TrimSpace(joined(": ", "STOP", where.In(v.speech), text) + " " + f.Try)
}

func (v *siteView) otherPieces(r *planner.LegReplan) string {
	return fmt.Sprintf("From here the planned pieces no longer come right; with other pieces at %s they do. Nothing changes until somebody takes an answer.", count(len(r.Pieces), "place", "places"))
}
