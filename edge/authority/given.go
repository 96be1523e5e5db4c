package authority

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"sync"
	"time"
)

// Given is a certificate that somebody has, read again when its file changes: whoever renews it need not stop the program.
type Given struct {
	certificate, key string
	now              func() time.Time

	lock    sync.Mutex
	held    *tls.Certificate
	changed time.Time
	looked  time.Time
}

// Load reads a certificate and its key from two PEM files.
func Load(certificate, key string, now func() time.Time) (*Given, error) {
	g := &Given{certificate: certificate, key: key, now: now}
	for _, name := range []string{certificate, key} {
		if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("there is no file %s", name)
		}
	}
	if err := g.load(); err != nil {
		return nil, err
	}
	return g, nil
}

func (g *Given) load() error {
	c, err := tls.LoadX509KeyPair(g.certificate, g.key)
	if err != nil {
		return fmt.Errorf("%s and %s are no certificate with its key: %w", g.certificate, g.key, err)
	}
	first, err := x509.ParseCertificate(c.Certificate[0])
	if err != nil {
		return fmt.Errorf("%s: %w", g.certificate, err)
	}
	if g.now().After(first.NotAfter) {
		return fmt.Errorf("the certificate in %s ended on %s. Try: renew it, or --tls own", g.certificate, first.NotAfter.Format("2 January 2006"))
	}
	if info, err := os.Stat(g.certificate); err == nil {
		g.changed = info.ModTime()
	}
	g.held = &c
	return nil
}

// Certificate gives the certificate, for tls.Config. While a new one cannot be read, the old one goes on.
func (g *Given) Certificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	g.lock.Lock()
	defer g.lock.Unlock()
	if now := g.now(); now.Sub(g.looked).Abs() >= lookEvery {
		g.looked = now
		if info, err := os.Stat(g.certificate); err == nil && !info.ModTime().Equal(g.changed) {
			_ = g.load() // half of a pair may be in place: it is tried again
		}
	}
	return g.held, nil
}
