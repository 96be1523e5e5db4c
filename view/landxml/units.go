package landxml

import (
	"encoding/xml"
	"strings"

	"trenchwright/base/measure"
)

// linear are the standard's names of linearUnit. The mile is among them and no alignment is drawn in it.
func linear(name string) measure.Unit {
	switch strings.ToLower(name) {
	case "millimeter":
		return measure.UnitMillimetre
	case "centimeter":
		return measure.UnitCentimetre
	case "meter":
		return measure.UnitMetre
	case "kilometer":
		return measure.UnitKilometre
	case "foot", "feet":
		return measure.UnitFoot
	case "ussurveyfoot":
		return measure.UnitSurveyFoot
	case "inch":
		return measure.UnitInch
	}
	return measure.NoUnit
}

// units reads Units.
func (r *reader) units(e xml.StartElement) error {
	return r.children(func(e xml.StartElement) error {
		if e.Name.Local != "Metric" && e.Name.Local != "Imperial" {
			return r.skip()
		}
		name := attr(e, "linearUnit")
		unit := linear(name)
		switch {
		case unit == measure.NoUnit:
			return r.refuse("unit", "the file measures in %q; millimeter, centimeter, meter, kilometer, foot, USSurveyFoot and inch are read", name)
		case r.file.Unit != measure.NoUnit && r.file.Unit != unit:
			return r.refuse("unit", "the file states two units: %s and %s", r.file.Unit, unit)
		}
		r.file.Unit = unit
		r.imperial = e.Name.Local == "Imperial"
		r.angular, r.elevation = attr(e, "angularUnit"), attr(e, "elevationUnit")
		r.diameter = attr(e, "diameterUnit")
		return r.skip()
	})
}

// settleUnits decides what was left open.
func (r *reader) settleUnits() error {
	f := r.file
	if f.Unit == measure.NoUnit {
		if _, _, ok := nanometres(r.opts.Unit); !ok {
			return r.refuseAt(0, "no-unit", "the file does not say in which unit it measures").try("state the unit: metre, foot or US survey foot")
		}
		f.Unit = r.opts.Unit
		r.assume("unit-given", "the file does not say in which unit it measures; read in %s, as stated by whoever imported it", f.Unit)
	}
	var err error
	if f.Elevations, err = r.levelUnit(f.Unit); err != nil {
		return err
	}
	if was := r.groundUnits; was != [2]measure.Unit{} && was != [2]measure.Unit{f.Unit, f.Elevations} {
		return r.refuseAt(0, "unit", "the file states its units behind its surfaces, which were read in %s with levels in %s: it says %s, levels in %s",
			was[0], was[1], f.Unit, f.Elevations).try("the same file with its units first")
	}
	switch {
	case r.elevation == "" && r.imperial:
		r.assume("elevation-unit", "the file does not say in which unit its levels are; read in %s like its coordinates", f.Unit)
	case linear(r.elevation) == measure.UnitFoot && f.Elevations == measure.UnitSurveyFoot:
		r.assume("elevation-unit", "the file measures levels in %q, and LandXML has one word for both feet; read in %s like its coordinates", r.elevation, f.Unit)
	}
	angular := r.angular
	if angular == "" {
		angular = "not stated"
	}
	r.note("understood", "LandXML %s in %s, northing before easting; angles in the file (%s) are not used", f.Version, f.Unit, angular)
	return nil
}

// levelUnit is the unit of levels in a file whose coordinates are in across.
func (r *reader) levelUnit(across measure.Unit) (measure.Unit, error) {
	if r.elevation == "" {
		return across, nil
	}
	unit := linear(r.elevation)
	switch {
	case unit == measure.NoUnit:
		return unit, r.refuseAt(0, "unit", "the file measures levels in %q, which is not read", r.elevation)
	case unit == measure.UnitFoot && across == measure.UnitSurveyFoot:
		return across, nil // "feet" is all that the standard lets such a file say
	}
	return unit, nil
}
