package edit

import (
	"fmt"
	"slices"
	"strings"

	"trenchwright/job"
)

// take gives a leg what an answer of a replan makes of it: what lies, where it was measured, and the rest as it was chosen.
func (w *work) take(e *Edit) bool {
	if !w.declared() {
		return false
	}
	i, ok := w.leg(e.Leg)
	if !ok {
		return false
	}
	if e.Built == nil {
		return w.fault("no-answer", "route.legs["+e.Leg+"].built", "nothing says what lies and what is to come", "plan again from the records, and take one of the answers")
	}
	l := &w.job.Route.Legs[i]
	made := *e.Built
	l.Built = &made
	said := fmt.Sprintf("leg %s: what lies up to %s stays as it was measured, the rest as it was chosen", l.ID, made.To)
	for _, s := range e.Services {
		if slices.ContainsFunc(l.Services, func(o job.Service) bool { return o.Name == s.Name && o.At == s.At }) {
			continue
		}
		if w.used()[strings.ToLower(s.ID)] {
			s.ID = w.fresh("F", nil)
		}
		l.Services = append(l.Services, s)
		said += w.speech.Say("; %s at %s is in the job now", s.Name, s.At)
	}
	return w.say("leg/"+l.ID, "%s", said)
}

// lying refuses what would part a leg on which something lies, join it with another one or give it another name: its places have names
// that people hold. It is true where nothing lies.
func (w *work) lying(i int, what string) bool {
	l := &w.job.Route.Legs[i]
	if l.Built == nil {
		return true
	}
	return w.fault("lies", "route.legs["+l.ID+"].built", fmt.Sprintf("units lie on leg %s up to %s: %s", l.ID, l.Built.To, what), "keep the leg as it is, and let what is new begin at one of its nodes; or take out what is built, if it was lifted")
}
