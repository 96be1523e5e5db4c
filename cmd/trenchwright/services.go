package main

import (
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/view/jobtext"
	"trenchwright/view/servicein"
)

type servicesCommand struct {
	Job       string   `arg:"" help:"The job whose run is crossed, as YAML or JSON."`
	File      string   `arg:"" help:"The services: lines in GeoJSON, points on lines, or pipes and plan features in LandXML."`
	Clear     string   `required:"" help:"Each side of a service, where no joint may stand." placeholder:"LENGTH"`
	Width     string   `help:"Of services whose width the file does not give." placeholder:"LENGTH"`
	Quality   string   `help:"How well positions are known, where the file does not say: for example record drawing, locator, trial hole." placeholder:"TEXT"`
	Columns   string   `help:"Points: the order of the columns, for example P,E,N,L (P name, E easting, N northing, Z level, D remark, C code, L line, - passed over)." placeholder:"ORDER"`
	LineCodes []string `name:"lines" help:"Points: codes that are lines, each in the order of the file." placeholder:"CODE"`
	Tops      bool     `help:"Points: their levels are those of the top of the service."`
	Unit      string   `help:"Unit of a file that states none: m, ft or usft (US survey foot); the job's where left out." placeholder:"UNIT"`
	JSON      bool     `name:"json" help:"Answer as JSON."`
}

// servicesAnswer is what `trenchwright services --json` prints.
type servicesAnswer struct {
	Crossings  []crossingAnswer `json:"crossings"`
	Understood []string         `json:"understood"`
	Findings   finding.List     `json:"findings"`
}

// crossingAnswer is one place where a recorded service crosses the run.
type crossingAnswer struct {
	Leg      string      `json:"leg"`
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Chainage measure.MM  `json:"chainage_mm"`
	Width    measure.MM  `json:"width_mm"`
	Skew     float64     `json:"skew_deg"`
	Depth    *measure.MM `json:"depth_mm"` // to its top; null: unknown
	Level    *float64    `json:"level"`    // of its top, in the job's coordinate unit; null: unknown
	Quality  string      `json:"quality,omitempty"`
}

// Run reads recorded services and says where they cross the run; the job is left as it is.
func (c *servicesCommand) Run(p program) error {
	a := &asked{command: "services"}
	w := c.want(a)
	if err := a.ends(); err != nil {
		return err
	}
	text, err := p.read("services", c.Job)
	if err != nil {
		return err
	}
	j, err := p.readJob(c.Job, text)
	if err != nil {
		return err
	}
	got, found, err := p.services(j, w)
	if err != nil {
		return err
	}
	if c.JSON {
		return p.json(servicesAnswer{crossings(got), append([]string{}, got.Heard...), append(finding.List{}, found...)})
	}
	fmt.Fprint(p.err, found.Say(j.Speech()))
	for _, h := range got.Heard {
		fmt.Fprintln(p.out, "# "+h)
	}
	for _, l := range got.Legs {
		const underLeg = 6 // as deep as a job's own text has it
		fmt.Fprintf(p.out, "\n# under leg %s:\n", l.Leg)
		if err := jobtext.WriteServices(p.out, l.Services, underLeg); err != nil {
			return err
		}
	}
	return nil
}

func (c *servicesCommand) want(a *asked) servicein.Want {
	w := servicein.Want{File: c.File, Columns: c.Columns, Lines: c.LineCodes, Quality: c.Quality, Tops: c.Tops, Unit: a.coordinateUnit(c.Unit), Clear: a.positive("--clear", c.Clear, "the distance to a joint")}
	if c.Width != "" {
		w.Width = a.positive("--width", c.Width, "a service")
	}
	return w
}

// services finds what of a file crosses a run.
func (p program) services(j job.Job, w servicein.Want) (servicein.Services, finding.List, error) {
	f, err := p.open("services", w.File)
	if err != nil {
		return servicein.Services{}, nil, err
	}
	defer f.Close()
	got, found := servicein.Read(f, j, w)
	if found.Any(finding.Fault) {
		fmt.Fprint(p.err, found.Say(j.Speech()))
		return got, found, outcome{exitFaults, plural(found.Count(finding.Fault), "fault", "faults") + "; no service was taken."}
	}
	return got, found, nil
}

func crossings(got servicein.Services) []crossingAnswer {
	out := []crossingAnswer{}
	for _, l := range got.Legs {
		for _, s := range l.Services {
			a := crossingAnswer{Leg: l.Leg, ID: s.ID, Name: s.Name, Chainage: measure.MM(s.At), Width: measure.MM(s.Width), Skew: s.Skew.Degrees(), Level: s.Level, Quality: s.Quality}
			if s.Skew == 0 {
				a.Skew = 90
			}
			if s.Depth != nil {
				d := measure.MM(*s.Depth)
				a.Depth = &d
			}
			out = append(out, a)
		}
	}
	return out
}
