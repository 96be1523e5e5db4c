package main

import (
	"bufio"
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"trenchwright/bench/peer"
	"trenchwright/bench/process"
	"trenchwright/place/ground"
	"trenchwright/place/route"
)

// country is made-up ground: a place a square metre, rolling, with roads as breaklines side by side. Its places stand in a
// file, those of the roads at the end, so that a peer reads the same ones.
type country struct {
	Places, Roads int
	Seed          uint64
	File          string
	Ask           bool // sections and volumes too
}

// groundAnswer is what a worker says of a country; times are processor time.
type groundAnswer struct {
	Faces, Volumes            int // triangles of the surface, and of each of two smaller ones with a volume between
	Make                      time.Duration
	Along, Anywhere, Between  time.Duration // one section along a run, one anywhere, one volume
	Cut, Fill, Common, Ground float64       // what came out
}

func (c country) side() float64    { return math.Sqrt(float64(c.Places)) }
func (c country) roadPlaces() int  { return int((c.side() - 2) / 5) }
func (c country) plainPlaces() int { return c.Places - c.Roads*c.roadPlaces() }

// level is how high the made-up ground is.
func level(p route.Point) float64 { return 100 + 3*math.Sin(p.E/40) + 2*math.Cos(p.N/25) }

// places makes the country up.
func (c country) places() []route.Point {
	r := rand.New(rand.NewPCG(c.Seed, 0))
	all := make([]route.Point, 0, c.Places)
	for range c.plainPlaces() {
		all = append(all, route.Point{E: c.side() * r.Float64(), N: c.side() * r.Float64()})
	}
	apart := c.side() / float64(max(c.Roads, 1))
	for k := range c.Roads {
		for i := range c.roadPlaces() {
			e := 1 + 5*float64(i)
			all = append(all, route.Point{E: e, N: apart * (float64(k) + 0.5 + 0.3*math.Sin(e/30))})
		}
	}
	return all
}

// survey gives places their levels; roads lie a little higher.
func (c country) survey(all []route.Point) ground.Survey {
	s := ground.Survey{Role: ground.Existing, Points: make([]ground.Point, c.plainPlaces())}
	for i, p := range all[:c.plainPlaces()] {
		s.Points[i] = ground.Point{E: p.E, N: p.N, Z: level(p)}
	}
	for k := range c.Roads {
		from := c.plainPlaces() + k*c.roadPlaces()
		l := ground.Line{Name: fmt.Sprint("road ", k)}
		for _, p := range all[from : from+c.roadPlaces()] {
			l.Points = append(l.Points, ground.Point{E: p.E, N: p.N, Z: level(p) + 0.1})
		}
		s.Lines = append(s.Lines, l)
	}
	return s
}

// write puts the places into the file as qdelaunay reads them: 2, how many, and one a line.
func (c country) write() error {
	f, err := os.Create(c.File)
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriter(f)
	fmt.Fprintf(w, "2\n%d\n", c.Places)
	for _, p := range c.places() {
		fmt.Fprintf(w, "%.6f %.6f\n", p.E, p.N)
	}
	return w.Flush()
}

// read takes the places from the file.
func (c country) read() ([]route.Point, error) {
	f, err := os.Open(c.File)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	words := bufio.NewScanner(f)
	words.Split(bufio.ScanWords)
	number := func() (v float64) {
		words.Scan()
		v, e := strconv.ParseFloat(words.Text(), 64)
		if e != nil {
			err = e
		}
		return v
	}
	number()
	all := make([]route.Point, int(number()))
	for i := range all {
		all[i] = route.Point{E: number(), N: number()}
	}
	if len(all) != c.Places {
		return nil, fmt.Errorf("%s holds %d places, not %d: %v", c.File, len(all), c.Places, err)
	}
	return all, err
}

func groundWorker(file string) (any, error) {
	var c country
	if err := readJSON(file, &c); err != nil {
		return nil, err
	}
	all, err := c.read()
	if err != nil {
		return nil, err
	}
	survey := c.survey(all)
	before := cpuTime()
	s, said := ground.Triangulate(survey)
	a := groundAnswer{Make: cpuTime() - before}
	if s == nil || len(said) > 0 {
		return nil, fmt.Errorf("the country is no ground: %v", said)
	}
	a.Faces = s.FaceCount()
	if c.Ask {
		c.sections(s, &a)
		err = c.volumes(&a)
	}
	return a, err
}

// sections cuts lines of 6 m: along a run, one every half metre square to it, and anywhere.
func (c country) sections(s *ground.Surface, a *groundAnswer) {
	const count = 200_000
	r := rand.New(rand.NewPCG(c.Seed, 1))
	inside := c.side() - 20
	cut := func(p route.Point) {
		a.Ground += s.Section([]route.Point{p, {E: p.E + 4, N: p.N - 4.5}}).Ground()
	}
	before := cpuTime()
	for k := range count {
		d := math.Mod(0.35*float64(k), inside)
		cut(route.Point{E: 10 + d, N: 10 + d})
	}
	a.Along = (cpuTime() - before) / count
	before = cpuTime()
	for range count {
		cut(route.Point{E: 10 + inside*r.Float64(), N: 10 + inside*r.Float64()})
	}
	a.Anywhere = (cpuTime() - before) / count
}

