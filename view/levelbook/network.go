package levelbook

import (
	"trenchwright/base/measure"
	"trenchwright/solve/levelling"
)

var networkColumns = columns{
	name: "network of levels", needed: []string{"from", "to", "rise"},
	known:   []string{"from", "to", "rise", "length", "setups", "sd", "known"},
	also:    map[string]string{"distance": "length", "dh": "rise", "set ups": "setups", "standard deviation": "sd", "benchmark": "known"},
	example: "from,to,rise,length",
}

// network makes a network of the rows.
func (s *sheet) network() levelling.Network {
	var n levelling.Network
	var all []*measure.Length
	length, sd, setups := true, true, true
	for _, r := range s.rows {
		from, to := s.cell(r, "from").text, s.cell(r, "to").text
		rise, known := s.length(r, "rise"), s.length(r, "known")
		all = append(all, rise, known)
		if known != nil && to == "" && rise == nil {
			n.Fixed = append(n.Fixed, levelling.Fixed{Point: from, Level: *known, Row: r.line})
			continue
		}
		if known != nil {
			s.fault(r, s.cell(r, "known").column, "benchmark", "a known level stands on a line between two points", "a line of its own for each benchmark: its name under from, its level under known, nothing else")
			continue
		}
		if rise == nil {
			if s.cell(r, "rise").text == "" {
				s.fault(r, 1, "no-rise", "the line has no rise", "how much the point under to stands above the one under from")
			}
			continue
		}
		l := levelling.Line{From: from, To: to, Rise: *rise, Setups: s.count(r, "setups"), Row: r.line}
		if d := s.length(r, "length"); d != nil {
			l.Distance = *d
		}
		if d := s.length(r, "sd"); d != nil {
			l.SD = *d
		}
		length, sd, setups = length && l.Distance > 0, sd && l.SD > 0, setups && l.Setups > 0
		n.Lines = append(n.Lines, l)
	}
	switch {
	case sd:
		n.Weigh = levelling.BySD
	case length:
		n.Weigh = levelling.ByDistance
	case setups:
		n.Weigh = levelling.BySetup
	}
	n.Figures = places(s.settleUnit(), all)
	return n
}
