package published

const (
	stackHold = "solve/levelling.TestStackAsPublished"
	curveHold = "place/route.TestHorizontalCurveAsPublished"
	volHold   = "solve/earthwork.TestVolumesAsPublished"
)

var geometry = []Set{
	{Name: "volume.sections", ID: "2.1", What: "areas at both ends and half way, ft², length, ft: prismoidal, average end area, yd³", Lines: "150 190 250 100 = 716.049 740.741", Within: 0.001, Source: "a calculator's page, recomputed", Status: R, Test: volHold},
	{Name: "volume.sections-handbook", ID: "2.2", What: "areas at both ends and half way, ft², length, ft: prismoidal, yd³", Lines: "1504 1860 2240 100 = 6903.704", Within: 0.001, Source: "Standard Handbook of Engineering Calculations", Status: R, Test: volHold},
	{Name: "volume.dig", ID: "2.3", What: "bottom, m, run of the sides, depth at both ends and length, m: dug, prismoidal, average end area, m³", Lines: "11 2 0.5 2.5 150 = 3250 3250 3450", Within: 1e-6, Source: "an exercise, the section rebuilt", Status: R, Test: volHold},
	{Name: "volume.trench", ID: "2.17", What: "bottom, m, run of the sides, depth at both ends and length, m: dug, prismoidal, average end area, by the depth half way, m³", Lines: "0.8 1 1 1.6 50 = 138 138 141 136.5", Within: 1e-6, Source: "exact integration", Status: C, Test: volHold},
	{Name: "volume.prism", ID: "2.15", What: "area of a triangle, m², heights at its corners, m: m³", Lines: "600 1.2 1.8 2.4 = 1080", Within: 1e-9, Source: "geometry", Status: C, Test: volHold},
	{Name: "volume.grid", ID: "2.9", What: "cell, m, sums of the heights that one to four cells share, m: m³", Lines: "10 24.46 17.38 5.82 4.77 = 2394", Within: 1e-6, Source: "notes on building measurement", Status: R, Test: volHold},
	{Name: "volume.haul", ID: "2.14", What: "density in the bank, loose and compacted, lb/yd³, cut and fill, yd³, load of a truck, yd³: swell, shrink, %; fill in the bank, surplus loose, yd³; loads", Lines: "2800 2295 3256 3000 817 30 = 22.004 14.005 950.054 2501.023 84", Within: 0.001, Source: "a textbook of construction equipment, chapter 5", Status: R, Test: "solve/earthwork.TestHaulAsPublished"},
	{Name: "level.tolerance", ID: "3.tol", What: "mm on the root of a kilometre, km: allowed, mm", Lines: "12 0.25 = 6\n12 0.5 = 8.485\n12 1 = 12\n12 2 = 16.971\n12 4 = 24\n8.4 4 = 16.8\n9 4 = 18", Within: 0.001, Source: "third-order levelling; an army engineers' manual", Status: R, Test: "solve/levelling.TestToleranceAsPublished"},
	{Name: "curve.horizontal", ID: "3.13", What: "PI, ft, degree of 100 ft of arc, turn, deg: radius, tangent, length, PC, PT, external, middle ordinate, long chord, ft", Lines: "3840.23 2 75 = 2864.79 2198.23 3750 1642 5392 746.2 592 3487.95", Within: 0.01, Source: "an exercise; external, ordinate and chord in closed form", Status: R, Test: curveHold},
	{Name: "curve.horizontal-radius", ID: "3.14", What: "PI, radius, ft, turn, deg: tangent, PC, length, ft", Lines: "1101.86 1760 12.4 = 191.2 910.66 380.9", Within: 0.01, Source: "an exercise", Status: R, Test: curveHold},
	{Name: "curve.horizontal-recomputed", ID: "3.15", What: "PI, ft, degree of 100 ft of arc, turn, deg: radius, tangent, length, external, middle ordinate, long chord, PC, PT, ft", Lines: "1922 6 15.5 = 954.93 129.96 258.33 8.80 8.72 257.55 1792.04 2050.37", Within: 0.006, Source: "an exercise, recomputed", Status: Ri, Test: curveHold},
	{Name: "curve.deflection", ID: "3.13", What: "PI, ft, degree of 100 ft of arc, turn, deg, ft of arc from PC: deflection from the tangent, deg", Lines: "3840.23 2 75 58 = 0.58", Within: 1e-7, Source: "half of the arc's turn: 0°34'48\"", Status: C, Test: curveHold},
	{Name: "piece.mitred", ID: "5.9", What: "long side, short side and width, m: centre of gravity from the square end and from the long side, m", Lines: "2 1.6 0.4 = 0.903704 0.192593", Within: 1e-6, Source: "geometry of the trapezoid", Status: C, Test: "job/planner.TestCentreOfAMitredPiece"},
	{Name: "stack.equal", ID: "8.1", What: "how many tolerances, each: at worst, root of the sum of squares", Lines: "10 0.1 = 1 0.316228", Within: 1e-5, Source: "textbook of tolerances", Status: R, Test: stackHold},
	{Name: "stack.mixed", ID: "8.1", What: "four tolerances: at worst, root of the sum of squares", Lines: "0.10 0.05 0.03 0.05 = 0.23±1e-9 0.126", Within: 0.0005, Source: "textbook of tolerances", Status: R, Test: stackHold},
	{Name: "stack.run", ID: "8.2", What: "units and joints, tolerance of each, mm: at worst, root of the sum of squares, mm", Lines: "50 3 49 2 = 248±1e-6 25.4", Within: 0.05, Source: "sums", Status: C, Test: stackHold},
	{Name: "stack.bias", ID: "8.2", What: "units and the bias of their lot, mm: at worst, and no less as a root, mm", Lines: "50 1 = 50 50", Source: "a bias does not cancel", Status: C, Test: stackHold},
	{Name: "corner.mitre", ID: "8.6", What: "deflection, deg, width, m: by how much the sides differ, m", Lines: "30 0.5 = 0.1340\n45 0.5 = 0.2071\n90 0.5 = 0.5\n-90 0.5 = 0.5", Within: 5e-5, Source: "2 x half the width x tangent of half the angle", Status: C, Test: "place/route.TestMitreAsPublished"},
	{Name: "corner.chord", ID: "8.6", What: "chord and radius, m: turn at a joint, deg; sagitta, m", Lines: "1.5 10 = 8.602 0.0282±0.00005", Within: 0.0005, Source: "geometry of the circle", Status: C, Test: "place/route.TestChordOnArcAsPublished"},
}
