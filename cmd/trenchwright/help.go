package main

import (
	"fmt"
	"strings"

	"trenchwright/job"
	"trenchwright/solve/check/excavation"
)

type wordsCommand struct {
	About string `arg:"" optional:"" help:"job: every field of a job file. excavation: whose rules are looked up. exit: exit codes. words: the words that are used. Without it: how to begin."`
}

const teach = `Trenchwright lays out precast cable-trench runs.

A job file says what the supplier makes, where the run goes and what the contract asks. From it one command makes
the pack: cutting list, cut cards, schedule, set-out, bill, strip, plan, details, data.

  trenchwright new yard                          a commented job to start from
  trenchwright new yard --from survey.xml --line centreline
                                                 the same, with a route that exists already
  trenchwright check yard/job.yaml               what is wrong with it, all at once, and what is missing
  trenchwright plan yard/job.yaml -o yard/pack   its pack
  trenchwright leg 9020mm                        one leg on the spot; what is not stated is assumed and said so
  trenchwright leg 9020mm --zone 2500mm..3600mm
  trenchwright cut list.csv --stock 3000mm --kerf 5mm --ends factory
                                                 a list of pieces, cut from as few units as can be
  trenchwright ground natural.xml                what a survey holds; with --against, cut and fill between two surfaces
  trenchwright levelbook book.csv --unit m       a level book with every page check; --network: least squares
  trenchwright twopeg -h                         is the instrument's line of sight level
  trenchwright closer -h                         the piece that closes a gap, from both walls
  trenchwright drift -h                          joints creep: the gap to hold now, the lot, the closing cut
  trenchwright load -h                           what comes onto a run: wheels, fill, earth beside it, a steel plate
  trenchwright cable -h                          cables: do they fit, bend, pull, how warm does it get, how long are they cut
  trenchwright compact -h                        layers, passes and tests of fill
  trenchwright depth --at A-003 yard/job.yaml    in the trench: how deep, how wide, every level, the rules
  trenchwright rod --hi 37.250 yard/job.yaml     what the rod shows at every joint, and what a laser is set to
  trenchwright between A-002 A-005 yard/job.yaml
                                                 what is laid, dug, filled and carried off between two places
  trenchwright deliver yard/job.yaml --missing A-003
                                                 how what is ordered comes; here: what can be laid without that piece
  trenchwright programme yard/job.yaml           when everything is done, by which gang; --ahead 5: the next days
  trenchwright record site.jsonl set A-001 A-003 --within --job yard/job.yaml
                                                 one fact of the site, added to a file; it is never refused
  trenchwright asbuilt yard/job.yaml --records site.jsonl
                                                 what the records come to: set, laid, out of tolerance, in the yard
  trenchwright replan yard/job.yaml --records site.jsonl
                                                 what is left, planned again from where the last unit came to lie
  trenchwright daycard yard/job.yaml --from A-004 --joints 14 -o today.pdf
                                                 planned values beside empty boxes, for a day in the trench
  trenchwright paper yard/job.yaml inspection -o papers
                                                 permit to dig, lift plan, inspection and test plan, what else is handed round
  trenchwright dossier yard/job.yaml --records site.jsonl -o handover
                                                 what is handed over: as built beside planned, gaps in the evidence first
  trenchwright build battery-yard --seed 1       a job built in play, record by record, with all that goes wrong on a site
  trenchwright serve                             the workspace for browsers; trenchwright backup FILE: a copy of its jobs; let-in: a phone
  trenchwright demo -o out                       three invented jobs

Lengths are written with their unit: 3000mm, 3.061m, 5.62ft, 10'-0 1/2". A bare number is millimetres. On a command line
feet and inches stand in quotes: "10'-0 1/2\"".

How a leg is laid: fewest units first, then fewest cuts, then fewest cut covers. Every cover lies wholly on one unit.
No joint stands in a zone. Each joint has one window; turn, grade, squareness and drift are paid from it. What is said to
be best or impossible was verified by code other than the code that found it.

What nobody entered prints NOT CHECKED and whom to ask. It is never a default. What was assumed prints as assumed.
This program calculates and keeps record. It decides nothing: local codes, the supplier's drawings and the licensed
engineer come first.

More: trenchwright help job · help words · help excavation · help exit · trenchwright COMMAND -h
`

const words = `run         the whole line of trench, a network of legs
leg         what lies between two fittings, laid through without a break
fitting     a bend, tee, cross, transition or end
unit        one precast trough body as laid
cover       one lid as laid, always wholly on one unit
joint       where two units meet, with its gap and its one budget
closer      the cut unit that makes a leg come out right
supply      what one supplier makes: sizes, masses, gaps, limits, each with the document it came from
place       B-017, the 17th place on leg B; its covers are B-017.1, B-017.2
mark        painted on cut, mitred and special pieces only: the place that it was made for; offcuts B-017/a
zone        where no joint may stand
budget      what one joint's window is spent on
proof       what stands behind a claim of best or impossible
finding     one thing the program has to say: what, where, limit against value, the rule, what to try
`

const excavationInputs = `
What a rule may ask for is stated under dig in the job file; what is not stated is NOT CHECKED:
soil, sides, slope, bench, upright (part below the slope), hours (open), signs (of a cave-in), wet, oxygen, beside (fall of the
ground away from the edge), ladders and ladder_above, walkways, shield, strip.setback, and the documents under support and
engineer with the depth until which they answer. A hard stop is answered by such a document alone.
`

func (c *wordsCommand) Run(p program) error {
	switch c.About {
	case "":
		fmt.Fprint(p.out, teach)
	case "words":
		fmt.Fprint(p.out, words)
	case "exit":
		for _, e := range exits {
			fmt.Fprintf(p.out, "%d  %s\n", e.code, e.text)
		}
	case "job":
		var b strings.Builder
		for _, d := range job.Docs() {
			b.WriteString(d.String())
			b.WriteByte('\n')
		}
		fmt.Fprint(p.out, b.String())
	case "excavation":
		for _, r := range excavation.Profiles() {
			fmt.Fprintf(p.out, "%s  %s, %s\n    read %s in %s\n    classes of soil: %s\n", r.ID, r.Name, r.Law, r.Read, r.Source, strings.Join(r.Soils, "; "))
		}
		fmt.Fprint(p.out, excavationInputs)
		fmt.Fprintln(p.out, "\nRules change, and local codes and the owner may ask for more: they go first. The competent person classes the soil.")
	default:
		return outcome{exitUsage, fmt.Sprintf("trenchwright help: nothing about %q; there is job, words, excavation and exit", c.About)}
	}
	return nil
}
