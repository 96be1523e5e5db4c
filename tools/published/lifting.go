package published

const (
	slingHold = "solve/check/lifting.TestSlingFactors"
	boltHold  = "solve/check/lifting.TestEyebolts"
)

var lifting = []Set{
	{Name: "lifting.overhead", ID: "1.8", What: "voltage, kV: least distance, ft; none: the owner of the line says", Lines: `0.4 = 10
50 = 10
50.1 = 15
200 = 15
200.1 = 20
350 = 20
350.1 = 25
500 = 25
500.1 = 35
750 = 35
750.1 = 45
1000 = 45
1000.1 = none`, Within: 1e-9, Source: "29 CFR 1926.1408 Table A", Status: R, Test: "solve/check/lifting.TestOverhead"},
	{Name: "lifting.factor", ID: "5.1", What: "angle of a leg to the horizontal, deg: factor. Tables print 1.555 at 40, 1.742 at 35, 1.104 at 65", Lines: `90 = 1
85 = 1.004
80 = 1.015
75 = 1.035
70 = 1.064
65 = 1.104
60 = 1.155
55 = 1.221
50 = 1.305
45 = 1.414
40 = 1.556
35 = 1.743
30 = 2`, Within: 0.0007, Source: "rigging tables of a university and of suppliers", Status: R, Test: slingHold},
	{Name: "lifting.legs", ID: "5.1", What: "10 000 lb on two legs, angle to the horizontal, deg: a leg pulls, lb", Lines: "90 = 5000\n60 = 5774\n45 = 7071\n30 = 10000", Within: 0.6, Source: "rigging tables of a university and of suppliers", Status: R, Test: slingHold},
	{Name: "lifting.included", ID: "5.2", What: "angle between two legs, deg: factor", Lines: "0 = 1\n60 = 1.1547\n90 = 1.4142\n120 = 2", Within: 0.0001, Source: "a British lifting handbook: 1/cos of half the angle, at most 120 deg", Status: R, Test: slingHold},
	{Name: "lifting.lengths", ID: "5.3", What: "mass on two legs, lb, their length and the height of the hook, in: a leg pulls, lb", Lines: "2400 120 96 = 1500", Within: 0.1, Source: "rigging tables of a university", Status: R, Test: slingHold},
	{Name: "lifting.supports", ID: "5.4", What: "load, kg, span and distance from the second support, m: the first bears, the second, kg", Lines: "10000 10 2 = 2000 8000", Source: "statics; a rigging handbook has it in lb and ft", Status: R, Test: "solve/delivery.TestTwoSupportsAsPublished"},
	{Name: "lifting.unequal", ID: "5.5", What: "mass, lb, distances of the points and height of the hook, ft: the legs pull, lb", Lines: "10000 8 2 6 = 3333.333 8432.74", Within: 0.5, Source: "a shipping handbook's formula, as read", Status: C, Test: "solve/check/lifting.TestUnequalLegs"},
	{Name: "lifting.unequal-wrong", ID: "5.5", What: "mass, lb, lengths of the legs, distances of the points and height, ft, as printed: none, for such legs cannot be", Lines: "4000 4 14 2 10 3 = none", Source: "a shipping handbook's example", Status: Ri, Test: "solve/check/lifting.TestUnequalLegs"},
	{Name: "lifting.shared", ID: "5.6", What: "machines on one piece: share of its chart that each keeps free", Lines: "1 = 0\n2 = 0.20\n3 = 0.3333\n4 = 0.50\n6 = 0.50", Within: 0.0001, Source: "mobile crane code of practice, Queensland, 14.3.2", Status: R, Test: "solve/check/lifting.TestChart"},
	{Name: "lifting.truck", ID: "5.7", What: "rated, lb, at, in, load at, in: it keeps, lb", Lines: "5000 24 28 = 4285.71\n4000 24 36 = 2666.67\n7500 20 30 = 5000\n5000 24 30 = 4000", Within: 0.01, Source: "29 CFR 1910.178, as a federal guide works it", Status: R, Test: "solve/check/lifting.TestTruck"},
	{Name: "lifting.eyebolt", ID: "5.8", What: "size, in: it carries at 0, 30, 60 and 90 deg from the vertical, lb; 0 not recommended", Lines: `0.25 = 400 75 0 0
0.375 = 1000 400 220 180
0.5 = 1840 850 520 440
0.625 = 2940 1410 890 740
0.75 = 4340 2230 1310 1140
1 = 7880 3850 2630 2320
1.25 = 12600 6200 4125 3690
1.5 = 18260 9010 6040 5460
2 = 32500 15970 10910 9740`, Source: "ANSI B18.15", Status: R, Test: boltHold},
	{Name: "lifting.eyebolt-generic", ID: "5.8", What: "angle from the vertical, deg: share of a shouldered eyebolt's straight load. Where the two tables differ the lower counts", Lines: "5 = 1\n15 = 0.80\n30 = 0.65\n45 = 0.30\n90 = 0.25", Source: "a table that suppliers commonly print", Status: R, Test: boltHold},
	{Name: "lifting.chain", ID: "5.10", What: "8 kN on two legs at 60 deg, factor for movement: a leg pulls, kN", Lines: "1 = 4.62\n1.25 = 5.77", Within: 0.005, Source: "statics", Status: C, Test: "solve/check/lifting.TestChainOfChecks"},
}
