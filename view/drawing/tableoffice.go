package drawing

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"trenchwright/base/finding"
	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job/planner"
)

// setOutLedger is where every joint and every end of a leg stands.
func (d *draft) setOutLedger() ledger {
	metres, unit, places := d.coordinateUnit()
	coordinate := func(m float64) string { return fmt.Sprintf("%.*f", places, m/metres) }
	l := ledger{columns: []ledgerColumn{
		{head: "leg"}, {head: "place", bold: true}, {head: d.words.pads, right: true}, {head: d.chainageHead(d.words.chainage), right: true},
		{head: "easting [" + unit + "]", right: true}, {head: "northing [" + unit + "]", right: true}, {head: "bearing", right: true}, {head: "wall top [" + unit + "]", right: true},
	}}
	solved, allCut, padded := d.solvedLevels(), d.allCut(), d.padded()
	if solved {
		l.title = "Places and their levels"
		l.columns = append(slices.Delete(l.columns[:7], 2, 3), d.levelColumns()...)
	}
	for _, leg := range d.plan.Legs {
		g := ledgerGroup{name: leg.Name}
		for _, r := range d.plan.SetOut {
			if r.Leg != leg.Name {
				continue
			}
			pad, level := "", ""
			if r.Pad != "" {
				pad = "1"
			}
			if r.Level != nil {
				level = coordinate(*r.Level)
			}
			cells := []string{r.Place, pad, d.chainageFigure(r.Chainage), coordinate(r.E), coordinate(r.N), d.bearing(r.Bearing), level}
			if solved {
				cells = append([]string{shortPlace(r)}, append(cells[2:6], d.levelCells(r, allCut, padded)...)...)
			}
			g.rows = append(g.rows, ledgerRow{cells: cells})
		}
		if len(g.rows) > 0 {
			l.groups = append(l.groups, g)
		}
	}
	h := d.plan.Job
	bearings := "clockwise from grid north"
	if d.style.Format.System == measure.Imperial {
		bearings = "from grid north or south towards east or west, in degrees-minutes-seconds"
	}
	l.notes = []ledgerNote{{text: capital(d.words.chainage) + "s are ground lengths along the " + d.words.centreline + "; eastings and northings are grid. Bearings look " + d.words.upChainage + ", " + bearings},
		{text: "Coordinate system: " + h.Grid}, {text: "Combined scale factor: " + h.ScaleFactor}, {text: "Height datum: " + h.HeightDatum}, {text: capital(h.DrawnLine)}}
	if solved {
		l.notes = append(l.notes, d.levelNote())
	}
	if !slices.ContainsFunc(d.plan.SetOut, func(r planner.SetOut) bool { return r.Level != nil }) {
		l.notes = append(l.notes, ledgerNote{text: notChecked + ": no level of the wall top on file. Ask: the surveyor"})
	}
	return l
}

// bearing is as surveyors of the job's side of the ocean write it.
func (d *draft) bearing(degrees float64) string {
	a := measure.FromDegrees(math.Mod(degrees, 360))
	if d.style.Format.System == measure.Imperial {
		return a.Bearing()
	}
	return a.Show(4)
}

// billLedgers are what is ordered: for the whole job by kind, and supply by supply.
func (d *draft) billLedgers() []ledger {
	if len(d.plan.Bill) == 0 {
		return nil
	}
	var notes letters
	l := ledger{title: "The whole job", columns: []ledgerColumn{
		{head: "kind"}, {head: "item", bold: true, most: 40}, {head: "supply"}, {head: "needed", right: true}, {head: "spare", right: true}, {head: "to order", right: true, bold: true}, {head: "of"}, {head: "in packs"},
		{head: d.massHead("mass of one"), right: true}, {head: d.massHead("of the order"), right: true}, {head: "how counted", most: 62}, {head: "figures from"},
	}}
	for _, kind := range d.billKinds() {
		g := ledgerGroup{name: kind.title}
		for _, b := range kind.lines {
			one, all := d.billMass(b, &notes)
			g.rows = append(g.rows, ledgerRow{cells: []string{d.billItem(b), b.Supply, b.Need, b.Spare, b.Order, d.countedIn(b), packs(b), one, all, b.Why, notes.letter(b.Source)}})
		}
		l.groups = append(l.groups, g)
	}
	l.notes = append([]ledgerNote{{text: "to order: needed and spare, less what lies in the yard, rounded up to whole packs where the supplier says what a pack holds"}}, notes.notes...)
	return []ledger{l, d.supplyBill()}
}

