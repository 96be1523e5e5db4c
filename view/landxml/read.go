package landxml

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"trenchwright/base/finding"
)

const standard = "http://www.landxml.org/schema/LandXML-"

// passed is a container that is not read, and how many things lay in it.
type passed struct {
	name  string
	count int
}

// Read reads a file. An alignment that cannot be read is left out, and Notes hold the fault; where nothing at all is left
// the error says why, every reason at once, and the File holds nothing but the Notes.
func Read(in io.Reader, opts Options) (File, error) {
	r := newReader(in, opts)
	if err := r.document(); err != nil {
		return File{}, err
	}
	if err := r.settleUnits(); err != nil {
		return File{}, err
	}
	if err := r.settle(); err != nil {
		return File{Notes: r.file.Notes}, err
	}
	return *r.file, nil
}

func (r *reader) document() error {
	root, err := r.root()
	if err != nil {
		return err
	}
	if err := r.version(root); err != nil {
		return err
	}
	return r.children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Units":
			return r.units(e)
		case "CoordinateSystem":
			r.file.System = System{attr(e, "name"), attr(e, "epsgCode"), attr(e, "horizontalDatum"),
				cmp.Or(attr(e, "verticalDatum"), attr(e, "verticalCoordinateSystemName"))}
			return r.skip()
		case "Alignments", "PlanFeatures":
			if r.opts.NoLines {
				return r.passOver(e.Name.Local)
			}
			return r.drawings(e.Name.Local)
		case "Surfaces":
			return r.surfaces()
		case "PipeNetworks":
			return r.networks()
		case "CgPoints":
			return r.cgPoints(e, nil)
		case "Project", "Application", "FeatureDictionary", "Amendment":
			return r.skip()
		}
		return r.passOver(e.Name.Local)
	})
}

// drawings reads the alignments or the plan features.
func (r *reader) drawings(list string) error {
	into, name := &r.alignments, "Alignment"
	if list == "PlanFeatures" {
		into, name = &r.features, "PlanFeature"
	}
	return r.children(func(e xml.StartElement) error {
		if e.Name.Local != name {
			return r.skip()
		}
		return r.drawing(e, into)
	})
}

// root finds the first element.
func (r *reader) root() (xml.StartElement, error) {
	for {
		t, err := r.next()
		if err != nil {
			if f, ok := err.(*Refusal); ok && f.ID == "landxml.cut-short" {
				return xml.StartElement{}, r.refuse("empty", "the file holds no XML")
			}
			return xml.StartElement{}, err
		}
		if e, ok := t.(xml.StartElement); ok {
			return e, nil
		}
	}
}

// version decides whether this is a LandXML that is read.
func (r *reader) version(e xml.StartElement) error {
	if e.Name.Local != "LandXML" {
		return r.refuse("not-landxml", "this is XML and no LandXML: its first element is <%s>", e.Name.Local)
	}
	known := []string{"1.0", "1.1", "1.2"}
	r.space = e.Name.Space
	stated := attr(e, "version")
	named, official := strings.CutPrefix(r.space, standard)
	switch {
	case official && !slices.Contains(known, named):
		return r.refuse("version", "the file is LandXML %s; 1.0, 1.1 and 1.2 are read", named)
	case official:
		stated = named
	case !slices.Contains(known, stated):
		return r.refuse("version", "the file states LandXML version %q; 1.0, 1.1 and 1.2 are read", stated)
	case r.space == "":
		r.note("no-namespace", "the file names no schema; read as LandXML %s, which it states", stated)
	default:
		r.note("foreign-namespace", "the file names the schema %s; read as LandXML %s, which it states", r.space, stated)
	}
	r.file.Version = stated
	return nil
}

// passOver counts what lies in a container that is not read.
func (r *reader) passOver(name string) error {
	count := 0
	err := r.children(func(xml.StartElement) error {
		count++
		return r.skip()
	})
	for i := range r.passed {
		if r.passed[i].name == name {
			r.passed[i].count += count
			return err
		}
	}
	if r.keep(1) == nil {
		r.passed = append(r.passed, passed{name, count})
	}
	return err
}

// settle makes lines and points of what was written, once units and points are known.
func (r *reader) settle() error {
	for _, p := range r.passed {
		r.note("passed-over", "passed over: %s, with %d in it", p.name, p.count)
	}
	places := r.settlePoints()
	r.origin(places)
	if err := r.settlePipes(places); err != nil {
		return err
	}
	for _, d := range r.alignments {
		if a, ok := r.alignment(d, places); ok {
			r.file.Alignments = append(r.file.Alignments, a)
		}
	}
	for _, d := range r.features {
		if a, ok := r.alignment(d, places); ok {
			r.file.Features = append(r.file.Features, a)
		}
	}
	if len(r.file.Alignments)+len(r.file.Features)+len(r.file.Points)+len(r.file.Surfaces)+len(r.file.Pipes) > 0 {
		return nil
	}
	return r.nothing()
}

// nothing says why nothing was read.
func (r *reader) nothing() error {
	var why []string
	for _, f := range r.file.Notes {
		if f.Kind == finding.Fault {
			why = append(why, (&Refusal{f}).Error())
		}
	}
	if len(why) > 0 {
		return r.refuseAt(0, "nothing", "nothing in the file can be used: %s", strings.Join(why, "; "))
	}
	text := "the file holds no alignment, no plan feature and no point"
	switch {
	case r.opts.Surfaces && r.opts.NoLines:
		text = "the file holds no surface and no point"
	case r.opts.Surfaces:
		text = "the file holds no alignment, no plan feature, no surface and no point"
	}
	for _, p := range r.passed {
		text += fmt.Sprintf("; it holds %s, with %d in it, which this reader passes over", p.name, p.count)
	}
	return r.refuseAt(0, "nothing", "%s", text)
}
