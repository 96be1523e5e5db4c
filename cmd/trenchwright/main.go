// Command trenchwright lays out precast cable-trench runs: which unit, which cut piece and which cover goes where, with
// proof, as sheets, cards, tables and data. This folder is commands and wiring; it computes nothing.
//
//	main.go     the commands, how they are parsed     exit.go     one table from outcome to exit code
//	plan.go     plan, demo                            check.go    check
//	new.go      new, with or without a route          cut.go      cut
//	ground.go   ground                                ask.go      a job that is asked; depth.go: depth
//	rod.go      rod                                   between.go  between; deliver.go: deliver
//	leg.go      leg; spot.go: with which figures      figures.go  figures of the command line, faults all at once
//	levelbook.go, levelbookshow.go, levelnet.go  levelbook     twopeg.go  twopeg     closer.go  closer     drift.go  drift     record.go  record     asbuilt.go  asbuilt     replan.go  replan     build.go  build
//	services.go services    paper.go  paper
//	serve.go    serve; servetls.go: over TLS; servefaults.go: why not      backup.go  backup     letin.go  let-in
//	show.go     how answers are shown                 help.go     what is taught; usage.go: by -h
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"runtime/debug"
	"strings"

	"github.com/alecthomas/kong"
)

// program is the command line as a value: where it writes, so that it can be run anywhere.
type program struct {
	out, err io.Writer
}

type commands struct {
	Plan      planCommand      `cmd:"" help:"Plan a job and write its pack: sheets, cards, tables and data."`
	Leg       legCommand       `cmd:"" help:"Lay out one leg on the spot."`
	Cut       cutCommand       `cmd:"" help:"Cut a list of pieces from stock, with the proven bound."`
	Check     checkCommand     `cmd:"" help:"Say what is wrong with a job, and plan nothing."`
	Ground    groundCommand    `cmd:"" help:"Say what a survey holds, and what lies between two surfaces."`
	Services  servicesCommand  `cmd:"" help:"Say where recorded buried services cross a run, as lines for its job."`
	Levelbook levelbookCommand `cmd:"" help:"Reduce and check a level book, or adjust a network of levels."`
	Twopeg    twopegCommand    `cmd:"" help:"Work out a two-peg test of a level."`
	Closer    closerCommand    `cmd:"" help:"Say how what is left between two faces is closed: cut lengths at both walls, and what else can be done."`
	Drift     driftCommand     `cmd:"" help:"Say how far a run wanders while it is laid, what gap to hold now, and when to make the closing cut."`
	Float     floatCommand     `cmd:"" help:"Say from which level of water on an empty unit floats, and what would hold it."`
	Lift      liftCommand      `cmd:"" help:"Hold a lift against its sling, its lifting points, the chart of the machine, lines overhead, or those who carry it."`
	Load      loadCommand      `cmd:"" help:"Hold what comes onto a run against what it is declared to bear: wheels, fill, earth beside it, its bed, a steel plate over it."`
	Cable     cableCommand     `cmd:"" help:"Hold cables against the trench they are laid in and what their maker allows: room, bends, pulls, heat, lengths, supports."`
	Compact   compactCommand   `cmd:"" help:"Hold layers of fill against a published method, and tests against what is asked for."`
	Spot      spotCommand      `cmd:"" help:"Answer a moment that stops a job, from a few figures: water, a closing piece, a vehicle, a deeper dig, and what else there is."`
	Hold      holdCommand      `cmd:"" help:"Hold a job against what was entered for loads, lifts, water, cables and fill."`
	Depth     depthCommand     `cmd:"" help:"Say what stands, lies and is dug at one place of a run."`
	Rod       rodCommand       `cmd:"" help:"Say what the rod shows at every joint, what a laser is set to, and what a peg is marked."`
	Between   betweenCommand   `cmd:"" help:"Say what lies between two places of a run: what is laid, dug, filled and carried off."`
	Deliver   deliverCommand   `cmd:"" help:"Say how what is ordered comes: bundles, loads in laying order, laydown; or what can be laid without what has not come."`
	Programme programmeCommand `cmd:"" help:"Say when everything is done, by which gang, what decides the end, and what a late load moves."`
	Record    recordCommand    `cmd:"" help:"Add one record of the site to a file of records: what was set, measured, delivered, found."`
	Asbuilt   asbuiltCommand   `cmd:"" help:"Say what the records of a job come to: in the ground, in the yard, open."`
	Replan    replanCommand    `cmd:"" help:"Plan what is left again from what the records say is in the ground."`
	Daycard   daycardCommand   `cmd:"" help:"Write day cards: planned values beside empty boxes, for a stretch that is laid today."`
	Paper     paperCommand     `cmd:"" help:"Write the papers of a job under their stages: lift plan, permit to dig, inspection and test plan, and what else is handed round."`
	Dossier   dossierCommand   `cmd:"" help:"Make what is handed over of a run from its records, and prove what was made."`
	Build     buildCommand     `cmd:"" help:"Build a job in play, record by record, until the run is handed over."`
	Serve     serveCommand     `cmd:"" help:"Serve the workspace for browsers."`
	Backup    backupCommand    `cmd:"" help:"Copy all jobs of the workspace to one file, while it goes on."`
	LetIn     letInCommand     `cmd:"" help:"Make a code that lets one phone bring records, at a machine without a browser."`
	New       newCommand       `cmd:"" help:"Write a job to start from, with a route that exists already or an invented one."`
	Demo      demoCommand      `cmd:"" help:"Plan the invented demo jobs."`
	Words     wordsCommand     `cmd:"" name:"help" help:"Teach: what a job says, how a leg is laid, what the answers mean."`
}

