package ground

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"trenchwright/place/route"
)

// The same input gives the same bits, on amd64 and in the browser alike: surfaces, sections, levels, volumes and clips of
// made-up surveys, all of them in one sum that both have to reach.
func TestTheSameBitsEverywhere(t *testing.T) {
	if runtime.GOARCH != "amd64" && runtime.GOARCH != "wasm" {
		t.Skip("SKIPPED: bits are promised for amd64 and wasm")
	}
	const want = "c5b7b07f1e6f691151af0a100eff0ee3919e8054657967f9d4977e23b2a24e71"
	h := sha256.New()
	bits := func(values ...float64) {
		for _, v := range values {
			h.Write(binary.LittleEndian.AppendUint64(nil, math.Float64bits(v)))
		}
	}
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 29))
		a, b := patchy(r), patchy(r)
		if a == nil || b == nil {
			continue
		}
		h.Write(a.Encode())
		line := []route.Point{{E: 20 * r.Float64(), N: 20 * r.Float64()}, {E: 20 * r.Float64(), N: 20 * r.Float64()}, {E: 20, N: 4}}
		for _, st := range a.Section(line).Stretches {
			for _, c := range st {
				bits(c.Along, c.Level)
			}
		}
		if l, ok := a.At(line[0]); ok {
			bits(l.Z, l.East, l.North, float64(l.Face))
		}
		v, _ := Between(a, b, nil)
		m := a.Measures()
		bits(float64(v.Cut), float64(v.Fill), v.CutArea, v.FillArea, v.LevelArea, v.Common, v.Deepest, v.Highest, m.Area2D, m.Area3D)
		if c := a.Clip(line, 2); c != nil {
			h.Write(c.Encode())
		}
	}
	if got := hex.EncodeToString(h.Sum(nil)); got != want {
		t.Errorf("the sum is %s", got)
	}
}
