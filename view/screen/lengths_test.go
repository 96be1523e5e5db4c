package screen

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/demo"
	"trenchwright/job"
)

// TestLengthsByHand rounds lengths that were worked out by hand: a sixteenth of an inch is 1.5875 mm.
func TestLengthsByHand(t *testing.T) {
	um := func(n int64) measure.Length { return measure.Length(n) * measure.Micrometre }
	metric, imperial := wording.Speech{}, wording.Speech{Imperial: true}
	for _, c := range []struct {
		of                              measure.Length
		built, fine, inches, fineInches string
	}{
		{um(1178367), "1178 mm", "1178.4 mm", `3'-10 3/8"`, `3'-10 3/8" (46.392 in)`},
		{um(11679), "12 mm", "11.7 mm", `7/16"`, "0.46 in"},
		{um(-14550), "-15 mm", "-14.6 mm", `-9/16"`, "-0.573 in"},
		{um(400), "under 1 mm", "0.4 mm", `under 1/16"`, "0.016 in"},
		{um(24), "under 1 mm", "under 0.1 mm", `under 1/16"`, "0.001 in"},
		{0, "0 mm", "0 mm", `0"`, `0"`},
		{um(38184100), "38184 mm", "38184.1 mm", `125'-3 5/16"`, `125'-3 5/16" (1503.311 in)`},
	} {
		for _, one := range []struct{ said, want string }{
			{metric.Built(c.of), c.built}, {fine(metric, c.of), c.fine}, {imperial.Built(c.of), c.inches}, {fine(imperial, c.of), c.fineInches},
		} {
			if one.said != one.want {
				t.Errorf("%s: %q, not %q", c.of, one.said, one.want)
			}
		}
	}
	for text, l := range map[string]measure.Length{"at least 705 mm": um(704200), "at least 704 mm": um(704000)} {
		if said := (&draft{}).atLeast(measure.MM(l)); said != text {
			t.Errorf("%s: %q, not %q", l, said, text)
		}
	}
}

// Figures that nobody can build: a length under a heading that is no budget, with a decimal of a millimetre; or any with two.
var (
	tooFine    = regexp.MustCompile(`\d\.\d+ mm`)
	muchTooFar = regexp.MustCompile(`\d\.\d{2,} mm`)
)

// TestNoFigureIsFinerThanAnybodyBuilds reads the cards of everything in the metric demo jobs and what stands large along their legs:
// whole millimetres, tenths where gaps are spent; a gap that the plan has is a tenth at most off what is shown.
func TestNoFigureIsFinerThanAnybodyBuilds(t *testing.T) {
	for _, name := range demo.Names() {
		d, p, s := opened(t, name)
		if p.job.System == job.Imperial {
			continue
		}
		shown := func(where, text string, tenths bool) {
			if muchTooFar.MatchString(text) || !tenths && tooFine.MatchString(text) {
				t.Errorf("%s: %s: %s", name, where, text)
			}
		}
		for _, key := range keysOf(s) {
			var c Card
			asked(t, d, "card", map[string]any{"id": key, "hash": s.Hash}, &c, p)
			if c.Kind == "finding" { // a finding speaks for itself
				continue
			}
			shown(key, c.Lead, c.Kind == "joint")
			for _, g := range c.Groups {
				if g.Name == "held against what was entered" { // worked out, not built; a limit stands as its source has it
					continue
				}
				for _, r := range g.Rows {
					if r.Label != "look at" { // in the plan's own words
						shown(key+", "+g.Name+", "+r.Label, r.Text, strings.Contains(r.Label, "gap") || strings.Contains(g.Name, "window"))
					}
				}
			}
			if c.Figure != nil {
				for _, l := range c.Figure.Labels {
					shown(key+", drawn", l.Text, l.Of == "gap")
				}
			}
		}
		for _, l := range s.Legs {
			for at := 0.0; at < l.To-l.From; at += 2900 {
				for _, g := range s.Stages {
					var h Here
					asked(t, d, "here", map[string]any{"name": g.ID, "leg": l.ID, "at_mm": at}, &h, p)
					for _, b := range h.Big {
						shown(g.ID+", "+b.Label, b.Text, strings.Contains(b.Label, "gap") || strings.Contains(b.Label, "window"))
					}
				}
			}
		}
		before, err := json.Marshal(d.plan)
		if err != nil {
			t.Fatal(err)
		}
		if after, _ := json.Marshal(demoPlan(t, name).plan); string(before) != string(after) {
			t.Errorf("%s: what is shown changed the plan", name)
		}
	}
}
