package planner_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"trenchwright/base/finding"
	"trenchwright/demo"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/tools/seed"
)

// A figure that is taken out of a job is nowhere made up again: where its plan changes, a finding says what is missing or assumed, or a
// check says what it lacks. Entries of the demo jobs are blanked one by one: all of the small one, some of the others.
func TestWhatIsBlankIsTold(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 5))
	blanked, changed := 0, 0
	for _, name := range demo.Names() {
		d, err := demo.Surveyed(name)
		if err != nil {
			t.Fatal(err)
		}
		whole := planner.Make(d.Job, d.Surfaces...)
		before, told := drawnAs(t, whole), lacks(whole)
		ways := entriesIn(reflect.ValueOf(d.Job), nil)
		if name != "hand-troughs" {
			r.Shuffle(len(ways), func(i, k int) { ways[i], ways[k] = ways[k], ways[i] })
			ways = ways[:5]
		}
		for _, path := range ways {
			j := clone(t, d.Job)
			e := at(reflect.ValueOf(&j).Elem(), path)
			what := said(reflect.ValueOf(d.Job), path)
			e.Set(reflect.Zero(e.Type()))
			blanked++
			p := planner.Make(j, d.Surfaces...)
			if drawnAs(t, p) == before {
				continue
			}
			changed++
			more := false
			for text := range lacks(p) {
				more = more || !told[text]
			}
			if !more && !slices.ContainsFunc(wishes, func(w string) bool { return strings.HasSuffix(what, w) }) {
				t.Errorf("%s without %s: the plan is another one, and nothing says what is missing", name, what)
			}
		}
	}
	if t.Logf("%d entries blanked, %d of them change the plan", blanked, changed); changed < 20 {
		t.Error("too few to say anything")
	}
}

// wishes are entries that only ask for more, or allow something less: without one nobody wants it, or the stricter rule holds that its
// help names (a test in every layer, a slice no thinner than the kerf, one piece without a pallet), and nothing is missing.
var wishes = []string{"checks.cables.later", "checks.tests.least", "checks.tests.each_layers", "saw.least_slice", "delivery.ahead", "stacking.units.packing"}

// drawnAs is a plan without its head and findings.
func drawnAs(t *testing.T, p planner.Plan) string {
	p.Job, p.Findings = planner.JobHead{}, nil
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// lacks is what a plan says it does without.
func lacks(p planner.Plan) map[string]bool {
	out := map[string]bool{}
	for _, f := range p.Findings {
		if f.Kind == finding.NotChecked || f.Kind == finding.Assumed || f.Kind == finding.Fault || f.Kind == finding.Attention {
			out[fmt.Sprint(f.Text, f.Where)] = true
		}
	}
	for _, c := range p.Checks {
		for _, m := range c.Missing {
			out[fmt.Sprint(m, c.What, c.Where)] = true
		}
	}
	if p.Delivery != nil {
		for _, l := range p.Delivery.Left { // on no load, and why
			out[l.Item+l.Why] = true
		}
	}
	return out
}

// entriesIn are the ways to all entries of a job that somebody made.
func entriesIn(v reflect.Value, way []int) (out [][]int) {
	step := func(i int) []int { return append(append([]int{}, way...), i) }
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			return entriesIn(v.Elem(), way)
		}
	case reflect.Slice:
		for i := range v.Len() {
			out = append(out, entriesIn(v.Index(i), step(i))...)
		}
	case reflect.Struct:
		if strings.HasPrefix(v.Type().Name(), "Entry[") {
			if v.FieldByName("Known").Bool() {
				return [][]int{way}
			}
			return nil
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out = append(out, entriesIn(v.Field(i), step(i))...)
			}
		}
	}
	return out
}

func at(v reflect.Value, way []int) reflect.Value {
	for v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if len(way) == 0 {
		return v
	}
	if v.Kind() == reflect.Slice {
		return at(v.Index(way[0]), way[1:])
	}
	return at(v.Field(way[0]), way[1:])
}

// said names an entry as a job has it.
func said(v reflect.Value, way []int) string {
	text := ""
	for _, i := range way {
		for v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		if v.Kind() == reflect.Slice {
			text, v = fmt.Sprintf("%s[%d]", text, i), v.Index(i)
			continue
		}
		key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		text, v = text+"."+key, v.Field(i)
	}
	return strings.TrimPrefix(text, ".")
}

func clone(t *testing.T, j job.Job) job.Job {
	out, faults := job.FromJSON(job.CanonicalJSON(j))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return out
}
