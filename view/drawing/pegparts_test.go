package drawing

import (
	"testing"

	"trenchwright/job/planner"
	"trenchwright/view/schedule"
)

// The pegs of a leg stand on the fewest cards: every peg once, in its order, each card with room for its notes, and no fewer cards
// would do, tried in the slow way.
func TestPegsStandOnTheFewestCards(t *testing.T) {
	cards := 0
	for _, run := range []triedRun{surveyed(), yard(), onItsGround("hand-troughs")} {
		d := newDraft(run.plan, run.job, StyleFor(run.job, A4))
		set := schedule.Of(run.plan, run.job)
		for leg, rows := range d.places() {
			c := levelCard{cardSheet: cardSheet{draft: d, size: cardSize}, leg: d.plan.Legs[leg], rows: rows, lasers: set.Lasers(), line: mostLine}
			pegs := c.pegsOf(c.leg.Name)
			parts := c.pegParts(pegs)
			var back []planner.Peg
			for i := range parts {
				if len(parts[i].pegs) > 1 && !parts[i].room() {
					t.Errorf("%s, leg %s, card %d has no room for %d pegs", run.name, c.leg.Name, i+1, len(parts[i].pegs))
				}
				back = append(back, parts[i].pegs...)
			}
			for i := range pegs {
				if i >= len(back) || back[i].Place != pegs[i].Place || back[i].Chainage != pegs[i].Chainage {
					t.Fatalf("%s, leg %s: peg %d of %d is not in its place", run.name, c.leg.Name, i+1, len(pegs))
				}
			}
			if least := fewestCards(&c, pegs); len(parts) != least {
				t.Errorf("%s, leg %s: %d cards for %d pegs, %d would do", run.name, c.leg.Name, len(parts), len(pegs), least)
			}
			cards += len(parts)
		}
	}
	if cards < 20 {
		t.Errorf("%d cards tried", cards)
	}
}

// fewestCards tries every card that may come first.
func fewestCards(c *levelCard, pegs []planner.Peg) int {
	least := make([]int, len(pegs)+1) // of the last so many
	for n := 1; n <= len(pegs); n++ {
		rest := pegs[len(pegs)-n:]
		least[n] = 1 + least[n-1]
		for k := 2; k <= min(n, mostOnCard); k++ {
			p := pegCard{levelCard: *c, pegs: rest[:k]}
			if p.room() {
				least[n] = min(least[n], 1+least[n-k])
			}
		}
	}
	return least[len(pegs)]
}
