package server

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"trenchwright/base/measure"
	"trenchwright/edge/store"
	"trenchwright/job/field"
	"trenchwright/tools/seed"
)

// siteChance is of nets that lose, double, hold back and mix up.
func siteChance(t testing.TB) *rand.Rand {
	return rand.New(rand.NewPCG(seed.Of(t), 2))
}

// site is a server that can be killed and comes again, behind a net that does what nets do.
type site struct {
	t      testing.TB
	dir    string
	lock   sync.RWMutex
	store  *store.Store
	serves http.Handler
	front  *httptest.Server
	down   atomic.Bool
}

func newSite(t testing.TB) *site {
	s := &site{t: t, dir: t.TempDir()}
	s.start()
	s.front = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.lock.RLock()
		defer s.lock.RUnlock()
		if s.down.Load() {
			panic(http.ErrAbortHandler)
		}
		s.serves.ServeHTTP(w, r)
	}))
	t.Cleanup(func() { s.front.Close(); s.store.Close() })
	return s
}

func (s *site) start() {
	var err error
	if s.store, err = store.Open(s.dir, store.Options{}); err != nil {
		s.t.Fatal(err)
	}
	if s.serves, err = New(Options{Assets: fstest.MapFS{"index.html.gz": gz("x")}, Store: s.store}); err != nil {
		s.t.Fatal(err)
	}
}

// falls ends the server in the middle of its work and starts it again on what it had on its disk.
func (s *site) falls() {
	s.down.Store(true)
	s.lock.Lock()
	defer s.lock.Unlock()
	s.store.Close()
	s.start()
	s.down.Store(false)
}

// wild is a net that loses questions and answers, sends twice, and holds back.
type wild struct {
	lock   sync.Mutex
	chance *rand.Rand
	lost   atomic.Int64
}

var errLost = errors.New("lost")

func (w *wild) draw(n int) int {
	w.lock.Lock()
	defer w.lock.Unlock()
	return w.chance.IntN(n)
}

func (w *wild) RoundTrip(r *http.Request) (*http.Response, error) {
	var body []byte
	if r.Body != nil {
		body, _ = io.ReadAll(r.Body)
	}
	again := func() *http.Request {
		c := r.Clone(r.Context())
		c.Body = io.NopCloser(bytes.NewReader(body))
		return c
	}
	time.Sleep(time.Duration(w.draw(3)) * time.Millisecond)
	switch w.draw(8) {
	case 0: // it never arrived
		w.lost.Add(1)
		return nil, errLost
	case 1: // it arrived and was done, and the answer was lost
		w.lost.Add(1)
		if a, err := http.DefaultTransport.RoundTrip(again()); err == nil {
			io.Copy(io.Discard, a.Body)
			a.Body.Close()
		}
		return nil, errLost
	case 2: // it arrived twice, the second time late
		go func() {
			time.Sleep(time.Duration(w.draw(10)) * time.Millisecond)
			if a, err := http.DefaultTransport.RoundTrip(again().WithContext(context.WithoutCancel(r.Context()))); err == nil {
				a.Body.Close()
			}
		}()
	}
	return http.DefaultTransport.RoundTrip(again())
}

// phone is a device as the workspace is one: an outbox that goes by what was acknowledged, and what came from the others.
type phone struct {
	site   *site
	net    *http.Client
	token  string
	unsent map[string]string // by id
	book   map[string]bool   // texts
	told   int64
}

// asks sends once, as this device; false: nothing came back, or the server was down.
func (p *phone) asks(method, at string, text []byte) ([]byte, http.Header, bool) {
	r, err := http.NewRequest(method, p.site.front.URL+at, bytes.NewReader(text))
	if err != nil {
		p.site.t.Fatal(err)
	}
	r.Header.Set("Content-Type", ndjson)
	r.Header.Set("Authorization", "Bearer "+p.token)
	a, err := p.net.Do(r)
	if err != nil {
		return nil, nil, false
	}
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	return b, a.Header, err == nil && a.StatusCode == http.StatusOK
}

func (p *phone) keep(r field.Record) {
	b, err := json.Marshal(r)
	if err != nil {
		p.site.t.Fatal(err)
	}
	p.unsent[r.ID], p.book[string(b)] = string(b), true
}

// sends tries to get everything up, in parts and in any order, until all of it was acknowledged.
func (p *phone) sends() {
	for len(p.unsent) > 0 {
		var part []string
		for _, text := range p.unsent { // the order of a map is any
			if part = append(part, text); len(part) == 7 {
				break
			}
		}
		b, _, ok := p.asks("POST", "/api/jobs/yard/records", []byte(strings.Join(part, "\n")))
		if !ok {
			continue
		}
		for _, id := range answer[store.Acknowledged](p.site.t, b).IDs {
			delete(p.unsent, id)
		}
	}
}

