// Package peer asks outside solvers the questions that our own solvers answer: it writes a question as an integer
// programme in LP text and has it solved by another program. It uses nothing of our solvers but the types of a problem.
//
//	model.go    an integer programme, and its LP text
//	ask.go      cbc and HiGHS: where they are, and what they say
//	saw.go      every way of sawing one unit, by trying; and cutting as a choice among them
//	arcflow.go  cutting square pieces as a flow along the stock
package peer

import (
	"bufio"
	"fmt"
	"io"
)

// Model is an integer programme to be made least. All its variables are whole numbers from 0 up.
type Model struct {
	cost []int64
	rows []row
}

// Sense is how the two sides of a row stand to each other.
type Sense string

const (
	Equal   Sense = "="
	AtLeast Sense = ">="
	AtMost  Sense = "<="
)

type row struct {
	terms []term
	sense Sense
	right int64
}

type term struct {
	column int
	factor int64
}

// Column adds a variable with its price and gives its number.
func (m *Model) Column(cost int64) int {
	m.cost = append(m.cost, cost)
	return len(m.cost) - 1
}

// Row adds an empty row and gives its number.
func (m *Model) Row(s Sense, right int64) int {
	m.rows = append(m.rows, row{sense: s, right: right})
	return len(m.rows) - 1
}

// Term adds factor times a variable to the left side of a row.
func (m *Model) Term(row, column int, factor int64) {
	m.rows[row].terms = append(m.rows[row].terms, term{column, factor})
}

// Size is the number of rows and of variables.
func (m *Model) Size() (rows, columns int) { return len(m.rows), len(m.cost) }

// WriteLP writes the model as LP text, in which rows are c0, c1, … and variables x0, x1, …
func (m *Model) WriteLP(w io.Writer) error {
	b := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprint(b, "Minimize\n cost:")
	n := 0
	for i, c := range m.cost {
		if c != 0 {
			put(b, &n, c, i)
		}
	}
	if n == 0 && len(m.cost) > 0 {
		fmt.Fprint(b, " 0 x0")
	}
	fmt.Fprint(b, "\nSubject To\n")
	for i, r := range m.rows {
		fmt.Fprintf(b, " c%d:", i)
		n = 0
		for _, t := range r.terms {
			put(b, &n, t.factor, t.column)
		}
		fmt.Fprintf(b, " %s %d\n", r.sense, r.right)
	}
	fmt.Fprint(b, "Generals\n")
	for i := range m.cost {
		fmt.Fprintf(b, " x%d\n", i)
	}
	fmt.Fprint(b, "End\n")
	return b.Flush()
}

// put writes one term; readers want short lines.
func put(b *bufio.Writer, n *int, factor int64, column int) {
	if *n > 0 && *n%12 == 0 {
		fmt.Fprint(b, "\n ")
	}
	*n++
	fmt.Fprintf(b, " %+d x%d", factor, column)
}
