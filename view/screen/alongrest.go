package screen

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// fill shows the layers of each leg, and how much fill goes in along it.
func (a *along) fill() {
	a.out.Said, a.out.Shape, a.out.Stop = "fill in place, by metre of run", "bar", "stretch"
	if a.speech.Imperial {
		a.out.Said = "fill in place, by yard of run"
	}
	if a.plan.Dig == nil {
		a.out.Open = "NOT CHECKED: no dig on file, so no fill. Ask: whoever has the survey and the levels"
		return
	}
	a.out.Open = "No layer and no test is recorded yet."
	for n := range a.plan.Dig.Legs {
		l := &a.plan.Dig.Legs[n]
		i, ok := a.legs[l.Leg]
		if !ok {
			continue
		}
		layers := len(l.Volumes.Layers)
		text, kind, hatch := count(layers, a.speech.Word(wording.Layer), a.speech.Word(wording.Layers)), "in "+a.speech.Word(wording.Layers), "paper"
		if layers == 0 {
			text, kind, hatch = a.speech.Word(wording.Layers)+" NOT CHECKED", "no height of "+a.speech.Word(wording.Layers)+" on file", "level"
		}
		v, unit := a.format().Volume(measure.Volume(l.Volumes.Fill))
		from := a.begins[i]
		a.stretch(from, from+mm(a.plan.Legs[i].NodeLength), a.kind("row", kind, hatch), fmt.Sprintf("%s: %s, %.1f %s", l.Leg, text, v, unit))
		a.stop(from+1, "leg/"+l.Leg, "leg "+l.Leg)
		a.filled(i, l.Running)
	}
	a.inOrder()
}

// filled adds the fill of each span, by metre or by yard.
func (a *along) filled(leg int, running []planner.DigRunning) {
	long, name := 1000.0, "m³/m"
	if a.speech.Imperial {
		long, name = 914.4, "yd³/yd"
	}
	for n := 0; n+1 < len(running); n++ {
		p, q := &running[n], &running[n+1]
		far := mm(q.At) - mm(p.At)
		if far < 50 {
			continue
		}
		v, _ := a.format().Volume(measure.Volume((q.Fill - p.Fill) / far * long))
		at := (a.strip(leg, p.At) + a.strip(leg, q.At)) / 2
		a.place(at, a.kind("place", "fill, "+name, "stone"), fmt.Sprintf("%.2f", v), v*1000)
	}
}

// cables shows the stretches between turns, and where conduits come in.
func (a *along) cables() {
	a.out.Said, a.out.Stop = "stretches between turns, and what comes in", "turn or entry"
	a.out.Open = "No cable, no pull and no stretch handed over is recorded yet."
	for _, i := range a.draft.order {
		l := &a.plan.Legs[i]
		a.stretch(a.begins[i], a.begins[i]+mm(l.NodeLength), a.kind("row", "between turns", "paper"), a.far(l.NodeLength))
	}
	a.nodeStops(func(n Node) bool { return n.Kind != "end" })
	s := Screen{}
	for _, i := range a.draft.order {
		a.things(i, &s)
	}
	for _, n := range a.nodes() {
		for _, at := range n.Strip {
			if n.Hand != "" {
				a.place(at, a.kind("place", "turn", "stone"), n.Angle+" "+n.Hand, none)
			}
		}
	}
	for _, e := range s.Entries {
		a.place(e.At, a.kind("place", "conduit entry", "paper"), "conduit "+e.ID, none)
		a.stop(e.At, e.Key, e.ID)
	}
	a.inOrder()
}

// cover shows covers as they are laid.
func (a *along) cover() {
	a.out.Said, a.out.Stop = "covers as they are laid; each lies wholly on its "+a.speech.Word(wording.Unit)+", none over a joint", "cut cover"
	a.out.Open = "No cover is recorded as laid yet."
	var s series
	for _, leg := range a.draft.order {
		for u := a.draft.first[leg]; u < a.draft.first[leg+1]; u++ {
			from, _ := a.ends(u)
			for k := a.draft.covers[u]; k < a.draft.covers[u+1]; k++ {
				c := &a.plan.Covers[k]
				name, hatch := isWhole, "paper"
				if c.Cut {
					name, hatch = isCut, "falling"
				}
				if c.Cut && (c.StartAngle != 0 || c.EndAngle != 0) {
					name, hatch = isCut+", "+a.speech.Word(wording.Mitred), "crossed"
				}
				kind := a.kind("cover", name, hatch)
				x := from + float64(mm(c.Start)*a.scales[u])
				a.out.Covers = append(a.out.Covers, kind)
				s.add(a, leg, x, x+float64(mm(c.Length)*a.scales[u]), kind, a.size(c.Length))
				if c.Cut {
					a.stop(x, "cover/"+c.Mark, c.Mark)
				}
			}
		}
	}
	s.end(a)
}

// handover shows what is proven of each leg, and what is open.
func (a *along) handover() {
	a.out.Said, a.out.Stop = "what is proven of each leg, and what is open", "open point"
	a.out.Open = "Nothing built is recorded yet: this is what the plan alone can show."
	proven := map[string]bool{}
	for _, p := range a.plan.Proof.Legs {
		proven[p.Leg] = p.Verified
	}
	for _, i := range a.draft.order {
		l := &a.plan.Legs[i]
		name, hatch, text := "laid out, not verified", "dots", "not verified"
		if proven[l.Name] {
			name, hatch, text = "proven, verified by a separate checker", "paper", "proven"
		}
		if l.Verdict != "found" {
			name, hatch, text = l.Verdict, "crossed", l.Verdict
		}
		a.stretch(a.begins[i], a.begins[i]+mm(l.NodeLength), a.kind("row", name, hatch), l.Name+" "+text)
	}
	hatches := map[finding.Kind]string{finding.NotChecked: "level", finding.Attention: "stone", finding.Fault: "crossed", finding.Impossible: "crossed"}
	for _, f := range a.findings() {
		hatch := hatches[finding.Kind(f.Kind)]
		if hatch == "" || f.At == nil {
			continue
		}
		a.place(*f.At, a.kind("place", openWord(f.Kind), hatch), f.Name, none)
		a.stop(*f.At, "finding/"+f.Name, f.Name)
	}
	a.inOrder()
}

// openWord is a kind of finding as the strip says it.
func openWord(kind string) string {
	if kind == string(finding.NotChecked) {
		return "NOT CHECKED"
	}
	return kind
}
