package landxml

import (
	"encoding/xml"
	"math"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// Profile is one line of levels along an alignment.
type Profile struct {
	Name string
	PVIs []PVI // by station; at least two, the first and the last without a curve
}

// PVI is a point where two grades meet, with the curve that rounds it.
type PVI struct {
	Chainage measure.Length // on the alignment's line
	Level    measure.Length
	Curve    Curve
	In, Out  measure.Length // of a parabola: its length before and behind the point, in plan
	Radius   measure.Length // of a circular curve, without a sign
}

// Curve is how a PVI is rounded. The zero value: not at all.
type Curve string

// The curves of LandXML.
const (
	NoCurve  Curve = ""
	Parabola Curve = "parabola"
	Circular Curve = "circular"
)

// rawProfile is a ProfAlign as it is written.
type rawProfile struct {
	name string
	pvis []rawPVI
	line int
}

type rawPVI struct {
	kind, text      string
	in, out, radius string
	line            int
}

// profile reads a Profile: its ProfAlign elements, and the surfaces that are sampled along the line.
func (r *reader) profile(d *drawn) error {
	return r.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "ProfAlign":
		case "ProfSurf":
			return r.sampled(e, d)
		default:
			return r.skip()
		}
		p := rawProfile{name: attr(e, "name"), line: r.at()}
		err := r.children(func(e xml.StartElement) (err error) {
			v := rawPVI{kind: e.Name.Local, radius: attr(e, "radius"), line: r.at()}
			switch v.kind {
			case "ParaCurve":
				v.in = attr(e, "length")
			case "UnsymParaCurve":
				v.in, v.out = attr(e, "lengthIn"), attr(e, "lengthOut")
			case "PVI", "CircCurve":
			default:
				return r.skip()
			}
			if v.text, err = r.text(); err != nil {
				return err
			}
			p.pvis = append(p.pvis, v)
			return r.keep(1)
		})
		d.profiles = append(d.profiles, p)
		return err
	})
}

// profilesOf makes the profiles of an alignment; one that cannot be read is said and left out, and the line stays.
func (r *reader) profilesOf(d drawn, a Alignment) []Profile {
	var out []Profile
	for _, raw := range d.profiles {
		p, line, why := r.oneProfile(raw, a.StaStart)
		if why != "" {
			r.say(r.finding(finding.Attention, line, "profile", "%s: its profile %q is left out: %s", d.called(), clipped(raw.name), why))
			continue
		}
		out = append(out, p)
		first, last := p.PVIs[0].Chainage, p.PVIs[len(p.PVIs)-1].Chainage
		if over := -first; over > r.opts.Gap {
			r.say(r.finding(finding.Attention, raw.line, "profile-early", "%s: its profile %q begins %.3f m before the line", d.called(), clipped(raw.name), over.Metres()))
		}
		if first > r.opts.Gap || last < a.Line.Length()-r.opts.Gap {
			r.say(r.finding(finding.Attention, raw.line, "profile-short", "%s: its profile %q covers %.3f m to %.3f m of a line of %.3f m",
				d.called(), clipped(raw.name), first.Metres(), last.Metres(), a.Line.Length().Metres()))
		}
	}
	return out
}

func (r *reader) oneProfile(raw rawProfile, sta measure.Length) (Profile, int, string) {
	p := Profile{Name: raw.name}
	if len(raw.pvis) < 2 {
		return p, raw.line, "it needs two points, and has " + decimal(len(raw.pvis))
	}
	for i, v := range raw.pvis {
		pvi, why := r.pvi(v, sta)
		end := i == 0 || i == len(raw.pvis)-1
		switch {
		case why != "":
		case end && pvi.Curve != NoCurve:
			why = "it begins or ends with a curve"
		case i > 0 && pvi.Chainage <= p.PVIs[i-1].Chainage:
			why = "its stations do not rise"
		}
		if why != "" {
			return p, v.line, why
		}
		p.PVIs = append(p.PVIs, pvi)
	}
	for i := 1; i < len(p.PVIs); i++ {
		_, to := p.extent(i - 1)
		if from, _ := p.extent(i); from-to < -r.opts.Gap {
			return p, raw.pvis[i].line, "its curves overlap"
		}
	}
	return p, 0, ""
}

