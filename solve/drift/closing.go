package drift

import (
	"math"

	"trenchwright/base/measure"
)

// Closing is the closing cut, with so many units still to be laid between the measurement and the closer.
type Closing struct {
	Most int            // with so many units to go, or fewer, a cut made now still comes right
	Need measure.Length // margin that the units to go ask for; with no more than Most it is within what there is
	Ever bool           // whether it comes right with none to go: always, unless there is no margin at all
}

// Cut says with how many units to go the closing cut may be made: margin is how far off the last joint may be for the piece to go
// in (what the gaps beside the closer take up, each way), toGo is what is left now. In 99.9 of 100 runs: margin ≥ 3.29·σ·√k + |μ|·k.
func (s Spread) Cut(margin, bias measure.Length, toGo int) Closing {
	c := Closing{Need: s.need(bias, toGo), Ever: margin >= 0}
	for k := 1; s.need(bias, k) <= margin; k++ {
		c.Most = k
		if k >= toGo && s.each() == 0 && bias == 0 {
			break // nothing varies: it may be cut whenever one likes
		}
		if k > 1_000_000 {
			break
		}
	}
	return c
}

func (s Spread) need(bias measure.Length, k int) measure.Length {
	n := float64(k)
	return millimetres(float64(float64(In999*s.each())*math.Sqrt(n)) + float64(math.Abs(inMM(bias))*n))
}
