package drawing

import (
	"fmt"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

// Where the face of a mitre is longer than the pads on file reach, and only there, the laying card says so at that end.
func TestLayingCardsSayWherePadsDoNotReach(t *testing.T) {
	run := surveyed()
	texts := cardTexts(t, run.plan, run.job)
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	short, enough := 0, 0
	for _, l := range run.plan.Legs {
		said := legSaid(texts, l.Name, "laying")
		own := d.made[d.legSupply(l.Name)].job.Bearing.PadAcross
		for node, end := range map[string]string{l.From: "not at start ", l.To: "not at end "} {
			b := d.node(node).Bend
			needs := b != nil && own.Known && measure.Length(b.PadAcross) > own.Value
			_, rest, told := strings.Cut(said, end)
			if needs != told {
				t.Errorf("leg %s at %s: pads too short: %v, said: %v", l.Name, node, needs, told)
			}
			if !needs {
				enough++
				continue
			}
			short++
			want := fmt.Sprintf("at least %d mm along the joint, NOT CHECKED: no such pad on file. Ask: the supplier", (measure.Length(b.PadAcross)+measure.Millimetre-1)/measure.Millimetre)
			if told && !strings.Contains(rest, want) {
				t.Errorf("leg %s at %s: %q is not in %q", l.Name, node, want, rest)
			}
		}
	}
	if short < 2 || enough < 2 {
		t.Errorf("%d ends with pads that are too short and %d others were looked at", short, enough)
	}
}

// No line of a level card is cut, and where the benchmark is higher than the beam its figure is what is added to the staff:
// level of the benchmark less that of the pad top at the laser (34.409 and 35.904 on leg H).
func TestLevelCardsSayHowTheLaserGetsItsHeightInFull(t *testing.T) {
	run := surveyed()
	texts := cardTexts(t, run.plan, run.job)
	for name, lines := range texts {
		for _, l := range lines {
			if strings.HasPrefix(name, "levels-") && (strings.HasPrefix(l, "beam there") || strings.HasPrefix(l, "or with")) && strings.Contains(l, "…") {
				t.Errorf("%s: cut: %q", name, l)
			}
		}
	}
	for _, want := range []string{"beam there at 35.759, 0.145 m below BM2; with a level: staff on the pad top = staff on BM2 + 1.495 m",
		"or with the dial at nought a staff on BM3 reads 1.382 m, 134.499 m off"} {
		if !strings.Contains(strings.Join(texts["levels-H-1"], " "), want) { // in one line or in two
			t.Errorf("levels-H-1 does not say %q: %q", want, texts["levels-H-1"])
		}
	}
	for leg, want := range map[string]string{"H": "staff on the pad top at the laser = staff on BM2 + 1.495 m",
		"G": "staff on the pad top at the laser = staff on the temporary benchmark + the figure at ↓"} {
		if said := strings.ReplaceAll(legSaid(texts, leg, "laying"), "\u00a0", " "); !strings.Contains(said, want) {
			t.Errorf("the laying card of leg %s does not say %q: %q", leg, want, said)
		}
	}
}

// Every conduit stands on the dig card of its leg and with its chainage on the long section; only of one in the floor is it
// said that nothing on file tells its level.
func TestConduitsAreOnDigCardsAndFlags(t *testing.T) {
	run := surveyed()
	texts := cardTexts(t, run.plan, run.job)
	style := StyleFor(run.job, A3)
	flags := ""
	for _, p := range pagesOf(run.plan, run.job, style) {
		if strings.HasPrefix(p.Name, "section") {
			flags += printed(t, p)
		}
	}
	seen := map[string]int{}
	for _, l := range run.job.Route.Legs {
		said := strings.ReplaceAll(legSaid(texts, l.ID, "dig"), "\u00a0", " ")
		for _, e := range l.Entries {
			seen[e.Side]++
			at := fmt.Sprintf("%.3f m", e.At.Metres())
			for _, want := range []string{"CONDUIT " + e.ID + " at " + at + ", trough unit " + l.ID + "-", fmt.Sprintf("Ø %d mm", e.Diameter/measure.Millimetre)} {
				if !strings.Contains(said, want) {
					t.Errorf("the dig card of leg %s does not say %q: %q", l.ID, want, said)
				}
			}
			if told := strings.Contains(said, "NOT CHECKED: no level of conduit "+e.ID+" on file. Ask: its owner"); told != (e.Side == "floor") {
				t.Errorf("conduit %s in the %s: no level on file: %v", e.ID, e.Side, told)
			}
			if _, rest, _ := strings.Cut(flags, "conduit "+e.ID+","); !strings.Contains(strings.SplitN(rest, "\n", 2)[0], " at "+at) {
				t.Errorf("the long section gives conduit %s no chainage: %q", e.ID, rest)
			}
		}
	}
	if seen["floor"] == 0 || seen["left"]+seen["right"] == 0 {
		t.Errorf("conduits looked at: %v", seen)
	}
}

// Where pads lie stands on the laying card: how far under either unit and beyond the walls, as the plan has it at every joint, and
// which ends have one of which nothing is on file.
func TestLayingCardsSayWhereThePadsLie(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
	texts := cardTexts(t, run.plan, run.job)
	joints, ends := 0, 0
	for _, r := range run.plan.SetOut {
		said := strings.ReplaceAll(legSaid(texts, r.Leg, "laying"), "\u00a0", " ")
		switch p := r.PadReach; {
		case p == nil:
		case p.Before != nil && p.Behind != nil:
			joints++
			if !strings.Contains(said, "ASSUMED with their middle under the middle of the joint: ") || !strings.Contains(said, strings.TrimSuffix(d.length(*p.Behind), " mm")) {
				t.Errorf("%s: %q does not say that pads lie %s under a unit", r.Place, said, d.length(*p.Behind))
			}
		default:
			ends++
			if !strings.Contains(said, shortPlace(r)+" at ") || !strings.Contains(said, "how a pad ends there is not on file. Ask: the supplier") {
				t.Errorf("%s: %q does not ask for the pad there", r.Place, said)
			}
		}
	}
	if joints < 100 || ends < 5 {
		t.Errorf("%d joints, %d ends", joints, ends)
	}
}
