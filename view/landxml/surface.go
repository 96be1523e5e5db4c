package landxml

import (
	"encoding/xml"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/place/route"
)

// Surface is one surface: the triangles that the file gives it, and the survey that it was made of. Either may be
// missing, not both: without Faces a surface is to be triangulated from Breaklines and Spots by whoever wants it.
type Surface struct {
	Name, Desc, State string
	Points            []Vertex   // of the faces, in the file's order
	Faces             [][3]int32 // indices of Points, in the file's order and turn
	Hidden            []bool     // by face: it belongs to the triangulation and is no ground; nil: none is hidden
	Spots             []Vertex   // of the survey: single points, all with a level
	Breaklines        []Polyline // of the survey: edges that triangles may not cross; Kind is the standard's brkType
	Boundaries        []Polyline // Kind is outer, void (a hole) or island (ground in a hole)
	At                int        // line of the file
}

// Vertex is a point in plan with its level.
type Vertex struct {
	At    route.Coordinates
	Level measure.Length
}

// Polyline is a line of a survey through at least two points, in their order.
type Polyline struct {
	Name, Desc, Kind string
	Points           []Vertex
	Flat             bool // the file gives no levels; those of Points are 0 and mean nothing
	Trim             bool // of a boundary: faces are cut along it; otherwise those that it meets stay or go whole
	At               int  // line of the file
}

// surfaces reads the surfaces of the file, where they are wanted; the file's unit must be known by now.
func (r *reader) surfaces() error {
	if !r.opts.Surfaces {
		return r.passOver("Surfaces")
	}
	return r.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Surface":
			return r.surface(e)
		case "Feature":
			return r.skip()
		}
		return r.passOver(e.Name.Local)
	})
}

func (r *reader) surface(e xml.StartElement) error {
	b := builder{reader: r, surface: Surface{Name: attr(e, "name"), Desc: attr(e, "desc"), State: attr(e, "state"), At: r.at()}}
	if err := b.units(); err != nil {
		return err
	}
	err := r.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Definition":
			return b.definition(e)
		case "SourceData":
			return b.source()
		}
		return r.skip() // watersheds, features
	})
	if err != nil {
		return err
	}
	b.settle()
	return nil
}

// builder makes one surface. The first thing that is wrong with it leaves it out; what follows is passed over.
type builder struct {
	*reader
	surface       Surface
	across, above measure.Unit // of coordinates and of levels
	ids           map[int64]int32
	raw           [][3]int64 // faces, by the ids that the file gives its points
	rawHidden     []bool
	hidden        int
	flattened     int // triangles with a corner twice
	given         int // faces of the file
	split         int // faces with four corners
	references    int // points and chains that are only named
	wrong         bool
}

// units settles the units ahead of the first surface: figures are turned into lengths as they come, because a surface
// held as text is ten times its size.
func (b *builder) units() error {
	b.across = b.file.Unit
	if b.across == measure.NoUnit {
		b.across = b.opts.Unit
	}
	if _, _, ok := nanometres(b.across); !ok {
		return b.refuse("no-unit", "the file does not say in which unit it measures ahead of its surfaces").try("state the unit: metre, foot or US survey foot")
	}
	var err error
	b.above, err = b.levelUnit(b.across)
	b.groundUnits = [2]measure.Unit{b.across, b.above}
	return err
}

func (b *builder) called() string {
	if b.surface.Name == "" {
		return "the surface without a name"
	}
	return fmt.Sprintf("surface %q", clipped(b.surface.Name))
}

// spoil leaves the surface out and says why, once.
func (b *builder) spoil(id, text string, args ...any) {
	if b.wrong {
		return
	}
	b.wrong = true
	b.fault(b.at(), id, "%s: %s", b.called(), fmt.Sprintf(text, args...))
}

// settle keeps the surface, or says why not.
func (b *builder) settle() {
	s := &b.surface
	if !b.wrong {
		b.resolve()
	}
	if !b.wrong && len(s.Faces)+len(s.Spots)+len(s.Breaklines) == 0 {
		b.wrong = true
		b.fault(s.At, "empty-surface", "%s holds no face, no point of a survey and no breakline", b.called())
	}
	if b.wrong {
		return
	}
	if b.references > 0 {
		b.say(b.finding(finding.Attention, s.At, "named-points", "%s names %d points or files without their coordinates; they were passed over", b.called(), b.references))
	}
	if b.split > 0 {
		b.say(b.finding(finding.Attention, s.At, "four-corners", "%s has %d faces with four corners; each is split in two from its first corner to its third, for the file does not say which way it bends", b.called(), b.split))
	}
	if b.flattened > 0 {
		b.say(b.finding(finding.Attention, s.At, "flat-faces", "%s has %d faces with one corner twice; they hold no ground and were passed over", b.called(), b.flattened))
	}
	b.note("surface", "%s: %d points, %d faces, %d of them hidden; of its survey %d points, %d breaklines, %d boundaries",
		b.called(), len(s.Points), len(s.Faces), b.hidden, len(s.Spots), len(s.Breaklines), len(s.Boundaries))
	b.file.Surfaces = append(b.file.Surfaces, *s)
}
