package published

const passHold = "solve/check/compaction.TestPassesAsPublished"

var compaction = []Set{
	{Name: "compaction.granular", ID: "7.1", What: "class of machine: passes on granular fill in layers of 100, 150 and 200 mm; none: not permitted", Lines: `vibrotamper-50 = 4 8 none
single-drum-600 = 12 none none
single-drum-1000 = 6 none none
single-drum-2000 = 3 5 7
single-drum-3500 = 3 4 6
twin-drum-600 = 6 none none
twin-drum-1000 = 3 6 none
twin-drum-2000 = 2 3 4
plate-1400 = 5 none none
plate-1800 = 3 5 7
vibrotamper-25 = 6 none none`, Source: "Specification for the Reinstatement of Openings in Roads (Scotland), Table A8.1", Status: R, Test: passHold},
	{Name: "compaction.cohesive", ID: "7.1", What: "class of machine: passes on cohesive fill in layers of 100, 150 and 200 mm; none: not permitted", Lines: `vibrotamper-50 = 4 8 none
single-drum-600 = none none none
single-drum-1000 = 8 none none
single-drum-2000 = 3 6 none
single-drum-3500 = 3 4 6
twin-drum-600 = none none none
twin-drum-1000 = 4 8 none
twin-drum-2000 = 2 3 5
plate-1400 = none none none
plate-1800 = 3 6 none
vibrotamper-25 = none none none`, Source: "Specification for the Reinstatement of Openings in Roads (Scotland), Table A8.1", Status: R, Test: passHold},
	{Name: "compaction.wholly", ID: "7.1", What: "class of machine: passes on fill that is wholly cohesive where the table marks them as not for it; none: not permitted", Lines: `vibrotamper-50 = 4 none none
single-drum-3500 = 3 4 none
twin-drum-2000 = 2 3 none`, Source: "Specification for the Reinstatement of Openings in Roads (Scotland), Table A8.1", Status: R, Test: passHold},
	{Name: "compaction.output", ID: "7.2", What: "width, ft, speed, mph, layer, in, minutes in the hour, passes, share of the bank volume: compacted, in the bank, yd³/h; machines for 540 of the bank", Lines: "8 3 6 50 4 0.83 = 489±0.12 589.157±0.15 1", Source: "production formula of plant handbooks, 16.296 rounded to 16.3", Status: R, Test: "solve/check/compaction.TestOutputAsPublished"},
	{Name: "compaction.cone", ID: "7.4", What: "sand before and behind, g, its density, g/cm³, cone, cm³, soil, g, moisture, %, greatest density, g/cm³: hole, cm³; wet and dry density, g/cm³; share, %", Lines: "16000 4286 1.349 2274 15632.42 4.5 2.382 = 6409.47±0.01 2.43896 2.33393 97.98±0.005", Within: 0.00001, Source: "sand cone test (ASTM D1556), a worked test", Status: Ri, Test: "solve/check/compaction.TestConeAsPublished"},
	{Name: "compaction.gauge", ID: "7.5", What: "wet density, kg/m³, moisture, %, greatest density, kg/m³: dry density, kg/m³; share, %", Lines: "2050 8 1980 = 1898±0.5 95.87", Within: 0.005, Source: "nuclear gauge test (ASTM D6938), a worked test", Status: R, Test: "solve/check/compaction.TestGaugeAsPublished"},
}
