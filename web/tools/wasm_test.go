package main

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// memory is what segments fill of a memory that is all noughts before.
func memory(t *testing.T, all []segment) []byte {
	t.Helper()
	var out []byte
	for _, s := range all {
		if need := int(s.at) + len(s.bytes); need > len(out) {
			out = append(out, make([]byte, need-len(out))...)
		}
		copy(out[s.at:], s.bytes)
	}
	return bytes.TrimRight(out, "\x00")
}

func dataOf(t *testing.T, module []byte) []segment {
	t.Helper()
	for r := (reader{rest: module[8:]}); len(r.rest) > 0; {
		section := r.take(1)
		body := r.take(r.number())
		if section[0] != 11 {
			continue
		}
		all, err := segmentsOf(body)
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	t.Fatal("no data")
	return nil
}

// moduleOf is a module of segments between two sections of something else.
func moduleOf(all []segment) []byte {
	out := []byte("\x00asm\x01\x00\x00\x00\x0a\x02ab")
	body := written(all)
	out = append(binary.AppendUvarint(append(out, 11), uint64(len(body))), body...)
	return append(out, "\x00\x03xyz"...)
}

func TestJoinedSegmentsFillTheSameMemory(t *testing.T) {
	for seed := range uint64(200) {
		dice := rand.New(rand.NewPCG(seed, 1))
		var all []segment
		at := int64(dice.IntN(1 << 20))
		for range dice.IntN(40) {
			s := segment{at, make([]byte, dice.IntN(30))}
			for i := range s.bytes {
				s.bytes[i] = byte(dice.IntN(4))
			}
			all = append(all, s)
			at += int64(len(s.bytes) + dice.IntN(1<<dice.IntN(15)))
		}
		dice.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		was := moduleOf(all)
		got, err := joined(was)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		after := dataOf(t, got)
		if !bytes.Equal(memory(t, after), memory(t, dataOf(t, was))) {
			t.Fatalf("seed %d: another memory", seed)
		}
		for i := 1; i < len(after); i++ {
			if after[i].at-after[i-1].at-int64(len(after[i-1].bytes)) <= nearby {
				t.Fatalf("seed %d: segments %d and %d lie together", seed, i-1, i)
			}
		}
		if !bytes.HasPrefix(got, was[:12]) || !bytes.HasSuffix(got, []byte("\x00\x03xyz")) {
			t.Fatalf("seed %d: other sections changed", seed)
		}
	}
}

// TestAJoinedModuleOfTheCompilerSaysTheSame compiles a program and holds its memory before and after.
func TestAJoinedModuleOfTheCompilerSaysTheSame(t *testing.T) {
	dir := t.TempDir()
	source := filepath.Join(dir, "main.go")
	if err := os.WriteFile(source, []byte("package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(1) }\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	build := exec.Command("go", "build", "-o", filepath.Join(dir, "out.wasm"), source)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=-trimpath")
	if said, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	was, err := os.ReadFile(filepath.Join(dir, "out.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := joined(was)
	if err != nil {
		t.Fatal(err)
	}
	before, after := dataOf(t, was), dataOf(t, got)
	if !bytes.Equal(memory(t, before), memory(t, after)) {
		t.Error("another memory")
	}
	if len(after)*10 > len(before) {
		t.Errorf("%d segments of %d are left", len(after), len(before))
	}
}

func TestSegmentsOverEachOtherAreRefused(t *testing.T) {
	if _, err := joined(moduleOf([]segment{{5, []byte("abc")}, {7, []byte("d")}})); err == nil {
		t.Error("they are joined")
	}
}

func TestWhatIsNoModuleIsRefused(t *testing.T) {
	whole := moduleOf([]segment{{5, []byte("abc")}, {100, []byte("d")}})
	for n := range whole {
		switch n {
		case 8, 12, len(whole) - 5: // the ends of sections
			continue
		}
		if _, err := joined(whole[:n]); err == nil {
			t.Errorf("its first %d bytes of %d are taken for one", n, len(whole))
		}
	}
}
