package planner

import (
	"cmp"
	"slices"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/sorting"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// services writes what is recorded as buried, leg by leg along the run, with what the dig found of it.
func (b *build) services() {
	met := map[[2]int]int{}
	if b.dug != nil {
		for k := range b.dug.Services {
			met[[2]int{b.dug.Services[k].Leg, b.dug.Services[k].Service}] = k
		}
	}
	joints := map[string][]Joint{}
	for _, j := range b.plan.Joints {
		joints[j.Leg] = append(joints[j.Leg], j)
	}
	for leg := range b.axes {
		from := len(b.plan.Services)
		for i, v := range b.leg(leg).Services {
			out := b.recorded(leg, v)
			b.besideJoint(leg, v, &out, joints[out.Leg])
			if k, ok := met[[2]int{leg, i}]; ok {
				m := &b.dug.Services[k]
				out.Lies, out.Bottom = liesOf[m.Finding.ID], metresOf(&m.Bottom)
				out.Said = []string{said(m.Finding)}
			}
			b.plan.Services = append(b.plan.Services, out)
		}
		sorting.By(b.plan.Services[from:], func(x, y Service) int { return cmp.Compare(x.At, y.At) })
	}
}

// liesOf is how a service lies, by the finding that says so.
var liesOf = map[string]string{
	"earthwork.service-in-unit": "in unit", "earthwork.service-in-bed": "in bed", "earthwork.service-below-bed": "below bed",
	"earthwork.service-deeper": "deeper", "earthwork.service-above": "above", "earthwork.service-depth-unknown": "unknown",
}

// recorded is what was recorded of a service.
func (b *build) recorded(leg int, v job.Service) Service {
	out := Service{ID: v.ID, Leg: b.leg(leg).ID, Name: v.Name, At: measure.MM(v.At), Width: measure.MM(v.Width), Skew: crossed(v).Degrees(),
		Quality: v.Quality, Depth: mmOf(v.Depth), Level: v.Level != nil, Zone: mmOf(entered(b.job.Dig.Tolerance)), Said: []string{}}
	if top, ok := b.serviceTop(leg, v); ok {
		out.Top = metresOf(&top)
	}
	return out
}

// serviceTop is the level of a service's top by record, or from its depth below the ground as it is where it crosses the
// centreline; false: nobody recorded either, or there is no ground.
func (b *build) serviceTop(leg int, v job.Service) (measure.Length, bool) {
	if v.Level != nil {
		return measure.FromMetres(*v.Level * b.net.unit), true
	}
	g := b.ground.Of(ground.Existing)
	if v.Depth == nil || g == nil {
		return 0, false
	}
	z, ok := g.At(b.planAt(leg, min(max(v.At, 0), b.axes[leg].line.Length())))
	return ground.Record(z.Z) - *v.Depth, ok
}

// besideJoint finds the joint nearest to a service, and where none may stand. Joints stand along the leg, each in [at - gap, at].
func (b *build) besideJoint(leg int, v job.Service, out *Service, joints []Joint) {
	a, width := &b.axes[leg], b.legSupply(leg).width
	half := func(clear measure.Length) (measure.Length, bool) {
		free, err := route.JointFree(v.Width, clear, width, crossed(v))
		return free / 2, err == nil
	}
	if free, ok := half(v.Clear); ok {
		out.Free = &[2]measure.MM{measure.MM(v.At - free), measure.MM(v.At + free)}
	}
	under, ok := half(0)
	if !ok {
		return
	}
	out.Under = &[2]measure.MM{measure.MM(v.At - under), measure.MM(v.At + under)}
	from, to := a.on(v.At-under), a.on(v.At+under)
	next, _ := slices.BinarySearchFunc(joints, a.on(v.At), func(j Joint, at measure.Length) int { return cmp.Compare(measure.Length(j.At), at) })
	for k := max(0, next-1); k <= min(next, len(joints)-1); k++ {
		j := &joints[k]
		away := measure.MM(max(0, measure.Length(j.At-j.Gap)-to, from-measure.Length(j.At)))
		if out.Away == nil || away < *out.Away {
			out.Joint, out.Away = j.Name, &away
		}
	}
}

// crossed is the angle between the run and a service; square where none is recorded.
func crossed(v job.Service) measure.Angle {
	if v.Skew == 0 {
		return 90 * measure.Degree
	}
	return v.Skew
}

// numbered gives the services the numbers of the findings about them, which stand in their order now.
func (b *build) numbered() {
	if len(b.plan.Services) == 0 {
		return
	}
	numbers, others := map[string]string{}, map[string][]int{}
	for i, f := range b.plan.Findings {
		switch {
		case strings.HasPrefix(f.ID, "earthwork.service-"):
			numbers[said(f)] = finding.Number(i)
		case f.ID == "planner.zone-off-leg" || f.ID == "planner.zone-over-node":
			others[f.Where.Leg] = append(others[f.Where.Leg], i)
		case strings.HasPrefix(f.Where.Path, "services."):
			others[f.Where.Path] = append(others[f.Where.Path], i)
		}
	}
	for i := range b.plan.Services {
		s := &b.plan.Services[i]
		for k, text := range s.Said {
			s.Said[k] = numbers[text]
		}
		for _, k := range others[s.Leg] {
			if f := &b.plan.Findings[k]; s.Free != nil && f.Where.Chainage != nil && (*f.Where.Chainage-measure.Length(s.Free[0])).Abs() < measure.Millimetre && strings.HasPrefix(f.Text, s.Name+keptFree) {
				s.Said = append(s.Said, finding.Number(k))
			}
		}
		for _, k := range others["services."+s.ID] {
			s.Said = append(s.Said, finding.Number(k))
		}
	}
}

// said is a finding by all that tells it from others.
func said(f finding.Finding) string { return f.ID + " " + f.Where.String() + " " + f.Text }