// billKind is the lines of one kind, in the order of the bill.
type billKind struct {
	title string
	lines []planner.BillLine
}

func (d *draft) billKinds() []billKind {
	titles := map[string]string{"unit": d.words.units, "cover": d.words.covers, "fitting": "fittings", "loose part": "loose parts", "spare": "spares"}
	var out []billKind
	for _, b := range d.plan.Bill {
		title := titles[b.Kind]
		if title == "" {
			title = b.Kind
		}
		at := slices.IndexFunc(out, func(k billKind) bool { return k.title == title })
		if at < 0 {
			at = len(out)
			out = append(out, billKind{title: title})
		}
		out[at].lines = append(out[at].lines, b)
	}
	return out
}

// billItem names a thing by the words and in the units of the style: unit 3000 mm, trench section 8'-0".
func (d *draft) billItem(b planner.BillLine) string {
	noun := map[string]string{"unit": d.words.unit, "cover": d.words.cover}[b.Kind]
	word, rest, ok := strings.Cut(b.Item, " ")
	if noun == "" || !ok || word != b.Kind {
		return b.Item
	}
	rest, _, _ = strings.Cut(rest, " (")
	r, err := measure.Parse(rest)
	if err != nil {
		return b.Item
	}
	return noun + " " + d.length(measure.MM(r.Length))
}

// countedIn is what an order counts; metres, as the supplier sells them, are said in feet too where the job is in feet.
func (d *draft) countedIn(b planner.BillLine) string {
	if b.Unit == "piece" && b.Order != "1" {
		return "pieces"
	}
	if m, err := strconv.ParseFloat(b.Order, 64); b.Unit == "m" && err == nil && d.style.Format.System == measure.Imperial {
		return fmt.Sprintf("m (%.0f ft)", m/0.3048)
	}
	return b.Unit
}

func packs(b planner.BillLine) string {
	if b.Pack == 0 {
		return ""
	}
	if b.Unit != "piece" {
		return fmt.Sprintf("%d × %d %s", b.Packs, b.Pack, b.Unit)
	}
	return fmt.Sprintf("%d × %d", b.Packs, b.Pack)
}

// billMass is the mass of one thing and of the order, or a letter where nobody entered it.
func (d *draft) billMass(b planner.BillLine, notes *letters) (one, all string) {
	kg, err := strconv.ParseFloat(b.Mass, 64)
	if err != nil {
		return notes.letter(b.Mass), ""
	}
	n, err := strconv.ParseFloat(b.Order, 64)
	if err == nil {
		all = d.massFigure(kg * n)
	}
	return d.oneMass(kg, max(1, n)), all
}

