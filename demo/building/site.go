package building

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"

	"trenchwright/base/measure"
	"trenchwright/job"
	"trenchwright/job/field"
	"trenchwright/job/planner"
)

// site is a build on its way.
type site struct {
	dice
	seed    uint64
	calm    bool
	on      Planned // as it was before anything was built
	job     job.Job
	plan    planner.Plan
	run     *field.Run // its places, as everybody holds them
	answers *planner.Answers
	day     int
	minute  int // of the day

	server    server
	devices   []*device
	gangs     []*gang
	engineer  *device
	inspector *device
	office    *device
	yardman   *device
	paper     []paperDay

	legs  []*leg
	yard  yard
	kinds []field.Piece // of all that comes, in the order in which it is laid
	seen  map[field.Piece]bool
	tape  gauge // for places along the run
	feel  gauge // for gaps
	rod   gauge

	told      []string
	counts    Count
	checks    []corrected
	photo     int
	settled   bool // nobody read anything differently from others
	tallied   bool // the yard, this week
	weather   weather
	bends     []*bend
	legsAsked []planner.LegReplan // of the last answer
	knew      field.State         // what it was given from
	bench     bench
	contract  *field.Contract
	asks      *field.Book // of the plan, without a record
	forgotten map[missed]bool
}

// gauge is what something is read with: to the next step, and how well, each way.
type gauge struct {
	name       string
	step, plus measure.Length
}

// instrument is it as records name it, its calibration invented.
func (g gauge) instrument() *field.Instrument {
	return &field.Instrument{ID: g.name, Certificate: "invented " + g.name, Due: "2027-03-30"}
}

// read is what somebody reads of a length: within plus of it, to the step.
func (s *site) read(g gauge, truth measure.Length) measure.Length {
	near := truth + s.within(g.plus-g.step/2)
	half := g.step / 2
	if near < 0 {
		half = -half
	}
	return (near + half) / g.step * g.step
}

func newSite(p Planned, o Options) (*site, error) {
	s := &site{dice: dice{o.Seed}, seed: o.Seed, on: p, calm: o.Calm, job: p.Job, plan: p.Plan, answers: p.Answers, legs: legsOf(p)}
	if len(s.legs) == 0 {
		return nil, fmt.Errorf("no leg of %s was laid out", p.Job.ID)
	}
	s.counts.Surprises = map[string]int{}
	s.forgotten, s.contract = map[missed]bool{}, field.Asks(p.Job)
	s.seen = map[field.Piece]bool{}
	s.counts.Changed = map[string][]int{}
	s.yard = yard{have: map[field.Piece]int{}, lots: map[field.Piece]*lot{}}
	const mm = measure.Millimetre
	s.tape, s.feel, s.rod = gauge{"tape 3", mm, mm * 3 / 2}, gauge{"gap gauge 1", mm / 2, mm / 2}, gauge{"level 2", mm, mm}
	if p.Job.System == job.Imperial {
		const inch = measure.Inch
		s.tape, s.feel, s.rod = gauge{"tape 3", inch / 16, inch / 16}, gauge{"gap gauge 1", inch / 32, inch / 32}, gauge{"level 2", inch / 32, inch / 16}
	}
	s.people(p)
	for _, l := range s.legs {
		l.begin(s)
		for _, q := range l.places {
			s.knows(&q)
		}
	}
	s.bendsOf()
	s.order()
	return s, nil
}

// people are who works there: two gangs, and four who go about. One device's clock is off by years, others by seconds.
func (s *site) people(p Planned) {
	run := p.Plan.Places()
	s.run = run
	s.asks = field.NewBook(run)
	add := func(name, person, role string) *device {
		d := &device{name: name, person: person, role: role, book: field.NewBook(run), off: time.Duration(s.below(240)-120) * time.Second}
		s.devices = append(s.devices, d)
		return d
	}
	first := add("gang-1", "R. Mason", "ganger")
	second := add("gang-2", "S. Wren", "ganger")
	s.engineer = add("level-1", "T. Birch", "site engineer")
	s.inspector = add("inspector-1", "V. Alder", "inspector")
	s.yardman = add("yard-1", "J. Reed", "storekeeper")
	s.office = add("office", "P. Holm", "office")
	if !s.calm {
		pick(&s.dice, s.devices[:5]).off = time.Duration(s.below(9)-6) * 365 * 24 * time.Hour
	}
	s.gangs = []*gang{{device: first}, {device: second}}
	for i, l := range s.legs {
		g := s.gangs[i%2]
		g.legs = append(g.legs, l)
	}
}

// oneDay is one day on site.
func (s *site) oneDay() {
	s.minute = 0
	s.countYard()
	s.keyPaper()
	s.weatherToday()
	s.deliveries()
	s.loop()
	for _, g := range s.gangs {
		s.work(g)
	}
	s.secondLook()
	s.diaries()
	s.evening()
	s.day++
}

// done tells whether the run is handed over and the server has every record.
func (s *site) done() bool {
	for _, l := range s.legs {
		if !l.handedOver() {
			return false
		}
	}
	for _, d := range s.devices {
		if d.sent < len(d.wrote) {
			return false
		}
	}
	return len(s.paper) == 0 && s.bench.good() && s.settled && s.engineer.took == len(s.server.records) && s.agreed()
}

// diaries are a few words of each gang in the evening.
func (s *site) diaries() {
	for _, g := range s.gangs {
		if g.did > 0 {
			s.write(g.device, entry{kind: field.Diary, text: fmt.Sprintf("%s set today; %s.", plural(g.did, "unit"), s.weather.say())})
			g.did = 0
		}
	}
}

// photos are hashes of so many photos.
func (s *site) photos(n int) []string {
	var list []string
	for range n {
		s.photo++
		sum := sha256.Sum256([]byte(fmt.Sprintf("%s, photo %d of build %d", s.job.ID, s.photo, s.next())))
		list = append(list, hex.EncodeToString(sum[:]))
	}
	return list
}

func (s *site) size(l measure.MM) string {
	f := measure.Format{Places: 1}
	if s.job.System == job.Imperial {
		f.System = measure.Imperial
	}
	return f.Length(measure.Length(l))
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
