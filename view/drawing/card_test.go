package drawing

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// everyCard calls try with every card of these tests.
func everyCard(t *testing.T, try func(name string, c cardSheet)) {
	t.Helper()
	everyRun(t, func(name string, p planner.Plan, j job.Job) {
		d := newDraft(p, j, StyleFor(j, A4))
		for _, u := range p.Units {
			if u.Cut && u.Piece != nil {
				try(name+" "+u.Mark, cardSheet{draft: d, p: d.unitPiece(u), size: cardSize})
			}
		}
		for _, c := range p.Covers {
			if c.Cut {
				try(name+" "+c.Mark, cardSheet{draft: d, p: d.coverPiece(c), size: cardSize})
			}
		}
	})
}

// The outline on a card has the sides that stand beside it, and the slanted face leaves that side long of which the words
// say so (closed form, no source).
func TestTheOutlineOnACardHasThePrintedSides(t *testing.T) {
	slanted := 0
	everyCard(t, func(name string, c cardSheet) {
		if !c.p.known {
			return
		}
		q := c.p.corners()
		left, right := q.leftEnd.X-q.leftStart.X, q.rightEnd.X-q.rightStart.X
		if math.Abs(left-mm(c.p.left)) > 0.01 || math.Abs(right-mm(c.p.right)) > 0.01 {
			t.Errorf("%s: drawn with sides of %.2f and %.2f mm, printed %.2f and %.2f mm", name, left, right, mm(c.p.left), mm(c.p.right))
		}
		if (c.p.start == 0) == (c.p.end == 0) {
			return
		}
		slanted++
		long := "left side long"
		if right > left {
			long = "right side long"
		}
		if words := c.sawWords(); !strings.Contains(words, long) {
			t.Errorf("%s: sides of %.1f and %.1f mm, in words %q", name, left, right, words)
		}
	})
	if slanted < 100 {
		t.Errorf("only %d slanted pieces were looked at", slanted)
	}
}

// The bar of the stock lies as the picture above it: the end that stays as cast at the same side, both faces of the same
// hand. Turning it half round twice changes nothing.
func TestTheStockLiesAsThePicture(t *testing.T) {
	turned := map[bool]int{}
	everyCard(t, func(name string, c cardSheet) {
		pattern, was, ok := c.asLaid()
		i := slices.IndexFunc(pattern.Pieces, c.mine)
		if !ok || i < 0 {
			return
		}
		if twice := halfRound(halfRound(pattern)); len(twice.Pieces) != len(pattern.Pieces) || !reflect.DeepEqual(twice.Pieces, pattern.Pieces) {
			t.Errorf("%s: turned twice %v, before %v", name, twice.Pieces, pattern.Pieces)
		}
		place := pattern.Pieces[i]
		for _, face := range []struct {
			end            string
			degrees, slope float64
		}{{"start", c.p.start, place.FromTan}, {"end", c.p.end, place.ToTan}} {
			if want := math.Tan(face.degrees * math.Pi / 180); math.Abs(want-face.slope) > 1e-6 {
				t.Errorf("%s: the %s has the slope %.6f in the picture and %.6f on the bar", name, face.end, want, face.slope)
			}
		}
		if !c.p.sawStart && place.From != 0 || !c.p.sawEnd && place.To != pattern.Stock {
			t.Errorf("%s: an end as cast lies at %v or %v of %v", name, place.From, place.To, pattern.Stock)
		}
		turned[was]++
	})
	if turned[true] < 10 || turned[false] < 100 {
		t.Errorf("only %d turned pieces and %d others were looked at", turned[true], turned[false])
	}
}

