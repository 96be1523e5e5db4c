package landxml

import (
	"encoding/xml"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Pipe is one pipe of a network, straight from the middle of one structure to the middle of the next.
type Pipe struct {
	Network, Kind     string // the network's name; sanitary, storm, water or other
	Name, Desc, State string
	From, To          route.Coordinates
	Invert            [2]measure.Length // of the pipe at From and To: inside, at the bottom
	HasInvert         bool
	Width, Height     measure.Length // inside; equal for a round pipe, 0 where the file gives none
	Wall              measure.Length // its thickness; 0 where the file gives none
	Material          string
	Line              int // of the file
}

// rawPipe is a Pipe as it is written, and the structures of its network.
type rawPipe struct {
	Pipe
	from, to            string
	width, height, wall string
	channel, curved     bool
	structs             map[string]*rawStruct
}

type rawStruct struct {
	place
	inverts map[string]string // level by the name of the pipe
}

func (r *reader) networks() error {
	if !r.opts.Pipes {
		return r.passOver("PipeNetworks")
	}
	return r.children(func(e xml.StartElement) error {
		if e.Name.Local != "PipeNetwork" {
			return r.skip()
		}
		network, kind := attr(e, "name"), attr(e, "pipeNetType")
		structs := map[string]*rawStruct{}
		return r.children(func(e xml.StartElement) error {
			switch e.Name.Local {
			case "Structs":
				return r.children(func(e xml.StartElement) error {
					if e.Name.Local != "Struct" {
						return r.skip()
					}
					return r.structure(e, structs)
				})
			case "Pipes":
				return r.children(func(e xml.StartElement) error {
					if e.Name.Local != "Pipe" {
						return r.skip()
					}
					return r.pipe(e, network, kind, structs)
				})
			}
			return r.skip()
		})
	})
}

func (r *reader) structure(e xml.StartElement, into map[string]*rawStruct) error {
	s := &rawStruct{inverts: map[string]string{}}
	into[attr(e, "name")] = s
	if err := r.keep(1); err != nil {
		return err
	}
	return r.children(func(e xml.StartElement) (err error) {
		switch e.Name.Local {
		case "Center":
			s.place, err = r.place(e)
			return err
		case "Invert":
			s.inverts[attr(e, "refPipe")] = attr(e, "elev")
			if err = r.keep(1); err != nil {
				return err
			}
		}
		return r.skip()
	})
}

func (r *reader) pipe(e xml.StartElement, network, kind string, structs map[string]*rawStruct) error {
	p := rawPipe{Pipe: Pipe{Network: network, Kind: kind, Name: attr(e, "name"), Desc: attr(e, "desc"), State: attr(e, "state"), Line: r.at()},
		from: attr(e, "refStart"), to: attr(e, "refEnd"), structs: structs}
	err := r.children(func(e xml.StartElement) error {
		p.Material += attr(e, "material")
		switch e.Name.Local {
		case "CircPipe":
			p.width, p.height, p.wall = attr(e, "diameter"), attr(e, "diameter"), attr(e, "thickness")
		case "RectPipe":
			p.width, p.height, p.wall = attr(e, "width"), attr(e, "height"), attr(e, "thickness")
		case "EggPipe", "ElliPipe":
			p.width, p.height, p.wall = attr(e, "span"), attr(e, "height"), attr(e, "thickness")
		case "Channel":
			p.channel = true
		case "Center":
			p.curved = true
		}
		return r.skip()
	})
	r.pipes = append(r.pipes, p)
	if err != nil {
		return err
	}
	return r.keep(1)
}

// settlePipes turns what was written into pipes, once units and points are known. One that cannot be read is said.
func (r *reader) settlePipes(known *places) error {
	if len(r.pipes) == 0 {
		return nil
	}
	across := r.file.Unit
	if r.diameter != "" {
		if across = linear(r.diameter); across == measure.NoUnit {
			return r.refuseAt(0, "unit", "the file measures the diameters of its pipes in %q, which is not read", clipped(r.diameter))
		}
	} else {
		r.assume("diameter-unit", "the file does not say in which unit the diameters of its pipes are; read in %s like its coordinates", across)
	}
	for _, raw := range r.pipes {
		p, why := r.onePipe(raw, known, across)
		if why != "" {
			r.say(r.finding(finding.Attention, raw.Line, "pipe", "pipe %q of network %q is left out: %s", clipped(raw.Name), clipped(raw.Network), why))
			continue
		}
		r.file.Pipes = append(r.file.Pipes, p)
	}
	return nil
}

func (r *reader) onePipe(raw rawPipe, known *places, across measure.Unit) (Pipe, string) {
	p := raw.Pipe
	if raw.channel || raw.curved {
		return p, "it is a channel or a curved pipe; straight pipes are read"
	}
	inverts := 0
	for i, end := range []struct {
		name string
		into *route.Coordinates
	}{{raw.from, &p.From}, {raw.to, &p.To}} {
		s := raw.structs[end.name]
		if s == nil {
			return p, fmt.Sprintf("it ends at the structure %q, which its network does not hold", clipped(end.name))
		}
		at, _, _, why := r.coordinates(s.place, known)
		if why != "" {
			return p, fmt.Sprintf("the middle of its structure %q: %s", clipped(end.name), why)
		}
		*end.into = at
		text, given := s.inverts[raw.Name]
		if !given {
			continue
		}
		var ok bool
		if p.Invert[i], ok = length(text, r.file.Elevations); !ok {
			return p, fmt.Sprintf("its level at the structure %q: %s", clipped(end.name), notANumber(text))
		}
		inverts++
	}
	p.HasInvert = inverts == 2
	for _, f := range []struct {
		text string
		into *measure.Length
	}{{raw.width, &p.Width}, {raw.height, &p.Height}, {raw.wall, &p.Wall}} {
		if f.text == "" {
			continue
		}
		l, ok := length(f.text, across)
		if !ok || l < 0 {
			return p, fmt.Sprintf("%q is no size of a pipe", clipped(f.text))
		}
		*f.into = l
	}
	return p, ""
}
