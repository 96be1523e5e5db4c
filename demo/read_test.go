package demo_test

import (
	"bytes"
	"testing"

	"trenchwright/demo"
	"trenchwright/view/jobtext"
)

// Every demo job reads without a fault.
func TestDemosReadWithoutFaults(t *testing.T) {
	for _, name := range demo.Names() {
		text, err := demo.File(name)
		if err != nil {
			t.Fatal(err)
		}
		_, faults := jobtext.Read(name+".yaml", bytes.NewReader(text))
		for _, f := range faults {
			t.Errorf("%s line %d: %s %s\n%s", name, f.Where.Line, f.Text, f.Try, f.Where.Excerpt)
		}
	}
}