// softMemory is where the collector begins to work harder: a 1,000 km run then stays below 2 GiB.
const softMemory = 1500 << 20

func main() {
	debug.SetMemoryLimit(softMemory)
	os.Exit(program{out: os.Stdout, err: os.Stderr}.run(os.Args[1:]))
}

// run parses and runs one command line and gives its exit code.
func (p program) run(args []string) int {
	var c commands
	code := -1
	parser, err := kong.New(&c,
		kong.Name("trenchwright"),
		kong.Description(about),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Writers(p.out, p.err),
		kong.Exit(func(n int) { code = n }),
	)
	if err != nil {
		fmt.Fprintln(p.err, err)
		return exitBroken
	}
	ctx, err := parser.Parse(args)
	if code >= 0 { // help was asked for and shown
		return code
	}
	if err != nil {
		fmt.Fprintln(p.err, misused(err))
		return exitUsage
	}
	if err := ctx.Run(p); err != nil {
		return p.fail(err)
	}
	return exitFound
}

var (
	missingArgument = regexp.MustCompile(`^expected "<(.*)>.*"$`)
	missingCommand  = regexp.MustCompile(`^expected one of `)
	minusFigure     = regexp.MustCompile(`^unknown flag (-[0-9.]+)`)
	minusValue      = regexp.MustCompile(`^(--[a-z-]+): expected .* value but got "(-[0-9.][^"]*)"`)
)

// belowNought are the flags whose figures may lie below nought.
var belowNought = map[string]bool{"--hi": true, "--peg": true, "--laser-slope": true, "--at": true, "--off": true}

// misused says in plain words what is wrong with a command line, and where its help is.
func misused(err error) string {
	command := "trenchwright"
	var parsing *kong.ParseError
	if errors.As(err, &parsing) {
		if node := parsing.Context.Selected(); node != nil {
			command += " " + node.Name
		}
	}
	text, see := err.Error(), command+" -h"
	if m := missingArgument.FindStringSubmatch(text); m != nil {
		text = strings.ToUpper(strings.Fields(m[1])[0]) + " is missing"
	} else if m := minusValue.FindStringSubmatch(text); m != nil && belowNought[m[1]] {
		text = fmt.Sprintf("%s: a figure below nought is joined to its flag: %s=%s", m[1], m[1], m[2])
	} else if m := minusFigure.FindStringSubmatch(text); m != nil {
		text = "nothing here can be negative, and " + m[1] + " begins with a minus"
	} else if m := minusValue.FindStringSubmatch(text); m != nil {
		text = m[1] + ": " + m[2] + " is negative"
	} else if missingCommand.MatchString(text) {
		text, see = "no command was given; there is plan, leg, cut, check, ground, services, levelbook, twopeg, closer, drift, float, lift, load, cable, compact, depth, rod, between, deliver, programme, record, asbuilt, replan, daycard, paper, dossier, build, serve, backup, let-in, new, demo and help", "trenchwright help"
	} else if rest, ok := strings.CutPrefix(text, "missing flags: "); ok {
		text = "missing: " + rest
	}
	return fmt.Sprintf("%s: %s\nSee: %s", command, text, see)
}
