package interchange

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/view/landxml"
)

// LandXML is a plan on its ground as a LandXML document: an alignment for each leg with its profiles, the surfaces, the
// points of the set-out, the pegs and the edges of the dig in a group for each leg, and what it is all set out from. ok is false where the plan holds nothing that LandXML has a place for.
func LandXML(p planner.Plan, j job.Job, surfaces ...*ground.Surface) (landxml.Document, bool) {
	r := of(p, j)
	d := landxml.Document{Program: "Trenchwright", Version: planner.Core, Project: p.Job.Name, Unit: r.unit(), System: r.system(), Note: strings.TrimSpace(r.notes() + r.nowhere()), Origin: r.origin}
	if p.Job.On != "" {
		d.Date, d.Time = p.Job.On, "00:00:00"
	}
	for _, l := range p.Legs {
		line, ok := r.line(l.Name)
		if !ok {
			continue
		}
		a := landxml.Alignment{Name: l.Name, State: "proposed", Line: line, Profiles: r.profiles(l.Name), Desc: r.said(l)}
		for _, s := range surfaces {
			if along, ok := r.along(line, s); ok {
				a.Ground = append(a.Ground, along)
			}
		}
		d.Alignments = append(d.Alignments, a)
	}
	for _, s := range surfaces {
		if s.FaceCount() > 0 {
			d.Surfaces = append(d.Surfaces, faces(s))
		}
	}
	d.Points = slices.Concat(r.setOut(), r.nodes(), r.setOutFrom(), r.pegs(), r.digPoints())
	return d, len(d.Alignments)+len(d.Points) > 0
}

// said tells what a leg is, in a line.
func (r run) said(l planner.Leg) string {
	text := fmt.Sprintf("leg %s from %s to %s", l.Name, l.From, l.To)
	if l.Verdict != "found" {
		return text + ", " + l.Verdict
	}
	word := wording.Units
	if l.Count.Units == 1 {
		word = wording.Unit
	}
	return text + r.Job.Speech().Say(", %d %s, %d cut", l.Count.Units, word, l.Count.Cuts)
}

// setOut are the points of the set-out, by the names that they have on the sheets.
func (r run) setOut() []landxml.Point {
	var out []landxml.Point
	speech := r.Job.Speech()
	group := speech.Word(wording.SetOut)
	for _, s := range r.SetOut {
		p := landxml.Point{Name: s.Place, Code: "joint", Groups: []string{group, "leg " + s.Leg}}
		if strings.HasPrefix(s.Place, "start of ") || strings.HasPrefix(s.Place, "end of ") {
			p.Code = "end"
		}
		p.At.E, p.At.N = measure.FromMetres(s.E), measure.FromMetres(s.N)
		p.Desc = speech.Say("%s %s on leg %s", wording.Chainage, r.station(s.Chainage), s.Leg)
		if z := wallTop(s); z != nil {
			p.Level, p.HasLevel = measure.FromMetres(*z), true
			p.Desc += ", top of the wall"
		} else {
			p.Desc += ", no level on file"
		}
		out = append(out, p)
	}
	return out
}

// station is a chainage as the job's sheets write it, in its own unit.
func (r run) station(at measure.MM) string {
	if r.Job.Speech().Imperial {
		return measure.Chainage(measure.Length(at), measure.Imperial, 3)
	}
	return measure.Chainage(measure.Length(at), measure.Metric, 3)
}

// wallTop is the level of a row of the set-out.
func wallTop(s planner.SetOut) *float64 {
	if s.Levels != nil && s.Levels.Wall != nil {
		return s.Levels.Wall
	}
	return s.Level
}

// made is how something is made at a node, in the job's words.
func (r run) made(how string) string {
	switch how {
	case "mitred":
		return r.Job.Speech().Word(wording.Mitred)
	case "end plate":
		return r.Job.Speech().Word(wording.EndPlate)
	}
	return how
}

// nodes are where legs end or meet, in a group of their own.
func (r run) nodes() []landxml.Point {
	var out []landxml.Point
	for _, n := range r.net.Nodes {
		p := landxml.Point{Name: n.ID, Code: string(n.Kind), Groups: []string{"nodes"}, At: r.origin.Coordinates(n.At)}
		for _, d := range r.Nodes {
			if d.ID != n.ID {
				continue
			}
			p.Desc = r.made(d.Made)
			if d.Level != nil {
				p.Level, p.HasLevel = measure.FromMetres(*d.Level), true
			}
		}
		out = append(out, p)
	}
	return out
}
