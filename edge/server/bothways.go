package server

import (
	"bufio"
	"crypto/tls"
	"errors"
	"net"
	"sync"
	"time"
)

// firstByte is how long somebody who connects may take to say anything.
const firstByte = 10 * time.Second

// tlsHello is what a connection over TLS begins with.
const tlsHello = 0x16

// BothWays takes connections over TLS and plain ones on the same port. A phone that does not trust the certificate yet comes
// over plain http to the page that says how it may.
func BothWays(l net.Listener, config *tls.Config) net.Listener {
	b := &bothWays{Listener: l, config: config, come: make(chan net.Conn), gone: make(chan struct{})}
	go b.take()
	return b
}

type bothWays struct {
	net.Listener
	config *tls.Config
	come   chan net.Conn
	gone   chan struct{}
	once   sync.Once
	why    error // of the end; written before gone is closed
}

func (b *bothWays) take() {
	for {
		c, err := b.Listener.Accept()
		if err != nil {
			var passing net.Error
			if errors.As(err, &passing) && passing.Timeout() {
				continue
			}
			b.end(err)
			return
		}
		go b.sort(c)
	}
}

// sort looks at the first byte.
func (b *bothWays) sort(c net.Conn) {
	_ = c.SetReadDeadline(time.Now().Add(firstByte))
	p := &peeked{Conn: c, in: bufio.NewReader(c)}
	first, err := p.in.Peek(1)
	if err != nil {
		c.Close()
		return
	}
	_ = c.SetReadDeadline(time.Time{})
	var out net.Conn = p
	if first[0] == tlsHello {
		out = tls.Server(p, b.config)
	}
	select {
	case b.come <- out:
	case <-b.gone:
		c.Close()
	}
}

func (b *bothWays) Accept() (net.Conn, error) {
	select {
	case c := <-b.come:
		return c, nil
	case <-b.gone:
		return nil, b.why
	}
}

func (b *bothWays) end(why error) {
	b.once.Do(func() {
		b.why = why
		close(b.gone)
	})
}

func (b *bothWays) Close() error {
	err := b.Listener.Close()
	b.end(net.ErrClosed)
	return err
}

// peeked is a connection whose first byte was looked at.
type peeked struct {
	net.Conn
	in *bufio.Reader
}

func (p *peeked) Read(b []byte) (int, error) { return p.in.Read(b) }
