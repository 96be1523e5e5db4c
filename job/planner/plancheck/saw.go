package plancheck

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"trenchwright/job"
)

// sawSetting is how near a saw is set to an angle, in radians: half of 0.001°.
const sawSetting = 0.0005 * math.Pi / 180 * 1.001

// wanted is one cut piece as it is laid: what the cutting list must hold once.
type wanted struct {
	supply, of string
	length     nm
	stock      nm
	start, end float64 // tangents of its faces as it lies
	width      float64
	piece      *piece
	seen       int
	optional   bool // a closer on hold may wait for its measurement
}

// checkCutting: every cut unit and cover is cut once, from stock that is made or lies in the yard, and no two pieces on
// one stock unit come nearer to each other than the saw needs.
func (c *checker) checkCutting() {
	want := c.wantedPieces()
	for i := range c.plan.Cutting {
		cut := &c.plan.Cutting[i]
		if cut.Of != "units" && cut.Of != "covers" {
			c.say("a cutting of %q", cut.Of)
			continue
		}
		names := map[string]bool{}
		bought := 0
		for k := range cut.Patterns {
			p := &cut.Patterns[k]
			if names[p.Name] {
				c.say("stock %s stands twice in the cutting of %s", p.Name, cut.Supply)
			}
			names[p.Name] = true
			if !p.Offcut {
				bought++
			}
			c.checkPattern(cut, p, want)
		}
		if cut.Bought != bought {
			c.say("cutting of %s of %s: %d bought, %d stand there", cut.Of, cut.Supply, cut.Bought, bought)
		}
		if cut.Bound > cut.Bought {
			c.say("cutting of %s of %s: at least %d are needed and %d are bought", cut.Of, cut.Supply, cut.Bound, cut.Bought)
		}
		if cut.Proven && cut.Bound != cut.Bought {
			c.say("cutting of %s of %s: proven with a bound of %d for %d bought", cut.Of, cut.Supply, cut.Bound, cut.Bought)
		}
	}
	for _, mark := range slices.Sorted(maps.Keys(want)) {
		if w := want[mark]; w.seen > 1 || (w.seen == 0 && !w.optional) {
			c.say("%s is cut %d times", mark, w.seen)
		}
	}
}

func (c *checker) wantedPieces() map[string]*wanted {
	want := map[string]*wanted{}
	for i := range c.plan.Units {
		u := &c.plan.Units[i]
		s := c.supplies[u.Supply]
		if !u.Cut || s == nil {
			continue
		}
		w := &wanted{supply: u.Supply, of: "units", length: u.Length, stock: u.Stock, start: tangent(u.StartAngle), end: tangent(u.EndAngle), piece: u.Piece, optional: u.Hold}
		if s.OuterWidth != nil {
			w.width = float64(*s.OuterWidth)
		}
		want[u.Mark] = w
	}
	for i := range c.plan.Covers {
		lid := &c.plan.Covers[i]
		u := c.units[lid.Unit]
		if !lid.Cut || u == nil {
			continue
		}
		want[lid.Mark] = &wanted{supply: u.Supply, of: "covers", length: lid.Length, stock: lid.Stock, start: tangent(lid.StartAngle),
			end: tangent(lid.EndAngle), width: c.lidWidth(u)}
	}
	return want
}

func (c *checker) checkPattern(cut *cutting, p *pattern, want map[string]*wanted) {
	if !c.isStock(cut, p) {
		c.say("%s: no stock of %v for the %s of supply %s", p.Name, p.Stock, cut.Of, cut.Supply)
	}
	if len(p.Pieces) == 0 {
		c.say("%s: nothing is cut from it", p.Name)
	}
	for _, q := range p.Pieces {
		w := want[q.Mark]
		if w == nil || w.supply != cut.Supply || w.of != cut.Of {
			c.say("%s: %s is cut from it, and no cut piece of %s is called so", p.Name, q.Mark, cut.Supply)
			continue
		}
		w.seen++
		c.checkPlace(p, q, w)
	}
	c.checkRoom(cut, p, want)
	c.checkSawn(p)
}

