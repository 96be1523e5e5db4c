package plancheck

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// books is the dig in volumes, as plan.json has it.
type books struct {
	Total    volumes   `json:"total"`
	Legs     []digLeg  `json:"legs"`
	Balances []balance `json:"balances"`
}

type digLeg struct {
	Leg     string  `json:"leg"`
	Volumes volumes `json:"volumes"`
	Running []struct {
		At    nm       `json:"at_mm"`
		Dug   float64  `json:"dug_m3"`
		Fill  float64  `json:"fill_m3"`
		Stone float64  `json:"stone_m3"`
		Mass  *float64 `json:"mass_m3"`
	} `json:"running"`
}

type volumes struct {
	Run         float64      `json:"run_m"`
	Dug         float64      `json:"dug_m3"`
	Topsoil     float64      `json:"topsoil_m3"`
	Soil        float64      `json:"soil_m3"`
	Rock        float64      `json:"rock_m3"`
	Stone       float64      `json:"stone_m3"`
	Pads        float64      `json:"pads_m3"`
	Pipe        float64      `json:"pipe_m3"`
	Unit        float64      `json:"unit_m3"`
	Fill        float64      `json:"fill_m3"`
	TopsoilBack float64      `json:"topsoil_back_m3"`
	Opened      float64      `json:"opened_m2"`
	Layers      [][2]float64 `json:"layers_m3"`
}

type balance struct {
	Of     string   `json:"of"`
	Dug    heap     `json:"dug"`
	Back   heap     `json:"back"`
	In     heap     `json:"brought_in"`
	Leaves heap     `json:"leaves"`
	Loads  *int     `json:"loads"`
	Load   *float64 `json:"load_m3"`
}

// heap is one heap as it lies in the ground, loose, and compacted.
type heap struct {
	Bank      *float64 `json:"bank_m3"`
	Loose     *float64 `json:"loose_m3"`
	Compacted *float64 `json:"compacted_m3"`
}

// checkVolumes: everything that is dug is somewhere, to a billionth: in a leg, in a layer, back, or gone.
func (c *checker) checkVolumes(planJSON []byte) {
	var p struct {
		Dig *books `json:"dig"`
	}
	if err := json.Unmarshal(planJSON, &p); err != nil {
		c.say("the volumes of plan.json cannot be read: %v", err)
		return
	}
	if p.Dig == nil {
		return
	}
	b := p.Dig
	var sum volumes
	for i := range b.Legs {
		l := &b.Legs[i]
		c.checkHoard("leg "+l.Leg, &l.Volumes)
		c.checkRunningUp(l)
		sum.add(&l.Volumes)
	}
	c.checkHoard("the run", &b.Total)
	for i, said := range b.Total.figures() {
		c.billionth(fmt.Sprintf("the run's figure %d of the dig against its legs", i+1), *said, *sum.figures()[i], b.Total.Dug)
	}
	for k := range max(len(sum.Layers), len(b.Total.Layers)) {
		for side := range 2 {
			c.billionth(fmt.Sprintf("layer %d of the run against its legs", k+1), layerOf(&b.Total, k)[side], layerOf(&sum, k)[side], b.Total.Dug)
		}
	}
	c.checkBalances(b)
}

func (v *volumes) figures() []*float64 {
	return []*float64{&v.Run, &v.Dug, &v.Topsoil, &v.Soil, &v.Rock, &v.Stone, &v.Pads, &v.Pipe, &v.Unit, &v.Fill, &v.TopsoilBack, &v.Opened}
}

func (v *volumes) add(o *volumes) {
	more := o.figures()
	for i, f := range v.figures() {
		*f += *more[i]
	}
	for k := range o.Layers {
		if k == len(v.Layers) {
			v.Layers = append(v.Layers, [2]float64{})
		}
		v.Layers[k][0] += o.Layers[k][0]
		v.Layers[k][1] += o.Layers[k][1]
	}
}

func layerOf(v *volumes, k int) [2]float64 {
	if k < len(v.Layers) {
		return v.Layers[k]
	}
	return [2]float64{}
}

