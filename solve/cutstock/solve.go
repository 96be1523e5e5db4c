package cutstock

import (
	"fmt"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// usual is the effort when Limits does not say.
const usual = 1_500_000_000

// Solve cuts the pieces from the stock at least cost, and proves it as far as the limits go. The error speaks of the
// first fault of a Problem that has any; Faults lists them all.
func Solve(p Problem, l Limits) (Solution, error) {
	if faults := Faults(p); len(faults) > 0 {
		f := faults[0]
		return Solution{}, fmt.Errorf("%s: %s: %s, limit %s; %s", f.Where.Path, f.Text, f.Value, f.Limit, f.Try)
	}
	e := &effort{left: l.Effort}
	if l.Effort <= 0 {
		e.left = usual
	}
	out := Solution{Verdict: Found, Proven: true}
	names := classes(p)
	for i, class := range names {
		share := &effort{left: e.left / int64(len(names)-i)}
		spent := share.left
		part := solveClass(newShop(p, class), share)
		e.spend(spent - share.left)
		out.add(p, class, part)
	}
	out.Proven = out.Verdict == Impossible || out.Verdict == Found && out.Cost == out.Bound
	if out.Verdict == Found {
		out.Why = out.account()
	}
	return out, nil
}

// part is the answer for one class.
type part struct {
	shop    *shop
	cutting cutting
	verdict Verdict
	why     string
	bound   int64 // in steps
	proof   Proof
}

func solveClass(s *shop, e *effort) part {
	p := part{shop: s, verdict: Found}
	if k := s.misfit(); k >= 0 {
		p.verdict, p.why = Impossible, s.whyMisfit(k)
		p.proof = s.misfitProof(k)
		return p
	}
	c := newCutter(s, e)
	if s.factoryEnd {
		c.solvePairs(&p)
	} else {
		c.solveFree(&p)
	}
	return p
}

// solvePairs matches, and goes on by cases where units that take two pieces are few.
func (c *cutter) solvePairs(p *part) {
	pairs := c.newPairing()
	best, ok := pairs.solve()
	p.proof, p.bound = pairs.proof(), pairs.lowest.steps()
	if ok && best.cost <= p.bound {
		p.cutting = best
		return
	}
	c.refine(p, best, ok)
}

func (c *cutter) solveFree(p *part) {
	best, ok, low := c.free()
	p.proof, p.bound = c.proof(&node{bound: low}, false), low.cost
	if p.cutting = best; !ok || best.cost > p.bound {
		c.refine(p, best, ok)
	}
	if p.verdict == Found {
		p.cutting = c.thrifty(p.cutting)
	}
}

// refine goes on by cases: to the proof that there is nothing better or nothing at all, or to something better.
func (c *cutter) refine(p *part, best cutting, ok bool) {
	if !ok {
		first := tree{cutter: c, phase1: true}
		n := first.prove(nil)
		switch {
		case n != nil:
			p.verdict, p.why, p.proof = Impossible, "there is not enough stock for all pieces", c.proof(n, true)
			return
		case !first.found:
			p.verdict, p.why = Undecided, "no way to cut all pieces was found within the limits, and none was ruled out"
			return
		}
		best = first.best
	}
	t := tree{cutter: c, best: best, found: true}
	if n := t.prove(nil); n != nil && t.best.cost > p.bound {
		p.proof, p.bound = c.proof(n, false), t.best.cost
	}
	p.cutting = t.best
}

// misfit is a kind that no unit takes even alone, −1: none.
func (s *shop) misfit() int {
	for i := range s.kinds {
		fits := false
		for u := range s.units {
			fits = fits || s.layOut(&s.units[u], []take{{i, 1}}) != nil
		}
		if !fits {
			return i
		}
	}
	return -1
}

func (s *shop) whyMisfit(i int) string {
	k := &s.kinds[i]
	longest, cast := measure.Length(0), false
	for _, u := range s.units {
		longest = max(longest, u.Length)
		cast = cast || u.A.Cast != "" || u.B.Cast != ""
	}
	start, end := s.ends[s.shapes[k.shape][0]], s.ends[s.shapes[k.shape][1]]
	needs := k.length + s.saw.wedge(start.Skew, 0) + s.saw.wedge(end.Skew, 0)
	say, word := s.problem.length, s.problem.Words.Word(wording.Unit)
	piece := "a piece of " + say(k.length)
	switch {
	case longest == 0:
		return piece + ": there is no stock of its class"
	case needs > longest:
		return fmt.Sprintf("%s takes %s of a %s; the longest %s is %s", piece, say(needs), word, word, say(longest))
	case s.factoryEnd && !cast:
		return piece + " has to keep a cast end, and no stock has one"
	case s.factoryEnd && start.Skew != 0 && end.Skew != 0:
		return piece + " is " + s.problem.Words.Word(wording.Mitred) + " at both ends and could not keep a cast end"
	case start.Cast != "" || end.Cast != "":
		return fmt.Sprintf("%s has to keep a cast end (%s), and no stock can give it", piece, strings.Trim(start.Cast+" "+end.Cast, " "))
	}
	return fmt.Sprintf("%s: what is left of every %s is less than the least slice of %s, or a saw would enter a no-cut zone", piece, word, say(s.saw.slice))
}

// add adds the answer for a class.
func (s *Solution) add(p Problem, class string, part part) {
	step := part.shop.step
	s.Bound += part.bound * step
	part.proof.Class, part.proof.Step = class, step
	s.Certificate.Proofs = append(s.Certificate.Proofs, part.proof)
	if part.verdict != Found {
		if s.Verdict == Found || part.verdict == Impossible && s.Verdict == Undecided {
			s.Verdict, s.Why = part.verdict, part.why
			if class != "" {
				s.Why = class + ": " + part.why
			}
		}
		*s = Solution{Verdict: s.Verdict, Why: s.Why, Bound: s.Bound, Certificate: s.Certificate}
		return
	}
	if s.Verdict == Found {
		s.write(part)
	}
}

func (s *Solution) account() string {
	switch {
	case s.Proven:
		return fmt.Sprintf("%d bought at a cost of %d; it is proven that nothing costs less", s.Bought, s.Cost)
	default:
		return fmt.Sprintf("%d bought at a cost of %d; nothing below %d exists, what lies between is not ruled out", s.Bought, s.Cost, s.Bound)
	}
}
