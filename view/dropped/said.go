package dropped

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/view/routein"
)

// Field is one thing that a person can say of a dropped file.
type Field struct {
	Name    string   `json:"name"`
	Text    string   `json:"text"`
	Choices []Choice `json:"choices,omitempty"` // nothing else can be said
}

// Choice is one answer, and what it means.
type Choice struct {
	Value string `json:"value"`
	Text  string `json:"text"`
}

// Fields are what can be said of files that are read as such.
func Fields(as string) []Field {
	unit := Field{"unit", "unit of a file that states none", []Choice{{"m", "metres"}, {"ft", "feet"}, {"usft", "US survey feet"}}}
	columns := Field{Name: "columns", Text: "points: the order of the columns, for example P,E,N,Z; from the heading where left out"}
	switch as {
	case AsJob:
		return []Field{{Name: "id", Text: "another id than the job has; letters, digits and dashes"}}
	case AsRoute:
		var lines []Choice
		for _, l := range routein.Lines() {
			lines = append(lines, Choice{l[0], l[1]})
		}
		return []Field{
			{"line", "which line was drawn", lines},
			{"side", "on which side of the centreline it lies, looking along it", []Choice{{"left", "left"}, {"right", "right"}}},
			{Name: "offset", Text: "for trench-edge and offset: how far it lies from the centreline"},
			{Name: "of", Text: "for offset: what was drawn, for example kerb"},
			{Name: "alignment", Text: "which line of the file, where there are several"},
			{"together", "all lines of the file together are the run", yes},
			{Name: "points", Text: "LandXML: the run goes through the points of this group; all: through every point"},
			columns, unit,
			{Name: "spiral", Text: "LandXML: how far the arcs that stand for a spiral may leave it, for example 5 mm"},
			{Name: "height", Text: "GeoJSON: height of the job above the ellipsoid of WGS 84"},
		}
	case AsGround:
		return []Field{
			{"role", "what the surface stands for", []Choice{{"existing", "the ground as surveyed"}, {"finished", "as it will be"}, {"rock", "the top of the rock"}, {"water", "the level of the water"}}},
			{Name: "id", Text: "name of the surface in the job; its role where left out"},
			{Name: "surface", Text: "LandXML: which surface of the file, where it holds several"},
			columns, unit,
			{Name: "edge", Text: "longest side of a triangle at the rim: nothing wider is bridged"},
		}
	case AsServices:
		return []Field{
			{Name: "clear", Text: "each side of a service, where no joint may stand"},
			{Name: "width", Text: "width of services whose width the file does not give"},
			{Name: "quality", Text: "how well positions are known, where the file does not say"},
			columns, unit,
			{Name: "lines", Text: "points: codes that are lines, parted by commas"},
			{"tops", "points: their levels are those of the top of the service", yes},
		}
	}
	return nil
}

var yes = []Choice{{"yes", "yes"}}

// unknown refuses what cannot be said of such a file.
func (r *reading) unknown() {
	var names []string
	for name := range r.Said {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		i := slices.IndexFunc(r.out.Asked, func(f Field) bool { return f.Name == name })
		if i < 0 {
			r.fault(name, fmt.Sprintf("nothing called %s can be said of a file that is read as %s", shortened(name), r.As), "it left out")
			continue
		}
		choices, said := r.out.Asked[i].Choices, r.Said[name]
		if said != "" && len(choices) > 0 && !slices.ContainsFunc(choices, func(c Choice) bool { return c.Value == said }) {
			var values []string
			for _, c := range choices {
				values = append(values, c.Value)
			}
			r.fault(name, fmt.Sprintf("%s is none of the answers", shortened(said)), strings.Join(values, ", "))
		}
	}
}

// length reads a length over 0; a bare number is millimetres. Nought where nothing was said.
func (r *reading) length(name string) measure.Length {
	text := strings.TrimSpace(r.Said[name])
	if text == "" {
		return 0
	}
	got, err := measure.ParseIn(text, measure.UnitMillimetre)
	switch {
	case err != nil:
		r.fault(name, err.Error(), "for example 300 mm")
	case got.Length <= 0:
		r.fault(name, shortened(text)+" is not over 0", "for example 300 mm")
	}
	return got.Length
}

// unit is the unit of a file's coordinates; none where nothing was said.
func (r *reading) unit() measure.Unit {
	return map[string]measure.Unit{"m": measure.UnitMetre, "ft": measure.UnitFoot, "usft": measure.UnitSurveyFoot}[r.Said["unit"]]
}

func shortened(text string) string {
	const most = 60
	if c := []rune(text); len(c) > most {
		text = string(c[:most]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
