package earthwork

import (
	"fmt"
	"math"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
)

// Strip is the land beside the dig and who uses it.
type Strip struct {
	Left, Right *measure.Length // land that may be used, from the centreline
	Setback     *measure.Length // free edge of the dig
	Heap        *measure.Grade  // slope of a spoil heap, rise to run
	Uses        []Use           // from the edge of the dig outward
}

// Side is a side of the run, looking along the leg.
type Side string

// The two sides.
const (
	Left  Side = "left"
	Right Side = "right"
)

// Use is one thing that stands beside the dig.
type Use struct {
	What  Thing
	Side  Side
	Width measure.Length // of spoil it is computed
}

// Thing is what stands beside the dig.
type Thing string

// The things that a strip is used for.
const (
	Spoil  Thing = "spoil"
	Plant  Thing = "plant"
	Pegs   Thing = "pegs"
	Stacks Thing = "units"
)

// StripNeed is what one side of a leg needs where it needs most.
type StripNeed struct {
	Leg     int
	Side    Side
	At      measure.Length // chainage
	Edge    measure.Length // from the centreline to the edge of the dig
	Setback *measure.Length
	Uses    []Placed
	Need    measure.Length  // from the centreline to the far side of the last
	Land    *measure.Length // on file
	Whole   bool            // everything in it was on file
}

// Placed is one use with its width and how far from the centreline it begins.
type Placed struct {
	What        Thing
	From, Width measure.Length
}

// strip looks along every span for where the work needs most, and at its ends and its middle for what presses on the dig.
func (out *Solution) strip(p *Problem, ws []*walker) {
	if len(p.Strip.Uses) == 0 {
		return
	}
	out.Findings = append(out.Findings, p.stripFiles()...)
	for l, w := range ws {
		if w == nil {
			continue
		}
		for i, side := range [2]Side{Left, Right} {
			worst, pressed := w.needs(l, i, side)
			out.Strip = append(out.Strip, worst)
			out.Findings = append(out.Findings, p.stripFindings(&p.Legs[l], worst)...)
			out.Findings = append(out.Findings, pressed...)
		}
	}
}

// stripFiles is what is not on file of the strip, and pegs where spoil is thrown.
func (p *Problem) stripFiles() finding.List {
	var out finding.List
	uses := map[Thing]map[Side]bool{}
	for _, u := range p.Strip.Uses {
		if uses[u.What] == nil {
			uses[u.What] = map[Side]bool{}
		}
		uses[u.What][u.Side] = true
	}
	if p.Strip.Setback == nil {
		out = append(out, finding.NoneOnFile("free edge between the dig and what stands beside it", "the competent person", where("strip.setback")))
	}
	if len(uses[Spoil]) > 0 && p.Strip.Heap == nil {
		out = append(out, finding.NoneOnFile("slope of a spoil heap", "the competent person", where("strip.heap")))
	}
	if len(uses[Plant])+len(uses[Stacks]) > 0 && p.Surcharge == nil {
		out = append(out, finding.NoneOnFile("line up from the foot of the dig that plant and stacks stay behind", "the engineer", where("influence")))
	}
	for _, side := range [2]Side{Left, Right} {
		if uses[Pegs][side] && uses[Spoil][side] {
			out = append(out, finding.Finding{ID: "earthwork.pegs-in-spoil", Kind: finding.Attention, Where: where("strip.uses"),
				Text: fmt.Sprintf("pegs and spoil are both on the %s", side), Try: "pegs on the other side, where nothing is thrown"})
		}
	}
	return out
}

// needs is the widest need of one side of a leg, and what presses on the dig's side.
func (w *walker) needs(leg, i int, side Side) (StripNeed, finding.List) {
	worst := StripNeed{Leg: leg, Side: side, Setback: w.p.Strip.Setback, Land: [2]*measure.Length{w.p.Strip.Left, w.p.Strip.Right}[i]}
	var pressed []stretch
	var most press
	wide := func(x float64) float64 {
		need, _ := w.need(x, i, side)
		return need.Need.Metres()
	}
	for k, t := range w.spans {
		x, _ := peak(w.looks(t), wide)
		if need, _ := w.need(w.shownAt(k, x, wide), i, side); k == 0 || need.Need > worst.Need {
			need.Leg, need.Side, need.Land = leg, side, worst.Land
			worst = need
		}
		hit := false
		for _, u := range [3]float64{0, 0.5, 1} {
			_, in := w.need(mix(t.from, t.to, u), i, side)
			if in.by > 0 {
				hit = true
				if in.by > most.by {
					most = in
				}
			}
		}
		if hit {
			note(&pressed, t.from, t.to)
		}
	}
	if len(pressed) == 0 {
		return worst, nil
	}
	total := 0.0
	for _, s := range pressed {
		total += s.to - s.from
	}
	l := &w.p.Legs[leg]
	return worst, finding.List{{ID: "earthwork.presses", Kind: finding.Attention, Where: at(l, most.x),
		Text: w.p.say("what is to stand on the %s (%s) begins %s from the edge of the dig, and the line up from its foot comes out %s from it: the weight presses on the side, over %s in all",
			side, most.what, far(most.from), far(most.from+most.by), far(total)),
		Limit: w.p.say("%s from the edge", far(most.from+most.by)), Value: w.p.say("%s", far(most.from)),
		Rule: fmt.Sprintf("line up from the foot of the dig, %s, as entered", w.p.Surcharge), Ask: "the competent person", Try: "further from the edge, or support designed for the load"}}
}

