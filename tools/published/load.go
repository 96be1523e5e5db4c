package published

const (
	lrfd     = "AASHTO LRFD "
	soilHold = "solve/check/load.TestSoilAsPublished"
	bearHold = "solve/check/load.TestBearingAsPublished"
)

var load = []Set{
	{Name: "load.tandem", ID: "4.1", What: "design tandem: its axles, kip; how far apart, its wheels, their tyre across and along, ft", Lines: "hl93 = 25 25 4 6 1.6666667 0.8333333", Within: 1e-6, Source: lrfd + "3.6.1.2.3, 3.6.1.2.5", Status: R, Test: "solve/check/load.TestVehicles"},
	{Name: "load.truck", ID: "4.1", What: "design truck: its axles, kip; how far apart, ft", Lines: "hl93 = 8 32 32 14 14\nhs20 = 8 32 32 14 14", Within: 1e-9, Source: lrfd + "3.6.1.2.2; read in kN, as below", Status: M, Test: "solve/check/load.TestVehicles"},
	{Name: "load.truck-si", ID: "4.1", What: "design truck: its axles, kN, as the specification rounds them; how far apart, m", Lines: "hl93 = 35±1 145±3 145±3 4.3 4.3", Within: 0.05, Source: lrfd + "3.6.1.2.2", Status: R, Test: "solve/check/load.TestVehicles"},
	{Name: "load.tyre", ID: "4.1", What: "wheel, kip: its tyre across and along, in, without load factor and dynamic allowance", Lines: "16 = 20 6.4", Within: 1e-6, Source: lrfd + "C3.6.1.2.5", Status: R, Test: "solve/check/load.TestTyre"},
	{Name: "load.dynamic", ID: "4.2", What: "depth of fill, ft: dynamic allowance, %", Lines: "0 = 33\n1 = 28.875\n2 = 24.75\n4 = 16.5\n8 = 0\n10 = 0", Within: 1e-9, Source: lrfd + "3.6.2.2", Status: M, Test: "solve/check/load.TestSpreadAsPublished"},
	{Name: "load.spread", ID: "4.3", What: "design vehicle and depth of fill, ft: pressure standing and moving, ksf; rectangle along and across, ft", Lines: "truck 2 = 1.287 1.606 3.133 3.967\ntandem 3 = 0.590 0.712 8.283 5.117", Within: 0.0008, Source: lrfd + "3.6.1.2.6", Status: M, Test: "solve/check/load.TestSpreadAsPublished"},
	{Name: "load.touch", ID: "4.3", What: "tandem and depth of fill, ft: axles and wheels whose rectangles touch", Lines: "2.753 = 1 1\n2.755 = 2 1\n3.767 = 2 1\n3.769 = 2 2", Source: "geometry, with the spread of 4.3", Status: C, Test: "solve/check/load.TestSpreadAsPublished"},
	{Name: "load.earth", ID: "4.3a", What: "depth of fill over a unit 3 ft wide, ft: factor of the earth; 120 lbf/ft³ then press with, lbf/ft²", Lines: "2 = 1.13333 272\n3 = 1.15 414", Within: 0.0001, Source: lrfd + "12.11.2.2.1, a state's culvert manual CM 3.4", Status: R, Test: "solve/check/load.TestEarthOverRigidUnit"},
	{Name: "load.class", ID: "4.4", What: "class: test load, kN; group of places", Lines: "A15 = 15 1\nB125 = 125 2\nC250 = 250 3\nD400 = 400 4\nE600 = 600 5\nF900 = 900 6", Source: "EN 124, EN 1433:2002 clauses 4 and 5", Status: R, Test: "solve/check/load.TestClasses"},
	{Name: "load.class-opening", ID: "4.4", What: "clear opening, mm: share of the test load", Lines: "300 = 1\n250 = 1\n200 = 0.8\n150 = 0.6\n100 = 0.6", Within: 1e-9, Source: "EN 124", Status: M, Test: "solve/check/load.TestNarrowOpening"},
	{Name: "load.plate-road", ID: "4.5", What: "what a road authority asks of a plate: bearing beyond each side, in; longest span without an engineer's design, in", Lines: "plate = 12 63", Within: 1e-9, Source: "a Californian city's standard provisions for work in streets, 5-7.8", Status: R, Test: "solve/check/load.TestPlateByRoadAuthorities"},
	{Name: "load.plate-table", ID: "4.5", What: "span, in: thickness of the plate, in; none: not in the table", Lines: "10 = 0.5\n11 = 0.75\n23 = 0.75\n31 = 0.875\n41 = 1\n63 = 1.25\n64 = none", Within: 1e-9, Source: "California's provisions for plates over trenches", Status: M, Test: "solve/check/load.TestPlateByRoadAuthorities"},
	{Name: "load.plate-strip", ID: "4.5", What: "span and thickness of the plate, in: stress under 16 kip on 10 in, width 20 in + span, ksi", Lines: "10 0.5 = 16.0\n23 0.75 = 17.9\n31 0.875 = 16.0\n41 1 = 14.2\n63 1.25 = 10.7", Within: 0.06, Source: "beam theory, PL/4", Status: C, Test: "solve/check/load.TestPlateBetweenItsBounds"},
	{Name: "load.beam", ID: "4.15", What: "force, span and the length in its middle that it stands on: moment", Lines: "1 1 0 = 0.25\n1 1 1 = 0.125\n16 4 2 = 12", Within: 1e-12, Source: "beam theory: PL/4, wL²/8 and between them", Status: C, Test: "solve/check/load.TestPlateBetweenItsBounds"},
	{Name: "load.point", ID: "4.6", What: "force, kN, depth and distance, m: vertical stress, kPa", Lines: "400 2 0 = 47.746\n1000 5 0 = 19.099\n225 0.6 0 = 298.416\n225 1.2 0 = 74.604\n225 3 0 = 11.937\n500 2 2 = 10.551\n1000 2 1 = 68.329\n1500 5 0 = 28.648", Within: 0.01, Source: "theory of elasticity (Boussinesq); exercises, and Craig's soil mechanics", Status: R, Test: soilHold},
	{Name: "load.patch", ID: "4.6", What: "force, kN, on a square, m, at a depth below its middle, m: vertical stress, kPa", Lines: "1500 2 5 = 26.86", Within: 0.01, Source: "theory of elasticity (Newmark); Craig prints about 27", Status: Ri, Test: soilHold},
	{Name: "load.corner", ID: "4.7", What: "sides over depth: share of the pressure that arrives below the corner", Lines: "1 1 = 0.17522", Within: 0.00001, Source: "Newmark 1935, Fadum", Status: R, Test: soilHold},
	{Name: "load.corner-outside", ID: "4.7", What: "pressure, kPa, on 6 x 3 m, depth 3 m, 1.5 m outside the long edge on its middle: vertical stress, kPa", Lines: "300 = 44.08", Within: 0.01, Source: "Craig's soil mechanics", Status: R, Test: soilHold},
	{Name: "load.strip", ID: "4.8", What: "pressure, kPa, width and depth, m: vertical stress below the middle and the edge, kPa", Lines: "100 2 2 = 54.981 40.915", Within: 0.01, Source: "theory of elasticity (Boussinesq)", Status: C, Test: soilHold},
	{Name: "load.beside", ID: "4.9", What: "pressure, kPa, its edges from the wall and the depth, m: pressure on a wall that does not give way, kPa", Lines: "10 1 3 1.5 = 3.70", Within: 0.005, Source: "theory of elasticity, twice the half space", Status: C, Test: soilHold},
	{Name: "load.rankine", ID: "4.10", What: "height, m, weight, kN/m³, angle of friction, deg, surcharge, kPa: coefficient; thrust of the earth, of the surcharge, of both, kN/m; above the foot, m", Lines: "6 20 20 50 = 0.49029 176.505 147.087 323.592 2.4545", Within: 0.005, Source: "Rankine; worked example in Smith's soil mechanics", Status: Ri, Test: "solve/check/load.TestRankineAsPublished"},
	{Name: "load.active", ID: "4.10", What: "angle of friction, deg: coefficient where the wall gives way", Lines: "30 = 0.333333", Within: 0.000001, Source: "Rankine", Status: C, Test: "solve/check/load.TestRankineAsPublished"},
	{Name: "load.rest", ID: "4.10", What: "angle of friction, deg: coefficient where it does not", Lines: "30 = 0.5", Within: 1e-9, Source: "Jaky", Status: M, Test: "solve/check/load.TestRankineAsPublished"},
	{Name: "load.traffic", ID: "4.11", What: "where vehicles pass: least pressure, lbf/ft²; to a depth, ft", Lines: "beside = 72 10", Within: 1e-9, Source: "California Trenching and Shoring Manual 4.8.1", Status: R, Test: "solve/check/load.TestTrafficBesideWall"},
	{Name: "load.factors", ID: "4.12", What: "angle of friction, deg: Nc, Nq, Nγ", Lines: "0 = 5.14 1 0\n20 = 14.83 6.40 5.39\n25 = 20.72 10.66 10.88\n30 = 30.14 18.40 22.40\n35 = 46.12 33.30 48.03\n40 = 75.31 64.20 109.41", Within: 0.006, Source: "Vesić, by FHWA GEC-6 and Das", Status: R, Test: bearHold},
	{Name: "load.three-terms", ID: "4.12a", What: "width, depth, m, cohesion, kPa, weight, kN/m³, Nc, Nq, Nγ of a square by Terzaghi (shape 1.3, 1, 0.8, no depth): it gives way under, kPa", Lines: "2.25 1.5 0 18 0 49 67 = 2408.4", Within: 0.1, Source: "Craig's soil mechanics, example 8.1", Status: R, Test: bearHold},
	{Name: "load.three-terms-das", ID: "4.12b", What: "the same; and what the footing carries with a factor of 3, kN", Lines: "2 1.5 20 16.5 25.13 12.72 8.34 = 1078.29 1437.7", Within: 0.1, Source: "Das, example 3.1: inputs as read, answer from memory and recomputed", Status: Ri, Test: bearHold},
	{Name: "load.bearing-clay", ID: "4.12", What: "width, length (0 endless), depth, m, cohesion, kPa, friction, deg, weight, kN/m³: it gives way under, kPa", Lines: "2 2 1 50 0 18 = 388.1\n2 0 1 100 0 19 = 635.8", Within: 0.2, Source: "Nc 5.14, shape 1.2, depth 1 + 0.4 of its share", Status: C, Test: bearHold},
	{Name: "load.bearing", ID: "4.12", What: "width, length (0 endless), depth, m, cohesion, kPa, friction, deg, weight, kN/m³: by cohesion, by depth, by width, in all, kPa", Lines: "3 3 1.5 10 28 17 = 470.3 661.0 255.8 1387.0", Within: 0.1, Source: "Vesić's factors with those of shape and depth", Status: C, Test: bearHold},
	{Name: "load.bearing-strip", ID: "4.12", What: "width, length (0 endless), depth, m, cohesion, kPa, friction, deg, weight, kN/m³: it gives way under, kPa", Lines: "1.2 0 1 0 25 16.5 = 329.2", Within: 0.1, Source: "Vesić's factors, depth factor 1.259", Status: C, Test: bearHold},
	{Name: "load.trough", ID: "4.14", What: "water above the underside of a trough 1.2 x 0.92 m outside, 24 kN/m³, mm: weight with covers, uplift, kN/m, g 9.81 m/s²; weight over uplift without covers, with covers; water at which it floats without, with, m", Lines: "920 = 10.752 10.830 0.6737 0.9928 0.6199 0.9134", Within: 0.0005, Source: "hydrostatics (Archimedes)", Status: C, Test: "solve/check/flotation.TestPublishedTrough"},
	{Name: "load.plate-series", ID: "4.15", What: "long side over short: factor of the stress, of the deflection, Poisson's ratio 0.3", Lines: `1 = 0.2874 0.0444
1.2 = 0.3762 0.0616
1.4 = 0.4530 0.0770
1.6 = 0.5172 0.0906
1.8 = 0.5688 0.1017
2 = 0.6102 0.1110
3 = 0.7134 0.1335
4 = 0.7410 0.1400
5 = 0.7476 0.1417`, Within: 0.0005, Source: "a handbook of formulas for stress and strain, Table 11.4", Status: R, Test: "solve/check/load.TestPlateAsPublished"},
	{Name: "load.plate-long", ID: "4.15", What: "long side over short, many: factor of the stress, of the deflection", Lines: "12 = 0.75 0.1422", Within: 0.0005, Source: "a beam: 6/8, 5/32 x 0.91", Status: C, Test: "solve/check/load.TestPlateAsPublished"},
}
