package building

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job/field"
)

// ownership is a service in the way, until its owner has answered and a person has taken an answer.
type ownership struct {
	until   int // day of the answer
	service *field.ServiceSays
	moved   bool // nothing else will do
}

// services are found where a stretch is dug: now and then one that nobody knew of, ahead of what is set.
func (s *site) services(g *gang, l *leg, x *stretch) {
	if s.calm || !s.once(9) {
		return
	}
	q := &l.places[x.from+s.below(x.to-x.from+1)]
	at := q.start + s.within(q.take/2) + q.take/2
	width, keep := measure.Length(50+10*s.below(10))*mm, measure.Length(100+20*s.below(5))*mm
	says := field.ServiceSays{Name: fmt.Sprintf("service %d", s.counts.Services+1), What: pick(&s.dice, []string{"cable", "water pipe", "old drain", "duct"}), Met: true, Leg: l.id, At: l.chainage(at), Width: &width, Keep: &keep, Owner: "Works Board (invented)"}
	says.Depth = []field.Depth{field.BelowBed, field.InBed, field.InEnvelope}[s.below(3)]
	l.found = append(l.found, says)
	s.write(g.device, entry{kind: field.Service, says: says, photos: s.photos(2), text: "nobody had it on a drawing"})
	s.tell("%s %s was found on leg %s at %s, %s.", says.What, says.Name, l.id, says.At, says.Depth)
	s.surprise("service "+string(says.Depth), l, 0)
	s.counts.Services++
	l.zones = append(l.zones, zone{at - width/2 - keep, at + width/2 + keep, says.Name})
}

// chainage is that of a place along the laying, from the leg's from node, as the plan has it.
func (l *leg) chainage(at measure.Length) measure.Length {
	if l.back {
		at = l.length - at
	}
	k, _ := slices.BinarySearchFunc(l.stations, at, func(s station, at measure.Length) int { return cmp.Compare(s.at, at) })
	k = min(max(k, 1), len(l.stations)-1)
	a, b := l.stations[k-1], l.stations[k]
	return a.chainage + measure.Length(math.Round(float64(at-a.at)/float64(b.at-a.at)*float64(b.chainage-a.chainage)))
}

// stopped waits for the owner of a service in the way. What he and the engineer answer, once a person has taken it, is a record: where
// it was moved, joints keep no distance from it any more.
func (s *site) stopped(g *gang, l *leg) {
	if l.owner.service == nil {
		s.tellOwner(l)
		return
	}
	if s.day < l.owner.until {
		return
	}
	says, none := *l.owner.service, measure.Length(0)
	how := "the run was raised over it, as the engineer drew"
	if says.Depth = field.InBed; s.below(3) > 0 || l.owner.moved {
		says.Depth, says.Width, says.Keep = field.BelowBed, &none, &none
		how = pick(&s.dice, []string{"lowered by its owner", "diverted by its owner"})
		l.zones = slices.DeleteFunc(l.zones, func(z zone) bool { return z.why == says.Name })
	}
	s.tell("%s: %s. Leg %s goes on.", says.Name, how, l.id)
	s.write(g.device, entry{kind: field.Service, says: says, text: how, photos: s.photos(1)})
	l.found = slices.DeleteFunc(l.found, func(v field.ServiceSays) bool { return v.Name == says.Name })
	if says.Depth == field.InBed {
		l.found = append(l.found, says) // joints keep away from it still
	}
	l.owner = ownership{}
}

// tellOwner tells the owner of the first service in the way on a leg.
func (s *site) tellOwner(l *leg) {
	for _, v := range l.found {
		if v.Depth == field.InEnvelope {
			l.owner = ownership{until: s.day + 2 + s.below(6), service: &v}
			return
		}
	}
}

// noLayout asks the owner of the last service that was found on a leg, where no layout keeps joints away from it: it has to be moved.
func (s *site) noLayout(l *leg) bool {
	if l.owner.service == nil && len(l.found) > 0 {
		says := l.found[len(l.found)-1]
		l.owner = ownership{until: s.day + 2 + s.below(6), service: &says, moved: true}
		s.tell("No layout of leg %s keeps joints away from %s: its owner was asked to move it.", l.id, says.Name)
	}
	return l.owner.service != nil
}
