package drift

import (
	"math"

	"trenchwright/base/measure"
)

// Law is where a long run comes to rest when each gap takes up what it can: after every unit the gang opens or closes the next
// gap by at most so much, to come back to the drawn place. It is the law that D ← shrink(D + e, a) does not change, where e is
// what one unit with its gap adds and shrink takes up to a off whatever is left.
type Law struct {
	Never bool           // what a unit adds on average is as much as a gap can take up, or more: the run never comes right
	Free  bool           // gaps take up so little beside what units vary that joints wander nearly as if none did: nothing more is said
	Each  measure.Length // that average
	Room  measure.Length // what one gap can take up, each way
	Mean  measure.Length // where joints lie on average, ahead (above 0) or behind
	SD    measure.Length // standard deviation about it
	Low   measure.Length // 99.9 of 100 joints lie between Low and High
	High  measure.Length
}

const (
	fine   = 12   // steps of the grid in one standard deviation of what a unit adds, where the law is narrow
	coarse = 3    // and where it is wide
	widest = 600  // steps of the grid to each side for which the fine one is kept
	rounds = 4000 // at the most: the guess is near
)

// Rest finds that law on a grid, for units that are bias longer on average. Each gap can take up room, each way.
func (s Spread) Rest(bias, room measure.Length) Law {
	l := Law{Each: bias, Room: room}
	mu, a, sd := inMM(bias), inMM(room), s.each()
	if l.Never = math.Abs(mu) >= a; l.Never {
		return l
	}
	if sd == 0 {
		return l // each gap takes up all there is
	}
	if l.Free = a < sd/8 || a-math.Abs(mu) < sd/20; l.Free {
		return l
	}
	// Far out the chance falls by exp(-2(a-|μ|)/σ²) a millimetre: this far, what is left out is below 1e-7.
	far := 18*float64(sd*sd)/float64(2*(a-math.Abs(mu))) + float64(8*sd) + math.Abs(mu)
	h := math.Min(math.Max(sd/fine, far/widest), sd/coarse)
	k := int(math.Ceil(a / h)) // what a gap takes up is a whole number of steps
	h = a / float64(k)
	wide := int(math.Ceil(far / h))
	e := bell(sd/h, mu/h)
	p := guess(wide, float64(2*(a-mu)*h)/float64(sd*sd), float64(2*(a+mu)*h)/float64(sd*sd))
	next := make([]float64, len(p))
	for range rounds {
		layOne(next, p, e, k)
		change := 0.0
		for i := range p {
			change += math.Abs(next[i] - p[i])
		}
		p, next = next, p
		if change < 1e-8 {
			break
		}
	}
	l.fill(p, wide, h)
	return l
}

// guess is the law that small steps would lead to: the chance falls by the same factor with each step of the grid, up and down.
func guess(wide int, up, down float64) []float64 {
	p := make([]float64, 2*wide+1)
	sum := 1.0
	p[wide] = 1
	for i := 1; i <= wide; i++ {
		p[wide+i] = p[wide+i-1] / (1 + up + float64(up*up/2))
		p[wide-i] = p[wide-i+1] / (1 + down + float64(down*down/2))
		sum += p[wide+i] + p[wide-i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// bell is a normal law about mean, its standard deviation and mean in steps of the grid, out to six deviations each way, summing
// to 1; the middle of the list is 0. Neighbours stand in a ratio that itself changes by the same factor with every step, so that
// three exponentials, by their series, make them all.
func bell(sd, mean float64) []float64 {
	out := int(math.Ceil(float64(6*sd) + math.Abs(mean)))
	v := float64(sd * sd)
	shrink := decay(1 / v)
	list := make([]float64, 2*out+1)
	list[out] = 1
	sum := 1.0
	for _, side := range [2]int{1, -1} {
		value, ratio := 1.0, decay((1-float64(2*float64(side)*mean))/float64(2*v))
		for i := 1; i <= out; i++ {
			value = float64(value * ratio)
			ratio = float64(ratio * shrink)
			list[out+side*i] = value
			sum += value
		}
	}
	for i := range list {
		list[i] /= sum
	}
	return list
}

// decay is exp(-x): by its series near 0, from there by squaring.
func decay(x float64) float64 {
	halved := 0
	for math.Abs(x) > 0.5 {
		x /= 2
		halved++
	}
	sum, term := 1.0, 1.0
	for k := 1; k < 16; k++ {
		term = float64(term*-x) / float64(k)
		sum += term
	}
	for range halved {
		sum = float64(sum * sum)
	}
	return sum
}

// layOne lays one unit more: what lies at i goes on by e and comes back by up to k steps. What would leave the grid stays at its end.
func layOne(to, from, e []float64, k int) {
	clear(to)
	out, mid := len(e)/2, len(from)/2
	for i, p := range from {
		if p < 1e-18 {
			continue
		}
		for j, q := range e {
			d := i - mid + j - out
			d -= min(max(d, -k), k)
			to[min(max(d+mid, 0), len(to)-1)] += float64(p * q)
		}
	}
}

// fill reads mean, spread and band off a law on a grid of h mm.
func (l *Law) fill(p []float64, mid int, h float64) {
	var sum, squares, all float64
	for i, q := range p {
		d := float64(float64(i-mid) * h)
		sum += float64(d * q)
		squares += float64(float64(d*d) * q)
		all += q
	}
	mean := sum / all
	l.Mean, l.SD = millimetres(mean), millimetres(math.Sqrt(math.Max(0, squares/all-float64(mean*mean))))
	const side = 0.0005
	below, low, high := 0.0, 0, len(p)-1
	for i, q := range p {
		if below+q > float64(side*all) {
			low = i
			break
		}
		below += q
	}
	above := 0.0
	for i := len(p) - 1; i >= 0; i-- {
		if above+p[i] > float64(side*all) {
			high = i
			break
		}
		above += p[i]
	}
	l.Low, l.High = millimetres(float64(low-mid)*h), millimetres(float64(high-mid)*h)
}
