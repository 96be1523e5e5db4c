package published

const (
	pullHold  = "solve/check/cable.TestPullAsPublished"
	groupHold = "solve/check/cable.TestGroups"
)

var cable = []Set{
	{Name: "cable.share", ID: "6.2", What: "18 x 4 in, cables of 0.5 in, share that they may fill, %: how many", Lines: "50 = 183\n40 = 146", Source: "an exercise of a trade journal for cable trays", Status: R, Test: "solve/check/cable.TestShareAsPublished"},
	{Name: "cable.mixed", ID: "6.2", What: "how many of one diameter, of another, mm, in a width less its divider and a depth, mm: share, %", Lines: "3 42 6 16 600 50 300 = 3.25012\n1 60 0 16 400 0 300 = 2.35619\n2 80 40 20 500 20 250 = 18.84956", Within: 0.00001, Source: "areas of circles over that of the rectangle", Status: C, Test: "solve/check/cable.TestShareAsPublished"},
	{Name: "cable.bend-guide", ID: "6.4", What: "kind of cable and diameter over its sheath: least bend, in the same unit. Printed beside the figure that was entered, and never one", Lines: "unshielded 1 = 8\ntape-shielded 1 = 12\ninterlocked 2.674 = 18.72", Within: 0.005, Source: "published cable installation guides", Status: R, Test: "solve/check/cable.TestBendGuide"},
	{Name: "cable.pull", ID: "6.5", What: "mass, lb/ft, length, ft, friction, pull before, lbf, bend, deg, its radius, ft: pull behind the straight, behind the bend, lbf; on the side, lbf/ft", Lines: "1.5 200 0.3 0 90 2 = 90 144.178±0.01 72.089±0.01\n0.5 100 0.35 20 180 0.5 = 37.5 112.6 225±0.5", Within: 0.05, Source: "capstan equation; worked examples of pulling guides", Status: R, Test: pullHold},
	{Name: "cable.pull-si", ID: "6.5", What: "pull before, N, mass, kg/m, friction, length, m: pull behind, N, worked with 9.81 m/s²", Lines: "1000 2.5 0.35 100 = 1858.4", Within: 0.4, Source: "worked example of a pulling guide", Status: R, Test: pullHold},
	{Name: "cable.slope", ID: "6.5", What: "mass, lb/ft, length, ft, slope, deg, friction: pull more, lbf", Lines: "1.5 100 10 0.3 = 70.4", Within: 0.05, Source: "statics", Status: C, Test: pullHold},
	{Name: "cable.copper", ID: "6.5", What: "copper, kcmil: greatest pull on it, lbf", Lines: "250 = 2000", Within: 1e-6, Source: "published pulling guides: 0.008 lbf on a circular mil", Status: R, Test: "solve/check/cable.TestPullOnCopper"},
	{Name: "cable.grip", ID: "6.5", What: "pull through a basket grip: at most, lbf", Lines: "grip = 1000", Within: 1e-6, Source: "published pulling guides", Status: R, Test: "solve/check/cable.TestPullOnCopper"},
	{Name: "cable.heat", ID: "6.6", What: "heat, W/m, inner width and depth, m: air inside warmer than outside in the shade, with the covers in the sun, K", Lines: "60 0.4 0.3 = 14.286 20", Within: 0.001, Source: "IEC 60287-2-1 cl. 2.2.6.2: formula as read, example worked out", Status: C, Test: "solve/check/cable.TestHeatAsPublished"},
	{Name: "cable.heat-chain", ID: "6.6", What: "air outside, °C, 60 W/m in 0.4 x 0.3 m, covers in the sun: air inside, °C", Lines: "30 = 50", Within: 1e-9, Source: "IEC 60287-2-1 cl. 2.2.6.2: formula as read, example worked out", Status: C, Test: "solve/check/cable.TestHeatAsPublished"},
	{Name: "cable.group", ID: "6.7", What: "how circuits lie, and how many: factor", Lines: `bunched 1 = 1.00
bunched 2 = 0.80
bunched 3 = 0.70
bunched 4 = 0.65
bunched 5 = 0.60
bunched 6 = 0.57
bunched 7 = 0.54
bunched 8 = 0.52
bunched 9 = 0.50
bunched 12 = 0.45
bunched 16 = 0.41
bunched 20 = 0.38
bunched 21 = none
floor 1 = 1
floor 2 = 0.85
floor 3 = 0.79
floor 4 = 0.75
floor 5 = 0.73
floor 6 = 0.72
floor 7 = 0.72
floor 8 = 0.71
floor 9 = 0.70
floor 10 = none
tray 1 = 1
tray 2 = 0.88
tray 3 = 0.82
tray 4 = 0.77
tray 5 = 0.75
tray 6 = 0.73
tray 7 = 0.73
tray 8 = 0.72
tray 9 = 0.72
tray 10 = none
ladder 1 = 1
ladder 2 = 0.87
ladder 3 = 0.82
ladder 4 = 0.80
ladder 5 = 0.80
ladder 6 = 0.79
ladder 7 = 0.79
ladder 8 = 0.78
ladder 9 = 0.78
ladder 10 = none`, Source: "BS 7671 Table 4C1", Status: R, Test: groupHold},
	{Name: "cable.group-between", ID: "6.7", What: "circuits between two columns of bunched ones: the factor of the next column", Lines: "10 = 0.45\n11 = 0.45\n13 = 0.41\n15 = 0.41\n17 = 0.38\n19 = 0.38", Source: "BS 7671 Table 4C1, nothing read between its columns", Status: C, Test: groupHold},
	{Name: "cable.trefoil", ID: "6.8", What: "diameter of each of three, mm: round them, mm", Lines: "60 = 129.24", Within: 0.05, Source: "published cable handbook: 2.154 diameters", Status: R, Test: "solve/check/cable.TestTrefoil"},
}
