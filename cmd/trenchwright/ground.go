package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/ground"
	"trenchwright/place/route"
	"trenchwright/view/groundin"
	"trenchwright/view/points"
)

type groundCommand struct {
	Files   []string `arg:"" name:"file" help:"Surveys: surfaces in LandXML, lists of points, or points and contours with levels (level_m) in GeoJSON."`
	Surface string   `help:"LandXML: which surface, where a file holds several." placeholder:"NAME"`
	Against string   `help:"Volume between the one surface that was named first and this one." placeholder:"FILE"`
	Other   string   `help:"LandXML: which surface of the file of --against." placeholder:"NAME"`
	Outline string   `help:"Within this outline alone: a list of points, in their order." placeholder:"FILE"`
	Columns string   `help:"Points: the order of the columns, for example P,E,N,Z,L (P name, E easting, N northing, Z level, D remark, C code, L line, - passed over)." placeholder:"ORDER"`
	Lines   []string `help:"Points: codes that are lines, each in the order of the file." placeholder:"CODE"`
	Unit    string   `help:"Unit of a file that states none: m, ft or usft (US survey foot)." placeholder:"UNIT"`
	Edge    string   `help:"Longest side of a triangle at the rim: nothing wider is bridged." placeholder:"LENGTH"`
	JSON    bool     `name:"json" help:"Answer as JSON."`
}

// groundAnswer is what `trenchwright ground --json` prints. Without --against there are no volumes.
type groundAnswer struct {
	Surfaces   []surfaceAnswer `json:"surfaces"`
	Cut        *float64        `json:"cut_m3,omitempty"`
	Fill       *float64        `json:"fill_m3,omitempty"`
	Common     *float64        `json:"common_area_m2,omitempty"`
	CutArea    *float64        `json:"cut_area_m2,omitempty"`
	FillArea   *float64        `json:"fill_area_m2,omitempty"`
	Missing    *float64        `json:"missing_area_m2,omitempty"` // of the outline: no ground on one or the other
	Understood []string        `json:"understood"`
	Findings   finding.List    `json:"findings"`
}

// surfaceAnswer is one surface in figures.
type surfaceAnswer struct {
	Name      string  `json:"name"`
	File      string  `json:"file"`
	Points    int     `json:"points"`
	Faces     int     `json:"faces"`
	Invisible int     `json:"invisible"`
	Area2D    float64 `json:"area2d_m2"`
	Area3D    float64 `json:"area3d_m2"`
	ZMin      float64 `json:"zmin_m"`
	ZMax      float64 `json:"zmax_m"`
}

// Run reads surfaces, says what they are, and computes what lies between two of them.
func (c *groundCommand) Run(p program) error {
	a := &asked{command: "ground"}
	w := groundin.Want{Columns: c.Columns, Lines: c.Lines, Unit: a.coordinateUnit(c.Unit)}
	if c.Edge != "" {
		w.Edge = a.positive("--edge", c.Edge, "the longest side of a triangle")
	}
	if c.Against == "" && (c.Outline != "" || c.Other != "") {
		a.fault("--against", "an outline and a surface to compare with belong to a volume; give the other surface's file")
	}
	if err := a.ends(); err != nil {
		return err
	}
	out := groundAnswer{Surfaces: []surfaceAnswer{}, Understood: []string{}, Findings: finding.List{}}
	var all []*ground.Surface
	for _, name := range c.Files {
		list, err := c.read(p, name, c.Surface, &w, &out)
		if err != nil {
			return err
		}
		all = append(all, list...)
	}
	if c.Against != "" {
		if err := c.between(p, all, w, &out); err != nil {
			return err
		}
	}
	if c.JSON {
		return p.json(out)
	}
	p.showGround(out)
	return nil
}

