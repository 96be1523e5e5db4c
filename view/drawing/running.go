package drawing

import (
	"fmt"
	"math"
	"slices"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/planner"
	"trenchwright/view/scene"
)

// RunningVolumes are the volumes of each leg as they run up along it: dug, filled, stone, what leaves, and soil dug less
// soil that the fill needs. There are none where no dig was computed, and none on A4.
func RunningVolumes(p planner.Plan, j job.Job, style Style) []scene.Page {
	d := newDraft(p, j, style)
	if p.Dig == nil || style.Size == A4 {
		return nil
	}
	var blocks []scene.Block
	legs := slices.DeleteFunc(slices.Clone(p.Dig.Legs), func(l planner.LegDig) bool { return len(l.Running) < 2 })
	high := d.chartHigh(len(legs))
	for _, l := range legs {
		blocks = append(blocks, scene.Space(chartGap), d.runningChart(l, high))
	}
	if len(blocks) == 0 {
		return nil
	}
	return d.flowed("running", "Running volumes", "volumes from the start of each leg up to each "+d.words.chainage+": what is dug in the ground, fill and stone in place; where the line of soil to spare rises soil is to spare, where it falls it is needed", blocks)
}

// chartGap stands above a chart, chartFoot below its frame for the figures of chainage, chartHead above it; mm of paper.
const chartGap, chartFoot, chartHead = 4.0, 6.0, 8.0

// chartHigh is how high the frames of so many charts are, mm of paper: as high as may be on as few sheets as can be.
func (d *draft) chartHigh(charts int) float64 {
	k := d.style.Size.small() / 1.8
	blank := sheet{draft: d, kind: "running", title: "Running volumes", note: "-", general: d.concerns(general)}
	blank.frame(1)
	columns := 2
	if d.style.Size == A1 {
		columns = 3
	}
	best, fewest := 60*k, math.MaxInt
	for high := 60.0; high >= 26; high -= 2 {
		rows := max(1, int(blank.free.Height()/(float64((high+chartFoot+chartHead)*k)+chartGap)))
		if sheets := (charts + rows*columns - 1) / (rows * columns); sheets < fewest {
			best, fewest = high*k, sheets
		}
	}
	return best
}

// curve is one line of a chart.
type runningCurve struct {
	name   string
	pen    scene.Stroke
	of     func(planner.DigRunning) *float64
	ask    string // what is not on file where there is none
	values []float64
}

func (d *draft) runningCurves(l planner.LegDig) []runningCurve {
	pick := func(of func(planner.DigRunning) float64) func(planner.DigRunning) *float64 {
		return func(r planner.DigRunning) *float64 { v := of(r); return &v }
	}
	missing := notChecked + ": no factor for bulking on file. Ask: the engineer who looked at the ground"
	all := []runningCurve{
		{name: "dug", pen: scene.Pen(scene.Broad), of: pick(func(r planner.DigRunning) float64 { return r.Dug })},
		{name: "fill and topsoil put back", pen: scene.Pen(scene.Thick).Dashed(3, 1.2), of: pick(func(r planner.DigRunning) float64 { return r.Fill })},
		{name: d.words.bed + ", in place", pen: scene.Pen(scene.Thick).Dashed(0.8, 0.8), of: pick(func(r planner.DigRunning) float64 { return r.Stone })},
		{name: "leaves", pen: scene.Pen(scene.Medium).Dashed(4, 1, 0.8, 1), of: func(r planner.DigRunning) *float64 { return r.Leaves }, ask: "what leaves: " + missing},
		{name: "soil to spare", pen: scene.Pen(scene.Thin), of: func(r planner.DigRunning) *float64 { return r.Mass }, ask: "soil to spare: " + missing},
	}
	for i := range all {
		for _, r := range l.Running {
			v := all[i].of(r)
			if v == nil {
				all[i].values = nil
				break
			}
			number, _ := d.style.Format.Volume(measure.Volume(*v))
			all[i].values = append(all[i].values, number)
		}
	}
	return all
}

// volumeFigure is a volume with its unit.
func (d *draft) volumeFigure(m3 float64) string {
	number, unit := d.style.Format.Volume(measure.Volume(m3))
	return plainMinus(fmt.Sprintf("%.1f", number)) + " " + unit
}

func plainMinus(s string) string {
	if s == "-0.0" {
		return "0.0"
	}
	if len(s) > 0 && s[0] == '-' {
		return "−" + s[1:]
	}
	return s
}

