package landxml

import (
	"encoding/xml"
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Sampled is a surface as it lies along an alignment (ProfSurf). Between the samples of a stretch it is straight; between
// two stretches there is none.
type Sampled struct {
	Name, Desc, State string
	Stretches         [][]Sample
}

// Sample is the level of a surface at a chainage.
type Sample struct{ Chainage, Level measure.Length }

// rawSampled is a ProfSurf as it is written.
type rawSampled struct {
	name, desc, state string
	lists             []string
	line              int
}

func (r *reader) sampled(e xml.StartElement, d *drawn) error {
	s := rawSampled{name: attr(e, "name"), desc: attr(e, "desc"), state: attr(e, "state"), line: r.at()}
	err := r.children(func(e xml.StartElement) error {
		if e.Name.Local != "PntList2D" {
			return r.skip()
		}
		text, err := r.text()
		if err != nil {
			return err
		}
		n := 0
		for range strings.FieldsSeq(text) {
			n++
		}
		s.lists = append(s.lists, text)
		return r.keep(n/2 + 1)
	})
	d.sampled = append(d.sampled, s)
	return err
}

// sampledOf makes the sampled surfaces of an alignment; one that cannot be read is said and left out.
func (r *reader) sampledOf(d drawn, a Alignment) []Sampled {
	var out []Sampled
	for _, raw := range d.sampled {
		s := Sampled{Name: raw.name, Desc: raw.desc, State: raw.state}
		why := ""
		for _, text := range raw.lists {
			var stretch []Sample
			if stretch, why = r.stretch(text, a.StaStart); why != "" {
				break
			}
			s.Stretches = append(s.Stretches, stretch)
		}
		if why == "" && len(s.Stretches) == 0 {
			why = "it has no list of points"
		}
		if why != "" {
			r.say(r.finding(finding.Attention, raw.line, "profile", "%s: its ground %q is left out: %s", d.called(), clipped(raw.name), why))
			continue
		}
		out = append(out, s)
	}
	return out
}

// stretch reads pairs of a station and a level; stations may stand still, at an upright step, and never fall.
func (r *reader) stretch(text string, sta measure.Length) ([]Sample, string) {
	f := strings.Fields(text)
	if len(f) == 0 || len(f)%2 != 0 {
		return nil, fmt.Sprintf("%d numbers are no pairs of a station and a level", len(f))
	}
	out := make([]Sample, 0, len(f)/2)
	for i := 0; i < len(f); i += 2 {
		at, ok := length(f[i], r.file.Unit)
		if !ok {
			return nil, notANumber(f[i])
		}
		level, ok := length(f[i+1], r.file.Elevations)
		if !ok {
			return nil, notANumber(f[i+1])
		}
		if at -= sta; len(out) > 0 && at < out[len(out)-1].Chainage {
			return nil, "its stations fall"
		}
		out = append(out, Sample{at, level})
	}
	return out, ""
}

// sampled writes a surface along the alignment, a list of points for each stretch.
func (w *writer) sampled(s Sampled, a Alignment) {
	w.start("ProfSurf", "name", s.Name, "desc", s.Desc, "state", s.State)
	for _, stretch := range s.Stretches {
		w.tag("PntList2D", ">\n", nil)
		w.depth++
		for _, p := range stretch {
			w.indent()
			w.put(w.figure(a.StaStart+a.grid(p.Chainage)), " ", w.figure(p.Level), "\n")
		}
		w.end("PntList2D")
	}
	w.end("ProfSurf")
}

// fault says why a sampled surface is not written.
func (s Sampled) fault() string {
	if s.Name == "" {
		return "a ground along it has no name"
	}
	if len(s.Stretches) == 0 {
		return fmt.Sprintf("the ground %q along it has no points", s.Name)
	}
	for _, stretch := range s.Stretches {
		if len(stretch) == 0 {
			return fmt.Sprintf("the ground %q along it has no points", s.Name)
		}
		for i, p := range stretch {
			switch {
			case !reached(p.Chainage, p.Level):
				return fmt.Sprintf("a figure of the ground %q along it passes a million km", s.Name)
			case i > 0 && p.Chainage < stretch[i-1].Chainage:
				return fmt.Sprintf("the stations of the ground %q along it fall", s.Name)
			}
		}
	}
	return ""
}
