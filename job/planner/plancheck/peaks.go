package plancheck

// stripNeed is what one side of a leg needs, where it needs most or at a section.
type stripNeed struct {
	Leg  string `json:"leg"`
	Side string `json:"side"`
	Need nm     `json:"need_mm"`
}

// checkPeaks: nothing that the plan shows of a leg is dug deeper than where it says that it is deepest, nor needs more room
// beside it than where it says that it needs most.
func (c *checker) checkPeaks() {
	deepest, widest := map[string]nm{}, map[[2]string]nm{}
	for _, l := range c.plan.Dig.Legs {
		deepest[l.Leg] = l.Deepest
		for _, m := range l.Marks {
			c.checkDepth(l.Leg, m.At, m.Depth, l.Deepest)
		}
	}
	for _, n := range c.plan.Dig.Strip {
		widest[[2]string{n.Leg, n.Side}] = n.Need
	}
	for i := range c.plan.Dig.Sections {
		s := &c.plan.Dig.Sections[i]
		if s.Depth != nil {
			c.checkDepth(s.Leg, s.At, *s.Depth, deepest[s.Leg])
		}
		for _, n := range s.Beside {
			if most, ok := widest[[2]string{s.Leg, n.Side}]; ok && n.Need > most+slack {
				c.say("section %s %v: the %s needs %v, and most anywhere on the leg is said to be %v", s.Leg, s.At, n.Side, n.Need, most)
			}
		}
	}
}

func (c *checker) checkDepth(leg string, at, depth, most nm) {
	if depth > most+slack {
		c.say("leg %s is dug %v deep at %v, and deepest is said to be %v", leg, depth, at, most)
	}
}
