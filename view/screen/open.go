package screen

import (
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/place/ground"
	"trenchwright/view/schedule"
)

// Of is a job's plan as a screen draws it; surfaces are those that it was planned on.
func Of(p planner.Plan, j job.Job, view View, surfaces ...*ground.Surface) Screen {
	return newDraft(p, j, surfaces, view).screen()
}

// JSON is Of as the desk of a browser answers when the job is opened there, to the byte.
func JSON(p planner.Plan, j job.Job, view View, surfaces ...*ground.Surface) []byte {
	return encode(Of(p, j, view, surfaces...))
}

func (d *draft) screen() Screen {
	p := &d.plan
	s := Screen{
		Core: p.Core, Hash: p.Job.Hash, Length: d.length, Words: d.words(), Axis: d.axis(), Supplies: d.supplies(),
		Job: JobHead{ID: p.Job.ID, Name: p.Job.Name, Owner: p.Job.Owner, Revision: p.Job.Revision, System: d.view.System, Words: d.view.Words,
			Own: d.own(), Said: d.runSaid()},
		Legs: d.stripLegs(), Zones: d.zones(), Nodes: d.nodes(), Findings: d.findings(), Open: d.plan.Open().Said(), Section: d.section(), Plan: d.planView(),
		Crossings: []Thing{}, Services: []Thing{}, Entries: []Thing{}, Supports: []Thing{}, Forced: []Thing{},
	}
	s.room(len(p.Units), len(p.Covers), len(p.Joints))
	for _, leg := range d.order {
		base := len(s.Units.Mark)
		d.addUnits(leg, &s.Units, &s.Covers)
		d.addJoints(leg, base, &s.Joints)
		d.things(leg, &s)
	}
	s.Units.fill()
	s.Covers.fill()
	s.Joints.fill()
	s.Tables = d.tableHeads()
	s.Stages = d.stages(s.Findings, s.Tables)
	s.Sheets = d.sheets(s.Tables)
	return s
}

// room makes room in the columns.
func (s *Screen) room(units, covers, joints int) {
	s.Units = Units{make([]string, 0, units), make([]int, 0, units), make(Numbers, 0, units), make(Numbers, 0, units), make([]int, 0, units), make([]int, 0, units)}
	s.Covers = Covers{make([]int, 0, covers), make([]int, 0, covers), make(Numbers, 0, covers), make(Numbers, 0, covers), make([]int, 0, covers)}
	s.Joints = Joints{make([]int, 0, joints), make(Numbers, 0, joints), make(Numbers, 0, joints), make(Numbers, 0, joints), make([]int, 0, joints)}
}

// own is what the job itself says of system and words.
func (d *draft) own() View {
	v := View{System: string(d.job.System), Words: string(d.job.Words)}
	if v.System == "" {
		v.System = string(job.Metric)
	}
	if v.Words == "" {
		v.Words = string(job.UK)
	}
	return v
}

func (d *draft) words() Words {
	w := d.speech.Word
	out := Words{Unit: w(wording.Unit), Units: w(wording.Units), Closer: w(wording.Closer), Mitre: w(wording.Mitre), Mitred: w(wording.Mitred),
		Chainage: w(wording.Chainage), UpChainage: w(wording.UpChainage), Pad: w(wording.Pad), Pads: w(wording.Pads), EndPlate: w(wording.EndPlate),
		Transition: w(wording.Transition), Service: w(wording.Service), Services: w(wording.Services), Centreline: w(wording.Centreline),
		SetOut: w(wording.SetOut), Formation: w(wording.Formation), Bed: w(wording.Bed), Layer: w(wording.Layer), Layers: w(wording.Layers),
		RodReading: w(wording.RodReading), Instrument: w(wording.Instrument), Benchmark: w(wording.Benchmark), Levelling: w(wording.Levelling),
		LengthUnit: "mm", CoordUnit: d.unit, LevelPlaces: d.places}
	if d.job.System == job.Imperial {
		out.LengthUnit = "in"
	}
	return out
}

func (d *draft) axis() Axis {
	if d.speech.Imperial {
		return Axis{Unit: "ft", InMM: measure.Foot.Millimetres(), Major: 100}
	}
	return Axis{Unit: "m", InMM: 1000, Major: 100}
}

func (d *draft) supplies() []Supply {
	out := []Supply{}
	number := func(l *measure.MM) *float64 {
		if l == nil {
			return nil
		}
		return new(mm(*l))
	}
	entry := func(e job.Entry[measure.Length]) *float64 {
		if !e.Known {
			return nil
		}
		return new(e.Value.Millimetres())
	}
	for i, h := range d.plan.Supplies {
		s := Supply{ID: h.ID, Title: h.Title, OuterWidth: number(h.OuterWidth), OuterHeight: number(h.OuterHeight),
			InnerWidth: number(h.InnerWidth), InnerHeight: number(h.InnerHeight), CoverWidth: number(h.CoverWidth), DrawnWidth: d.widths[i]}
		for _, of := range d.job.Supplies {
			if of.ID != h.ID {
				continue
			}
			s.OnPads = of.Bearing.On.Value == "pads"
			s.PadAlong, s.PadAcross, s.PadThick = entry(of.Bearing.PadAlong), entry(of.Bearing.PadAcross), entry(of.Bearing.PadThick)
			if of.Cover != nil {
				s.CoverThick = entry(of.Cover.Thickness)
			}
		}
		out = append(out, s)
	}
	return out
}

// runSaid is the run in one line.
func (d *draft) runSaid() string {
	t := &d.plan.Totals
	return strings.Join([]string{count(t.Legs, "leg", "legs"), d.unitsText(t.Units), count(t.Cuts, "cut", "cuts"), count(t.Covers, "cover", "covers"),
		d.far(measure.MM(measure.FromMillimetres(d.length))) + " from node to node"}, ", ")
}

func (d *draft) unitsText(n int) string {
	return count(n, d.speech.Word(wording.Unit), d.speech.Word(wording.Units))
}

// tableHeads are the tables that can be asked for.
func (d *draft) tableHeads() []TableHead {
	out := []TableHead{}
	if d.early {
		return out
	}
	for _, h := range schedule.Of(d.plan, d.job).Heads() {
		out = append(out, TableHead{Name: h.Name, Title: h.Title, Rows: h.Rows})
	}
	return out
}
