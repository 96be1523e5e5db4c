package excavation

import "trenchwright/base/measure"

// The day on which the copies named as sources were read for these tables.
const read = "2026-11-26"

// osha is 29 CFR 1926 Subpart P, federal: states with plans of their own may ask for more.
func osha() Profile {
	twenty := &Limit{20 * ft, "20 ft", false, "1926.652 and Appendix B, Table B-1", false}
	table := "Appendix B, Table B-1"
	return Profile{
		ID: "osha", Name: "United States, federal", Law: "29 CFR 1926 Subpart P", Read: read,
		Source: "copies of the rule at mse.sn, indianaconstructors.org and stepo.ai (Appendix B), unitracc.com (Appendix A)",
		Soils:  []string{"stable rock", "A", "B", "C"}, Rock: "stable rock",
		Protect: &Limit{5 * ft, "5 ft", true, "1926.652(a)(1)", false}, Signs: true,
		Engineer: twenty,
		Slopes: []Slope{
			{Soil: "stable rock", Steep: measure.Grade{Rise: 1}, Upto: twenty, Rule: table},
			{Soil: "A", Steep: measure.Grade{Rise: 2, Run: 1}, Upto: &Limit{12 * ft, "12 ft", false, table, false}, Hours: 24, Rule: table + ", short term"},
			{Soil: "A", Steep: measure.Grade{Rise: 4, Run: 3}, Upto: twenty, Rule: table},
			{Soil: "B", Steep: measure.Grade{Rise: 1, Run: 1}, Upto: twenty, Rule: table},
			{Soil: "C", Steep: measure.Grade{Rise: 2, Run: 3}, Upto: twenty, Rule: table},
		},
		Entry:  &Limit{4 * ft, "4 ft", true, "1926.651(c)(2)", false},
		Travel: &Limit{25 * ft, "25 ft", false, "1926.651(c)(2)", false},
		Above:  &Limit{3 * ft, "3 ft", false, "1926.1053(b)(1)", false},
		Spoil:  &Limit{2 * ft, "2 ft", false, "1926.651(j)(2)", false},
		Air:    &Limit{4 * ft, "4 ft", false, "1926.651(g)(1)", false}, Oxygen: "19.5", AirRule: "1926.651(g)(1)",
		Guard:       &Limit{6 * ft, "6 ft", true, "1926.651(l)", false},
		ShieldAbove: &Limit{18 * in, "18 in", false, "Appendix B", false}, ShieldBelow: &Limit{2 * ft, "2 ft", false, "1926.652(g)(2)", false},
		WetSoil: "C", WetRule: "Appendix A",
		Notes: []string{"spoil may stand nearer behind a retaining device (1926.651(j)(2))",
			"a class A is never given to soil that is fissured, shaken by traffic or piles, or was dug before (Appendix A)",
			"the figures for air, crossings and shields were read, the numbers of their rules are from memory"},
	}
}

// alberta is the Occupational Health and Safety Code, Part 32.
func alberta() Profile {
	upright := 1500 * mm
	return Profile{
		ID: "alberta", Name: "Canada, Alberta", Law: "Alberta Occupational Health and Safety Code, Part 32", Read: read,
		Source: "work.alberta.ca, Part 32 with its guide of 2009; the Code was renewed as Alberta Regulation 191/2021",
		Soils:  []string{"hard and compact", "likely to crack or crumble", "soft, sandy or loose", "solid rock"}, Rock: "solid rock",
		Protect: &Limit{1500 * mm, "1.5 m", false, "s. 450", false},
		Slopes: []Slope{
			{Soil: "soft, sandy or loose", Steep: measure.Grade{Rise: 1, Run: 1}, Rule: "s. 451"},
			{Soil: "hard and compact", Plumb: &upright, Rule: "s. 450(1)(a)"},
			{Soil: "likely to crack or crumble", Plumb: &upright, Rule: "s. 450(1)(a)"},
		},
		Entry:  &Limit{1500 * mm, "1.5 m", false, "s. 455", false},
		Travel: &Limit{8000 * mm, "8 m", false, "s. 455", false},
	}
}

