package job

// programme is what nobody entered of the programme, where the job has one.
func (m *missing) programme() {
	p := m.job.Programme
	if p == nil {
		return
	}
	root := (*place)(nil).field("programme")
	if !p.Open.Known {
		m.say("programme-open", root.field("open"), "length on file that may be open at once", "the competent person")
	}
	does := map[string]bool{}
	for i, g := range p.Gangs {
		at := root.field("gangs").item(i, g.ID)
		for k, r := range g.Does {
			does[r.Work] = true
			if !r.Rate.Known {
				m.say("programme-rate", at.field("does").item(k, r.Work).field("rate"), "rate of "+r.Work+" of gang "+g.ID, engineer)
			}
		}
		if !g.Cost.Known {
			m.say("programme-cost", at.field("cost"), "cost of gang "+g.ID, engineer)
		}
	}
	noticed := false
	for _, w := range p.Windows {
		noticed = noticed || w.Kind == "notice"
	}
	for i, w := range p.Works {
		at := root.field("works").item(i, w.Work)
		if !does[w.Work] {
			m.say("programme-gang", at, "gang on file that does "+w.Work, engineer)
		}
		if w.Work == "dig" && !noticed {
			m.say("programme-notice", root.field("windows"), "notice on file to the owners of buried services", "the owners of buried services")
		}
	}
}