// hears takes in what the others did, up to the end.
func (p *phone) hears() {
	for {
		b, head, ok := p.asks("GET", fmt.Sprintf("/api/jobs/yard/records?after=%d&limit=11", p.told), nil)
		if !ok {
			continue
		}
		var last int64
		fmt.Sscan(head.Get("Last-Seq"), &last)
		if last == p.told {
			return
		}
		for line := range strings.Lines(string(b)) {
			p.book[strings.TrimSpace(line)] = true
		}
		p.told = last
	}
}

func (p *phone) lines() []string {
	var list []string
	for text := range p.book {
		list = append(list, text)
	}
	slices.Sort(list)
	return list
}

// state is what the records on a device come to.
func (p *phone) state(now string) string {
	read, faults := field.Read(strings.NewReader(strings.Join(p.lines(), "\n")))
	if len(faults) > 0 {
		p.site.t.Fatal(faults)
	}
	for i := range read { // the order in which they came must not matter
		j := (i * int(p.told+7)) % len(read)
		read[i], read[j] = read[j], read[i]
	}
	b := field.NewBook(yard())
	b.Add(read...)
	s := b.State(now)
	text, err := json.Marshal(s)
	if err != nil {
		p.site.t.Fatal(err)
	}
	return string(text) + s.Findings.Render(measure.Metric)
}

// yard is a run of forty units.
func yard() *field.Run {
	l := field.Leg{ID: "A"}
	plain := field.Piece{Supply: "T3", What: "unit", Length: 3000 * measure.Millimetre}
	for i := range 40 {
		at := measure.Length(i) * 3010 * measure.Millimetre
		l.Units = append(l.Units, field.Unit{Place: fmt.Sprintf("A-%03d", i+1), Start: at, End: at + plain.Length, Gap: 10 * measure.Millimetre, Piece: plain, Stock: plain})
	}
	return &field.Run{Legs: []field.Leg{l}}
}

// made is a record of a device, whose clock says what it likes.
func made(chance *rand.Rand, device string, number int, year int) field.Record {
	var ten [10]byte
	for i := range ten {
		ten[i] = byte(chance.IntN(256))
	}
	at := time.Date(year, 1, 1+number/10, 0, number, 0, 0, time.UTC)
	r := field.Record{ID: field.ULID(max(0, at.UnixMilli()), ten), Job: "yard", Device: device, Number: number, Person: "P of " + device, Made: at.Format(time.RFC3339)}
	r.From = fmt.Sprintf("A-%03d", 1+chance.IntN(40))
	switch chance.IntN(3) {
	case 0:
		r.Kind, r.Says = field.Set, json.RawMessage(`{"within":true}`)
	case 1:
		r.Kind, r.Says = field.Gap, json.RawMessage(fmt.Sprintf(`{"left":"%d mm","right":"10 mm"}`, 5+chance.IntN(10)))
	default:
		r.Kind, r.Text = field.Note, "seen"
	}
	return r
}

// Devices that bring their records through a net that loses, doubles, holds back and mixes up, to a server that falls again and
// again: at the end each record is there once, everybody has the same ones, and they come to the same state.
func TestNothingIsLostOrDoubled(t *testing.T) {
	chance := siteChance(t)
	s := newSite(t)
	bad := &wild{chance: rand.New(rand.NewPCG(chance.Uint64(), 3))}
	var phones []*phone
	all := map[string]bool{}
	for d := range 6 {
		p := &phone{site: s, net: &http.Client{Transport: bad}, unsent: map[string]string{}, book: map[string]bool{}}
		for n := range 40 {
			p.keep(made(chance, fmt.Sprintf("d%d", d), n+1, 1990+13*d))
		}
		for text := range p.book {
			all[text] = true
		}
		phones = append(phones, p)
	}
	clone := *phones[0] // a phone's file was read on another: both bring the same
	clone.unsent = map[string]string{}
	for id, text := range phones[0].unsent {
		clone.unsent[id] = text
	}
	clone.book = map[string]bool{}
	phones = append(phones, &clone)
	var wait sync.WaitGroup
	for _, p := range phones {
		wait.Go(func() { p.sends() })
	}
	for range 5 {
		time.Sleep(time.Duration(20+chance.IntN(60)) * time.Millisecond)
		s.falls()
	}
	wait.Wait()
	for _, p := range phones {
		p.hears()
	}
	want := phones[0].lines()
	if len(want) != len(all) || bad.lost.Load() == 0 {
		t.Fatalf("%d of %d records, %d lost on the way", len(want), len(all), bad.lost.Load())
	}
	state := phones[0].state("2026-03-02T00:00:00Z")
	for i, p := range phones {
		if !slices.Equal(p.lines(), want) {
			t.Errorf("device %d has %d records of %d, or others", i, len(p.lines()), len(want))
		}
		if p.state("2026-03-02T00:00:00Z") != state {
			t.Errorf("device %d: another state", i)
		}
	}
	if last, err := s.store.Records(t.Context(), "yard", 0, 10_000); err != nil || len(last.Lines) != len(all) || last.Last != int64(len(all)) {
		t.Errorf("%d kept, the last has the number %d: %v", len(last.Lines), last.Last, err)
	}
	t.Logf("%d records, %d questions or answers lost", len(all), bad.lost.Load())
}

