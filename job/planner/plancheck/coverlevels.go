package plancheck

import (
	"math/big"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/job"
)

// coverLevel is how true covers can come to lie, as plan.json says it.
type coverLevel struct {
	Supply string `json:"supply"`
	Parts  []struct {
		What   string `json:"what"`
		Each   *nm    `json:"each_mm"`
		Source string `json:"source"`
	} `json:"parts"`
	Worst   nm     `json:"worst_mm"`
	Root    nm     `json:"root_mm"`
	Limit   *nm    `json:"limit_mm"`
	Verdict string `json:"verdict"`
}

// checkCoverLevels: every supply with covers has its four tolerances as the job has them, their sum and the root of their
// squares; the verdict follows from the contract's limit, and whatever does not simply meet it is said by a finding.
func (c *checker) checkCoverLevels() {
	if c.job == nil || c.refused() {
		return
	}
	want := 0
	if len(c.job.Ground.Surfaces) > 0 && len(c.plan.Units) > 0 {
		for i := range c.job.Supplies {
			if c.job.Supplies[i].Cover != nil {
				want++
			}
		}
	}
	if len(c.plan.CoverLevels) != want {
		c.say("how true covers can lie is told of %d supplies, the job has %d that it has to be told of", len(c.plan.CoverLevels), want)
		return
	}
	seen := map[string]bool{}
	for i := range c.plan.CoverLevels {
		v := &c.plan.CoverLevels[i]
		s := c.makes[v.Supply]
		if s == nil || s.Cover == nil || len(v.Parts) != 4 || seen[v.Supply] {
			c.say("how true covers of %s can lie: %d parts, no such supply, or twice", v.Supply, len(v.Parts))
			continue
		}
		seen[v.Supply] = true
		c.checkCoverLevel(v, s)
	}
}

func (c *checker) checkCoverLevel(v *coverLevel, s *job.Supply) {
	r := &c.job.Rules
	sum, squares, whole := nm(0), new(big.Int), true
	for k, e := range []job.Entry[measure.Length]{r.BedTol, s.Unit.HeightTol, s.Cover.ThickTol, c.job.Levels.Reading} {
		p := v.Parts[k]
		if (p.Each != nil) != e.Known || e.Known && *p.Each != nm(e.Value) {
			c.say("how true covers of %s can lie: %s is not as the job has it", v.Supply, p.What)
		}
		if !e.Known {
			whole = false
			continue
		}
		sum += nm(e.Value)
		squares.Add(squares, new(big.Int).Mul(big.NewInt(int64(e.Value)), big.NewInt(int64(e.Value))))
	}
	root := func(n nm) *big.Int { return new(big.Int).Mul(big.NewInt(int64(n)), big.NewInt(int64(n))) }
	if v.Worst != sum {
		c.say("how true covers of %s can lie: %v at worst, its parts come to %v", v.Supply, v.Worst, sum)
	}
	if root(v.Root).Cmp(squares) < 0 || v.Root > 0 && root(v.Root-1).Cmp(squares) >= 0 {
		c.say("how true covers of %s can lie: %v is not the root of the sum of the squares, rounded up", v.Supply, v.Root)
	}
	if (v.Limit != nil) != r.CoverTol.Known || v.Limit != nil && *v.Limit != nm(r.CoverTol.Value) {
		c.say("how true covers of %s can lie: the limit is not the job's", v.Supply)
		return
	}
	verdict := "cannot say"
	switch {
	case v.Limit == nil:
	case v.Root > *v.Limit:
		verdict = "does not meet the stated figure"
	case whole && v.Worst <= *v.Limit:
		verdict = "meets the stated figure"
	}
	if v.Verdict != verdict {
		c.say("how true covers of %s can lie: the verdict is %q, by the figures %q", v.Supply, v.Verdict, verdict)
	}
	if v.Limit != nil && v.Worst > *v.Limit && !c.anyFinding(func(f finding) bool {
		return f.Kind == "attention" && mentions([]string{f.Text}, "covers of supply "+strings.ToLower(v.Supply))
	}) {
		c.say("how true covers of %s can lie: %v at worst against %v, and no finding says so", v.Supply, v.Worst, *v.Limit)
	}
	if !whole {
		c.needsFinding("the level of covers of "+v.Supply, "tolerance")
	}
}
