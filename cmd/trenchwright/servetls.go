package main

import (
	"crypto/tls"
	"fmt"
	"io"
	"net"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"trenchwright/edge/authority"
	"trenchwright/edge/server"
)

// secure is how browsers come: plain, or over TLS.
type secure struct {
	listen net.Listener
	config *tls.Config   // nil: plain http
	trust  *server.Trust // nil: no authority of its own
}

// ownAuthority is what --tls says for a site authority of this machine's own.
const ownAuthority = "own"

// secured is what was asked for by --tls.
func (c serveCommand) secured(l net.Listener) (secure, error) {
	out := secure{listen: l}
	var give func(*tls.ClientHelloInfo) (*tls.Certificate, error)
	switch certificate, key, two := strings.Cut(c.TLS, ","); {
	case c.TLS == "":
		return out, nil
	case c.TLS == ownAuthority:
		host, _, _ := net.SplitHostPort(c.Addr)
		a, err := authority.Open(filepath.Join(c.Data, "tls"), time.Now, func() []string { return authority.Hosts(host) })
		if err != nil {
			return out, outcome{exitFaults, "trenchwright serve: " + err.Error()}
		}
		give, out.trust = a.Certificate, &server.Trust{Root: a.Root(), Fingerprint: a.Fingerprint(), Made: a.Made(), Ends: a.Ends()}
	case !two:
		return out, outcome{exitUsage, fmt.Sprintf("trenchwright serve: --tls: %q is neither a certificate with its key nor own; write --tls site.crt,site.key or --tls own", c.TLS)}
	default:
		g, err := authority.Load(certificate, key, time.Now)
		if err != nil {
			return out, outcome{exitUsage, "trenchwright serve: --tls: " + err.Error()}
		}
		give = g.Certificate
	}
	out.config = &tls.Config{GetCertificate: give, MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}}
	out.listen = server.BothWays(l, out.config)
	return out, nil
}

// say tells at which addresses the workspace is, and how phones come to it.
func (s secure) say(w io.Writer, at net.Addr) {
	scheme := s.scheme()
	first, others := addresses(at)
	switch {
	case s.trust != nil:
		phone := append(others, first)[0]
		fmt.Fprintf(w, "Phones:    http://%s/trust says how they come to trust it. Its fingerprint, to compare:\n           %s\n", phone, s.trust.Fingerprint)
	case s.config == nil && len(others) > 0:
		fmt.Fprintln(w, "Phones:    over plain http they get no offline mode, and anybody on the network can read along. Try: --tls own")
	}
	fmt.Fprintln(w, "Ctrl-C ends it.")
	for _, o := range others {
		fmt.Fprintf(w, "           %s://%s\n", scheme, o)
	}
	fmt.Fprintf(w, "Workspace: %s://%s\n", scheme, first) // last, where it is looked for
}

func (s secure) scheme() string {
	if s.config != nil {
		return "https"
	}
	return "http"
}

// reached are the addresses at which other devices find the workspace.
func (s secure) reached(at net.Addr) (list []string) {
	first, others := addresses(at)
	if t, ok := at.(*net.TCPAddr); ok && !t.IP.IsLoopback() && !t.IP.IsUnspecified() {
		others = append(others, first)
	}
	for _, o := range others {
		list = append(list, s.scheme()+"://"+o)
	}
	return list
}

// addresses are those of a listener: on every network, this machine's own first.
func addresses(at net.Addr) (first string, others []string) {
	t, ok := at.(*net.TCPAddr)
	if !ok || !t.IP.IsUnspecified() {
		return at.String(), nil
	}
	port := strconv.Itoa(t.Port)
	for _, ip := range authority.Addresses() {
		others = append(others, net.JoinHostPort(ip, port))
	}
	return net.JoinHostPort("127.0.0.1", port), others
}
