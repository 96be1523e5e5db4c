package planner

import (
	"crypto/sha256"
	"fmt"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// Origin is what the surfaces of a job's ground have to be relative to.
func Origin(j job.Job) route.Origin {
	j, _ = walked(j)
	g, _ := lay(j, supplies(j))
	return g.origin
}

// Run is where a job's run goes: its network in plan, by the centreline, relative to an origin; and what is wrong with it.
func Run(j job.Job) (route.Network, route.Origin, finding.List) {
	j, faults := walked(j)
	g, more := lay(j, supplies(j))
	return g.Network, g.origin, append(faults, more...)
}

// clipReach is how far beside the run its ground is kept, where the job's strip of land is no wider.
const clipReach = 30 * measure.Metre

// clipSagitta is how far the line that ground is clipped along may leave a curve, in metres.
const clipSagitta = 0.5

// Clip is the part of a surface that a job's run can need: what lies beside it. Nil: none of it does.
func Clip(j job.Job, s *ground.Surface) *ground.Surface {
	j, _ = walked(j)
	g, _ := lay(j, supplies(j))
	reach := max(clipReach, j.Dig.Strip.Left.Value, j.Dig.Strip.Right.Value)
	var line []route.Point
	for _, l := range g.Legs {
		line = append(line, l.Line.Points(0, l.Line.Length(), clipSagitta)...)
	}
	if len(line) < 2 {
		return nil
	}
	return s.Clip(line, reach.Metres())
}

// GroundRole is the role of an attachment that is ground, clipped along the run.
const GroundRole = "ground"

// Surfaces are the surfaces that a job's attachments hold, each held to its hash; get gives the bytes of one by its name.
func Surfaces(j job.Job, get func(name string) ([]byte, error)) ([]*ground.Surface, error) {
	var out []*ground.Surface
	for _, a := range j.Attachments {
		if a.Role != GroundRole {
			continue
		}
		text, err := get(a.Name)
		if err != nil {
			return nil, fmt.Errorf("attachment %s: %w", a.Name, err)
		}
		if sum := fmt.Sprintf("%x", sha256.Sum256(text)); sum != a.SHA256 {
			return nil, fmt.Errorf("attachment %s is not the file that the job was planned with: its SHA-256 is %s, the job says %s", a.Name, sum, a.SHA256)
		}
		s, err := ground.Decode(text)
		if err != nil {
			return nil, fmt.Errorf("attachment %s: %w", a.Name, err)
		}
		out = append(out, s)
	}
	return out, nil
}
