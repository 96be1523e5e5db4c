package layout

import (
	"fmt"

	"trenchwright/base/wording"
)

// whyCut says why a layout cuts more than one closer beside its mitred pieces; empty if it does not.
func (p *Problem) whyCut(c Count) string {
	asked := 1
	if p.Start.Mitred && p.End.Mitred {
		asked = 2
	}
	if c.Cuts <= asked {
		return ""
	}
	if p.leastUnits() > mostTried {
		return fmt.Sprintf("%s: zones and the length of the leg leave no way with fewer", counted(c.Cuts, "cut"))
	}
	bare := p.with(p.curveWishes())
	if v, ok, _ := bare.possible(); ok && v < c.cost() {
		n := v.count()
		return fmt.Sprintf("without zones, crossings and what else is asked for along the leg it would come to %s, %s and %s",
			counted(n.Units, p.Words.Word(wording.Unit)), counted(n.Cuts, "cut"), counted(n.CutCovers, "cut cover"))
	}
	if why := p.closerReason(c); why != "" {
		return why
	}
	return fmt.Sprintf("no layout of %s has fewer than %s", counted(c.Units, p.Words.Word(wording.Unit)), counted(c.Cuts, "cut"))
}

// closerReason looks at the one closing piece that would be left between whole units of the longest stock.
func (p *Problem) closerReason(c Count) string {
	if p.Start.Mitred || p.End.Mitred || len(p.Stretches) > 0 {
		return ""
	}
	s := p.Supplies[0]
	whole := s.longest()
	number := fmt.Sprint(c.Cuts)
	if c.Cuts == 2 {
		number = "two"
	}
	for n := max(1, c.Units-1); n <= c.Units; n++ {
		least, most := p.Length-nm(n-1)*(whole+s.Gap.Max), p.Length-nm(n-1)*(whole+s.Gap.Min)
		size := p.say(most)
		if least != most {
			size = p.say(max(least, 0)) + " to " + p.say(most)
		}
		switch {
		case most > 0 && most < s.ShortestCut:
			return fmt.Sprintf("one closing piece would be %s, shortest %s, so %s are cut", size, p.say(s.ShortestCut), number)
		case least > whole-s.LeastSlice && most < whole:
			return fmt.Sprintf("one closing piece would be %s, and the saw cannot take less than %s off %s, so %s are cut", size, p.say(s.LeastSlice), p.say(whole), number)
		}
	}
	return ""
}
