package profile

// A part is one kind of cost or limit of many rows at once. Row r measures t[r], a linear form of the levels. What it costs
// is convex, so that a step dt changes the row's price y by h·dt + const: parts add their h, and their y + const as g.
//
// Inside, every part is pairs of numbers above 0 whose product is driven to the same small τ (the central path of the
// interior point). Second-order terms c of each pair are kept from the predictor for the corrector.
type part interface {
	start(t []float64, spread float64)               // first pairs, products near spread times price
	aim(t, h, g []float64)                           // adds a spring towards where the part costs nothing
	newton(t, h, g []float64, tau float64)           // adds h and g, without second order
	correct(t, g []float64, tau float64)             // adds g with second order
	reach(t, dt []float64, tau float64, r *reach)    // how far the step may go; r.first: without second order, and keeps it
	move(t, dt []float64, tau, primal, dual float64) // goes
	gap(t []float64, s *state)
	duals(y []float64) // adds the row's price
}

// reach is how far a step may go before a pair loses its sign, and what the products come to there.
type reach struct {
	first        bool
	primal, dual float64
	p, d, pd     float64 // Σ ρ·du, Σ u·dρ, Σ du·dρ
}

// state is how far the work has come.
type state struct {
	products float64 // Σ of all pairs: the gap, once everything fits
	pairs    int
	cost     float64
	off      float64 // the most that a row is off from its own pair
}

func (r *reach) see(u, du, rho, drho float64) {
	if u+float64(r.primal*du) < 0 {
		r.primal = -u / du
	}
	if rho+float64(r.dual*drho) < 0 {
		r.dual = -rho / drho
	}
	if r.first {
		r.p += float64(rho * du)
		r.d += float64(u * drho)
		r.pd += float64(du * drho)
	}
}

// soft lets a row give by this for each price that it changes by, in metres: it keeps the matrix from being stiffer than
// float64 can carry, and what a row has given is taken back as its price comes to rest.
const soft = 1e-9

// idle is the stiffness, in prices a metre, under which a pair counts as at rest: its price is what it is without a limit.
const idle = 1e-3