// read reads the surfaces of one file; from the first on, all have one origin.
func (c *groundCommand) read(p program, name, surface string, w *groundin.Want, out *groundAnswer) ([]*ground.Surface, error) {
	f, err := p.open("ground", name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	w.File, w.Surface = name, surface
	g, found := groundin.Read(f, *w)
	if len(g.Surfaces) == 0 {
		fmt.Fprint(p.err, found.Render(measure.Metric))
		return nil, outcome{exitFaults, plural(found.Count(finding.Fault), "fault", "faults") + "; nothing was computed."}
	}
	w.Origin = &g.Origin
	out.Understood = append(out.Understood, g.Heard...)
	out.Findings = append(out.Findings, found...)
	for _, s := range g.Surfaces {
		m := s.Measures()
		out.Surfaces = append(out.Surfaces, surfaceAnswer{s.Name, name, m.Points, m.Faces, m.Invisible, m.Area2D, m.Area3D, m.ZMin, m.ZMax})
	}
	return g.Surfaces, nil
}

// between computes the volume between the first surface and the one to compare with.
func (c *groundCommand) between(p program, first []*ground.Surface, w groundin.Want, out *groundAnswer) error {
	other, err := c.read(p, c.Against, c.Other, &w, out)
	if err != nil {
		return err
	}
	if len(first) != 1 || len(other) != 1 {
		return outcome{exitUsage, fmt.Sprintf("trenchwright ground: a volume lies between two surfaces, and %d stand on one side and %d on the other; name one of each with --surface and --other", len(first), len(other))}
	}
	outline, err := c.outline(p, w, *w.Origin, out)
	if err != nil {
		return err
	}
	v, found := ground.Between(first[0], other[0], outline)
	out.Findings = append(out.Findings, found...)
	if found.Any(finding.Fault) {
		fmt.Fprint(p.err, found.Render(measure.Metric))
		return outcome{exitFaults, plural(found.Count(finding.Fault), "fault", "faults") + "; no volume was computed."}
	}
	cut, fill, missing := float64(v.Cut), float64(v.Fill), v.Missing()
	out.Cut, out.Fill, out.Common, out.CutArea, out.FillArea = &cut, &fill, &v.Common, &v.CutArea, &v.FillArea
	if outline != nil {
		out.Missing = &missing
	}
	return nil
}

// outline reads the corners of an outline; nil where none is asked for.
func (c *groundCommand) outline(p program, w groundin.Want, o route.Origin, out *groundAnswer) ([]route.Point, error) {
	if c.Outline == "" {
		return nil, nil
	}
	f, err := p.open("ground", c.Outline)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	columns := strings.NewReplacer(",", "", " ", "", ";", "").Replace(c.Columns)
	t, found := points.Read(f, points.Options{Columns: columns, Unit: w.Unit, File: c.Outline})
	if found.Any(finding.Fault) || len(t.Points) < 3 {
		fmt.Fprint(p.err, found.Render(measure.Metric))
		return nil, outcome{exitFaults, fmt.Sprintf("%s holds no outline: three corners at least, in their order; nothing was computed.", c.Outline)}
	}
	out.Understood = append(out.Understood, t.Understood)
	var ring []route.Point
	for _, q := range t.Points {
		ring = append(ring, o.Point(q.At))
	}
	return ring, nil
}

func (p program) showGround(a groundAnswer) {
	fmt.Fprint(p.out, a.Findings.Render(measure.Metric))
	for _, h := range a.Understood {
		fmt.Fprintln(p.out, "understood: "+h)
	}
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "surface\tpoints\tfaces\tinvisible\tin plan\ton the slope\tfrom level\tto level\t")
	for _, s := range a.Surfaces {
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%.3f m²\t%.3f m²\t%.3f m\t%.3f m\t\n", s.Name, s.Points, s.Faces, s.Invisible, s.Area2D, s.Area3D, s.ZMin, s.ZMax)
	}
	w.Flush()
	if a.Cut == nil {
		return
	}
	fmt.Fprintf(p.out, "Both have ground on %.3f m².\n", *a.Common)
	fmt.Fprintf(p.out, "cut   %.3f m³ on %.3f m², where the first lies above the other\n", *a.Cut, *a.CutArea)
	fmt.Fprintf(p.out, "fill  %.3f m³ on %.3f m², where it lies below\n", *a.Fill, *a.FillArea)
	if a.Missing != nil && *a.Missing > 0 {
		fmt.Fprintf(p.out, "NOT CHECKED: no ground on %.3f m² of the outline. Ask: the surveyor\n", *a.Missing)
	}
}