// Two devices that were without signal for a week, one with a clock of 36 years ago and one of 12 years ahead: whoever comes first,
// both end with the same records and the same state, and where they measured the same, both readings are there.
func TestAWeekWithoutSignal(t *testing.T) {
	chance := siteChance(t)
	var states []string
	one, other := []field.Record{}, []field.Record{}
	for n := range 70 {
		one = append(one, made(chance, "one", n+1, 1990))
		other = append(other, made(chance, "other", n+1, 2038))
	}
	gap := func(d string, n int, mm string) field.Record {
		r := made(chance, d, n, 1990)
		r.Kind, r.From, r.Says, r.Text = field.Gap, "A-007", json.RawMessage(`{"left":"`+mm+`","right":"`+mm+`"}`), ""
		return r
	}
	one, other = append(one, gap("one", 71, "4 mm")), append(other, gap("other", 71, "19 mm"))
	for _, firstComes := range [][]int{{0, 1}, {1, 0}} {
		s := newSite(t)
		phones := []*phone{}
		for _, of := range [][]field.Record{one, other} {
			p := &phone{site: s, net: http.DefaultClient, unsent: map[string]string{}, book: map[string]bool{}}
			for _, r := range of {
				p.keep(r)
			}
			phones = append(phones, p)
		}
		for _, i := range firstComes {
			phones[i].sends()
		}
		for _, p := range phones {
			p.hears()
			if len(p.book) != 142 {
				t.Errorf("%d records", len(p.book))
			}
			states = append(states, p.state("2026-03-09T00:00:00Z"))
		}
	}
	for _, s := range states[1:] {
		if s != states[0] {
			t.Error("not the same state everywhere")
		}
	}
	if !strings.Contains(states[0], "A-007") || !strings.Contains(states[0], "P of one") || !strings.Contains(states[0], "P of other") {
		t.Error("nobody is told that two people measured the same")
	}
}

// from asks the server as somebody at an address.
func (w *world) from(address, host, method, at, token, kind string, text []byte, head ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, at, bytes.NewReader(text))
	r.RemoteAddr, r.Host = address, host
	if token != "" {
		r.Header.Set("Authorization", "Bearer "+token)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	for i := 0; i+1 < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	a := httptest.NewRecorder()
	w.Config.Handler.ServeHTTP(a, r)
	return a
}

