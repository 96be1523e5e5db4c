package main

import "testing"

// Plain sections, more and more of them, come to what the solver says of every span.
func TestDigBesidePlainSections(t *testing.T) {
	d := digging{Metres: 40, Seed: 3}
	file, err := (&bench{dir: t.TempDir()}).file("dig.json", d)
	if err != nil {
		t.Fatal(err)
	}
	v, err := digWorker(file)
	if err != nil {
		t.Fatal(err)
	}
	a := v.(digAnswer)
	if a.Spans != 14 || a.Faces < 1000 || a.Dug < 40*1.4*1.5 {
		t.Errorf("%+v", a)
	}
	if a.Plain[0].Off > 1e-6 || a.Plain[1].Off > 3e-9 {
		t.Errorf("plain sections are off by %.1e and %.1e of a span", a.Plain[0].Off, a.Plain[1].Off)
	}
}
