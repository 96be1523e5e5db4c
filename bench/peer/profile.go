package peer

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"trenchwright/base/measure"
	"trenchwright/bench/process"
	"trenchwright/solve/profile"
)

// WriteProfile writes the levels of legs that do not meet as LP text: z are levels in metres above the first joint's wanted
// level, u and v what they lie above and below the wanted ones, or d both, p and q changes of grade either way. Limits of a change are
// bounds of p and q, which is the least text that says it. Levels cost their squares if the problem says so.
func WriteProfile(w io.Writer, p profile.Problem) error {
	if len(p.Nodes) > 0 {
		return errors.New("legs that meet are not written")
	}
	out := bufio.NewWriter(w)
	t := profileText{p: p, out: out}
	for i := range p.Legs {
		for j := range p.Legs[i].Joints {
			if f := p.Legs[i].Joints[j].Wanted; f != nil {
				t.base = *f
			}
		}
	}
	fmt.Fprint(out, "Minimize\n obj:")
	t.costs()
	fmt.Fprint(out, "\nSubject To\n")
	t.rows()
	fmt.Fprint(out, "Bounds\n")
	t.bounds()
	fmt.Fprint(out, "End\n")
	return out.Flush()
}

type profileText struct {
	p    profile.Problem
	out  *bufio.Writer
	base measure.Length
}

func (t *profileText) metres(l measure.Length) string { return (l - t.base).MString() }

func exactly(v float64) string { return strconv.FormatFloat(v, 'g', 17, 64) }

// ratio is a grade, nil being none.
func ratio(g *measure.Grade) float64 {
	if g.Rise == 0 {
		return 0
	}
	return float64(g.Rise) / float64(g.Run)
}

// each calls do for every joint; inner tells whether the grade may change there.
func (t *profileText) each(do func(name string, l *profile.Leg, j int, inner bool)) {
	for i := range t.p.Legs {
		l := &t.p.Legs[i]
		for j := range l.Joints {
			do(fmt.Sprintf("%d_%d", i, j), l, j, j > 0 && j < len(l.Units))
		}
	}
}

// even tells whether one free variable d says how far a level is off: its square costs the same either way.
func (t *profileText) even(joint *profile.Joint) bool {
	return t.p.Squares && joint.Above == joint.Below
}

func (t *profileText) costs() {
	var squares []string
	t.each(func(name string, l *profile.Leg, j int, inner bool) {
		joint := &l.Joints[j]
		switch {
		case joint.Wanted == nil:
		case t.even(joint):
			squares = append(squares, fmt.Sprintf("%d d%s ^2", 2*joint.Above, name))
		case t.p.Squares:
			squares = append(squares, fmt.Sprintf("%d u%s ^2 + %d v%s ^2", 2*joint.Above, name, 2*joint.Below, name))
		default:
			fmt.Fprintf(t.out, " + %d u%s + %d v%s\n", joint.Above, name, joint.Below, name)
		}
		if inner && joint.Break > 0 {
			fmt.Fprintf(t.out, " + %d p%s + %d q%s\n", joint.Break, name, joint.Break, name)
		}
	})
	if len(squares) > 0 {
		fmt.Fprintf(t.out, " + [ %s ] / 2", strings.Join(squares, "\n + "))
	}
}

func (t *profileText) rows() {
	t.each(func(name string, l *profile.Leg, j int, inner bool) {
		joint := &l.Joints[j]
		switch {
		case joint.Wanted == nil:
		case t.even(joint):
			fmt.Fprintf(t.out, " f%s: z%s - d%s = %s\n", name, name, name, t.metres(*joint.Wanted))
		default:
			fmt.Fprintf(t.out, " f%s: z%s - u%s + v%s = %s\n", name, name, name, name, t.metres(*joint.Wanted))
		}
		leg, _, _ := strings.Cut(name, "_")
		at := func(k int) string { return fmt.Sprintf("z%s_%d", leg, k) }
		if j < len(l.Units) {
			length := (l.Joints[j+1].At - joint.At).Metres()
			if g := l.Units[j].Least; g != nil {
				fmt.Fprintf(t.out, " a%s: %s - %s >= %s\n", name, at(j+1), at(j), exactly(ratio(g)*length))
			}
			if g := l.Units[j].Most; g != nil {
				fmt.Fprintf(t.out, " b%s: %s - %s <= %s\n", name, at(j+1), at(j), exactly(ratio(g)*length))
			}
		}
		if inner {
			l0, l1 := (joint.At - l.Joints[j-1].At).Metres(), (l.Joints[j+1].At - joint.At).Metres()
			fmt.Fprintf(t.out, " c%s: %s %s - %s %s + %s %s - p%s + q%s = 0\n", name,
				exactly(1/l1), at(j+1), exactly(1/l0+1/l1), at(j), exactly(1/l0), at(j-1), name, name)
		}
	})
}