// billionth holds two figures against each other, against the size of what they are made of.
func (c *checker) billionth(what string, a, b, size float64) {
	if !(math.Abs(a-b) <= 1e-9*max(1, math.Abs(size), math.Abs(b))) {
		c.say("%s: %.12g, recomputed %.12g", what, a, b)
	}
}

// checkHoard: what is dug is topsoil, soil and rock; the layers are the fill; nothing lies below nought.
func (c *checker) checkHoard(what string, v *volumes) {
	c.billionth(what+": what is dug against its materials", v.Dug, v.Topsoil+v.Soil+v.Rock, v.Dug)
	if c.job != nil && c.job.Dig.Layer.Known || len(v.Layers) > 0 {
		sum := 0.0
		for _, l := range v.Layers {
			sum += l[0] + l[1]
		}
		c.billionth(what+": layers against the fill", sum, v.Fill, v.Fill)
	}
	for i, f := range v.figures() {
		if !(*f >= -1e-9*max(1, v.Dug)) && f != &v.Stone { // where pads stand higher than the bed is thick, stone is short
			c.say("%s: figure %d of the dig is %g", what, i+1, *f)
		}
	}
}

// checkRunningUp: the curves of a leg begin at nothing, never fall, and end at its totals.
func (c *checker) checkRunningUp(l *digLeg) {
	if len(l.Running) == 0 {
		return
	}
	first, last, v := l.Running[0], l.Running[len(l.Running)-1], &l.Volumes
	if first.Dug != 0 || first.Fill != 0 || first.Stone != 0 {
		c.say("leg %s: the curves of volumes do not begin at nothing", l.Leg)
	}
	for i := 1; i < len(l.Running); i++ {
		a, b := l.Running[i-1], l.Running[i]
		if b.At <= a.At || b.Dug < a.Dug-1e-9 || b.Fill < a.Fill-1e-9 {
			c.say("leg %s: a curve of volumes falls or stands at %d nm", l.Leg, b.At)
		}
	}
	c.billionth("leg "+l.Leg+": the curve of what is dug, at its end", last.Dug, v.Dug, v.Dug)
	c.billionth("leg "+l.Leg+": the curve of what is filled, at its end", last.Fill, v.Fill+v.TopsoilBack, v.Fill)
	c.billionth("leg "+l.Leg+": the curve of stone, at its end", last.Stone, v.Stone, v.Stone)
	if f := c.factors("soil"); f != nil && last.Mass != nil {
		c.billionth("leg "+l.Leg+": the curve of masses, at its end", *last.Mass, v.Soil-v.Fill/f.compacted, v.Dug)
	}
}

// factors are what becomes of a cubic metre of a material, as the job has it; nil: not on file.
func (c *checker) factors(of string) *struct{ loose, compacted float64 } {
	if c.job == nil {
		return nil
	}
	for _, f := range c.job.Dig.Bulking {
		if f.Of == of {
			loose, err1 := strconv.ParseFloat(f.Loose, 64)
			compacted, err2 := strconv.ParseFloat(f.Compacted, 64)
			if err1 == nil && err2 == nil {
				return &struct{ loose, compacted float64 }{loose, compacted}
			}
		}
	}
	return nil
}

// checkBalances: of each material, in each state, what is dug and brought in goes back or leaves.
func (c *checker) checkBalances(b *books) {
	stands := map[string]bool{}
	for i := range b.Balances {
		x := &b.Balances[i]
		stands[x.Of] = true
		dug, back := b.of(x.Of)
		if x.Dug.Bank == nil {
			c.say("%s: what is dug is not said", x.Of)
			continue
		}
		c.billionth(x.Of+": dug, against the total", *x.Dug.Bank, dug, dug)
		if x.Back.Compacted != nil {
			c.billionth(x.Of+": back in place, against the total", *x.Back.Compacted, back, dug+back)
		} else if back > 0 {
			c.say("%s: %g m³ go back, and the balance does not say so", x.Of, back)
		}
		c.checkHeaps(x, dug+back)
		c.checkLoads(x)
	}
	for _, of := range []string{"topsoil", "soil", "rock"} {
		if dug, back := b.of(of); (dug > 0 || back > 0) && !stands[of] {
			c.say("%s: %g m³ dug and %g m³ back have no balance", of, dug, back)
		}
	}
}

