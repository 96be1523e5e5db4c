package lifting

import (
	"math"

	"trenchwright/base/measure"
	"trenchwright/solve/check"
)

// eyebolts are shouldered eyebolts by their nominal size: what they carry at 0, 30, 60 and 90 degrees from the vertical, lb; 0: not
// recommended. ANSI B18.15 .
var eyebolts = []struct {
	size measure.Length
	lb   [4]float64
}{
	{measure.Inch / 4, [4]float64{400, 75, 0, 0}},
	{3 * measure.Inch / 8, [4]float64{1000, 400, 220, 180}},
	{measure.Inch / 2, [4]float64{1840, 850, 520, 440}},
	{5 * measure.Inch / 8, [4]float64{2940, 1410, 890, 740}},
	{3 * measure.Inch / 4, [4]float64{4340, 2230, 1310, 1140}},
	{measure.Inch, [4]float64{7880, 3850, 2630, 2320}},
	{5 * measure.Inch / 4, [4]float64{12600, 6200, 4125, 3690}},
	{3 * measure.Inch / 2, [4]float64{18260, 9010, 6040, 5460}},
	{2 * measure.Inch, [4]float64{32500, 15970, 10910, 9740}},
}

// generic is what suppliers commonly print of any shouldered eyebolt: its share at angles from the vertical.
var generic = []struct{ deg, share float64 }{{5, 1}, {15, 0.80}, {30, 0.65}, {45, 0.30}, {90, 0.25}}

// Eyebolt is what a shouldered eyebolt of a nominal size carries under an angle from the vertical, in lb: the lower of the two published
// tables, each at its next greater angle; nothing is read between two angles. 0: not recommended. False: no such size on file.
func Eyebolt(size measure.Length, fromVertical float64) (lb float64, ok bool) {
	for _, e := range eyebolts {
		if e.size != size {
			continue
		}
		at := min(3, max(0, int(math.Ceil(fromVertical/30-1e-9))))
		by, share := e.lb[at], 0.0
		for _, g := range generic {
			if fromVertical <= g.deg+1e-9 {
				share = g.share
				break
			}
		}
		return min(by, share*e.lb[0]), true
	}
	return 0, false
}

var eyeboltRule = check.Rule{ID: "lifting.eyebolt", Only: "lowers the limit of lifting.legs", Says: "a shouldered eyebolt under an angle carries the lower of what two published tables leave it",
	Law: "ANSI B18.15", Source: "as read, with the table that suppliers commonly print beside it", Status: check.Read, Tests: []string{"lifting.TestEyebolts"}}

// eyebolt lowers the limit of a lifting point to what its eyebolt keeps.
func (p *Problem) eyebolt(a *check.Answer, limit check.Quantity, has bool) (check.Quantity, bool) {
	steepest := 90.0
	for _, deg := range p.Sling.angles() {
		steepest = min(steepest, deg)
	}
	lb, ok := Eyebolt(*p.Sling.Eyebolt, 90-steepest)
	if !ok {
		a.Missing = append(a.Missing, check.Missing{What: "published table for eyebolts of " + p.Words.Length(*p.Sling.Eyebolt), Ask: "the maker of the eyebolts"})
		return limit, false
	}
	keeps := a.Work("the eyebolt keeps", "the lower of two published tables, at the next greater angle from the vertical ("+eyeboltRule.Law+")", check.Mass.Of(lb*check.Pound))
	if !has || keeps.SI < limit.SI {
		return keeps, has
	}
	return limit, has
}