// What comes off at an end lies beyond that end: nothing else lies between.
func TestWhatComesOffLiesBeyondTheSaw(t *testing.T) {
	offcuts := 0
	everyCard(t, func(name string, c cardSheet) {
		pattern, _, ok := c.asLaid()
		i := slices.IndexFunc(pattern.Pieces, c.mine)
		if !ok || i < 0 {
			return
		}
		middle := map[string]float64{}
		for _, k := range pattern.Pieces {
			middle[k.Mark] = mm(k.From+k.To) / 2
		}
		for _, l := range pattern.Left {
			middle[l.Mark] = mm(l.From+l.To) / 2
			offcuts++
		}
		start, end := c.beyond()
		for _, at := range []struct {
			text string
			saw  bool
			way  float64
		}{{start, c.p.sawStart, -1}, {end, c.p.sawEnd, 1}} {
			mark, off := strings.CutPrefix(at.text, "comes off: ")
			if off != at.saw {
				t.Errorf("%s: %q where the saw goes: %v", name, at.text, at.saw)
				continue
			}
			if !off {
				continue
			}
			here := middle[c.p.mark]
			there, named := middle[mark]
			if !named {
				there = math.Inf(int(at.way)) // waste: nothing else may lie on that side
			}
			for other, m := range middle {
				if at.way*(m-here) > 0 && at.way*(m-there) < 0 {
					t.Errorf("%s: %s comes off, but %s lies between", name, mark, other)
				}
			}
			if at.way*(there-here) <= 0 {
				t.Errorf("%s: %s comes off and lies on the other side", name, mark)
			}
		}
	})
	if offcuts < 10 {
		t.Errorf("only %d offcuts were looked at", offcuts)
	}
}

// Each insert that the plan wants looked at is crossed out in the picture, and none that may be used is; where there is
// anything to look at, the card says stop.
func TestInsertsNotToBeUsedAreCrossedOut(t *testing.T) {
	crossed := 0
	everyCard(t, func(name string, c cardSheet) {
		if c.p.of != "units" || c.p.hold {
			return
		}
		for _, side := range []string{"left", "right"} {
			named, drawn := 0, 0
			for _, text := range c.p.cutThings {
				if strings.Contains(text, "insert on the "+side) {
					named++
				}
			}
			for _, s := range c.p.spent {
				if s.Side == side {
					drawn++
				}
			}
			if drawn != named {
				t.Errorf("%s, %s: %d inserts are crossed out, the plan names %d: %q", name, side, drawn, named, c.p.cutThings)
			}
			crossed += named
		}
		for _, s := range c.p.spent {
			if slices.Contains(c.p.insertsLeft, s) {
				t.Errorf("%s: the insert at %v on the %s is crossed out and to be used", name, s.X, s.Side)
			}
		}
		stop := strings.Contains(printed(t, c.card(c.p)), "STOP: do not cut")
		if stop != (len(c.p.cutThings) > 0) {
			t.Errorf("%s: stop %v, to look at %q", name, stop, c.p.cutThings)
		}
	})
	if crossed < 5 {
		t.Errorf("only %d inserts were crossed out", crossed)
	}
}

// A piece that lies turned has the inserts of its stock on the other side and counted from its other end.
func TestInsertsTurnWithTheirPiece(t *testing.T) {
	whole := measure.MM(3000 * measure.Millimetre)
	made := maker{head: planner.SupplyHead{ID: "one"}, job: job.Supply{Unit: job.UnitMake{CastIn: []job.CastIn{
		{Kind: "insert", Of: measure.Length(whole), At: 200 * measure.Millimetre, End: "A", Side: "left"},
		{Kind: "insert", Of: measure.Length(whole), At: 200 * measure.Millimetre, End: "B", Side: "right"},
		{Kind: "drain", Of: measure.Length(whole), At: 500 * measure.Millimetre, Side: "floor"},
	}}}}
	for turned, want := range map[bool]planner.InsertLeft{
		false: {Side: "left", X: length(200)},
		true:  {Side: "right", X: length(800)},
	} {
		place := planner.CutPlace{Mark: "A-001", To: length(1000), Turned: turned}
		d := newDraft(planner.Plan{Cutting: []planner.Cutting{{Supply: "one", Of: "units", Patterns: []planner.CutPattern{{Stock: whole, Pieces: []planner.CutPlace{place}}}}}}, job.Job{}, Style{})
		got := d.spentInserts(piece{mark: "A-001", of: "units", supply: made, length: 1000, width: 700})
		if !slices.Equal(got, []planner.InsertLeft{want}) {
			t.Errorf("turned %v: %v, expected %v", turned, got, want)
		}
	}
}

