package planner

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"trenchwright/base/measure"
	"trenchwright/base/wording"
	"trenchwright/job"
)

// bill lists everything that is ordered: units, covers, fittings with their kits, loose parts, spares; rounded up to
// packs where the supplier gives them.
func (b *build) bill() {
	yard := b.yardUnits()
	for i := range b.sup {
		s := &b.sup[i]
		b.billUnits(s, yard)
		b.billCovers(s)
	}
	b.billFittings()
	for i := range b.sup {
		b.billLoose(&b.sup[i])
	}
}

// yardUnits counts the whole units that are there already, by supply and length.
func (b *build) yardUnits() map[string]int {
	n := map[string]int{}
	for _, y := range b.job.Yard {
		if y.Mark == "" {
			n[y.Supply+" "+y.Length.MMString()] += max(y.Count, 1)
		}
	}
	return n
}

// billUnits orders plain units, whole units for closers on hold, and units to be cut, less what lies in the yard.
func (b *build) billUnits(s *supply, yard map[string]int) {
	for _, l := range s.Unit.Lengths.Value {
		plain, hold, cut := 0, 0, 0
		for _, u := range b.plan.Units {
			if u.Supply != s.ID || measure.Length(u.Stock) != l {
				continue
			}
			switch {
			case u.Hold:
				hold++
			case !u.Cut:
				plain++
			}
		}
		for _, c := range b.plan.Cutting {
			if c.Supply == s.ID && c.Of == "units" {
				for _, p := range c.Patterns {
					if !p.Offcut && measure.Length(p.Stock) == l {
						cut++
					}
				}
			}
		}
		need := plain + hold + cut
		spare, why := b.spare("units", s.ID, need)
		if need+spare == 0 {
			continue
		}
		have := min(yard[s.ID+" "+l.MMString()], need+spare)
		line := BillLine{
			Item: b.tell("%s %s", wording.Unit, l), Supply: s.ID, Kind: "unit", Length: mmp(l), Need: fmt.Sprint(need), Order: fmt.Sprint(need + spare - have), Unit: "piece",
			Mass: kilos(s.Unit.Mass.Known, s.Unit.Mass.Value, l), Source: b.source(s),
		}
		line.Why = joinWords(counted(plain, "laid whole"), counted(cut, "to be cut"), b.held(hold), why, counted(have, "already in the yard"))
		setSpare(&line, spare)
		b.packs(&line, need+spare-have, s.Stacking.UnitsPerBundle)
		b.plan.Bill = append(b.plan.Bill, line)
		b.plan.Totals.Bought += need - min(have, need)
	}
}

// held are the whole units that closers on hold are cut from.
func (b *build) held(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return b.tell("1 for a %s on hold", wording.Closer)
	}
	return b.tell("%d for %s on hold", n, wording.Closers)
}

func counted(n int, what string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d %s", n, what)
}

func joinWords(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, "; ")
}

func setSpare(l *BillLine, n int) {
	if n > 0 {
		l.Spare = fmt.Sprint(n)
	}
}

// kilos is the mass of one piece, or that nobody entered it.
func kilos(known bool, per measure.LinearMass, l measure.Length) string {
	if !known {
		return "NOT CHECKED: no mass on file. Ask: the supplier"
	}
	return strconv.FormatFloat(per.Over(l).Kilograms(), 'f', -1, 64) // to the gram: it is multiplied by the order
}

func (b *build) billCovers(s *supply) {
	if s.Cover == nil {
		return
	}
	of := b.supplyOfUnits()
	for _, l := range s.Cover.Lengths.Value {
		plain, cut := 0, 0
		for _, c := range b.plan.Covers {
			if of[c.Unit] == s.ID && !c.Cut && measure.Length(c.Length) == l {
				plain++
			}
		}
		for _, c := range b.plan.Cutting {
			if c.Supply != s.ID || c.Of != "covers" {
				continue
			}
			for _, p := range c.Patterns {
				if measure.Length(p.Stock) == l {
					cut++
				}
			}
		}
		need := plain + cut
		spare, why := b.spare("covers", s.ID, need)
		if need+spare == 0 {
			continue
		}
		line := BillLine{
			Item: b.tell("cover %s", l), Supply: s.ID, Kind: "cover", Length: mmp(l), Need: fmt.Sprint(need), Order: fmt.Sprint(need + spare), Unit: "piece",
			Mass: kilos(s.Cover.Mass.Known, s.Cover.Mass.Value, l), Source: b.source(s),
		}
		line.Why = joinWords(counted(plain, "laid whole"), counted(cut, "to be cut"), why)
		setSpare(&line, spare)
		b.packs(&line, need+spare, s.Stacking.CoversPerPallet)
		b.plan.Bill = append(b.plan.Bill, line)
		b.plan.Totals.CoversBuy += need
	}
}