func (t *profileText) bounds() {
	t.each(func(name string, l *profile.Leg, j int, inner bool) {
		joint := &l.Joints[j]
		switch {
		case joint.Pin != nil:
			fmt.Fprintf(t.out, " z%s = %s\n", name, t.metres(*joint.Pin))
		case joint.Low == nil && joint.High == nil:
			fmt.Fprintf(t.out, " z%s free\n", name)
		default:
			low, high := "-1e30", "1e30"
			if joint.Low != nil {
				low = t.metres(*joint.Low)
			}
			if joint.High != nil {
				high = t.metres(*joint.High)
			}
			fmt.Fprintf(t.out, " %s <= z%s <= %s\n", low, name, high)
		}
		if t.even(joint) && joint.Wanted != nil {
			fmt.Fprintf(t.out, " d%s free\n", name)
		}
		if inner && joint.Change != nil {
			most := exactly(ratio(joint.Change))
			fmt.Fprintf(t.out, " p%s <= %s\n q%s <= %s\n", name, most, name, most)
		}
	})
}

// Clp is the solver of Debian's package coinor-clp by its dual simplex, which is its best on profiles.
func Clp() (Solver, error) {
	at, err := exec.LookPath("clp")
	if err != nil {
		return Solver{}, errors.New("clp is not installed: tools/packages coinor-clp")
	}
	return Solver{Name: "clp", Version: debianVersion("coinor-clp"), command: func(model, _ string, limit time.Duration) []string {
		return []string{at, model, "-seconds", seconds(limit), "-dualsimplex"}
	}}, nil
}

// Real is what a solver says of a model whose cost is no whole number.
type Real struct {
	Verdict Verdict
	Least   float64
	Cost    process.Cost
}

// AskReal has a model without whole numbers solved, by clp or HiGHS.
func (s Solver) AskReal(file string, limit time.Duration) (Real, error) {
	ctx, stop := context.WithTimeout(context.Background(), limit+limit/4+10*time.Second)
	defer stop()
	cost, out, err := process.Run(ctx, process.Command{Args: s.command(file, "", limit)})
	a := Real{Cost: cost}
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		a.Verdict = NotEnded
		return a, nil
	case err != nil:
		return a, err
	case s.Name == "clp":
		a.Verdict, a.Least, err = readClp(string(out))
	default:
		a.Verdict, a.Least, err = readReal(out)
	}
	return a, err
}

// readClp finds "Optimal objective 2744.512342 - 30123 iterations time 2.1".
func readClp(out string) (Verdict, float64, error) {
	if _, rest, ok := strings.Cut(out, "Optimal objective "); ok {
		v, err := strconv.ParseFloat(strings.Fields(rest)[0], 64)
		return Best, v, err
	}
	switch {
	case strings.Contains(out, "infeasible"):
		return None, 0, nil
	case strings.Contains(out, "Stopped"):
		return NotEnded, 0, nil
	}
	return "", 0, fmt.Errorf("clp says %q", out)
}

func readReal(out []byte) (Verdict, float64, error) {
	var said struct {
		Status string
		Value  float64
	}
	if err := json.Unmarshal(out, &said); err != nil {
		return "", 0, fmt.Errorf("HiGHS says %q: %w", out, err)
	}
	switch said.Status {
	case "Optimal":
		return Best, said.Value, nil
	case "Infeasible":
		return None, math.NaN(), nil
	case "Time limit reached":
		return NotEnded, 0, nil
	}
	return "", 0, fmt.Errorf("HiGHS says %q", said.Status)
}
