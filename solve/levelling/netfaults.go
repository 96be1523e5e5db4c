package levelling

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
)

// at is where line i of the network stands in its text.
func (n Network) at(i int) finding.Where {
	if r := n.Lines[i].Row; r > 0 {
		return finding.Where{Line: r}
	}
	return finding.Where{Path: fmt.Sprintf("network.lines[%d]", i)}
}

// NetworkFaults is everything that keeps n from being adjusted.
func NetworkFaults(n Network) finding.List {
	var out finding.List
	bad := func(where finding.Where, id, text, try string) {
		out = append(out, finding.Finding{ID: "levelling." + id, Kind: finding.Fault, Text: text, Where: where, Try: try})
	}
	whole := finding.Where{Path: "network"}
	switch {
	case len(n.Lines) == 0:
		bad(whole, "empty", "the network has no lines", "a line of levels for each pair of points that was levelled between")
	case len(n.Lines) > mostLines:
		bad(whole, "too-long", fmt.Sprintf("the network has %d lines, and at most %d are adjusted together", len(n.Lines), mostLines), "a network for each district")
	}
	if n.Weigh != ByDistance && n.Weigh != BySetup && n.Weigh != BySD {
		bad(whole, "no-weight", "nothing says what the lines are weighted by", "their distance, their set-ups or the standard deviation that is stated for each")
	}
	if !n.Free && len(n.Fixed) == 0 {
		bad(whole, "no-benchmark", "no benchmark is held", "the level of one, or a free network")
	}
	if n.Suspect < 0 || n.Suspect != n.Suspect || n.Suspect > 1000 {
		bad(whole, "suspect-level", fmt.Sprintf("%g cannot be a level for suspecting a line", n.Suspect), "the normalised residual from which a line is suspected, between 0 and 1000")
	}
	if err := n.Close.Fault(); err != nil {
		bad(whole, "tolerance", err.Error(), "the tolerance as the contract states it")
	}
	if len(out) > 0 {
		return out
	}
	for i := range n.Lines {
		n.lineFault(i, bad)
	}
	n.fixedFaults(bad)
	return out
}

func (n Network) lineFault(i int, bad func(finding.Where, string, string, string)) {
	l, at := n.Lines[i], n.at(i)
	name := fmt.Sprintf("%q to %q", l.From, l.To)
	switch {
	case l.From == "" || l.To == "":
		bad(at, "no-point", "a line without a name for both of its ends", "from and to")
	case l.From == l.To:
		bad(at, "same-point", name+": the line begins and ends at the same point", "a point on the way, or the closing of a level book")
	case beyond(l.Rise, highestLevel):
		bad(at, "out-of-reach", name+": the rise lies out of reach", "its decimal point and its unit")
	case l.Distance < 0 || l.Distance > longestLine || l.Setups < 0 || l.Setups > mostRows || l.SD < 0 || l.SD > longestReading:
		bad(at, "out-of-reach", name+": distance, set-ups or standard deviation lie out of reach", "figures above nought")
	case n.Weigh == ByDistance && l.Distance < measure.Millimetre:
		bad(at, "no-distance", name+": the line has no distance, and lines are weighted by it", "the distance that was levelled")
	case n.Weigh == BySetup && l.Setups == 0:
		bad(at, "no-setups", name+": the line has no set-ups, and lines are weighted by them", "how many set-ups it took")
	case n.Weigh == BySD && l.SD < leastSD:
		bad(at, "no-sd", name+": the line has no standard deviation of at least "+leastSD.String()+", and lines are weighted by it", "the standard deviation that is stated for the line")
	}
}

// fixedFaults are benchmarks that no line reaches or that stand there with two levels.
func (n Network) fixedFaults(bad func(finding.Where, string, string, string)) {
	points, levels := map[string]bool{}, map[string]measure.Length{}
	for _, l := range n.Lines {
		points[l.From], points[l.To] = true, true
	}
	for i, f := range n.Fixed {
		at := finding.Where{Path: fmt.Sprintf("network.fixed[%d]", i)}
		if f.Row > 0 {
			at = finding.Where{Line: f.Row}
		}
		was, twice := levels[f.Point]
		levels[f.Point] = f.Level
		switch {
		case !points[f.Point]:
			bad(at, "benchmark-apart", fmt.Sprintf("no line begins or ends at the benchmark %q", f.Point), "its name as the lines have it")
		case twice && was != f.Level:
			bad(at, "benchmark-twice", fmt.Sprintf("the benchmark %q has two levels, %s and %s", f.Point, n.Figures.Say(was), n.Figures.Say(f.Level)), "one level for each benchmark")
		case beyond(f.Level, highestLevel):
			bad(at, "out-of-reach", fmt.Sprintf("the level of %q lies out of reach", f.Point), "its decimal point and its unit")
		}
	}
}
