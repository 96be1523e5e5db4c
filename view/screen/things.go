package screen

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// things adds what the job declares along a leg.
func (d *draft) things(leg int, s *Screen) {
	l := d.asked[d.plan.Legs[leg].Name]
	for _, c := range l.Crossings {
		s.Crossings = append(s.Crossings, d.thing(leg, "crossing", c.ID, c.At, c.Path, c.Skew, d.crossingLabel(c)))
	}
	for _, v := range l.Services {
		s.Services = append(s.Services, d.thing(leg, "service", v.ID, v.At, v.Width, v.Skew, d.serviceLabel(v)))
	}
	for _, e := range l.Entries {
		t := d.thing(leg, "entry", e.ID, e.At, e.Diameter, 0, d.entryLabel(e))
		t.Side = e.Side
		s.Entries = append(s.Entries, t)
	}
	for _, v := range l.Supports {
		for n, at := 1, v.At; measure.MM(at) <= d.plan.Legs[leg].NodeLength; n, at = n+1, at+v.Every {
			s.Supports = append(s.Supports, d.thing(leg, "support", v.ID, at, v.Width, 0, d.supportLabel(v, n)))
			if v.Every <= 0 {
				break
			}
		}
	}
	for _, f := range l.Joints {
		t := d.thing(leg, "forced", f.ID, f.At, 2*f.Tol, 0, joined(": ", "joint asked for", f.Why))
		s.Forced = append(s.Forced, t)
	}
}

func (d *draft) thing(leg int, kind, id string, at, wide measure.Length, skew measure.Angle, label string) Thing {
	t := Thing{Key: thingKey(kind, d.plan.Legs[leg].Name, id), ID: id, Leg: d.rank[leg], At: d.strip(leg, measure.MM(at)), Skew: 90, Label: label}
	if skew != 0 {
		t.Skew = skew.Degrees()
	}
	half := wide.Millimetres() / 2 / math.Max(leastSine, math.Sin(t.Skew*math.Pi/180))
	t.From, t.To = t.At-half, t.At+half
	return t
}

// leastSine keeps what runs almost along the run from being drawn without an end.
const leastSine = 0.2

func (d *draft) crossingLabel(c job.Crossing) string {
	name := c.Name
	if name == "" {
		name = "crossing " + c.ID
	}
	name += ", path " + d.speech.Length(c.Path)
	if c.Skew != 0 && c.Skew != 90*measure.Degree {
		name += " at " + degrees(c.Skew.Degrees())
	}
	return name
}

func (d *draft) serviceLabel(v job.Service) string {
	switch {
	case v.Level != nil:
		return v.Name + ", top at level " + d.levelText(*v.Level*d.metres)
	case v.Depth != nil:
		return v.Name + ", " + d.speech.Length(*v.Depth) + " deep"
	}
	return v.Name + ", depth NOT CHECKED"
}

func (d *draft) entryLabel(e job.ConduitEntry) string {
	where := "on the " + e.Side
	if e.Side == "floor" {
		where = "in the floor"
	}
	return d.speech.Say("conduit %s, %s %s", e.ID, e.Diameter, where)
}

func (d *draft) supportLabel(v job.Support, n int) string {
	if v.Every <= 0 {
		return "support " + v.ID
	}
	return d.speech.Say("support %s, number %d, every %s", v.ID, n, v.Every)
}

// joined strings the parts that say something together.
func joined(by string, parts ...string) string {
	out := ""
	for _, p := range parts {
		if p != "" && out != "" {
			out += by
		}
		out += p
	}
	return out
}

// pinLabel is a pin in one line.
func (d *draft) pinLabel(p job.Pin) string {
	of := map[string]string{"": "top of cover", "cover": "top of cover", "wall": "wall top", "invert": "invert"}[p.Of]
	return joined(": ", of+" "+d.levelText(p.Level*d.metres), p.Why)
}

// outletLabel is an outlet in one line.
func (d *draft) outletLabel(o job.Outlet) string {
	of := map[string]string{"": "run and drain", "both": "run and drain", "run": "run", "drain": "drain"}[o.Of]
	out := "outlet " + o.ID + " of " + of
	if o.Into != "" {
		out += " into " + o.Into
	}
	return out
}
