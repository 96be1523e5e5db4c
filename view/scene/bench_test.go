package scene_test

import (
	"io"
	"testing"

	"trenchwright/view/scene"
	"trenchwright/view/scene/internal/specimen"
)

func BenchmarkSVGOfA1(b *testing.B) {
	sheet := specimen.Sheet(1)
	for b.Loop() {
		if err := scene.WriteSVG(io.Discard, sheet); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChecksOfA1(b *testing.B) {
	sheet := specimen.Sheet(1)
	for b.Loop() {
		if _, err := scene.Overlaps(sheet); err != nil {
			b.Fatal(err)
		}
		if _, err := scene.Outside(sheet); err != nil {
			b.Fatal(err)
		}
		if _, err := scene.Crossed(sheet); err != nil {
			b.Fatal(err)
		}
	}
}
