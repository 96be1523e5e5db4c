package published

// Left is a value that was gathered and that nothing here goes by.
type Left struct{ ID, Why string }

// LeftOut are those values: of each, why the program has no use for it.
func LeftOut() []Left {
	return []Left{
		{"1.6", "whoever is competent says the class of the soil; no strength is entered that a class could follow from"},
		{"1.9", "a line without a voltage reads NOT CHECKED and its owner is asked; nothing is presumed of it"},
		{"1.10", "which respirator goes with which saw: the cut card names the rule and prints no figure of it"},
		{"1.11", "days of notice differ by state: they are those of the ticket"},
		{"4.1 in part", "the lane load of 0.64 klf: what is held are wheels"},
		{"4.5 in part", "friction, recess and dowels of a plate: a caution of the check says that how it is kept in place is not in it"},
		{"4.12 in part", "Nγ of Meyerhof and of Hansen: bearing goes by Vesić's"},
		{"5.2 in part", "ratings of a whole sling by its included angle: the limit that is entered is that of one leg"},
		{"5.9 in part", "the plan area of a mitred end, 0.72 m²: masses go by the length of the axis"},
		{"5.6 in part", "three quarters of the chart for machines together: from memory, and the reserve that was read is held"},
		{"6.1", "areas for cable trays by their width: a covered trench is no tray, and its share is the owner's rule"},
		{"6.4 in part", "least bends by the thickness of insulation or the core: the schedule has neither"},
		{"6.7 in part", "mixed sizes by 1/√n, wide gaps and idle cables: circuits count as they are entered"},
		{"7.6", "gradings of stone: nobody enters a sieve analysis"},
		{"8.3", "warming of concrete: joints and their gaps are the supplier's figures"},
		{"8.4", "tolerances of sections by their size: they are the supplier's figures, and a standard's would stand in for them"},
		{"8.5", "anchors in concrete: no anchor is designed here; lifting points are the supplier's"},
		{"9.3", "gangs by hours and rate: how many people a gang has is entered"},
	}
}

// Read is values that a test reads from vectors.json itself, because they are books and lines rather than figures.
type Read struct{ ID, Kind, What, Test string }

// Reads are those.
func Reads() []Read {
	return []Read{
		{"3.1", "level_book", "level book by rise and fall", "solve/levelling.TestLevelBooksAsPublished"},
		{"3.2", "level_book", "level book by height of instrument, ft", "solve/levelling.TestLevelBooksAsPublished"},
		{"3.3", "level_loop", "loop of levels, adjusted", "solve/levelling.TestLevelLoopAsPublished"},
		{"3.6", "two_peg", "two-peg test", "solve/levelling.TestTwoPegAsPublished"},
		{"3.8", "traverse", "traverse by the compass rule, ft", "place/route.TestTraverseAsPublished"},
		{"3.10", "vertical_curve", "crest at stations, ft", "solve/profile.TestVerticalCurves"},
		{"3.11", "vertical_curve", "sag at stations, ft", "solve/profile.TestVerticalCurves"},
		{"3.16", "chainage_offset", "chainage and offset of points beside a corner", "place/route.TestChainageAndOffsetAsPublished"},
	}
}
