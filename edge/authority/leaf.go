package authority

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"fmt"
	"net"
	"slices"
	"time"
)

const (
	leafStays    = 30 * 24 * time.Hour // short: a stolen one is soon worth nothing
	renewBefore  = 10 * 24 * time.Hour
	clocksDiffer = 24 * time.Hour // phones on site are not always right
	lookEvery    = time.Minute    // for other names and addresses of this machine
)

// leaf is a certificate for this machine and what it was made for. Its key is in memory alone.
type leaf struct {
	certificate *tls.Certificate
	hosts       []string
	until       time.Time
}

// Certificate gives the certificate of this machine, for tls.Config.
func (a *Authority) Certificate(*tls.ClientHelloInfo) (*tls.Certificate, error) { return a.fresh() }

// fresh is a certificate that holds for some time yet, for the names that this machine has now.
func (a *Authority) fresh() (*tls.Certificate, error) {
	a.lock.Lock()
	defer a.lock.Unlock()
	now := a.now()
	if a.leaf.certificate != nil && now.Sub(a.looked).Abs() < lookEvery && a.leaf.until.Sub(now) > renewBefore {
		return a.leaf.certificate, nil
	}
	hosts := a.hosts()
	a.looked = now
	if a.leaf.certificate != nil && a.leaf.until.Sub(now) > renewBefore && slices.Equal(hosts, a.leaf.hosts) {
		return a.leaf.certificate, nil
	}
	made, err := a.sign(hosts, now)
	if err != nil {
		return nil, err
	}
	a.leaf = made
	return made.certificate, nil
}

func (a *Authority) sign(hosts []string, now time.Time) (leaf, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return leaf{}, err
	}
	serial, err := number()
	if err != nil {
		return leaf{}, err
	}
	until := now.Add(leafStays)
	if until.After(a.root.NotAfter) {
		until = a.root.NotAfter
	}
	if !until.After(now) {
		return leaf{}, fmt.Errorf("the site authority ended on %s. Try: move its folder away and start again", a.root.NotAfter.Format("2 January 2006"))
	}
	one := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "Trenchwright on " + machine()},
		NotBefore: now.Add(-clocksDiffer), NotAfter: until,
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	for _, h := range hosts {
		if ip := net.ParseIP(h); ip != nil {
			one.IPAddresses = append(one.IPAddresses, ip)
		} else {
			one.DNSNames = append(one.DNSNames, h)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, one, a.root, key.Public(), a.key)
	if err != nil {
		return leaf{}, err
	}
	return leaf{&tls.Certificate{Certificate: [][]byte{der, a.root.Raw}, PrivateKey: key}, hosts, until}, nil
}