// checkPlace: a piece on its stock is the piece that is laid, perhaps turned half round, which leaves tan what it is.
func (c *checker) checkPlace(p *pattern, q cutPlace, w *wanted) {
	if q.To-q.From != w.length {
		c.say("%s: %s lies from %v to %v, its length is %v", p.Name, q.Mark, q.From, q.To, w.length)
	}
	if p.Stock != w.stock {
		c.say("%s: %s is cut from %v, the plan says %v", p.Name, q.Mark, p.Stock, w.stock)
	}
	low, high := w.start, w.end
	if q.Turned {
		low, high = high, low
	}
	if math.Abs(q.FromTan-low) > sawSetting*(1+low*low) || math.Abs(q.ToTan-high) > sawSetting*(1+high*high) {
		c.say("%s: %s lies with faces %.6f and %.6f, laid it has %.6f and %.6f", p.Name, q.Mark, q.FromTan, q.ToTan, low, high)
	}
	if w.piece == nil {
		return
	}
	if w.piece.CutFrom != p.Name || w.piece.Turned != q.Turned {
		c.say("%s: %s says that it is cut from %s, turned %v; it lies here, turned %v", p.Name, q.Mark, w.piece.CutFrom, w.piece.Turned, q.Turned)
	}
	c.checkTurned(q, w)
	atA, atB := q.From == 0 && q.FromTan == 0, q.To == p.Stock && q.ToTan == 0
	if q.Turned {
		atA, atB = atB, atA
	}
	kept := w.piece.KeptEnd
	if (kept == "start" || kept == "both") && !atA || (kept == "end" || kept == "both") && !atB {
		c.say("%s: %s keeps its %s as cast, but lies from %v to %v of %v", p.Name, q.Mark, kept, q.From, q.To, p.Stock)
	}
	if m := c.makes[w.supply]; m != nil && m.Saw.KeepFactoryEnd.Value && kept == "none" {
		c.say("%s: %s keeps no end as cast, and supply %s asks for one", p.Name, q.Mark, w.supply)
	}
}

// checkTurned: units that may not be turned all look along the way in which their leg is laid.
func (c *checker) checkTurned(q cutPlace, w *wanted) {
	m, u := c.makes[w.supply], c.units[q.Mark]
	if m == nil || u == nil || !m.Unit.MayTurn.Known || m.Unit.MayTurn.Value {
		return
	}
	back := c.declared[u.Leg] != nil && laidBack(c.declared[u.Leg])
	if q.Turned != back {
		ends := []string{"A", "B"}
		if q.Turned {
			ends = []string{"B", "A"}
		}
		from := "its from node"
		if back {
			from = c.declared[u.Leg].LayFrom
		}
		c.say("%s lies with end %s at its start, laid from %s it is end %s", q.Mark, ends[0], from, ends[1])
	}
}

func (c *checker) isStock(cut *cutting, p *pattern) bool {
	if p.Offcut {
		return c.job == nil || slices.ContainsFunc(c.job.Yard, func(y job.YardItem) bool {
			return y.Supply == cut.Supply && nm(y.Length) == p.Stock
		})
	}
	if cut.Of == "units" {
		s := c.supplies[cut.Supply]
		return s != nil && isOneOf(p.Stock, s.Lengths)
	}
	m := c.makes[cut.Supply]
	if m == nil || m.Cover == nil {
		return c.job == nil
	}
	for _, v := range m.Cover.Lengths.Value {
		if nm(v) == p.Stock {
			return true
		}
	}
	return false
}

// checkRoom: between two pieces the saw takes its kerf, square to each cut: one cut where the faces are parallel, else
// two. What is left besides is nothing or a slice that the saw can take off.
func (c *checker) checkRoom(cut *cutting, p *pattern, want map[string]*wanted) {
	width, kerf, slice := 0.0, 0.0, 0.0
	for _, q := range p.Pieces {
		if w := want[q.Mark]; w != nil {
			width = w.width
		}
	}
	if s := c.supplies[cut.Supply]; s != nil && s.Kerf != nil {
		kerf = float64(*s.Kerf)
	}
	slice = kerf
	if m := c.makes[cut.Supply]; m != nil && m.Saw.LeastSlice.Known {
		slice = float64(m.Saw.LeastSlice.Value)
	}
	pieces := slices.SortedFunc(slices.Values(p.Pieces), func(a, b cutPlace) int { return cmp.Compare(a.From, b.From) })
	c.checkSawPaths(cut, p, width, kerf)
	here := sawFace{name: "end A", atStockEnd: true}
	for _, q := range pieces {
		c.checkSpace(p, here, sawFace{x: q.From, tan: q.FromTan, name: q.Mark}, width, kerf, slice)
		here = sawFace{x: q.To, tan: q.ToTan, name: q.Mark}
	}
	c.checkSpace(p, here, sawFace{x: p.Stock, name: "end B", atStockEnd: true}, width, kerf, slice)
	c.countSaws(p, pieces, kerf)
}

// countSaws: a cut for every face that is not an end of the stock; two pieces share one where their parallel faces are
// no more than the kerf apart. Offcuts have ends of their own and are left out.
func (c *checker) countSaws(p *pattern, pieces []cutPlace, kerf float64) {
	if p.Offcut || len(pieces) == 0 {
		return
	}
	n := 0
	first, last := pieces[0], pieces[len(pieces)-1]
	if first.From != 0 || first.FromTan != 0 {
		n++
	}
	if last.To != p.Stock || last.ToTan != 0 {
		n++
	}
	for i, q := range pieces[1:] {
		before := pieces[i]
		shared := math.Abs(before.ToTan-q.FromTan) < 2*sawSetting && float64(q.From-before.To) <= kerf*math.Sqrt(1+q.FromTan*q.FromTan)+slack
		if n += 2; shared {
			n--
		}
	}
	if p.Saws != n {
		c.say("%s: %d saw cuts, its pieces take %d", p.Name, p.Saws, n)
	}
}

