package server

import (
	"context"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
)

// Asker is who asks: a browser on the machine that the workspace runs on is the office; any other shows what it was given when it
// was let in.
type Asker struct {
	office bool
	token  string
}

// Resolve looks at the connection. What another program passed on did not come from this machine, whatever it looks like.
func (w *Asker) Resolve(h huma.Context) []error {
	w.office = loopback(h.RemoteAddr()) && loopback(h.Host()) && h.Header("Forwarded") == "" && h.Header("X-Forwarded-For") == ""
	w.token, _ = strings.CutPrefix(h.Header("Authorization"), "Bearer ")
	return nil
}

// loopback tells whether an address, with or without a port, is this machine's own.
func loopback(address string) bool {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		host = address
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// device is the one that asks; empty: the office. Anybody else is refused, with words that say what becomes of the records.
func (a *api) device(ctx context.Context, w Asker) (string, error) {
	if w.office && w.token == "" {
		return "", nil
	}
	d, err := a.Store.Known(ctx, w.token)
	if err != nil && w.office {
		return "", nil // its own browser was shut out as a device, and is still the office
	}
	return d.ID, a.answered(err)
}

// inOffice refuses everybody but the office.
func inOffice(w Asker) error {
	if w.office {
		return nil
	}
	return refused(http.StatusForbidden, "devices are let in and shut out by the office alone: in a browser on the machine that this workspace runs on, at localhost")
}

// guesses counts codes that let nobody in, so that nobody tries them all.
type guesses struct {
	lock sync.Mutex
	from time.Time
	n    int
}

const mostGuesses = 30 // a minute, of everybody together

func (g *guesses) tooMany(now time.Time) bool {
	g.lock.Lock()
	defer g.lock.Unlock()
	if now.Sub(g.from) > time.Minute {
		g.from, g.n = now, 0
	}
	return g.n >= mostGuesses
}

func (g *guesses) wrong() {
	g.lock.Lock()
	defer g.lock.Unlock()
	g.n++
}
