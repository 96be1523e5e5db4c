package field

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"trenchwright/tools/seed"
)

// A number goes round a line and comes off it again, and what a device wrote stays byte for byte what it was.
func TestNumbersGoRoundLines(t *testing.T) {
	g := people(t)
	for i, r := range g.made(200) {
		line, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		n := int64(i + 1)
		given := Numbered(n, line)
		if seq, record := Unnumbered(given); seq != n || !bytes.Equal(record, line) || !bytes.Contains(given, line) {
			t.Fatalf("%s\ncame as %d %s", given, seq, record)
		}
		if seq, record := Unnumbered(line); seq != 0 || !bytes.Equal(record, line) {
			t.Fatalf("%s\nhas number %d of its own", line, seq)
		}
		list, faults := Read(bytes.NewReader(given))
		if len(faults) > 0 || len(list) != 1 || list[0].Seq != n || list[0].ID != r.ID {
			t.Fatalf("%s\nread as %+v, %v", given, list, faults)
		}
		var again bytes.Buffer
		if err := Write(&again, list); err != nil || again.String() != string(given)+"\n" {
			t.Fatalf("%s\nwritten as %s, %v", given, again.String(), err)
		}
	}
	record := `{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","device":"a","number":1,"kind":"note"}`
	for _, spaced := range []string{`{ "seq": 7, "record": ` + record + ` }`, `{"record":` + record + `,"seq":7}`, `{"seq":7,"record": ` + record + ` }`} {
		if seq, inner := Unnumbered([]byte(spaced)); seq != 7 || string(inner) != record {
			t.Errorf("%s: %d %s", spaced, seq, inner)
		}
	}
	for _, odd := range []string{`{"seq":0,"record":` + record + `}`, `{"seq":-1,"record":` + record + `}`, `{"seq":1.5,"record":` + record + `}`,
		`{"seq":7,"record":` + record, `{"seq":7}`, `{"seq":7,"record":` + record + `,"more":1}`, `{"seq":7,"record":null}`, `{"seq":7,"record":{"seq":8,"record":` + record + `}}`,
	} {
		if list, faults := Read(strings.NewReader(odd)); len(list) != 0 || len(faults) != 1 {
			t.Errorf("%s is read as %v, %v", odd, list, faults)
		}
	}
	// Its own member of that name is a device's, and says nothing of the server.
	if list, _ := Read(strings.NewReader(strings.Replace(record, "{", `{"seq":9,`, 1))); len(list) != 1 || list[0].Seq != 0 {
		t.Error(list)
	}
}

// However lines come, with their numbers or first without, once or again, the book has the same numbers.
func TestNumbersComeToTheSameBook(t *testing.T) {
	seed := seed.Of(t)
	r := rand.New(rand.NewPCG(seed, 3))
	for range 30 {
		g := people(t)
		records := g.made(40)
		numbered := make([]Record, len(records))
		for i := range records {
			numbered[i] = records[i]
			numbered[i].Seq = int64(i + 1)
		}
		orderly := NewBook(small())
		orderly.Add(numbered...)
		mixed := append(append([]Record(nil), records...), numbered...)
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		b := NewBook(small())
		for _, one := range mixed {
			b.Add(one)
		}
		if x, y := orderly.All(), b.All(); !reflect.DeepEqual(x, y) {
			t.Fatalf("seed %d: the numbers differ by how they came", seed)
		}
		n := r.Int64N(41)
		x, y := orderly.Upto(Until(n)), b.Upto(Until(n))
		if x.Len() > int(n) || fmt.Sprint(x.State("").Findings) != fmt.Sprint(y.State("").Findings) || !reflect.DeepEqual(x.Measured(nil), y.Measured(nil)) {
			t.Fatalf("seed %d: as it stood when the server had %d records depends on how they came", seed, n)
		}
		for i := range records {
			if records[i].Seq != 0 {
				t.Fatalf("seed %d: a record of the caller's was changed", seed)
			}
		}
	}
}

func FuzzUnnumbered(f *testing.F) {
	f.Add(int64(7), `{"id":"x"}`)
	f.Add(int64(0), `{"seq":1,"record":{}}`)
	f.Add(int64(9), `,"record":}`)
	f.Fuzz(func(t *testing.T, seq int64, line string) {
		n, record := Unnumbered([]byte(line))
		if n < 0 || n == 0 && string(record) != line {
			t.Fatalf("%q: %d %q", line, n, record)
		}
		line = strings.TrimSpace(line)
		if seq < 1 || !strings.HasPrefix(line, "{") {
			return
		}
		if n, record := Unnumbered(Numbered(seq, []byte(line))); n != seq || string(record) != line {
			t.Fatalf("%q with %d round it comes off as %d %q", line, seq, n, record)
		}
	})
}