// A device comes in by a code from the office, once, and is shut out again; whoever is not let in is told what to do.
func TestDevicesComeInByACode(t *testing.T) {
	w := newWorld(t)
	line := []byte(`{"id":"01ARZ3NDEKTSV4RRFFQ69G5FAV","job":"yard","device":"p","number":1,"person":"P","made":"","kind":"note"}`)
	const away, there, office = "192.0.2.7:4321", "works.example:8443", "127.0.0.1:5555"
	send := func(token string) *httptest.ResponseRecorder {
		return w.from(away, there, "POST", "/api/jobs/yard/records", token, ndjson, line)
	}
	sum := strings.Repeat("ab", 32)
	turnedAway := func(token, why string) {
		t.Helper()
		for _, a := range []*httptest.ResponseRecorder{send(token), w.from(away, there, "GET", "/api/jobs/yard/records", token, "", nil),
			w.from(away, there, "PUT", "/api/photos/"+sum, token, "application/octet-stream", []byte("x"), "Content-Range", "bytes 0-0/1")} {
			r := answer[Refusal](t, a.Body.Bytes())
			if a.Code != http.StatusUnauthorized || !strings.Contains(r.Detail, why) || !strings.Contains(r.Detail, "stays on it") || !strings.Contains(r.Detail, "saved as a file") || !strings.Contains(r.Detail, "code") {
				t.Errorf("%d %s", a.Code, a.Body)
			}
		}
		if a := w.from(away, there, "HEAD", "/api/photos/"+sum, token, "", nil); a.Code != http.StatusUnauthorized {
			t.Error(a.Code)
		}
	}
	turnedAway("", "not known")
	turnedAway("made up", "not known")
	for _, at := range []string{"POST /api/enrolments", "GET /api/devices", "POST /api/devices/p/shut-out"} {
		method, path, _ := strings.Cut(at, " ")
		for what, a := range map[string]*httptest.ResponseRecorder{
			"away":           w.from(away, there, method, path, "", "", nil),
			"passed on":      w.from(office, "localhost:8080", method, path, "", "", nil, "X-Forwarded-For", "192.0.2.7"),
			"by a name only": w.from(office, "evil.example", method, path, "", "", nil),
		} {
			if r := answer[Refusal](t, a.Body.Bytes()); a.Code != http.StatusForbidden || !strings.Contains(r.Detail, "localhost") {
				t.Errorf("%s %s: %d %s", at, what, a.Code, a.Body)
			}
		}
	}
	code := func() string {
		t.Helper()
		a := w.from(office, "127.0.0.1:8080", "POST", "/api/enrolments", "", "", nil)
		if a.Code != http.StatusCreated {
			t.Fatal(a.Code, a.Body)
		}
		return answer[store.Enrolment](t, a.Body.Bytes()).Code
	}
	comes := func(code, id string) *httptest.ResponseRecorder {
		return w.from(away, there, "POST", "/api/devices", "", "application/json", fmt.Appendf(nil, `{"code":%q,"name":"Gang 1","device":%q}`, code, id))
	}
	type in struct {
		Device store.Device
		Token  string
	}
	c := code()
	token := answer[in](t, comes(c, "phone-1").Body.Bytes()).Token
	if a := comes(c, "phone-2"); a.Code != 422 || !strings.Contains(a.Body.String(), "lets nobody in") {
		t.Error(a.Code, a.Body)
	}
	if a := send(token); a.Code != 200 || !strings.Contains(a.Body.String(), `"acknowledged":["01ARZ3NDEKTSV4RRFFQ69G5FAV"]`) {
		t.Fatal(a.Code, a.Body)
	}
	if a := w.from(office, "localhost:8080", "GET", "/api/devices", "", "", nil); a.Code != 200 || !strings.Contains(a.Body.String(), `"records":1`) || strings.Contains(a.Body.String(), token) {
		t.Error(a.Code, a.Body)
	}
	if a := w.from(office, "localhost:8080", "POST", "/api/devices/phone-1/shut-out", "", "", nil); a.Code != 200 {
		t.Error(a.Code, a.Body)
	}
	turnedAway(token, "shut out")
	if token = answer[in](t, comes(code(), "phone-1").Body.Bytes()).Token; send(token).Code != 200 {
		t.Error("it does not come in again")
	}
	for range mostGuesses {
		comes("00000000", "phone-3")
	}
	if a := comes(code(), "phone-3"); a.Code != http.StatusTooManyRequests || !strings.Contains(a.Body.String(), "Wait a minute") {
		t.Error(a.Code, a.Body)
	}
	if strings.Contains(w.log.text(), token) {
		t.Error("a token is in the log")
	}
}

// A photo of 12 MB comes up in pieces, through a net that loses answers, and goes on where it was.
func TestPhotoComesUpInPieces(t *testing.T) {
	w := newWorld(t)
	photo := bytes.Repeat([]byte("a photo from site. "), 12_000_000/19)
	sum := sumOf(photo)
	put := func(from, to int64, total int) (int, PhotoHere) {
		r, _ := http.NewRequest("PUT", w.URL+"/api/photos/"+sum, bytes.NewReader(photo[from:to]))
		r.Header.Set("Content-Type", "application/octet-stream")
		r.Header.Set("Content-Range", fmt.Sprintf("bytes %d-%d/%d", from, to-1, total))
		a, err := w.Client().Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		b, _ := io.ReadAll(a.Body)
		if a.StatusCode != 200 {
			return a.StatusCode, PhotoHere{}
		}
		return 200, answer[PhotoHere](t, b)
	}
	for n := 0; ; n++ {
		_, _, head := w.ask(t, "HEAD", "/api/photos/"+sum, "", nil)
		if head.Get("Whole") == "true" {
			break
		}
		var here int64
		fmt.Sscan(head.Get("Here"), &here)
		end := min(here+store.MostPiece, int64(len(photo)))
		if status, h := put(here, end, len(photo)); status != 200 || h.Here != end || h.Whole != (end == int64(len(photo))) {
			t.Fatal(status, h)
		}
		if n%3 == 0 {
			put(here, end, len(photo)) // once more: nobody heard the answer
		}
	}
	if _, b, _ := w.ask(t, "GET", "/api/attachments/"+sum, "", nil); !bytes.Equal(b, photo) {
		t.Error("another photo comes back")
	}
	sum = sumOf([]byte("too large"))
	if status, _ := put(0, 1, store.MostPhoto+1); status != http.StatusRequestEntityTooLarge {
		t.Error(status)
	}
	if status, _ := put(0, store.MostPiece+1, len(photo)); status != http.StatusRequestEntityTooLarge {
		t.Error(status)
	}
}

func sumOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