// of is what is dug and what goes back of a material in all.
func (b *books) of(material string) (dug, back float64) {
	switch material {
	case "topsoil":
		return b.Total.Topsoil, b.Total.TopsoilBack
	case "soil":
		return b.Total.Soil, b.Total.Fill
	}
	return b.Total.Rock, 0
}

func (c *checker) checkHeaps(x *balance, size float64) {
	f := c.factors(x.Of)
	for _, h := range []struct {
		what string
		heap
	}{{"dug", x.Dug}, {"back", x.Back}, {"brought in", x.In}, {"leaves", x.Leaves}} {
		if h.Bank == nil || h.Loose == nil || h.Compacted == nil {
			continue
		}
		switch {
		case f != nil:
			c.billionth(x.Of+", "+h.what+": loose", *h.Loose, *h.Bank*f.loose, size)
			c.billionth(x.Of+", "+h.what+": compacted", *h.Compacted, *h.Bank*f.compacted, size)
		case c.job != nil:
			c.say("%s, %s: loose and compacted are said, and no factor is on file", x.Of, h.what)
		}
	}
	for _, state := range []struct {
		what string
		of   func(heap) *float64
	}{{"in the ground", func(h heap) *float64 { return h.Bank }}, {"loose", func(h heap) *float64 { return h.Loose }}, {"compacted", func(h heap) *float64 { return h.Compacted }}} {
		dug, in, back, gone := state.of(x.Dug), state.of(x.In), state.of(x.Back), state.of(x.Leaves)
		if dug != nil && in != nil && back != nil && gone != nil && (f != nil || c.job == nil) {
			c.billionth(x.Of+", "+state.what+": dug and brought in against back and leaves", *dug+*in, *back+*gone, size)
		}
	}
}

func (c *checker) checkLoads(x *balance) {
	if c.job == nil || !c.job.Dig.Load.Known || x.Leaves.Loose == nil || *x.Leaves.Loose <= 0 {
		if c.job != nil && x.Loads != nil {
			c.say("%s: %d loads, and nothing says how large", x.Of, *x.Loads)
		}
		return
	}
	load, known := c.loadOf(x.Of)
	if !known && x.Loads == nil {
		c.needsFinding("loads of "+x.Of, "loose density of "+x.Of)
		return
	}
	if !known || x.Loads == nil || x.Load == nil || math.Abs(*x.Load-load) > 1e-6*load {
		c.say("%s: %g m³ loose leave, and no loads are said", x.Of, *x.Leaves.Loose)
		return
	}
	load = *x.Load
	if want := math.Ceil(*x.Leaves.Loose/load - 1e-9); float64(*x.Loads) != want {
		c.say("%s: %d loads of %g m³ for %g m³, recomputed %g", x.Of, *x.Loads, load, *x.Leaves.Loose, want)
	}
}

// loadOf is the loose volume in one load of a material, read out of the job's text by sums of its own.
func (c *checker) loadOf(of string) (float64, bool) {
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.ReplaceAll(text, ",", "")), 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	yard := 0.9144 * 0.9144 * 0.9144
	text := strings.ReplaceAll(c.job.Dig.Load.Value, "³", "3")
	if before, ok := strings.CutSuffix(text, "yd3"); ok {
		return number(before) * yard, true
	}
	if v := number(strings.TrimSuffix(text, "m3")); !math.IsNaN(v) {
		return v, true
	}
	kilos := func(text string) float64 {
		for _, u := range []struct {
			name string
			kg   float64
		}{{"short tons", 2000 * 0.45359237}, {"short ton", 2000 * 0.45359237}, {"lb", 0.45359237}, {"kg", 1}, {"t", 1000}} {
			if before, ok := strings.CutSuffix(strings.TrimSpace(text), u.name); ok {
				return number(before) * u.kg
			}
		}
		return math.NaN()
	}
	for _, b := range c.job.Dig.Bulking {
		if b.Of != of || !b.Density.Known {
			continue
		}
		mass, per, _ := strings.Cut(strings.ReplaceAll(b.Density.Value, "³", "3"), "/")
		density := kilos(mass)
		if strings.TrimSpace(per) == "yd3" {
			density /= yard
		}
		v := kilos(text) / density
		return v, !math.IsNaN(v)
	}
	return 0, false
}
