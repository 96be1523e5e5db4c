package routein

import (
	"fmt"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/job"
)

// Lines are the lines that can be drawn, and what each of them means.
func Lines() [][2]string {
	return [][2]string{
		{"centreline", "the middle of the units"},
		{"inner-face", "the inner face of one wall, towards the cables; its side is needed"},
		{"outer-face", "the outer face of one wall, towards the soil; its side is needed"},
		{"trench-edge", "the edge of the dig; its side and its distance to the centreline are needed"},
		{"offset", "a kerb, fence or rail beside the run; its side and its distance to the centreline are needed"},
	}
}

func lineNames() string {
	var names []string
	for _, l := range Lines() {
		names = append(names, l[0])
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// Faults is everything that is missing or does not fit in what was said of the drawn line; Where.Path names what it is
// about: line, side, offset or of.
func (w Want) Faults() finding.List {
	var out finding.List
	l := w.Line
	say := func(path, text, try string) {
		out = append(out, finding.Finding{ID: "routein.drawn-" + path, Kind: finding.Fault, Where: finding.Where{Path: path}, Text: text, Try: try})
	}
	beside, apart := false, false // needs a side, needs a distance
	switch l.Kind {
	case "":
		say("line", "nobody has said which line was drawn, and the file does not say it: an outer face taken for the centreline puts the run off by half a unit's width", lineNames())
		return out
	case "centreline":
	case "inner-face", "outer-face":
		beside = true
	case "trench-edge", "offset":
		beside, apart = true, true
	default:
		say("line", fmt.Sprintf("%q is no line that can be drawn", l.Kind), lineNames())
		return out
	}
	switch {
	case beside && l.Side == "":
		say("side", fmt.Sprintf("nobody has said on which side of the centreline the %s lies, looking along it", l.Kind), "left or right")
	case beside && l.Side != "left" && l.Side != "right":
		say("side", fmt.Sprintf("%q is no side", l.Side), "left or right, looking along the line")
	case !beside && l.Side != "":
		say("side", "the centreline lies on no side of itself", "the side left out, or another line")
	}
	switch {
	case apart && l.Offset <= 0:
		say("offset", fmt.Sprintf("nobody has said how far the %s lies from the centreline", l.Kind), "a distance over 0, for example 1200 mm")
	case !apart && l.Offset != 0:
		say("offset", fmt.Sprintf("the distance of the %s follows from the supply's section", l.Kind), "the distance left out, or trench-edge or offset")
	}
	if l.From != "" && l.Kind != "offset" {
		say("of", fmt.Sprintf("%q names what an offset is taken from, and the line is the %s", l.From, l.Kind), "it left out, or offset")
	}
	return out
}

// Said tells which line was drawn, in a sentence.
func Said(l job.DrawnLine) string {
	if l.Kind == "centreline" {
		return "the line drawn is the centreline"
	}
	what := map[string]string{"inner-face": "inner face", "outer-face": "outer face", "trench-edge": "edge of the trench", "offset": "line beside the run"}[l.Kind]
	if l.Kind == "offset" && l.From != "" {
		what = l.From
	}
	how := "half the supply's inner width"
	switch {
	case l.Offset > 0:
		how = l.Offset.String()
	case l.Kind == "outer-face":
		how = "half the supply's outer width"
	}
	back := map[string]string{"left": "right", "right": "left"}[l.Side]
	return fmt.Sprintf("the line drawn is the %s, on the %s, looking along it; the centreline lies %s to the %s of it", what, l.Side, how, back)
}
