package published

const (
	subpartP = "29 CFR 1926 Subpart P: "
	aHolds   = "solve/check/excavation.TestLimitsAsPublished"
)

var excavation = []Set{
	{Name: "excavation.entry", ID: "1.1", What: "jurisdiction: depth from which a way out is needed, furthest way along the trench to it, ft", Lines: "osha = 4 25", Source: subpartP + "1926.651(c)(2)", Status: R, Test: aHolds},
	{Name: "excavation.ladders", ID: "1.1", What: "length of trench, ft: ladders where the way to one is 25 ft at most", Lines: "50 = 1\n50.01 = 2\n180 = 4", Source: "half of a ladder's reach to either side", Status: C, Test: "solve/check/excavation.TestLaddersAlongTheTrench"},
	{Name: "excavation.spoil", ID: "1.2", What: "jurisdiction: least free edge, ft", Lines: "osha = 2", Source: subpartP + "1926.651(j)(2)", Status: R, Test: aHolds},
	{Name: "excavation.protect", ID: "1.3", What: "jurisdiction: depth from which sides are protected, depth beyond which an engineer designs, ft", Lines: "osha = 5 20", Source: subpartP + "1926.652(a)(1), Appendix B", Status: R, Test: aHolds},
	{Name: "excavation.beside", ID: "1.4", What: "jurisdiction: ladder above the edge, shield above the lower part, dig below a shield, depth from which air is tested, depth from which crossings have guardrails, ft; oxygen below which air is bad, %",
		Lines: "osha = 3 1.5 2 4 6 19.5", Within: 1e-9, Source: subpartP + "1926.651, 652; EM 385-1-1 25.C", Status: R, Test: aHolds},
	{Name: "excavation.short", ID: "1.4", What: "class of soil: run for 1 of rise, depth to which it holds, ft, hours that it may be open", Lines: "A = 0.5 12 24", Source: subpartP + "Appendix B, Table B-1, short term", Status: R, Test: aHolds},
	{Name: "excavation.slope", ID: "1.5", What: "class of soil: run for 1 of rise; angle, deg", Lines: "rock = 0 90\nA = 0.75 53±0.5\nB = 1 45\nC = 1.5 34±0.5", Within: 1e-9, Source: subpartP + "Appendix B, Table B-1", Status: R, Test: aHolds},
	{Name: "excavation.top", ID: "1.7", What: "class of soil, depth and bottom, ft: width at the top, ft; none: an engineer's design", Lines: "C 6 3 = 21\nB 12 3 = 27\nA 8 3 = 15\nrock 10 3 = 3\nA 20.01 3 = none\nB 20.01 3 = none\nC 20.01 3 = none\nrock 20.01 3 = none",
		Within: 1e-9, Source: "bottom + 2 x run x depth, by Table B-1", Status: C, Test: "solve/check/excavation.TestTopWidthAsPublished"},
	{Name: "excavation.elsewhere", ID: "1 elsewhere", What: "jurisdiction and what of its rules: figure, m", Lines: `norway protect = 2
norway bare = 2
norway spoil = 1
norway entry = 1
alberta protect = 1.5
alberta upright = 1.5
alberta entry = 1.5
alberta travel = 8
bc protect = 1.2
bc travel = 8
bc engineer = 6
bc beside = 3
quebec apart = 15
quebec above = 1
canada protect = 1.4
canada steeper = 1
nt protect = 1.5`, Within: 1e-9, Status: R, Test: aHolds,
		Source: "Norway, performance of work 21-4, 21-5; Alberta OHS Code s. 450, 455; British Columbia OHSR 20.78, 20.81, 20.87; Québec S-2.1 r. 4 s. 3.15.4; Canada SOR/86-304 3.12; Northern Territory WHS reg 306. beside and steeper are the run for 1 of rise"},
	{Name: "excavation.memory", ID: "1 elsewhere", What: "jurisdiction and what of its rules: figure, m", Lines: "ontario protect = 1.2\nontario spoil = 1\nontario upright = 1.2", Within: 1e-9, Source: "Ontario Regulation 213/91 s. 233, 234", Status: M, Test: aHolds},
}