// packs rounds an order up to bundles or pallets where the supplier gives their size.
func (b *build) packs(l *BillLine, n int, per job.Entry[int]) {
	if !per.Known || per.Value <= 0 || n == 0 {
		return
	}
	l.Pack, l.Packs = per.Value, (n+per.Value-1)/per.Value
	l.Order = fmt.Sprint(l.Pack * l.Packs)
}

// spare is what the job's rules add to a need.
func (b *build) spare(what, supply string, need int) (int, string) {
	if need == 0 {
		return 0, ""
	}
	for _, r := range b.job.Rules.Spares {
		if r.What != what && r.What != what+" "+supply {
			continue
		}
		n := r.AtLeast
		if r.Percent != "" {
			if p, ok := new(big.Rat).SetString(r.Percent); ok {
				p.Mul(p, big.NewRat(int64(need), 100))
				n = max(n, ceil(p))
			}
		}
		from := r.From
		if from == "" {
			from = b.job.Rules.From
		}
		return n, "spares: " + spareText(r) + " (" + b.docShort(from) + ")"
	}
	return 0, ""
}

func spareText(r job.Spare) string {
	var parts []string
	if r.Percent != "" {
		parts = append(parts, r.Percent+" in 100")
	}
	if r.AtLeast > 0 {
		parts = append(parts, fmt.Sprintf("at least %d", r.AtLeast))
	}
	return strings.Join(parts, ", ")
}

// docShort names where a rule comes from: a document, or words.
func (b *build) docShort(id string) string {
	if id == "" {
		return "NOT CHECKED: no source on file. Ask: whoever made the rule"
	}
	return id
}

func ceil(r *big.Rat) int {
	q, rest := new(big.Int).QuoRem(r.Num(), r.Denom(), new(big.Int))
	if rest.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return int(q.Int64())
}

func (b *build) billFittings() {
	count := map[string]int{}
	var order []string
	for _, n := range b.plan.Nodes {
		if n.Fitting == "" {
			continue
		}
		if count[n.Fitting] == 0 {
			order = append(order, n.Fitting)
		}
		count[n.Fitting]++
	}
	for _, id := range order {
		if f, s, ok := b.fittingOf(id); ok {
			b.billFitting(f, s, count[id])
		}
	}
}

// billFitting orders n castings of one kind, with their cover kits.
func (b *build) billFitting(f job.Fitting, s *supply, n int) {
	line := BillLine{Item: b.fittingTitle(f), Supply: s.ID, Kind: "fitting", Need: fmt.Sprint(n), Order: fmt.Sprint(n), Unit: "piece",
		Mass: onePiece(f.Mass), Source: b.docText(f.From)}
	b.plan.Bill = append(b.plan.Bill, line)
	for _, c := range f.Covers {
		b.plan.Bill = append(b.plan.Bill, BillLine{Item: c.Name, Supply: s.ID, Kind: "cover", Need: fmt.Sprint(c.Count * n), Order: fmt.Sprint(c.Count * n), Unit: "piece",
			Mass: onePiece(c.Mass), Source: b.docText(f.From), Why: "cover kit of fitting " + f.ID})
	}
}

// onePiece is the mass of one casting or of one cover of its kit.
func onePiece(m job.Entry[measure.Mass]) string {
	if !m.Known {
		return "NOT CHECKED: no mass on file. Ask: the supplier"
	}
	return fmt.Sprintf("%.1f", m.Value.Kilograms())
}

// fittingTitle is what a fitting is called on an order.
func (b *build) fittingTitle(f job.Fitting) string {
	if f.Title != "" {
		return f.Title + " (" + f.ID + ")"
	}
	switch f.Kind {
	case "transition":
		return b.tell("%s %s", wording.Transition, f.ID)
	case "end":
		return b.tell("%s %s", wording.EndPlate, f.ID)
	}
	return f.Kind + " " + f.ID
}