// sawFace is a face across the stock: x = x + tan·y.
type sawFace struct {
	x          nm
	tan        float64
	name       string
	atStockEnd bool
}

// checkSpace looks at the space between two faces. The skewed ends of an offcut are known to the yard alone: there only
// the axis is held against the stock's length.
func (c *checker) checkSpace(p *pattern, low, high sawFace, width, kerf, slice float64) {
	axis := float64(high.x - low.x)
	narrow := axis - width/2*math.Abs(high.tan-low.tan) // at the wall where the faces come nearest
	parallel := math.Abs(high.tan-low.tan) < 2*sawSetting*(1+low.tan*low.tan)
	along := func(t, tan float64) float64 { return t * math.Sqrt(1+tan*tan) } // square to the cut → along the axis
	need := 0.0
	off := slack + width/2*sawSetting*(2+low.tan*low.tan+high.tan*high.tan) // what the saw's setting moves the corners by
	switch {
	case low.atStockEnd || high.atStockEnd:
		if narrow < -off {
			c.say("%s: %s reaches %v beyond %s", p.Name, either(low, high), nm(-narrow), stockEnd(low, high))
		}
		if parallel && axis > 0 && axis < along(slice, low.tan)-off {
			c.say("%s: a slice of %v beside %s, the saw takes off %v or more", p.Name, nm(axis), either(low, high), nm(slice))
		}
		return
	case parallel:
		need = along(kerf, low.tan)
	default:
		need = along(kerf, low.tan) + along(kerf, high.tan)
	}
	if narrow < need-off {
		c.say("%s: %s and %s are %v apart, the saw needs %v", p.Name, low.name, high.name, nm(narrow), nm(need))
	} else if spare := narrow - need; parallel && spare > off && spare < along(slice, low.tan)-off {
		c.say("%s: a slice of %v between %s and %s, the saw takes off %v or more", p.Name, nm(spare), low.name, high.name, nm(slice))
	}
}

func either(low, high sawFace) string {
	if low.atStockEnd {
		return high.name
	}
	return low.name
}

func stockEnd(low, high sawFace) string {
	if low.atStockEnd {
		return low.name
	}
	return high.name
}

// checkSawn: with square cuts alone, pieces, what is left and what the saw takes make the stock, to the nanometre.
func (c *checker) checkSawn(p *pattern) {
	sum := p.SawLoss
	for _, q := range p.Pieces {
		if q.FromTan != 0 || q.ToTan != 0 {
			return
		}
		sum += q.To - q.From
	}
	for _, rest := range p.Left {
		sum += rest.To - rest.From
		if rest.To <= rest.From || rest.From < 0 || rest.To > p.Stock {
			c.say("%s: the rest %s runs from %v to %v", p.Name, rest.Mark, rest.From, rest.To)
		}
		for _, q := range p.Pieces {
			if rest.From < q.To && rest.To > q.From {
				c.say("%s: the rest %s lies over %s", p.Name, rest.Mark, q.Mark)
			}
		}
	}
	if sum != p.Stock {
		c.say("%s: pieces, rests and saw cuts make %v of %v", p.Name, sum, p.Stock)
	}
}

// checkSawPaths: no saw enters a stretch of the stock where its maker forbids it.
func (c *checker) checkSawPaths(cut *cutting, p *pattern, width, kerf float64) {
	m := c.makes[cut.Supply]
	if m == nil || cut.Of != "units" || p.Offcut {
		return
	}
	for _, span := range m.Unit.NoCut {
		if nm(span.Of) != p.Stock {
			continue
		}
		from, to := float64(span.From), float64(span.To)
		for _, q := range p.Pieces {
			low := width / 2 * math.Abs(q.FromTan)
			high := width / 2 * math.Abs(q.ToTan)
			kerfLow, kerfHigh := kerf*math.Sqrt(1+q.FromTan*q.FromTan), kerf*math.Sqrt(1+q.ToTan*q.ToTan)
			if (q.From != 0 || q.FromTan != 0) && float64(q.From)-low-kerfLow < to-slack && float64(q.From)+low > from+slack {
				c.say("%s: the cut at %v of %s runs through %v to %v (%s)", p.Name, q.From, q.Mark, nm(span.From), nm(span.To), span.Why)
			}
			if (q.To != p.Stock || q.ToTan != 0) && float64(q.To)-high < to-slack && float64(q.To)+high+kerfHigh > from+slack {
				c.say("%s: the cut at %v of %s runs through %v to %v (%s)", p.Name, q.To, q.Mark, nm(span.From), nm(span.To), span.Why)
			}
		}
	}
}
