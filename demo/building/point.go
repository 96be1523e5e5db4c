package building

import (
	"slices"

	"trenchwright/job/field"
)

// weather is today's, and the events of which people know.
type weather struct {
	rain, frost bool
	events      []string // records of all of them
	site        int      // how many of those every device has been told of by word of mouth
}

func (w *weather) say() string {
	switch {
	case w.rain:
		return "rain"
	case w.frost:
		return "frost in the morning"
	}
	return "dry"
}

// weatherToday throws for rain and frost; either ends releases.
func (s *site) weatherToday() {
	s.weather.rain, s.weather.frost = !s.calm && s.once(8), !s.calm && s.once(20)
	what := ""
	switch {
	case s.weather.rain:
		what = "rain"
	case s.weather.frost:
		what = "frost"
	default:
		return
	}
	s.surprise(what, nil, 0)
	s.weather.events = append(s.weather.events, s.write(s.inspector, entry{kind: field.Event, says: field.EventSays{What: what}}))
}

// release looks at a hold point and releases it: notice, inspection, release. Whoever releases knows what the weather was.
func (s *site) release(point, from, to string) {
	after := slices.Clone(s.weather.events)
	says := field.PointSays{Point: point}
	notice := says
	notice.Party = "inspector, by message"
	s.write(s.engineer, entry{kind: field.Notice, from: from, to: to, says: notice})
	meets := says
	meets.Result = "meets"
	s.write(s.inspector, entry{kind: field.Inspection, from: from, to: to, says: meets, after: after})
	let := says
	let.Party = s.lets(point)
	if p, listed := s.contract.Point(point); !listed || p.Before == "bed" || p.Before == "set" {
		let.Lapses = []string{"rain", "frost"} // what lies open to the weather
	}
	s.write(s.inspector, entry{kind: field.Release, from: from, to: to, says: let, after: after})
}

// lets is who releases a point by the contract; the inspector where it names nobody.
func (s *site) lets(point string) string {
	if p, listed := s.contract.Point(point); listed && p.Release != "" {
		return p.Release
	}
	return s.inspector.person
}

// let has what the contract lists before a step looked at and released.
func (s *site) let(step, from, to string) {
	for _, p := range s.job.Rules.Points {
		if p.Before == step {
			s.release(p.Name, from, to)
		}
	}
}

// holdPoint is the point that setting waits for: as the contract lists it, else a name of the stretch's own.
func (s *site) holdPoint(own string) string {
	for _, p := range s.job.Rules.Points {
		if p.Kind == "hold" && p.Before == "set" {
			return p.Name
		}
	}
	return own
}

// released tells whether a stretch may be set on. What was released before it rained is looked at once more, by the records.
func (s *site) released(x *stretch, from, to string) bool {
	for _, p := range s.inspector.book.State("").Points {
		if p.Point == x.point && p.From == from && p.To == to && p.Released.Is == field.Yes {
			return true
		}
	}
	s.surprise("release lapsed", nil, 0)
	s.tell("The release of %s lapsed with the weather; it was looked at again.", x.point)
	s.release(x.point, from, to)
	return false
}