// runningChart is the chart of one leg.
func (d *draft) runningChart(l planner.LegDig, tall float64) scene.Picture {
	size := d.style.Size.small()
	k := size / 1.8
	curves := d.runningCurves(l)
	low, high := 0.0, 0.0
	var missing []string
	for _, c := range curves {
		for _, v := range c.values {
			low, high = math.Min(low, v), math.Max(high, v)
		}
		if c.values == nil {
			missing = append(missing, c.ask)
		}
	}
	if high <= low {
		high = low + 1
	}
	step := scene.LineStep(size)
	wide := d.digWidth()
	frame := scene.Box{Left: float64(13 * k), Top: float64(chartHead * k), Right: wide - float64(46*k), Bottom: float64(chartHead*k) + tall}
	first, last := mm(l.Running[0].At), mm(l.Running[len(l.Running)-1].At)
	x := func(at float64) float64 {
		return frame.Left + float64(frame.Width()*((at-first)/math.Max(last-first, 1)))
	}
	y := func(v float64) float64 { return frame.Bottom - float64(frame.Height()*((v-low)/(high-low))) }
	marks := []scene.Mark{scene.Text{At: scene.Point{Y: float64(2.4 * k)}, String: "Leg " + l.Leg, Size: 1.3 * size, Weight: scene.Bold}}
	marks = append(marks, d.runningAxes(frame, first, last, low, high, x, y)...)
	var ends []float64
	var names []string
	for _, c := range curves {
		if c.values == nil {
			continue
		}
		points := make([]scene.Point, len(c.values))
		for i, v := range c.values {
			points[i] = scene.Point{X: x(mm(l.Running[i].At)), Y: y(v)}
		}
		marks = append(marks, scene.Path{Outline: scene.Polyline(points...), Stroke: c.pen})
		end := l.Running[len(l.Running)-1]
		ends, names = append(ends, points[len(points)-1].Y), append(names, c.name+" "+d.volumeFigure(*c.of(end)))
	}
	marks = append(marks, endLabels(frame.Right, ends, names, step, size, frame)...)
	for i, text := range missing {
		marks = append(marks, scene.Text{At: scene.Point{X: 0, Y: frame.Bottom + float64(chartFoot*k) + float64(step*float64(i))}, String: text, Size: size, VAlign: scene.Top})
	}
	return scene.Picture{Height: frame.Bottom + float64(chartFoot*k) + float64(step*float64(len(missing))), Marks: marks}
}

// endLabels are the names and last values of lines, in the order in which they end, led to their ends.
func endLabels(right float64, ends []float64, names []string, step, size float64, within scene.Box) []scene.Mark {
	order := make([]int, len(ends))
	for i := range order {
		order[i] = i
	}
	for i := 1; i < len(order); i++ { // from the top down
		for n := i; n > 0 && ends[order[n]] < ends[order[n-1]]; n-- {
			order[n], order[n-1] = order[n-1], order[n]
		}
	}
	wanted := make([]float64, len(order))
	for i, o := range order {
		wanted[i] = ends[o]
	}
	var marks []scene.Mark
	for i, at := range spreadOut(wanted, step, within.Top, within.Bottom) {
		marks = append(marks, scene.Path{Outline: scene.Polyline(scene.Point{X: right, Y: wanted[i]}, scene.Point{X: right + 3, Y: at}), Stroke: scene.Pen(scene.Fine)},
			scene.Text{At: scene.Point{X: right + 3.6, Y: at}, String: names[order[i]], Size: size, VAlign: scene.Middle})
	}
	return marks
}

// runningAxes are the axes of a chart: volumes on the left, chainage below, nought as a line.
func (d *draft) runningAxes(f scene.Box, first, last, low, high float64, x, y func(float64) float64) []scene.Mark {
	size := d.style.Size.small()
	k := size / 1.8
	thin := scene.Pen(scene.Thin)
	_, unit := d.style.Format.Volume(1)
	marks := []scene.Mark{scene.Line(scene.Point{X: f.Left, Y: f.Top}, scene.Point{X: f.Left, Y: f.Bottom}, thin), scene.Line(scene.Point{X: f.Left, Y: f.Bottom}, scene.Point{X: f.Right, Y: f.Bottom}, thin),
		scene.Line(scene.Point{X: f.Left, Y: y(0)}, scene.Point{X: f.Right, Y: y(0)}, scene.Pen(scene.Medium)),
		scene.Text{At: scene.Point{X: f.Left - 1.6, Y: f.Top - float64(3*k)}, String: unit, Size: size, Align: scene.Right, VAlign: scene.Middle}}
	step := wholeStep((high - low) / f.Height() * float64(7*k))
	for n := math.Ceil(low / step); float64(n*step) <= high; n++ {
		at := y(float64(n * step))
		marks = append(marks, scene.Line(scene.Point{X: f.Left - 1.2, Y: at}, scene.Point{X: f.Left, Y: at}, thin),
			scene.Text{At: scene.Point{X: f.Left - 1.8, Y: at}, String: axisFigure(float64(n*step), step), Size: size, Align: scene.Right, VAlign: scene.Middle})
		if n != 0 {
			marks = append(marks, scene.Line(scene.Point{X: f.Left, Y: at}, scene.Point{X: f.Right, Y: at}, scene.Pen(scene.Fine).Dashed(0.4, 1.6)))
		}
	}
	metre, name := 1000.0, "m"
	if d.style.Format.System == measure.Imperial {
		metre, name = 304.8, "ft"
	}
	title := d.words.chainage + ", " + name
	step = wholeStep((last - first) / metre / f.Width() * float64(16*k))
	for n := math.Ceil(first / metre / step); float64(n*step)*metre <= last; n++ {
		at := x(float64(n*step) * metre)
		marks = append(marks, scene.Line(scene.Point{X: at, Y: f.Bottom}, scene.Point{X: at, Y: f.Bottom + 1.2}, thin))
		if at < f.Right-float64(chartFoot*k) {
			marks = append(marks, scene.Text{At: scene.Point{X: at, Y: f.Bottom + 2}, String: axisFigure(float64(n*step), step), Size: size, Align: scene.Centre, VAlign: scene.Top})
		}
	}
	return append(marks, scene.Text{At: scene.Point{X: f.Right + 1, Y: f.Bottom + 2}, String: title, Size: size, VAlign: scene.Top})
}

// wholeStep is the smallest of 0.1, 0.2, 0.5, 1, 2, 5, … that is not below x.
func wholeStep(x float64) float64 {
	for step := 0.1; ; step *= 10 {
		for _, times := range []float64{1, 2, 5} {
			if float64(step*times) >= x {
				return math.Round(float64(step*times)*10) / 10
			}
		}
	}
}