// billLoose counts the supply's loose parts, each per what it belongs to.
func (b *build) billLoose(s *supply) {
	if len(s.LooseParts) == 0 {
		return
	}
	n := b.tally(s)
	for _, p := range s.LooseParts {
		per, ok := new(big.Rat).SetString(p.Number)
		if !ok {
			continue
		}
		need := new(big.Rat).Mul(per, n[p.Per])
		if need.Sign() == 0 {
			continue
		}
		spare, why := b.spare(p.Name, s.ID, ceil(need))
		total := new(big.Rat).Add(need, big.NewRat(int64(spare), 1))
		unit := p.Unit
		if unit == "" {
			unit = "piece"
		}
		line := BillLine{Item: p.Name, Supply: s.ID, Kind: "loose part", Need: amount(need), Unit: unit, Source: b.docText(p.From),
			Why: joinWords(b.rate(p, n[p.Per]), why)}
		setSpare(&line, spare)
		line.Order = amount(total)
		if unit == "piece" {
			line.Order = fmt.Sprint(ceil(total))
		}
		if p.Pack > 0 {
			line.Pack, line.Packs = p.Pack, ceil(new(big.Rat).Quo(total, big.NewRat(int64(p.Pack), 1)))
			line.Order = fmt.Sprint(line.Packs * p.Pack)
		}
		b.plan.Bill = append(b.plan.Bill, line)
	}
}

// rate says how a loose part is counted: 4 pieces for each stop end; 7 stop ends.
func (b *build) rate(p job.LoosePart, of *big.Rat) string {
	unit := p.Unit
	if unit == "" {
		unit = "piece"
	}
	if unit == "piece" && p.Number != "1" {
		unit = "pieces"
	}
	one, many := b.counts(p.Per)
	if n := amount(of); n != "1" {
		return fmt.Sprintf("%s %s for each %s; %s %s", p.Number, unit, one, n, many)
	}
	return fmt.Sprintf("%s %s for each %s; 1 %s", p.Number, unit, one, one)
}

// counts is what loose parts are counted by, in the job's words: one, and several.
func (b *build) counts(per string) (one, many string) {
	word := b.speech().Word
	switch per {
	case "unit":
		return word(wording.Unit), word(wording.Units)
	case "pad":
		return word(wording.Pad), word(wording.Pads)
	case "metre":
		return word(wording.Metre), word(wording.Metres)
	case "cut-face":
		return "cut face", "cut faces"
	}
	return per, per + "s"
}

// amount writes a number with at most three decimals, without trailing zeros.
func amount(r *big.Rat) string {
	if r.IsInt() {
		return r.Num().String()
	}
	return strings.TrimRight(strings.TrimRight(r.FloatString(3), "0"), ".")
}

// unitAt is the unit whose pad a place of the set-out is: the one before a joint, or the one whose start or end it is.
func unitAt(place string) string {
	first, _, _ := strings.Cut(place, "/")
	return first[strings.LastIndex(first, " ")+1:]
}

// tally counts what loose parts are counted by, for one supply. Ends are the open and closed ends of legs and faces to
// castings and walls; a joint between two mitred faces counts as a bend.
func (b *build) tally(s *supply) map[string]*big.Rat {
	n := map[string]int64{}
	of := b.supplyOfUnits()
	length := measure.Length(0)
	for _, u := range b.plan.Units {
		if u.Supply != s.ID {
			continue
		}
		n["unit"]++
		length += measure.Length(u.Length)
		if u.Cut && u.Piece != nil {
			switch u.Piece.KeptEnd {
			case "none":
				n["cut-face"] += 2
			case "start", "end":
				n["cut-face"]++
			}
		}
	}
	for _, c := range b.plan.Covers {
		if of[c.Unit] == s.ID {
			n["cover"]++
		}
	}
	for _, j := range b.plan.Joints {
		if first, _, _ := strings.Cut(j.Name, "/"); of[first] == s.ID {
			n["joint"]++
		}
	}
	for _, r := range b.plan.SetOut {
		if r.Pad != "" && of[unitAt(r.Place)] == s.ID {
			n["pad"]++
		}
	}
	for i := range b.axes {
		if b.legSupply(i).index != s.index {
			continue
		}
		for _, f := range []face{b.axes[i].start, b.axes[i].end} {
			if f.made != "mitred" && f.made != "joint" {
				n["end"]++
			}
		}
	}
	for _, d := range b.plan.Nodes {
		if d.Bend != nil && b.supplyNamed(b.legNamed(d.Legs[0]).Supply).index == s.index {
			n["bend"]++
		}
	}
	out := map[string]*big.Rat{"metre": big.NewRat(int64(length), int64(measure.Metre))}
	for _, k := range []string{"unit", "cover", "joint", "end", "pad", "cut-face", "bend"} {
		out[k] = big.NewRat(n[k], 1)
	}
	return out
}