// Nothing is claimed of inserts in an offcut out of the yard: no job says what they are.
func TestInsertsOfAnOffcutAreNotChecked(t *testing.T) {
	looked := 0
	everyCard(t, func(name string, c cardSheet) {
		if pattern, ok := c.pattern(c.p); !ok || !pattern.Offcut || c.p.of != "units" {
			return
		}
		looked++
		if words := c.insertWords(); !strings.HasPrefix(words, notChecked) {
			t.Errorf("%s: cut from an offcut, inserts %q", name, words)
		}
	})
	if looked == 0 {
		t.Error("no piece was cut from an offcut of the yard")
	}
}

// Inserts are told pair by pair, in their order along the piece.
func TestInsertWords(t *testing.T) {
	left := func(side string, x float64) planner.InsertLeft {
		return planner.InsertLeft{Side: side, X: length(x)}
	}
	d := newDraft(planner.Plan{}, job.Job{}, Style{})
	for want, one := range map[string]piece{
		"none remains": {lift: "no pair of inserts remains"},
		"1 remains, not to lift by: on the right 620 mm from the start":                         {insertsLeft: []planner.InsertLeft{left("right", 620)}, lift: "no pair of inserts remains"},
		"2 remain, not to lift by: on the left and right 620 mm from the start":                 {insertsLeft: []planner.InsertLeft{left("right", 620), left("left", 620)}, lift: "one pair of inserts remains"},
		"3 remain, see lift: on the left and right 620 mm; on the right 2380 mm from the start": {insertsLeft: []planner.InsertLeft{left("right", 2380), left("left", 620), left("right", 620)}, lift: "two pairs"},
	} {
		one.of = "units"
		if got := (&cardSheet{draft: d, p: one}).insertWords(); got != want {
			t.Errorf("%v in words: %q, expected %q", one.insertsLeft, got, want)
		}
	}
}

// letterSizes remembers the size of every line.
type letterSizes struct {
	reader
	size map[string]float64
}

func (l letterSizes) Letter(t scene.Lettering) { l.size[t.String] = t.Size }

// The figures for the saw keep their size on every card, however much there is to say.
func TestFiguresForTheSawAreLarge(t *testing.T) {
	everyCard(t, func(name string, c cardSheet) {
		seen := letterSizes{size: map[string]float64{}}
		if err := scene.Draw(c.card(c.p), seen); err != nil {
			t.Fatal(err)
		}
		for figure, least := range map[string]float64{
			"left " + c.length(c.p.left): cardSide, "right " + c.length(c.p.right): cardSide,
			c.length(length(c.p.length)): 2, brief(c.p.diagonalA): 2, brief(c.p.diagonalB): 2, brief(c.p.mass): 2, brief(c.tolerance()): cardSize,
		} {
			if got := seen.size[figure]; got < least && figure != notChecked && (c.p.held == nil || least == cardSide) { // of one on hold they are planned, and stand among the words
				t.Errorf("%s: %q is %.2f mm high", name, figure, got)
			}
		}
	})
}

// Where no width is on file, the card can be read and says so instead of diagonals.
func TestACardWithoutAWidth(t *testing.T) {
	p, j := smallRun()
	for i := range p.Supplies {
		p.Supplies[i].OuterWidth, p.Supplies[i].CoverWidth = nil, nil
	}
	for i := range j.Supplies {
		j.Supplies[i].Unit.Outer = job.Entry[job.Section]{}
	}
	for _, page := range Bind(CutCards(p, j, StyleFor(j, A4)), "") {
		checkPage(t, "without a width", page)
		if text := strings.ReplaceAll(printed(t, page), "\n", " "); !strings.Contains(text, notChecked+": no width on file. Ask: the supplier") {
			t.Errorf("%s does not say that no width is on file", page.Name)
		}
	}
}
