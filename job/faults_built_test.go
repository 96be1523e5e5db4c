package job

import (
	"testing"

	"trenchwright/base/measure"
)

// What is said to lie on levels of its own stands in the courses, in laying order, with one place and one level for each joint.
func TestFaultsOfWhatLiesOnLevels(t *testing.T) {
	const mm = measure.Millimetre
	for _, c := range []struct {
		name  string
		spoil func(b *Built)
		want  string
	}{
		{"nothing", func(*Built) {}, ""},
		{"laid down-chainage", func(b *Built) { b.Bedded[0].At = []measure.Length{6020 * mm, 3010 * mm, 0} }, ""},
		{"one unit", func(b *Built) {
			b.Bedded = []Bedded{{From: "A-002", At: []measure.Length{3010 * mm, 6020 * mm}, Tops: []measure.Length{31250 * mm, 31260 * mm}}}
		}, ""},
		{"no such place", func(b *Built) { b.Bedded[0].To = "A-009" },
			`route.legs[0].built.bedded[0].from | Leg A, built, bedded number 1: "A-001" to "A-009" are said to lie on levels of their own, and the courses do not have them so.`},
		{"backwards", func(b *Built) { b.Bedded[0].From, b.Bedded[0].To = "A-002", "A-001" },
			`route.legs[0].built.bedded[0].from | Leg A, built, bedded number 1: "A-002" to "A-001" are said to lie on levels of their own, and the courses do not have them so.`},
		{"twice", func(b *Built) { b.Bedded = append(b.Bedded, b.Bedded[0]) },
			`route.legs[0].built.bedded[1].from | Leg A, built, bedded number 2: "A-001" to "A-002" are said to lie on levels of their own, and the courses do not have them so.`},
		{"a level too few", func(b *Built) { b.Bedded[0].Tops = b.Bedded[0].Tops[:2] },
			`route.legs[0].built.bedded[0].at | Leg A, built, bedded number 1: 2 units have 3 joints with their ends; here are 3 places and 2 levels.`},
		{"places out of order", func(b *Built) { b.Bedded[0].At[2] = 3010 * mm },
			`route.legs[0].built.bedded[0].at | Leg A, built, bedded number 1: 3010 mm is no place behind 3010 mm.`},
		{"places that turn back", func(b *Built) { b.Bedded[0].At[2] = 2 * mm },
			`route.legs[0].built.bedded[0].at | Leg A, built, bedded number 1: 2 mm is no place behind 3010 mm.`},
	} {
		j := sample(t)
		b := &Built{To: "A-002", Courses: []Course{{From: "A-001", To: "A-003", Length: 3000 * mm, Pitch: 3010 * mm}},
			Bedded: []Bedded{{From: "A-001", To: "A-002", At: []measure.Length{0, 3010 * mm, 6020 * mm}, Tops: []measure.Length{31250 * mm, 31260 * mm, 31270 * mm}}}}
		c.spoil(b)
		j.Route.Legs[0].Built = b
		if got := texts(Faults(j)); got != c.want {
			t.Errorf("%s: got:\n%s\nwant:\n%s", c.name, got, c.want)
		}
	}
}

// What is said to lie beyond a gap stands in the courses behind at least one unit to come, and ends behind where its last unit starts.
func TestFaultsOfWhatLiesBeyondGaps(t *testing.T) {
	const mm = measure.Millimetre
	for _, c := range []struct {
		name   string
		beyond []Lying
		want   string
	}{
		{"one, with no end", []Lying{{From: "A-003"}}, ""},
		{"several, with an end", []Lying{{From: "A-003", To: "A-004", End: 12028 * mm}}, ""},
		{"no unit between", []Lying{{From: "A-002"}},
			`route.legs[0].built.beyond[0].from | Leg A, built, beyond number 1: "A-002" to "A-002" are said to lie beyond a gap, and the courses do not have them so.`},
		{"an end before its start", []Lying{{From: "A-003", To: "A-004", End: 9030 * mm}},
			`route.legs[0].built.beyond[0].end | Leg A, built, beyond number 1: A-004 is said to end at 9030 mm, and starts at 9030 mm.`},
	} {
		j := sample(t)
		j.Route.Legs[0].Built = &Built{To: "A-001", Beyond: c.beyond, Courses: []Course{{From: "A-001", To: "A-005", Length: 3000 * mm, Pitch: 3010 * mm}}}
		if got := texts(Faults(j)); got != c.want {
			t.Errorf("%s: got:\n%s\nwant:\n%s", c.name, got, c.want)
		}
	}
}