// volumes is the volume between two surfaces of some 20,000 triangles.
func (c country) volumes(a *groundAnswer) error {
	const runs = 5
	var two [2]*ground.Surface
	for i := range two {
		small := country{Places: 10_000, Roads: 4, Seed: c.Seed + uint64(i)}
		s, said := ground.Triangulate(small.survey(small.places()))
		if s == nil {
			return fmt.Errorf("the small country is no ground: %v", said)
		}
		two[i], a.Volumes = s, s.FaceCount()
	}
	before := cpuTime()
	for range runs {
		v, said := ground.Between(two[0], two[1], nil)
		if len(said) > 0 || v.Common <= 0 {
			return fmt.Errorf("no volume: %v", said)
		}
		a.Cut, a.Fill, a.Common = float64(v.Cut), float64(v.Fill), v.Common
	}
	a.Between = (cpuTime() - before) / runs
	return nil
}

func (b *bench) ground() error {
	c := country{Places: 1_000_000, Roads: 100, Seed: 1, File: filepath.Join(b.dir, "places.txt")}
	runs := 5
	if b.quick {
		c.Places, runs = 100_000, 1
	}
	if err := c.write(); err != nil {
		return err
	}
	ours, a, err := b.triangulate(c, runs)
	if err != nil {
		return err
	}
	of := fmt.Sprintf("%s places, %d breaklines of %d", count(c.Places), c.Roads, c.roadPlaces())
	b.report.row(row{
		what: "triangulation with breaklines, to a surface that can be asked", size: of, ours: secs(a.Make) + " of processor time",
		target: "3 s", verdict: within(a.Make <= 3*time.Second),
	})
	if err := b.qhull(c, of, ours, runs); err != nil {
		return err
	}
	c.Ask = true
	if _, a, err = b.triangulate(c, 1); err != nil {
		return err
	}
	const target = 200_000
	each := func(what string, t time.Duration) {
		rate := int(time.Second / max(t, 1))
		b.report.row(row{what: what, size: count(a.Faces) + " triangles", ours: count(rate/1000*1000) + " a second", target: count(target) + " a second", verdict: within(rate >= target)})
	}
	each("sections of 6 m, one beside the other along a run", a.Along)
	each("sections of 6 m, anywhere", a.Anywhere)
	b.report.row(row{
		what: "volume between two surfaces", size: fmt.Sprintf("some %s triangles each", count(a.Volumes)), ours: secs(a.Between),
		target: "0.5 s", verdict: within(a.Between <= 500*time.Millisecond),
	})
	b.report.note("Ground: one thread, processor time, median of %d processes. Ours and qdelaunay read the same text file of places; both times are then of whole processes with reading. Ours also forces the breaklines, makes neighbours and the index, and looks for spikes; qdelaunay makes triangles of the places alone and prints nothing.", runs)
	return nil
}

// triangulate hires a worker for a country, some times; the answer is that of the median time.
func (b *bench) triangulate(c country, runs int) (process.Cost, groundAnswer, error) {
	file, err := b.file("country.json", c)
	if err != nil {
		return process.Cost{}, groundAnswer{}, err
	}
	var answers []groundAnswer
	var costs []process.Cost
	for range runs {
		var a groundAnswer
		cost, err := hire("ground", file, &a)
		if err != nil {
			return cost, a, err
		}
		answers, costs = append(answers, a), append(costs, cost)
	}
	slices.SortFunc(answers, func(a, b groundAnswer) int { return cmp.Compare(a.Make, b.Make) })
	return process.Median(costs), answers[(runs-1)/2], nil
}

// qhull is the same places given to qdelaunay.
func (b *bench) qhull(c country, of string, ours process.Cost, runs int) error {
	at, version, err := peer.QDelaunay()
	if err != nil {
		b.report.note("A peer is missing: %v.", err)
		return nil
	}
	b.report.versions = append(b.report.versions, "qdelaunay "+version)
	var costs []process.Cost
	for range min(runs, 3) {
		ctx, stop := context.WithTimeout(context.Background(), 10*time.Minute)
		cost, _, err := process.Run(ctx, process.Command{Args: []string{at, "Qt", "TI", c.File, "TO", os.DevNull}})
		stop()
		if err != nil {
			return err
		}
		costs = append(costs, cost)
	}
	theirs := process.Median(costs)
	b.report.row(row{
		what: "the same places beside qdelaunay, whole processes", size: of, ours: secs(ours.CPU()), peer: secs(theirs.CPU()),
		ratio: times(theirs.CPU(), ours.CPU()), target: "ahead", verdict: within(ours.CPU() < theirs.CPU()),
	})
	b.report.row(row{what: "its memory", size: of, ours: size(ours.Peak) + " at most", peer: size(theirs.Peak) + " at most", ratio: three(float64(theirs.Peak)/float64(ours.Peak)) + " ×"})
	return nil
}
