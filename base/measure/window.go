package measure

import (
	"fmt"
	"strings"
)

const (
	aWindow       = "a window"
	windowExample = "8 mm..14 mm, 10 mm in 8 mm..14 mm, or 10 mm"
)

// ParseWindow reads a range of lengths: "8 mm..14 mm" aims at its middle, "10 mm in 8 mm..14 mm" at 10 mm, and "10 mm"
// alone leaves no play. The last unit written serves the numbers before it that have none (8..14 mm).
func ParseWindow(text string) (Window, error) {
	s, err := scan(text, aWindow, windowExample)
	if err != nil {
		return Window{}, err
	}
	p := pieces{s: s, all: []rune(text), low: string(s.runes)}
	from, to, ok := p.cut("..", "…", " to ")
	if !ok {
		w, err := p.read(0, len(s.runes), NoUnit)
		return Window{w.Length, w.Length, w.Length}, err
	}
	high, err := p.read(to, len(s.runes), NoUnit)
	if err != nil {
		return Window{}, err
	}
	lowStart := p.aim(from)
	low, err := p.read(lowStart, from, high.Unit)
	if err != nil {
		return Window{}, err
	}
	w := Window{Nominal: middle(low.Length, high.Length), Min: low.Length, Max: high.Length}
	if lowStart > 0 {
		nominal, err := p.read(0, lowStart-len(" in "), high.Unit)
		if err != nil {
			return Window{}, err
		}
		w.Nominal = nominal.Length
	}
	if problem := w.problem(); problem != "" {
		return Window{}, s.fault(1, problem)
	}
	return w, nil
}

// aim is where the range begins behind "10 mm in ", 0 where no nominal stands before it. An inch is no aim: behind the
// word, a number must follow.
func (p pieces) aim(before int) int {
	head := strings.TrimRight(string(p.s.runes[:before]), " ")
	i := strings.LastIndex(head, " in ")
	if i < 0 {
		return 0
	}
	after := len([]rune(head[:i])) + len(" in ")
	if !startsNumber(p.s.runes[after]) {
		return 0
	}
	return after
}

// pieces cuts a text and reads the parts, with columns that stay those of the whole.
type pieces struct {
	s   *scanner
	all []rune
	low string
}

// cut finds the first of marks, in their order of preference, as the places of its two sides.
func (p pieces) cut(marks ...string) (before, after int, ok bool) {
	for _, m := range marks {
		if head, _, found := strings.Cut(p.low, m); found {
			n := len([]rune(head))
			return n, n + len([]rune(m)), true
		}
	}
	return 0, 0, false
}

func (p pieces) read(from, to int, unit Unit) (Reading, error) {
	r, err := ParseIn(string(p.all[from:to]), unit)
	return r, moved(err, p.s.text, aWindow, windowExample, from)
}

// middle is half way between two lengths, without a sum that might overflow; half a nanometre is dropped.
func middle(a, b Length) Length { return a/2 + b/2 + (a%2+b%2)/2 }

// problem says what is wrong with w, "" if nothing is.
func (w Window) problem() string {
	switch {
	case w.Min > w.Max:
		return fmt.Sprintf("the window is upside down, from %s to %s", w.Min, w.Max)
	case w.Nominal < w.Min || w.Nominal > w.Max:
		return fmt.Sprintf("%s lies outside %s to %s", w.Nominal, w.Min, w.Max)
	}
	return ""
}

// Check is an error where the window is upside down, or aims outside itself.
func (w Window) Check() error {
	if problem := w.problem(); problem != "" {
		return fmt.Errorf("%s; write for example %s", problem, windowExample)
	}
	return nil
}

// Contains tells whether l lies in w, its edges included.
func (w Window) Contains(l Length) bool { return w.Min <= l && l <= w.Max }

// String is w exactly, in the shortest of the ways that ParseWindow reads.
func (w Window) String() string {
	switch {
	case w.Min == w.Max && w.Nominal == w.Min:
		return w.Nominal.String()
	case w.Nominal == middle(w.Min, w.Max):
		return fmt.Sprintf("%s..%s", w.Min, w.Max)
	}
	return fmt.Sprintf("%s in %s..%s", w.Nominal, w.Min, w.Max)
}

// MarshalText writes w exactly. A window that is upside down is not written.
func (w Window) MarshalText() ([]byte, error) {
	if err := w.Check(); err != nil {
		return nil, err
	}
	return []byte(w.String()), nil
}

// UnmarshalText reads any window.
func (w *Window) UnmarshalText(text []byte) error {
	read, err := ParseWindow(string(text))
	if err == nil {
		*w = read
	}
	return err
}