func (r *reader) pvi(v rawPVI, sta measure.Length) (PVI, string) {
	var p PVI
	f := strings.Fields(v.text)
	if len(f) != 2 {
		return p, "a station and a level were expected, and there are " + decimal(len(f)) + " numbers"
	}
	at, ok := length(f[0], r.file.Unit)
	if !ok {
		return p, notANumber(f[0])
	}
	if p.Level, ok = length(f[1], r.file.Elevations); !ok {
		return p, notANumber(f[1])
	}
	p.Chainage = at - sta
	switch v.kind {
	case "ParaCurve":
		whole, ok := length(v.in, r.file.Unit)
		if !ok || whole < 0 {
			return p, "a curve has no length"
		}
		p.Curve, p.In, p.Out = Parabola, whole/2, whole-whole/2
	case "UnsymParaCurve":
		in, okIn := length(v.in, r.file.Unit)
		out, okOut := length(v.out, r.file.Unit)
		if !okIn || !okOut || in < 0 || out < 0 {
			return p, "a curve has no lengths"
		}
		p.Curve, p.In, p.Out = Parabola, in, out
	case "CircCurve":
		radius, ok := length(v.radius, r.file.Unit)
		if !ok || radius == 0 {
			return p, "a circular curve has no radius"
		}
		p.Curve, p.Radius = Circular, radius.Abs()
	}
	return p, ""
}

// grades are the grades before and behind point i, as rise over run.
func (p Profile) grades(i int) (before, behind float64) {
	grade := func(k int) float64 {
		a, b := p.PVIs[k], p.PVIs[k+1]
		return float64(b.Level-a.Level) / float64(b.Chainage-a.Chainage)
	}
	if i > 0 {
		before = grade(i - 1)
	}
	if i < len(p.PVIs)-1 {
		behind = grade(i)
	}
	return before, behind
}

// extent is where the curve at point i begins and ends.
func (p Profile) extent(i int) (from, to measure.Length) {
	v := p.PVIs[i]
	if v.Curve == Circular {
		t, g1, g2 := p.tangent(i)
		v.In = rounded(t / math.Sqrt(1+float64(g1*g1)))
		v.Out = rounded(t / math.Sqrt(1+float64(g2*g2)))
	}
	return v.Chainage - v.In, v.Chainage + v.Out
}

// tangent is the length of both tangents of the circular curve at point i, along the grades: R·tan(half the turn).
func (p Profile) tangent(i int) (t, before, behind float64) {
	before, behind = p.grades(i)
	half := math.Abs(math.Atan(behind)-math.Atan(before)) / 2
	return float64(p.PVIs[i].Radius.Metres() * math.Tan(half)), before, behind
}

// Level is the level at a chainage, rounded to the nanometre; ok is false outside the profile.
func (p Profile) Level(ch measure.Length) (level measure.Length, ok bool) {
	n := len(p.PVIs)
	if n < 2 || ch < p.PVIs[0].Chainage || ch > p.PVIs[n-1].Chainage {
		return 0, false
	}
	i := 1 // the point at the end of the grade that holds ch
	for i < n-1 && p.PVIs[i].Chainage < ch {
		i++
	}
	for _, k := range []int{i - 1, i} {
		if from, to := p.extent(k); p.PVIs[k].Curve != NoCurve && ch > from && ch < to {
			return p.onCurve(k, ch), true
		}
	}
	before, _ := p.grades(i)
	v := p.PVIs[i]
	return v.Level + rounded(float64(before*(ch-v.Chainage).Metres())), true
}

func (p Profile) onCurve(i int, ch measure.Length) measure.Length {
	v := p.PVIs[i]
	before, behind := p.grades(i)
	from, to := p.extent(i)
	x := (ch - v.Chainage).Metres()
	if v.Curve == Parabola {
		// The middle leaves the point by e; each half leaves its grade with the square of the way from its end. A half without
		// length holds no ch.
		in, out := v.In.Metres(), v.Out.Metres()
		e := float64(in*out) / (2 * (in + out)) * (behind - before)
		if x <= 0 && in > 0 {
			s := (ch - from).Metres() / in
			return v.Level + rounded(float64(before*x)+float64(e*s*s))
		}
		s := (to - ch).Metres() / out
		return v.Level + rounded(float64(behind*x)+float64(e*s*s))
	}
	// The circle touches the grade before at from: its centre lies R square to that grade, above a sag and below a crest.
	side := math.Copysign(v.Radius.Metres(), behind-before)
	cos := 1 / math.Sqrt(1+float64(before*before))
	a := (from - v.Chainage).Metres()
	cx := a - float64(side*before*cos)
	cy := float64(before*a) + float64(side*cos)
	h := math.Sqrt(math.Max(float64(side*side)-float64((x-cx)*(x-cx)), 0))
	return v.Level + rounded(cy-math.Copysign(h, side))
}
