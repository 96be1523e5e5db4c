package main

import "strings"

// What -h says of the program and of each command, with an example that can be typed as it stands.

const about = "Lays out precast cable-trench runs: units, cut pieces, covers and joints, with proof.\n\n" +
	"Start with: trenchwright demo -o out, or trenchwright leg 10000mm. What a job says: trenchwright help. " +
	"Lengths are written with their unit: 3000mm, 3.061m, \"9'-10 1/8\\\"\"."

// Help is shown below the flags of plan; kong sets indented lines as they are.
func (planCommand) Help() string {
	return `Example:

    trenchwright plan yard/job.yaml -o yard/pack

The folder then holds sheets as PDF, SVG and PNG, cut cards, tables as XLSX and CSV, plan.json and findings.txt. The same
job gives the same bytes. The pack is written beside the folder and moved into place when it is whole. The exit code
says how it came out: trenchwright help exit.`
}

func (legCommand) Help() string {
	return `Examples:

    trenchwright leg 9020mm --zone 2500mm..3600mm
    trenchwright leg 9026mm --gap-window 8mm..14mm
    trenchwright leg 12.4m --supply yard/job.yaml
    trenchwright leg 5410mm --start-bend "left 90°" --end-bend "right 90°" --width 600mm

Fewest units come first, then fewest cuts, then fewest cut covers. What is not stated is assumed, and printed as assumed.
A gap window without --gap is aimed at 10 mm, or at its middle where 10 mm lies outside it.`
}

func (cutCommand) Help() string {
	return `Example, with list.csv holding two pieces and a mitred pair:

    length,count,hand,angle
    1497,2,,
    1400,1,left,45
    1400,1,right,45

    trenchwright cut list.csv --stock 3000mm --kerf 5mm --ends factory --width 600mm

Lengths are on the axis; a bare number is millimetres. hand is the longer side, face up and looking towards the mitred
end; angle is between the cut and a square one. Units of several lengths, limited in number or with prices, stand in a
list of their own: --stock-file stock.csv with the columns length,count,price.`
}

func (checkCommand) Help() string {
	return `Example:

    trenchwright check yard/job.yaml

Faults are said all at once, with line, column and what to try. Below them stands what nobody entered: NOT CHECKED, and
whom to ask.`
}

func (groundCommand) Help() string {
	return `Examples:

    trenchwright ground natural.xml
    trenchwright ground survey.csv --unit m --edge 40m
    trenchwright ground natural.xml --against finished.xml --outline yard.csv --unit m

A surface that a file has triangles for is taken as it is; a list of points is triangulated, and the run of the ground is
kept along its lines. Cut is where the first surface lies above the other, fill where it lies below; one is never taken
off the other. Where a surface has no ground there is no level.`
}

func (depthCommand) Help() string {
	return `Examples:

    trenchwright depth --at A-004 yard/job.yaml
    trenchwright depth --at 12.5m --leg A yard/job.yaml
    trenchwright depth --at "A 0+012.500" yard/job.yaml

Chainage counts along each leg from its own from node, as on the sheets; a bare number is metres, or feet in a job in feet.
Levels are those of the left wall, as on the set-out cards. Depths are from the ground as it is; where the surveys do not
reach there is no depth. What nobody entered prints NOT CHECKED. This is a calculator and a record: who may go into the
trench is decided by the competent person.`
}

func (rodCommand) Help() string {
	return `Examples:

    trenchwright rod --hi 37.250 --rod 4m yard/job.yaml
    trenchwright rod --hi 37.250 --of formation --leg A yard/job.yaml
    trenchwright rod --hi 37.250 --laser-slope=-0.5% --laser-at N1 yard/job.yaml
    trenchwright rod --beam 1.2m yard/job.yaml
    trenchwright rod --peg 36.850@A-002/A-003 --offset "left 1.5 m" yard/job.yaml

First the reading at every joint for that height of instrument; what the rod does not reach says so, with the heights at which
the instrument has to stand instead. Then every grade for a laser that stands at the joint where laying begins and looks along the
leg: what its dial is set to, rising away from it above nought, and one reading for all joints. Another reading begins where
another supply does. A peg is marked with cut or fill from its top. Bare levels are in the unit of the job's coordinates.`
}

func (betweenCommand) Help() string {
	return `Examples:

    trenchwright between A-002 A-005 yard/job.yaml
    trenchwright between "A 3 m" "B 5 m" yard/job.yaml
    trenchwright between 0+003.000 0+012.500 --leg A yard/job.yaml

The way is the shortest along the run, over its bends and branches. Units that are named are within, whole; a unit that a
chainage cuts counts where its middle lies. Answers that adjoin add up, but for loads and sheets, which are whole. Joints and pads at the
two places are named and not counted: the neighbour has them too. What a fitting or a free end adds to the dig counts with the unit beside it.`
}

func (servicesCommand) Help() string {
	return `Examples:

    trenchwright services yard/job.yaml services.csv --clear 300mm --width 150mm --quality "record drawing"
    trenchwright services yard/job.yaml drains.xml --clear 300mm

The answer is lines of YAML, leg by leg, to be put under the legs of the job. A file holds services as lines in GeoJSON, as
points that are on lines, or as pipes and plan features in LandXML. Width, depth and how well a position is known are what the
file says (in GeoJSON: name, width_mm or diameter_mm, depth_mm or level_m, quality), or are told to be unknown. What does not
cross is not looked at, and what nobody recorded is in no file.`
}

func (newCommand) Help() string {
	return `Examples:

    trenchwright new yard
    trenchwright new yard --from survey.xml --line centreline --spiral 5mm
    trenchwright new yard --from points.csv --line outer-face --side left --columns P,E,N,Z --unit m
    trenchwright new yard --from kerb.csv --line offset --side right --offset 1200mm --of kerb
    trenchwright new yard --from plan.xml --line centreline --together
    trenchwright new yard --from route.geojson --line centreline --height 212m
    trenchwright new yard --from route.geojson --line centreline --services mains.geojson --clear 300mm --width 150mm

Which line was drawn is never guessed:

` + indented(linesText())
}

func (serveCommand) Help() string {
	return `Examples:

    trenchwright serve
    trenchwright serve --demo --data out/workspace
    trenchwright serve --addr 0.0.0.0:8417 --tls own

A phone works without signal only when it got the workspace over TLS. With --tls own this machine makes a site authority once, in
the folder tls beside the jobs, and http://ADDRESS/trust shows how a phone comes to trust it. Ctrl-C ends the program when what is
under way is done; a second one ends it at once, and nothing that was acknowledged is lost.`
}

func (letInCommand) Help() string {
	return `Example:

    trenchwright let-in --data jobs --at https://trench.example

The code of eight signs is good for one device and for an hour, and is shown once; only its sum is kept. A server may go
on with its work on the folder meanwhile, and knows the code at once. The devices that were let in: --list, which says
their ids; let in no more: --shut-out ID.`
}

func (backupCommand) Help() string {
	return `Example:

    trenchwright backup jobs-friday.db --data out/workspace

The copy is as the jobs were at one moment, and was read again. Not in it are made-again.db, which is made again by
itself, and the folder tls with the key of the site authority.`
}

func (demoCommand) Help() string {
	return `Example:

    trenchwright demo -o out

Then open out/tram-depot/sheets-A3.pdf. Every figure in these jobs was made up.`
}

func (wordsCommand) Help() string {
	return `Examples:

    trenchwright help
    trenchwright help job`
}

// indented sets lines further in, so that they are shown as they are.
func indented(text string) string { return "  " + strings.ReplaceAll(text, "\n", "\n  ") }
