package job

import "fmt"

// setOut checks what holds between benchmarks, control points and pegs.
func (c *checker) setOut() {
	s, root := &c.job.SetOut, (*place)(nil).field("set_out")
	named := map[string]string{} // a name painted on two things is read off the wrong one
	for i, b := range s.Benchmarks {
		at := root.field("benchmarks").item(i, b.ID)
		if b.At == nil && b.Where == "" && c.sound(at, "at", "where") {
			c.say("missing-field", at.field("where"), "nothing says where this benchmark is.", "Write where: what it is and where it stands, or at: its easting and northing.")
		}
		named[b.ID] = "benchmark"
		for _, other := range s.Benchmarks[:i] {
			if b.At != nil && other.At != nil && *b.At == *other.At {
				c.say("same-place", at.field("at"), fmt.Sprintf("benchmarks %s and %s stand at the same place.", other.ID, b.ID), "Keep the one that is right.")
			}
		}
	}
	for i, p := range s.Control {
		at := root.field("control").item(i, p.ID)
		if named[p.ID] != "" {
			for _, b := range s.Benchmarks {
				if b.ID == p.ID && (b.At != nil && *b.At != p.At || p.Level != nil && *p.Level != b.Level) {
					c.say("id-twice", at.field("id"), fmt.Sprintf("benchmark %s and control point %s are not the same point.", b.ID, p.ID), "One name for one point.")
				}
			}
		}
		for _, other := range s.Control[:i] {
			if p.At == other.At {
				c.say("same-place", at.field("at"), fmt.Sprintf("control points %s and %s stand at the same place.", other.ID, p.ID), "Keep the one that is right.")
			}
		}
	}
	for i, p := range s.Pegs {
		at := root.field("pegs").item(i, "")
		for k, other := range s.Pegs[:i] {
			if p.Leg == other.Leg && (p.Side == other.Side || p.Side == "both" || other.Side == "both") {
				c.say("twice", at, fmt.Sprintf("pegs on that side of %s are written already, as number %d.", choose(p.Leg == "", "every leg", "leg "+p.Leg), k+1), "Keep one of the two.")
			}
		}
		if p.Leg == "" && len(p.At) > 0 {
			c.say("pegs-leg", at.field("leg"), "chainages are stated, and no leg that they are on.", "Write leg, or leave at out: then they stand at every joint.")
		}
	}
}