// britishColumbia is the Occupational Health and Safety Regulation, Part 20.
func britishColumbia() Profile {
	return Profile{
		ID: "bc", Name: "Canada, British Columbia", Law: "British Columbia Occupational Health and Safety Regulation", Read: read,
		Source:   "worksafebc.com, Part 20 and its guidelines",
		Protect:  &Limit{1200 * mm, "1.2 m", false, "20.81", false},
		Entry:    &Limit{1200 * mm, "1.2 m", false, "20.87", true},
		Travel:   &Limit{8000 * mm, "8 m", false, "20.87", false},
		Engineer: &Limit{6000 * mm, "6 m", false, "20.78", false},
		Beside:   &measure.Grade{Rise: 1, Run: 3}, BesideRule: "20.78(1)(d)",
		Notes: []string{"a structure beside the dig, vibration or water pressure take written instructions too (20.78)"},
	}
}

// canada is the federal regulation, for works under federal law.
func canada() Profile {
	return Profile{
		ID: "canada", Name: "Canada, federal works", Law: "Canada Occupational Health and Safety Regulations, SOR/86-304", Read: read,
		Source:  "laws-lois.justice.gc.ca, current to 2026-05-26",
		Protect: &Limit{1400 * mm, "1.4 m", false, "3.12(3)", false},
		Steeper: &measure.Grade{Rise: 1, Run: 1},
		Spoil:   &Limit{1000 * mm, "1 m", false, "3.12(6)", false},
	}
}

// quebec is the safety code for construction work.
func quebec() Profile {
	upright := 1200 * mm
	return Profile{
		ID: "quebec", Name: "Canada, Québec", Law: "Québec Safety Code for the construction industry, S-2.1, r. 4", Read: read,
		Source: "legisquebec.gouv.qc.ca", Rock: "sound rock", Soils: []string{"sound rock", "no danger of a slide", "danger of a slide"}, Advice: true,
		Protect: &Limit{0, "any depth", false, "s. 3.15.3", false},
		Slopes:  []Slope{{Soil: "no danger of a slide", Steep: measure.Grade{Rise: 1, Run: 1}, Plumb: &upright, Flatter: true, Rule: "s. 3.15.3(1)(2)"}},
		Apart:   &Limit{15_000 * mm, "15 m", false, "s. 3.15.4", false},
		Above:   &Limit{1000 * mm, "1 m", false, "s. 3.15.4", false},
	}
}

// ontario: soil types were read; slopes and the other figures are from memory and conflict with another page: they warn only.
func ontario() Profile {
	low := 1200 * mm
	return Profile{
		ID: "ontario", Name: "Canada, Ontario", Law: "Ontario Regulation 213/91", Read: read,
		Source: "ihsa.ca, s. 226",
		Soils:  []string{"1", "2", "3", "4"},
		Slopes: []Slope{
			{Soil: "1", Steep: measure.Grade{Rise: 1, Run: 1}, Plumb: &low, Rule: "s. 234", Memory: true},
			{Soil: "2", Steep: measure.Grade{Rise: 1, Run: 1}, Plumb: &low, Rule: "s. 234", Memory: true},
			{Soil: "3", Steep: measure.Grade{Rise: 1, Run: 1}, Rule: "s. 234", Memory: true},
			{Soil: "4", Steep: measure.Grade{Rise: 1, Run: 3}, Rule: "s. 234", Memory: true},
		},
		Protect: &Limit{1200 * mm, "1.2 m", false, "s. 234", true},
		Spoil:   &Limit{1000 * mm, "1 m", false, "s. 233", true},
		Notes:   []string{"only the types of soil were read (s. 226); slopes, spoil and depth are from memory and gate nothing"},
	}
}
