package drawing

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/view/scene"
)

// No sheet names a key of the job file: who reads paper has no file. The key's words stand in a column of their own.
func TestNoSheetNamesAKeyOfTheJob(t *testing.T) {
	key := regexp.MustCompile(`\([a-z_]+\.[a-z_]+\)|[a-z]+_[a-z]+`)
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		text := printed(t, Sheets(p, j, StyleFor(j, A3))...)
		if found := key.FindAllString(text, -1); len(found) > 0 {
			t.Errorf("%s: %q", name, found)
		}
	}
	if words, at := keyApart("Try: another offset (set_out.pegs), or another side."); words != "Try: another offset, or another side." || at != "set_out.pegs" {
		t.Errorf("%q %q", words, at)
	}
}

// What one thing weighs makes, times as many as are ordered, the mass of the order as printed (arithmetic, no source).
func TestMassOfOneMakesTheMassOfTheOrder(t *testing.T) {
	for _, name := range demo.Names() {
		p, j := planned(t, name)
		d := newDraft(p, j, StyleFor(j, A3))
		number := func(text string) float64 {
			x, err := strconv.ParseFloat(strings.NewReplacer(",", "", "\u2009", "", "\u202f", "", "\u00a0", "", " ", "").Replace(text), 64)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			return x
		}
		for _, b := range p.Bill {
			one, all := d.billMass(b, new(letters))
			if all == "" {
				continue
			}
			if got := math.Round(number(one) * number(b.Order)); got != number(all) {
				t.Errorf("%s, %s: %s × %s makes %.0f, printed %s", name, b.Item, b.Order, one, got, all)
			}
		}
	}
}

// A leg that goes on in another column of the dig sheet is named there again, and none begins with less than three of its places.
func TestALegOnTheDigSheetIsNamedWhereItGoesOn(t *testing.T) {
	run := surveyed()
	d := newDraft(run.plan, run.job, StyleFor(run.job, A3))
	size := d.large()
	parted := 0
	for _, l := range run.plan.Dig.Legs {
		block := legBlock{name: l.Leg, size: size, blocks: d.digLeg(l, size)}
		width := d.digWidth()
		_, whole, _ := block.Take(width, 1e4, true)
		whole -= 3 // the room below its last line may be missing
		for high := 5.0; high < whole; high += 3 {
			marks, used, rest := block.Take(width, high, false)
			if rest == nil {
				t.Fatalf("leg %s: %.1f mm of %.1f leave nothing over", l.Leg, high, whole)
			}
			if used == 0 {
				continue // it begins in the next column
			}
			parted++
			if text := printed(t, scene.Page{Width: 400, Height: 400, Marks: marks}); strings.Count(text, ".") < 3 {
				t.Errorf("leg %s begins with %q", l.Leg, text)
			}
			more, _, _ := rest.Take(width, 1e4, true)
			if text := printed(t, scene.Page{Width: 400, Height: 400, Marks: more}); !strings.Contains(text, "Leg "+l.Leg+", goes on") {
				t.Errorf("leg %s goes on without its name: %q", l.Leg, text)
			}
		}
		block.together = true
		if _, used, rest := block.Take(width, whole-1, false); used != 0 || rest == nil {
			t.Errorf("leg %s is parted although it was to stay in one piece", l.Leg)
		}
	}
	if parted < 20 {
		t.Errorf("only %d partings were tried", parted)
	}
}

// The key of a sheet has the signs of that sheet alone.
func TestAKeyHasWhatItsSheetHas(t *testing.T) {
	p, j := planned(t, "tram-depot")
	style := StyleFor(j, A3)
	for _, page := range Strip(p, j, style) {
		text := printed(t, page)
		if strings.Contains(text, "HOLD") != strings.Contains(text, "closer on hold") {
			t.Errorf("%s: the key and the sheet do not agree on what is on hold", page.Name)
		}
	}
	v := newDraft(p, j, style).acrossOf()
	if p.Dig == nil {
		t.Skip("NO GROUND: the demo job was planned without its survey")
	}
	for i, rows := range v.pages() {
		cuts := slices.Concat(rows...)
		text := printed(t, CrossSections(p, j, style)[i])
		drawn := slices.ContainsFunc(cuts, func(c cut) bool { return c.shows("rock") })
		if said := strings.Contains(text, "rock\n") || strings.HasSuffix(text, "rock"); drawn != said {
			t.Errorf("page %d: rock drawn %v, in the key %v", i+1, drawn, said)
		}
	}
}

// Rock that a section shows has its level beside it; rock that it does not is told below (values of the plan).
func TestRockHasItsLevelOnASection(t *testing.T) {
	shown := 0
	for _, run := range []triedRun{surveyed(), yard()} {
		v := newDraft(run.plan, run.job, StyleFor(run.job, A3)).acrossOf()
		for _, c := range v.cuts() {
			if c.Levels.Rock == nil {
				continue
			}
			m := mm(*c.Levels.Rock) / 1000
			label := "rock " + v.levelFigure(&m)
			beside := slices.ContainsFunc(c.labels, func(l cutLabel) bool { return l.text == label })
			below := slices.ContainsFunc(c.lines, func(l string) bool { return strings.HasPrefix(l, "rock recorded deeper") })
			if beside == below {
				t.Errorf("%s, leg %s at %s: rock beside it %v, told below %v", run.name, c.Leg, v.chainage(c.At), beside, below)
			}
			if beside {
				shown++
			}
		}
	}
	if shown < 10 {
		t.Errorf("rock is shown on %d sections only", shown)
	}
}

// Legs are counted up only where the alphabet does so too.
func TestLegsAreNamedSoThatNoneIsHidden(t *testing.T) {
	p, j := planned(t, "tram-depot")
	d := newDraft(p, j, Style{})
	for _, c := range []struct {
		legs []string
		want string
	}{{[]string{"A", "B", "C"}, "legs A to C"}, {[]string{"G", "J", "K", "H"}, "legs G, J, K and H"}, {[]string{"K", "H"}, "legs K and H"}} {
		if got := d.legWords(c.legs); got != c.want {
			t.Errorf("%v: %q, want %q", c.legs, got, c.want)
		}
	}
}

// What is held back is told by the mark that is painted on it.
func TestAHeldUnitIsToldByItsMark(t *testing.T) {
	for _, name := range demo.Names() {
		p, _ := planned(t, name)
		for _, u := range p.Units {
			if u.Hold && !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
				return f.ID == "layout.held" && strings.Contains(f.Text, "on hold is "+u.Mark+", ")
			}) {
				t.Errorf("%s: no finding says that %s is on hold", name, u.Mark)
			}
		}
	}
}