// press is something that stands nearer than the line up from the foot of the dig comes out.
type press struct {
	what     Thing
	x        float64
	from, by float64 // m from the edge of the dig, and how much is missing
}

// need is what one side needs at chainage x.
func (w *walker) need(x float64, i int, side Side) (StripNeed, press) {
	return w.needOf(w.alone(x), x, i, side)
}

// needOf is need for a section that was found already.
func (w *walker) needOf(sh *shape, x float64, i int, side Side) (StripNeed, press) {
	r, e := w.measures.rates(sh)
	edge := [2]float64{-e.left, e.right}[i]
	out := StripNeed{At: record(x), Edge: record(edge), Setback: w.p.Strip.Setback, Whole: !e.bare && !e.short && w.p.Strip.Setback != nil}
	far := edge
	if s := w.p.Strip.Setback; s != nil {
		far += s.Metres()
	}
	zone := edge
	if g := w.p.Surcharge; g != nil {
		zone = math.Abs(sh.bottom[i]) + w.depth(x).Metres()/ratio(*g)
	}
	var in press
	for _, u := range w.p.Strip.Uses {
		if u.Side != side {
			continue
		}
		wide := u.Width.Metres()
		if u.What == Spoil {
			heap, ok := w.heap(&r)
			wide, out.Whole = heap, out.Whole && ok
		}
		if (u.What == Plant || u.What == Stacks) && zone-far > in.by {
			in = press{u.What, x, far - edge, zone - far}
		}
		out.Uses = append(out.Uses, Placed{u.What, record(far), record(wide)})
		far += wide
	}
	out.Need = record(far)
	return out, in
}

// heap is how wide the spoil lies that one metre of run gives, all of it, shared by the heaps; false where something that
// it needs is not on file. A heap of slope s is a triangle of width √(4a/s) and height half of that times s.
func (w *walker) heap(r *rates) (float64, bool) {
	if w.p.Strip.Heap == nil {
		return 0, false
	}
	loose, ok := 0.0, true
	for _, m := range [3]struct {
		of Material
		q  int
	}{{Topsoil, qTopsoil}, {Soil, qSoil}, {Rock, qRock}} {
		if r.q[m.q] <= 0 {
			continue
		}
		f := factorOf(w.p, m.of)
		if f == nil {
			ok = false
			continue
		}
		loose += float64(r.q[m.q] * f.Loose)
	}
	heaps := 0
	for _, u := range w.p.Strip.Uses {
		if u.What == Spoil {
			heaps++
		}
	}
	return math.Sqrt(4 * loose / float64(heaps) / ratio(*w.p.Strip.Heap)), ok
}

// stripFindings holds what a side needs against the land on file.
func (p *Problem) stripFindings(l *Leg, n StripNeed) finding.List {
	w := finding.Where{Leg: l.Name, Chainage: &n.At}
	if len(n.Uses) == 0 {
		return nil
	}
	if n.Land == nil {
		return finding.List{finding.NoneOnFile(fmt.Sprintf("width of land on the %s", n.Side), "whoever lets the land be used", w)}
	}
	if n.Need <= *n.Land {
		return nil
	}
	say := func(l measure.Length) string { return p.say("%s", far(l.Metres())) }
	return finding.List{{ID: "earthwork.strip-too-wide", Kind: finding.Attention, Where: w,
		Text:  p.say("on the %s the work needs %s from the %s, %s more than may be used", n.Side, say(n.Need), wording.Centreline, say(n.Need-*n.Land)),
		Limit: say(*n.Land), Value: say(n.Need), Try: "spoil carted away as it is dug, supported sides, or more land"}}
}
