// Command trenchwright lays out precast cable-trench runs: which unit, which cut piece and which cover goes where, with
// proof, as sheets, cards, tables and data. This folder is commands and wiring; it computes nothing.
//
//	main.go    the commands and how they end        exit.go   one table from outcome to exit code
//	plan.go    plan, check, new, demo               leg.go    one leg on the spot
//	cut.go     a cutting list                       show.go   how findings are shown
package main

import (
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"github.com/alecthomas/kong"
)

// program is the command line as a value: where it reads and writes, so that it can be run anywhere.
type program struct {
	in       io.Reader
	out, err io.Writer
}

type commands struct {
	Plan  planCommand  `cmd:"" help:"Plan a job and write its pack: sheets, cards, tables and data."`
	Leg   legCommand   `cmd:"" help:"Lay out one leg on the spot."`
	Cut   cutCommand   `cmd:"" help:"Cut a list of pieces from stock, with the proven bound."`
	Check checkCommand `cmd:"" help:"Say what is wrong with a job, and plan nothing."`
	New   newCommand   `cmd:"" help:"Write a commented job to start from."`
	Demo  demoCommand  `cmd:"" help:"Plan the invented demo jobs."`
	Words wordsCommand `cmd:"" name:"help" help:"Teach: what a job says, how a leg is laid, what the answers mean."`
}

// softMemory is where the collector begins to work harder: a 1,000 km run then stays below 2 GiB.
const softMemory = 1500 << 20

func main() {
	debug.SetMemoryLimit(softMemory)
	os.Exit(program{in: os.Stdin, out: os.Stdout, err: os.Stderr}.run(os.Args[1:]))
}

// run parses and runs one command line and gives its exit code.
func (p program) run(args []string) int {
	var c commands
	code := -1
	parser, err := kong.New(&c,
		kong.Name("trenchwright"),
		kong.Description("Lays out precast cable-trench runs: units, cut pieces, covers and joints, with proof.\n\n"+
			"Start with: trenchwright demo -o out, or trenchwright leg 10000mm. Lengths are written with their unit: 3000mm, 3.061m, \"9'-10 1/8\\\"\"."),
		kong.UsageOnError(),
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
		fmt.Fprintf(p.err, "trenchwright: %v\nSee: trenchwright --help\n", err)
		return exitUsage
	}
	if err := ctx.Run(p); err != nil {
		return p.fail(err)
	}
	return exitFound
}
