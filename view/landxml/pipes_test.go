package landxml

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"trenchwright/base/measure"
)

const network = `<PipeNetworks><PipeNetwork name="N" pipeNetType="storm"><Structs>
<Struct name="a"><Center>10 0</Center><CircStruct diameter="1"/><Invert elev="5" flowDir="out" refPipe="p"/></Struct>
<Struct name="b"><Center>10 20</Center><CircStruct diameter="1"/><Invert elev="4.9" flowDir="in" refPipe="p"/></Struct></Structs>
<Pipes><Pipe name="p" refStart="a" refEnd="b"><CircPipe diameter="0.3" thickness="0.05" material="concrete"/></Pipe>
<Pipe name="q" refStart="a" refEnd="z"><CircPipe diameter="0.3"/></Pipe>
<Pipe name="r" refStart="a" refEnd="b"><CircPipe diameter="0.3"/><Center>3 3</Center></Pipe>
<Pipe name="s" refStart="b" refEnd="a"><RectPipe width="1" height="NaN"/></Pipe>
<Pipe name="t" refStart="b" refEnd="a"><RectPipe width="1" height="0.5"/></Pipe></Pipes></PipeNetwork></PipeNetworks>`

func TestPipes(t *testing.T) {
	f := read(t, file(network), Options{Pipes: true})
	if len(f.Pipes) != 2 {
		t.Fatalf("%+v", f.Pipes)
	}
	m := measure.Metre
	if p := f.Pipes[0]; p.Name != "p" || p.Kind != "storm" || p.To.E != 20*m || p.From.N != 10*m || !p.HasInvert || p.Invert != [2]measure.Length{5 * m, 4900 * measure.Millimetre} ||
		p.Width != 300*measure.Millimetre || p.Height != p.Width || p.Wall != 50*measure.Millimetre || p.Material != "concrete" {
		t.Errorf("%+v", p)
	}
	if p := f.Pipes[1]; p.Name != "t" || p.HasInvert || p.Height != 500*measure.Millimetre || p.Wall != 0 {
		t.Errorf("%+v", p)
	}
	for _, want := range []string{`pipe "q" of network "N" is left out: it ends at the structure "z", which its network does not hold`, `pipe "r" of network "N" is left out: it is a channel or a curved pipe`,
		`pipe "s" of network "N" is left out: "NaN" is no size of a pipe`, "does not say in which unit the diameters of its pipes are"} {
		if !strings.Contains(fmt.Sprint(f.Notes), want) {
			t.Errorf("no %q in %v", want, f.Notes)
		}
	}
}

// The drain from outside (SOURCES.md: existing and proposed pipes of a storm drain), its figures as its text has them.
func TestOutsidePipes(t *testing.T) {
	for _, name := range outside(t) {
		if filepath.Base(name) != "ir_drain_1_1.xml" {
			continue
		}
		f, err := readFile(t, name, Options{Pipes: true})
		if err != nil || len(f.Pipes) != 6 {
			t.Fatalf("%d pipes, %v", len(f.Pipes), err)
		}
		for _, p := range f.Pipes {
			if p.Name == "60" && (p.Width != 400*measure.Millimetre || p.Wall != 60*measure.Millimetre || !p.HasInvert || p.From.N != 6876910028752*measure.Micrometre || p.Invert[0] != 124876312*measure.Micrometre) {
				t.Errorf("%+v", p)
			}
			t.Logf("%+v", p)
		}
	}
}
