package screen

import (
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/field"
)

// Instruments as they are set up, closed and checked on site.

// another is the answer that what is meant is not on the job's list.
const another = "another one"

// instrumentForms are what is recorded of an instrument: where it stands, what that closes by, and whether it reads as it should.
func (v *siteView) instrumentForms() []Form {
	benchmark, shows := v.speech.Word(wording.Benchmark), v.speech.Word(wording.RodReading)
	up := []FormField{must(one("rod", "rod", shows+" on it"))}
	level := one("level", "level", "level of it, as you have it")
	if ids := v.benchmarks(); len(ids) > 0 {
		level.More = true // it is on file
		up = append([]FormField{must(oneOf("benchmark", benchmark, append(ids, another)...))}, append(up, more(one("text", "name", "name of another one")), level)...)
	} else {
		up = append([]FormField{must(one("text", "name", benchmark))}, append(up, must(level))...)
	}
	up = append(up, more(one("length", "plus", "how well it was read, each way")))
	return []Form{
		{ID: "setup", Name: "Instrument set up", About: "on a " + benchmark + ": readings from now on are taken from it", Fields: up, Seldom: true},
		{ID: "closing", Name: "Instrument closed", About: "read once more on a " + benchmark + ", before it is taken down", Fields: up, Seldom: true},
		{ID: "check", Name: "Instrument checked", About: "against what it should read", Seldom: true,
			Fields: []FormField{oneOf("met", "as it has to be", "not said", "yes", "no"), one("length", "off", "out by"), more(one("text", "method", "how: two pegs, a known level"))}},
	}
}

// more is asked only of whoever unfolds it.
func more(f FormField) FormField {
	f.More = true
	return f
}

func (v *siteView) benchmarks() (ids []string) {
	for _, b := range v.job.SetOut.Benchmarks {
		ids = append(ids, b.ID)
	}
	return ids
}

// setUp is an instrument on a benchmark: one of the job's list has its level from there, unless somebody says another.
func (h *hearing) setUp(closes bool) field.SetUpSays {
	s := field.SetUpSays{Benchmark: h.said("benchmark"), Closes: closes, Plus: *orNought(h.length("plus"))}
	if s.Benchmark == "" || s.Benchmark == another {
		s.Benchmark = h.said("name")
	}
	level, rod := h.plain("level"), h.plain("rod")
	for _, b := range h.job.SetOut.Benchmarks {
		if b.ID != s.Benchmark {
			continue
		}
		listed := measure.FromMetres(b.Level * h.metres)
		if level == nil {
			level = &listed
		} else if *level != listed {
			h.out.Warn = append(h.out.Warn, b.ID+" has level "+h.levelText(listed.Metres())+" on the job's list.")
		}
	}
	if s.Benchmark == "" {
		h.out.Missing = append(h.out.Missing, "which "+h.speech.Word(wording.Benchmark))
	}
	if level == nil {
		h.out.Missing = append(h.out.Missing, "the level of it")
	}
	if level != nil && rod != nil {
		s.Level, s.Rod = *level, *rod
	}
	return s
}

// plain is a level or what the rod shows as it is, without the height of the instrument.
func (h *hearing) plain(name string) *measure.Length {
	text := h.said(name)
	if text == "" {
		return nil
	}
	r, err := measure.ParseIn(text, h.levelUnit())
	h.echo(name, inThree(r.Length), err)
	return &r.Length
}

// inThree is a reading in metres, in decimal feet and in feet and inches, as rods are divided.
func inThree(l measure.Length) string {
	return strings.Join([]string{
		measure.Format{Survey: true, Places: 3}.Length(l), measure.Format{System: measure.Imperial, Survey: true, Places: 2}.Length(l), measure.Format{System: measure.Imperial}.Length(l),
	}, " · ")
}

// standsAt is the height of an instrument as it is typed, to the hundredth of a millimetre.
func (h *hearing) standsAt(s field.SetUpSays) string {
	return strings.TrimRight(strings.TrimRight(fixed(s.Height().Metres()/h.metres, 5), "0"), ".") + " " + h.unit
}

// againstStanding says by how much an instrument closes: what it stands at by this benchmark against what it was read from.
func (h *hearing) againstStanding(s field.SetUpSays) {
	stands := h.levelText(s.Height().Metres())
	if !s.Closes {
		h.out.Height = h.standsAt(s)
		h.out.Warn = append(h.out.Warn, capital(h.speech.Word(wording.Instrument))+" "+stands+": it is kept for the readings that follow.")
		return
	}
	was, err := measure.ParseIn(h.q.Height, h.levelUnit())
	if err != nil {
		h.out.Warn = append(h.out.Warn, "Nobody said how high the instrument stood: what it closes by cannot be said here.")
		return
	}
	h.out.Warn = append(h.out.Warn, "By this it stands at "+stands+", "+h.highLowOf(s.Height()-was.Length)+" the "+h.levelText(was.Length.Metres())+" that was read from.",
		finding.NoneOnFile("tolerance for what an instrument closes by", "whoever wrote the contract", finding.Where{}).Sentence())
}

// highLowOf is how far something lies above or below something else.
func (h *hearing) highLowOf(off measure.Length) string {
	switch {
	case off > 0:
		return h.speech.Both(off) + " above"
	case off < 0:
		return h.speech.Both(-off) + " below"
	}
	return "the same as"
}

// checked is an instrument that was held against what it should read; which one is said where readings say it.
func (h *hearing) checked() field.CheckSays {
	if strings.TrimSpace(h.q.Instrument) == "" {
		h.out.Missing = append(h.out.Missing, "which instrument: name it under \"read with\"")
	}
	s := field.CheckSays{Method: h.said("method"), Off: h.length("off"), Met: h.yes("met", "yes", "no"), Seen: h.book.Seen()}
	if s.Off == nil && s.Met == nil {
		h.out.Missing = append(h.out.Missing, "whether it is as it has to be, or by how much it is out")
	}
	return s
}
