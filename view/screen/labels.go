package screen

import (
	"reflect"
	"strings"

	"trenchwright/base/wording"
)

// labels are what a field is called beside the box that it is typed into, by the type that has it and its word in the job's text.
// A field without one is called by its word, which says enough there.
var labels = map[string]string{
	"Job.id": "id of the job", "Job.name": "what the job is called", "Job.owner": "built for", "Job.by": "who answers for the job",
	"Job.on": "date of this state", "Job.system": "figures are shown in", "Job.words": "words are",

	"Node.id": "name of the node", "Node.at": "easting, northing", "Node.level": "level of the wall top here", "Node.fitting": "casting of the supply", "Node.through": "legs that go straight through",
	"SawnTee.into": "leg whose wall is opened", "SawnTee.opening": "width of the opening", "SawnTee.clear": "opening to the next joint, at least",
	"End.kind": "how the leg ends", "End.thickness": "thickness of the end plate or wall", "End.face": "face of the wall that the node stands on", "End.level": "wall top of the existing trench",
	"End.skew": "its face from square", "End.section": "its outer section", "End.gap": "gap to what the leg ends at", "Node.note": "note",
	"Vertex.at": "easting, northing of the corner", "Vertex.radius": "radius on the axis",
	"Leg.id": "name of the leg", "Leg.from": "starts at node", "Leg.to": "ends at node", "Leg.supply": "supply laid here", "Leg.lay_from": "laid from node", "Leg.first": "lengths of the first units", "Leg.hold": "keep one closer on hold",

	"Crossing.id": "name of the crossing", "Crossing.name": "what people call it", "Crossing.at": "chainage of its middle", "Crossing.path": "width driven over, square to it", "Crossing.margin": "more on each side",
	"Crossing.skew": "angle to the run", "Crossing.supply": "supply that has to lie under it", "Crossing.reach": "that supply reaches further by", "Crossing.may_cut": "cut pieces allowed here", "Crossing.vehicle": "what crosses, in words",
	"Crossing.crosses": "what crosses, by vehicle", "Crossing.class": "class asked for here", "Crossing.fill": "fill over the units", "Plate.thick": "steel plate, thickness", "Plate.span": "steel plate spans", "Plate.long": "steel plate, length along the run",
	"Plate.bearing": "steel plate rests on, each side", "Plate.edges": "steel plate rests on four edges", "Plate.stress": "steel plate, stress allowed",
	"Service.id": "name of the service", "Service.name": "what it is", "Service.at": "chainage where it crosses", "Service.width": "how wide it is", "Service.clear": "no joint within, each side",
	"Service.skew": "angle to the run", "Service.depth": "down to its top", "Service.level": "level of its top", "Service.quality": "how its place is known",
	"ConduitEntry.id": "name of the entry", "ConduitEntry.at": "chainage of its middle", "ConduitEntry.side": "side, looking along the leg", "ConduitEntry.diameter": "outside diameter",
	"ConduitEntry.clear": "no joint within, each side", "ConduitEntry.level": "its middle above the underside",
	"Support.id": "name of the support", "Support.at": "chainage of its middle", "Support.every": "again every", "Support.width": "length along the run", "Support.clear": "no joint within, each side",
	"Zone.id": "name of the zone", "Zone.from": "chainage where it starts", "Zone.to": "chainage where it ends", "Zone.why": "why",
	"ForcedJoint.id": "name of the joint asked for", "ForcedJoint.at": "chainage of the joint", "ForcedJoint.tol": "may stand off by", "ForcedJoint.why": "why",
	"Pin.id": "name of the pin", "Pin.leg": "on leg", "Pin.at": "chainage", "Pin.level": "level", "Pin.of": "level of what", "Pin.why": "why",
	"Outlet.id": "name of the outlet", "Outlet.leg": "on leg", "Outlet.at": "chainage", "Outlet.into": "where the water goes", "Outlet.of": "whose water leaves here", "Outlet.drain": "level of the drain's invert",

	"Document.id": "short name of the document", "Document.title": "what kind of paper it is", "Document.revision": "its revision", "Document.page": "page or sheet",

	"Rules.from": "document of these rules", "Rules.drift_reserve": "kept of every joint for drift", "Rules.lip_limit": "largest step at a joint", "Rules.formation_tolerance": "formation may be off by", "Rules.bed_tolerance": "pad or bed may be off by",
	"Rules.cover_tolerance": "top of a cover may be off by", "Rules.saw_tolerance": "a cut may be off by", "Rules.unit_scatter": "scatter of a unit's length", "Rules.prefer": "what decides between equals",

	"Levels.from": "document of these figures", "Levels.above": "covers above the finished ground by", "Levels.grades": "how grades run", "Levels.least": "least fall of the invert", "Levels.most": "steepest grade for units",
	"Levels.stepped_beyond": "stepped where steeper than", "Levels.step_most": "a step at most", "Levels.step_grade": "grade of units between steps", "Levels.setting": "grades are whole numbers of", "Levels.beam": "laser beam above the pads",
	"Levels.reading": "a rod reading may be off by", "Levels.apart": "units between two changes of grade", "Levels.break": "price of a change of grade by 1 %", "Levels.above_weight": "price of lying too high", "Levels.below_weight": "price of lying too low",

	"Dig.from": "document of these figures", "Dig.jurisdiction": "excavation rules of", "Dig.soil": "soil class", "Dig.sides": "sides of the dig", "Dig.slope": "slope of the sides", "Dig.upright": "upright part of the sides",
	"Bench.height": "height of a bench", "Bench.width": "width of a bench", "Dig.room": "working room on each side", "Dig.compactor": "what compacts", "Dig.over_dig": "dug beyond the lines by", "Dig.bed": "thickness of the bed",
	"Dig.topsoil": "topsoil stripped", "Dig.layer": "thickness of a layer", "Method.class": "class of the compactor", "Method.fill": "fill is", "Method.wholly_cohesive": "fill is all cohesive",
	"Fabric.lap": "overlap of the fabric", "Fabric.sheet": "length of a sheet of fabric", "Fabric.up": "fabric up each side by", "Dig.reuse": "what was dug may be filled in", "Dig.load": "one vehicle carts",
	"WorkStrip.left": "land to use on the left", "WorkStrip.right": "land to use on the right", "WorkStrip.setback": "edge of the dig kept free", "WorkStrip.heap": "slope of a spoil heap",
	"Dig.influence": "line down from what is set", "Dig.surcharge": "line up from the foot of the dig", "Dig.tolerance": "zone round a recorded service", "DigSections.every": "a cross section every",
	"Dig.hours": "hours that the dig stays open", "Dig.signs": "signs of a cave-in found", "Dig.wet": "water in the dig", "Dig.oxygen": "oxygen in its air, per cent", "Dig.beside": "ground falls away by, at most", "Dig.ladder_above": "ladders stand out by",
	"Shield.above": "box stands out by", "Shield.below": "dug below the box",

	"Supply.id": "name of the supply", "Supply.title": "what people call it", "Supply.from": "document of these figures", "UnitMake.lengths": "lengths that are made", "UnitMake.inner": "inside, width x height", "UnitMake.outer": "outside, width x height",
	"UnitMake.mass": "mass per length", "UnitMake.ends": "form of the ends", "UnitMake.may_turn": "may be turned end for end", "UnitMake.out_of_square": "an end may be out of square by", "UnitMake.height_tolerance": "its height may be off by",
	"UnitMake.batch_note": "known of the batch", "JointMake.gap": "gap of a joint", "JointMake.mitre_gap": "gap at a mitred joint", "JointMake.end_gap": "gap at an end plate or wall",
	"SawRule.shortest": "shortest cut piece", "SawRule.kerf": "what the blade takes", "SawRule.least_slice": "least slice off an end", "SawRule.keep_factory_end": "one end stays as cast", "SawRule.no_cuts": "supplier forbids cutting",
	"CoverMake.lengths": "cover lengths that are made", "CoverMake.gap": "gap between covers", "CoverMake.width": "width of a cover", "CoverMake.thickness": "thickness of a cover", "CoverMake.thickness_tolerance": "its thickness may be off by",
	"CoverMake.shortest": "shortest cut cover", "CoverMake.mass": "mass of covers per length", "CoverMake.may_turn_over": "may be laid upside down", "CoverMake.rating": "load rating of covers", "CoverMake.cut_keeps_rating": "cut covers keep it", "CoverMake.lifted_by": "covers lifted by",
	"BearingMake.on": "units stand on", "BearingMake.pad_along": "pad, along the run", "BearingMake.pad_across": "pad, across the run", "BearingMake.pad_thick": "pad, thickness",

	"Supply.rated_on": "a rated wheel stands on", "Supply.top_bears": "its top bears", "Supply.wall_bears": "its walls bear",
	"Checks.from": "document of these figures", "Checks.dynamic": "a moving wheel counts more by, per cent", "Water.level": "highest level of the water", "Water.plus": "that level is good for", "Water.density": "density of the water, kg/m³", "Water.factor": "weight over uplift asked for",
	"Earth.weight": "earth weighs", "Earth.phi": "its angle of friction", "Earth.coefficient": "coefficient of earth pressure", "Earth.spread": "a wheel spreads with depth by", "Earth.surcharge": "even pressure beside the run", "Earth.traffic": "vehicles pass beside the run",
	"BesideRun.pressure": "strip beside the run presses", "BesideRun.near": "strip begins at", "BesideRun.far": "strip ends at",
	"Footing.allows": "the ground is allowed", "Footing.width": "width of bed that bears", "Footing.cohesion": "cohesion of the ground below", "Footing.phi": "friction of the ground below", "Footing.weight": "the ground below weighs", "Footing.factor": "factor against giving way",
	"Cables.from": "document of the cables", "Cables.share": "cables may fill, per cent", "Cables.apart": "classes of cables apart by", "Cables.gap": "between cables", "Cables.later": "a later cable", "Cables.friction": "friction on straights", "Cables.corners": "friction at corners",
	"Cables.corner": "rollers at corners, radius", "Cables.drum": "pull off the drum", "Cables.sun": "the sun shines on the covers", "Cables.air": "warmest air outside", "Cables.inside": "air inside may reach", "Cables.conductor": "a conductor may reach",
	"Cables.rated_at": "currents are rated in air of", "Cables.group": "circuits lie", "Cables.bears": "a support bears", "Cables.slack": "cut besides, per cent", "Cables.ends": "cut besides for both ends",
	"FillTests.every": "a test on every", "FillTests.each_layers": "a test in so many layers", "FillTests.least": "tests on a leg, no fewer than",

	"Coordinates.system": "coordinate system", "Coordinates.height_datum": "levels are measured from", "Coordinates.unit": "unit of coordinates and levels", "Coordinates.scale_factor": "scale factor, grid over ground",
	"Coordinates.scale_from": "document of the factor", "Coordinates.origin": "taken off eastings and northings",
}

// label is what a field is called, in the words of the view.
func (w *fieldWalk) label(in reflect.Type, word, otherwise string) string {
	if said, ok := labels[in.Name()+"."+word]; ok {
		return w.spoken(said)
	}
	return w.spoken(otherwise)
}

// spoken is a text of the job's schema in the words of the view.
func (w *fieldWalk) spoken(text string) string {
	return strings.NewReplacer("chainage", w.speech.Word(wording.Chainage), "formation", w.speech.Word(wording.Formation)).Replace(text)
}

// bareUnit says what a number without a unit is taken in: the job's own unit, whatever the view is.
func (d *draft) bareUnit(kind string) string {
	switch kind {
	case "length", "lengths", "section", "window":
		return d.words().LengthUnit
	case "chainage":
		return map[string]string{"mm": "m", "in": "ft"}[d.words().LengthUnit]
	case "level", "place":
		return d.unit
	case "angle":
		return "degrees"
	}
	return ""
}