// oneMass is the mass of one thing of n, so near that as many as are ordered make the mass of the order, and no nearer.
func (d *draft) oneMass(kg, n float64) string {
	unit := 1.0
	if d.style.Format.System == measure.Imperial {
		unit = 0.45359237
	}
	one, all := kg/unit, math.Round(kg*n/unit)
	if whole := math.Round(one); one >= 10 && whole*n == all {
		return d.massFigure(whole * unit)
	}
	places := 1
	if tenth := math.Round(one*10) / 10; math.Round(tenth*n) != all {
		places = 2
	}
	text := strconv.FormatFloat(one, 'f', places, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// supplyBill is the same, one order for each supply.
func (d *draft) supplyBill() ledger {
	l := ledger{title: "Order by order, one for each supply", columns: []ledgerColumn{
		{head: "supply"}, {head: "item", bold: true, most: 40}, {head: "to order", right: true, bold: true}, {head: "of"}, {head: "in packs"}, {head: d.massHead("mass"), right: true},
	}, notes: []ledgerNote{{text: "Masses are those of " + d.words.units + ", " + d.words.covers + " and fittings; nobody entered what loose parts weigh"}}}
	var order []string
	for _, b := range d.plan.Bill {
		if !slices.Contains(order, b.Supply) {
			order = append(order, b.Supply)
		}
	}
	for _, supply := range order {
		l.groups = append(l.groups, d.supplyOrder(supply))
	}
	return l
}

func (d *draft) supplyOrder(supply string) ledgerGroup {
	g := ledgerGroup{name: supply, whole: true}
	if supply == "" {
		g.name = "fittings"
	}
	sum, missing := 0.0, false
	for _, b := range d.plan.Bill {
		if b.Supply != supply {
			continue
		}
		var unsaid letters
		_, all := d.billMass(b, &unsaid)
		kg, err := strconv.ParseFloat(b.Mass, 64)
		n, _ := strconv.ParseFloat(b.Order, 64)
		switch {
		case err == nil:
			sum += float64(kg * n)
		case b.Mass != "":
			missing, all = true, notChecked
		}
		g.rows = append(g.rows, ledgerRow{cells: []string{d.billItem(b), b.Order, d.countedIn(b), packs(b), all}})
	}
	total := d.massFigure(sum)
	if missing {
		total = notChecked
	}
	if sum > 0 || missing {
		g.rows = append(g.rows, ledgerRow{cells: []string{"mass of the order", "", "", "", total}, total: true})
	}
	return g
}

// totalsLedger is the whole job in figures.
func (d *draft) totalsLedger() ledger {
	t := d.plan.Totals
	n := func(i int) string { return strconv.Itoa(i) }
	g := ledgerGroup{rows: []ledgerRow{
		{cells: []string{"legs", n(t.Legs)}}, {cells: []string{"length of all legs between their ends", d.along(t.ClearLength)}},
		{cells: []string{d.words.units + " laid", n(t.Units)}}, {cells: []string{"of them plain", n(t.Plain)}}, {cells: []string{"of them cut", n(t.Cuts)}}, {cells: []string{d.words.units + " bought", n(t.Bought)}},
		{cells: []string{d.words.covers + " laid", n(t.Covers)}}, {cells: []string{"of them cut", n(t.CutCovers)}}, {cells: []string{d.words.covers + " bought", n(t.CoversBuy)}},
		{cells: []string{"joints", n(t.Joints)}}, {cells: []string{"mass of " + d.words.units + " and " + d.words.covers + " laid", d.mass(t.MassKG, "the supplier")}},
	}}
	if t.Units == 0 {
		return ledger{}
	}
	return ledger{title: "The whole job in figures", beside: true, columns: []ledgerColumn{{}, {head: "what"}, {head: "how much", right: true, bold: true}}, groups: []ledgerGroup{g},
		notes: []ledgerNote{{text: "bought: before spares and whole packs, less what lies in the yard"}}}
}

// findingLedger is everything that the program has to say, by the numbers that the other sheets call it by.
func (d *draft) findingLedger() ledger {
	l := ledger{title: count(len(d.plan.Findings), "finding", "findings") + "; open: " + strings.Join(d.plan.Open().Said(), ", "), columns: []ledgerColumn{
		{head: "kind"}, {head: "no.", bold: true}, {head: "where"}, {head: "what", most: 110}, {head: "in the job", most: 30},
	}}
	for i, f := range d.plan.Findings {
		name := kindWord(f.Kind)
		if n := len(l.groups); n == 0 || l.groups[n-1].name != name {
			l.groups = append(l.groups, ledgerGroup{name: name})
		}
		g := &l.groups[len(l.groups)-1]
		text, key := keyApart(findingWords(concern{i, findingName(i), f}))
		if f.Where.Path != "" {
			key = f.Where.Path
		}
		g.rows = append(g.rows, ledgerRow{cells: []string{findingName(i), d.findingPlace(f), text, d.pathWords(key)}})
	}
	return l
}

// keyApart is a sentence without the key of the job that it names in brackets, as (set_out.pegs), and that key: on paper it
// stands in words in a column of its own.
func keyApart(text string) (words, key string) {
	found := jobKey.FindStringSubmatch(text)
	if found == nil {
		return text, ""
	}
	return jobKey.ReplaceAllString(text, ""), found[1]
}

var jobKey = regexp.MustCompile(` \(([a-z_]+(?:\.[a-z_]+)+)\)`)

// findingWords are a finding in full: the statement, limit against value, the rule, whom to ask, what to try.
func findingWords(c concern) string {
	against := prefixed("Value: ", suffixed(c.Value, "."))
	if c.Limit != "" {
		against = joined(", ", prefixed("Value: ", c.Value), "limit: "+suffixed(c.Limit, "."))
	}
	return joined(" ", suffixed(c.Text, "."), capital(against), prefixed("Rule: ", suffixed(c.Rule, ".")),
		prefixed("Ask: ", suffixed(c.asked(), ".")), prefixed("Try: ", suffixed(c.Try, ".")))
}

// findingPlace is where on the run a finding lies.
func (d *draft) findingPlace(f finding.Finding) string {
	switch w := f.Where; {
	case w.Place != "":
		return w.Place
	case w.Leg != "" && w.Chainage != nil:
		return "leg " + w.Leg + " at " + d.chainage(measure.MM(*w.Chainage))
	case w.Leg != "":
		return "leg " + w.Leg
	}
	return ""
}

// pathWords is a path into the job in words: "supply yard, lifting, off centre" for supplies[0].lifting.off_centre.
func (d *draft) pathWords(path string) string {
	var out []string
	parts := strings.Split(path, ".")
	for i := 0; i < len(parts) && path != ""; i++ {
		name, index, numbered := strings.Cut(strings.TrimSuffix(parts[i], "]"), "[")
		one := map[string]string{"supplies": "supply", "nodes": "node", "legs": "leg", "fittings": "fitting", "documents": "document", "pins": "pin"}[name]
		k, err := strconv.Atoi(index)
		switch {
		case one != "" && numbered && err == nil:
			out = append(out, one+" "+d.nameAt(parts[:i], name, k))
		case one != "" && i+1 < len(parts):
			i++
			out = append(out, one+" "+parts[i])
		case numbered && err == nil:
			out = append(out, fmt.Sprintf("%s no. %d", d.formWords(name), k+1))
		default:
			out = append(out, d.formWords(name))
		}
	}
	return strings.Join(out, ", ")
}

// formWords are the words of one key of the job, each as the job's reader says it.
func (d *draft) formWords(key string) string {
	speech := d.job.Speech()
	parts := strings.Split(key, "_")
	for i, part := range parts {
		if w, ok := formWords[part]; ok && speech.US {
			parts[i] = speech.Word(w)
		}
	}
	return strings.Join(parts, " ")
}

// formWords are words of the job's keys that are said otherwise in the United States.
var formWords = map[string]wording.Word{
	"unit": wording.Unit, "units": wording.Units, "services": wording.Services, "centre": wording.Centre, "bed": wording.Bed,
	"layer": wording.Layer, "formation": wording.Formation, "mitre": wording.Mitre, "levelling": wording.Levelling, "closer": wording.Closer,
}

// nameAt is the name of one of several things of the job; where it has none, its number.
func (d *draft) nameAt(before []string, list string, k int) string {
	var names []string
	switch {
	case list == "supplies" && len(before) == 0:
		for _, s := range d.job.Supplies {
			names = append(names, s.ID)
		}
	case list == "nodes":
		for _, n := range d.job.Route.Nodes {
			names = append(names, n.ID)
		}
	case list == "legs":
		for _, l := range d.job.Route.Legs {
			names = append(names, l.ID)
		}
	case list == "fittings" && len(before) == 1:
		if i, err := strconv.Atoi(strings.Trim(strings.TrimPrefix(before[0], "supplies"), "[]")); err == nil && i < len(d.job.Supplies) {
			for _, f := range d.job.Supplies[i].Fittings {
				names = append(names, f.ID)
			}
		}
	}
	if k < len(names) && names[k] != "" {
		return names[k]
	}
	return fmt.Sprintf("no. %d", k+1)
}

// proofLedger is what stands behind the claims.
func (d *draft) proofLedger() ledger {
	l := ledger{title: "What was proven", columns: []ledgerColumn{
		{head: "of"}, {head: "claim", most: 70}, {head: "what stands behind it", most: 70}, {head: "verified apart"},
	}, notes: []ledgerNote{{text: "Every claim of best or impossible was verified by code other than the code that found it"}}}
	for _, p := range d.plan.Proof.Legs {
		checked := "yes"
		if !p.Verified {
			checked = "NO: " + strings.Join(p.CheckerSay, "; ")
		}
		behind := joined("; ", p.Bound, count(p.Intervals, "interval", "intervals"))
		l.groups = append(l.groups, ledgerGroup{name: "leg " + p.Leg, rows: []ledgerRow{{cells: []string{p.Claim, behind, checked}}}})
	}
	for _, c := range d.plan.Cutting {
		behind, checked := "a bound worked out in whole numbers (its figures are in the file plan.json)", "yes"
		if !c.Proven {
			behind, checked = "", "not claimed"
		}
		l.groups = append(l.groups, ledgerGroup{name: "cutting", rows: []ledgerRow{{cells: []string{fmt.Sprintf("supply %s: %s", c.Supply, c.Text), behind, checked}}}})
	}
	return l
}
