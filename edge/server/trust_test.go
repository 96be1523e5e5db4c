package server

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"log"
	"net"
	"net/http"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"trenchwright/edge/authority"
	"trenchwright/edge/store"
)

// secureWorld serves over TLS and plain http on one port, with an authority of its own.
func secureWorld(t *testing.T) (address string, a *authority.Authority, s *store.Store) {
	t.Helper()
	s, err := store.Open(t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	a, err = authority.Open(t.TempDir(), time.Now, func() []string { return []string{"127.0.0.1"} })
	if err != nil {
		t.Fatal(err)
	}
	h, err := New(Options{Assets: fstest.MapFS{"index.html.gz": gz("<p>page")}, Store: s, TLS: true,
		Trust: &Trust{Root: a.Root(), Fingerprint: a.Fingerprint(), Made: a.Made(), Ends: a.Ends()}})
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	config := &tls.Config{GetCertificate: a.Certificate, NextProtos: []string{"h2", "http/1.1"}}
	server := &http.Server{Handler: h, TLSConfig: config, ErrorLog: log.New(io.Discard, "", 0)}
	go server.Serve(BothWays(l, config))
	t.Cleanup(func() { server.Close() })
	return l.Addr().String(), a, s
}

// A phone loads the root over plain http, trusts it, and then comes over TLS; over plain http it gets nothing else.
func TestPhoneComesToTrustTheServer(t *testing.T) {
	at, a, _ := secureWorld(t)
	plain := &http.Client{Timeout: 5 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	get := func(c *http.Client, at string) (int, string, *http.Response) {
		t.Helper()
		r, err := c.Get(at)
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		b, _ := io.ReadAll(r.Body)
		return r.StatusCode, string(b), r
	}
	if status, b, _ := get(plain, "http://"+at+"/trust"); status != 200 || !strings.Contains(b, a.Fingerprint()) || !strings.Contains(b, "https://"+at+"/") {
		t.Errorf("%d %s", status, b)
	}
	if status, _, r := get(plain, "http://"+at+"/jobs/tram-depot"); status != http.StatusSeeOther || r.Header.Get("Location") != "/trust" {
		t.Errorf("a page over plain http: %d", status)
	}
	if status, b, _ := get(plain, "http://"+at+"/api/jobs"); status != http.StatusForbidden || answer[Refusal](t, []byte(b)).Status != status {
		t.Errorf("jobs over plain http: %d %s", status, b)
	}
	_, text, _ := get(plain, "http://"+at+"/trust/root.crt")
	block, _ := pem.Decode([]byte(text))
	root, err := x509.ParseCertificate(block.Bytes)
	if err != nil || authority.Fingerprint(root.Raw) != a.Fingerprint() {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(root)
	trusting := &http.Client{Timeout: 5 * time.Second, Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}, ForceAttemptHTTP2: true}}
	status, b, r := get(trusting, "https://"+at+"/api/about")
	if about := answer[aboutBody](t, []byte(b)); status != 200 || !about.Offline || r.ProtoMajor != 2 {
		t.Errorf("%d %s over HTTP %d", status, b, r.ProtoMajor)
	}
	if _, err := (&http.Client{Timeout: 5 * time.Second}).Get("https://" + at + "/"); err == nil {
		t.Error("who was not told of the authority trusts it")
	}
}

// Somebody who connects and says nothing keeps nobody waiting.
func TestSilentConnectionKeepsNobodyWaiting(t *testing.T) {
	at, _, _ := secureWorld(t)
	for range 20 {
		c, err := net.Dial("tcp", at)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
	}
	r, err := (&http.Client{Timeout: 5 * time.Second}).Get("http://" + at + "/trust")
	if err != nil || r.StatusCode != 200 {
		t.Fatal(err)
	}
	r.Body.Close()
}

func TestOfflineIsToldByHowABrowserCame(t *testing.T) {
	for host, want := range map[string]bool{"127.0.0.1:8417": true, "localhost": true, "[::1]:8417": true, "a.localhost:80": true, "192.168.1.4:8417": false, "site-box.local": false, "localhost.example": false} {
		if offline(false, host) != want || !offline(true, host) {
			t.Error(host)
		}
		if said := offlineSaid(false, host, false); want == strings.Contains(said, "no offline mode") {
			t.Error(host, said)
		}
	}
}

// Streams end when they are told to, and what else is under way goes on.
func TestStreamsEndFirst(t *testing.T) {
	s, err := store.Open(t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ctx, end := context.WithCancel(t.Context())
	h, err := New(Options{Assets: fstest.MapFS{"index.html.gz": gz("<p>page")}, Store: s, Streams: ctx})
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{Handler: h}
	go server.Serve(l)
	r, err := http.Get("http://" + l.Addr().String() + "/api/stream")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	end()
	if _, err := io.ReadAll(r.Body); err != nil {
		t.Error("the stream was broken off:", err)
	}
	patient, done := context.WithTimeout(t.Context(), 5*time.Second)
	defer done()
	if err := server.Shutdown(patient); err != nil {
		t.Error(err)
	}
}
