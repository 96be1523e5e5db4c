package excavation

// norway is the regulation on the performance of work, chapter 21. Between "deeper than 2.0 m" and "shallower than 2.0 m"
// lies 2.0 m itself, of which it says nothing.
func norway() Profile {
	return Profile{
		ID: "norway", Name: "Norway", Law: "Norway, Regulations concerning the performance of work", Read: read,
		Source:  "arbeidstilsynet.no, 21-4 and 21-5; a later copy has the same figures as 21-7 and 21-8",
		Protect: &Limit{2000 * mm, "2.0 m", false, "21-4", false},
		Bare:    &Limit{2000 * mm, "2.0 m", true, "21-4", false},
		Spoil:   &Limit{1000 * mm, "1.0 m", false, "21-5", false},
		Entry:   &Limit{1000 * mm, "1.0 m", false, "21-5", false},
		Signs:   true,
		Notes:   []string{"ground that is frozen has rules of its own (21-4)", "plans are needed before digging deeper than 2.0 m (21-2)"},
	}
}

// northernTerritory is the work health and safety regulation, which follows the Australian model.
func northernTerritory() Profile {
	return Profile{
		ID: "nt", Name: "Australia, Northern Territory", Law: "Northern Territory Work Health and Safety Regulations", Read: read,
		Source: "classic.austlii.edu.au, reg 306", Advice: true,
		Protect: &Limit{1500 * mm, "1.5 m", true, "reg 306", false},
		Notes:   []string{"the work area is to be secured from entry from 1.5 m on (reg 306(1))"},
	}
}
