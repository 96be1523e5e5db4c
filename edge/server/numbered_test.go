package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"trenchwright/edge/store"
	"trenchwright/job/field"
)

// Two devices that ask after different numbers and in parts of different size are told the same records in the same order, each with
// its number round the bytes that its device wrote; and what was given out so comes in again, here and at another server, as those bytes.
func TestNumbersAreTheSameForEverybody(t *testing.T) {
	chance := siteChance(t)
	s := newSite(t)
	bring := func(p *phone, lines []string) store.Acknowledged {
		t.Helper()
		b, _, ok := p.asks("POST", "/api/jobs/yard/records", []byte(strings.Join(lines, "\n")))
		if !ok {
			t.Fatalf("%s", b)
		}
		return answer[store.Acknowledged](t, b)
	}
	p := &phone{site: s, net: http.DefaultClient}
	var lines []string
	for n := range 60 {
		line, err := json.Marshal(made(chance, fmt.Sprintf("d%d", n%4), n/4+1, 1990+n%4*17))
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, string(line))
	}
	chance.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
	for part := range slices.Chunk(lines, 13) {
		bring(p, part)
	}
	told := func(after, limit int) []string {
		var all []string
		for {
			b, head, ok := p.asks("GET", fmt.Sprintf("/api/jobs/yard/records?numbered=true&after=%d&limit=%d", after, limit), nil)
			if !ok {
				t.Fatalf("%s", b)
			}
			if len(b) == 0 {
				return all
			}
			all = append(all, strings.Split(strings.TrimSuffix(string(b), "\n"), "\n")...)
			fmt.Sscan(head.Get("Last-Seq"), &after)
		}
	}
	whole := told(0, 10_000)
	for i, given := range whole {
		if seq, record := field.Unnumbered([]byte(given)); seq != int64(i+1) || string(record) != lines[i] {
			t.Fatalf("line %d was given as %s, not as %s", i+1, given, lines[i])
		}
	}
	for range 20 {
		after, limit := chance.IntN(61), 1+chance.IntN(20)
		if got := told(after, limit); !slices.Equal(got, whole[after:]) {
			t.Fatalf("after %d, %d at a time: %d lines, or others than the %d", after, limit, len(got), 60-after)
		}
	}
	if a := bring(p, whole); len(a.IDs) != 60 || a.Last != 60 || len(a.Unread) > 0 {
		t.Errorf("what was given out comes in again as more: %d acknowledged, the last is %d", len(a.IDs), a.Last)
	}
	other := newSite(t)
	there := &phone{site: other, net: http.DefaultClient}
	bring(there, whole[50:]) // another server numbers in its own order
	b, _, _ := there.asks("GET", "/api/jobs/yard/records?after=0", nil)
	if got := strings.Split(strings.TrimSuffix(string(b), "\n"), "\n"); !slices.Equal(got, lines[50:]) {
		t.Errorf("at another server they are %q", got[0])
	}
}
