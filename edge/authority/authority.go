// Package authority lets browsers come over TLS: with a certificate that somebody has, or with one that a site authority of
// this machine's own signs. The authority is made once and kept in a folder; certificates are short-lived and made anew by
// themselves.
//
//	authority.go  a site authority: made, opened, refused    leaf.go   the certificates that it signs
//	given.go      a certificate that somebody has            hosts.go  what this machine is called
package authority

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"
)

// Names of the files of an authority.
const (
	rootName = "authority.crt"
	keyName  = "authority.key"
)

// rootStays is how long phones can trust an authority: longer than any run takes to build.
const rootStays = 10 * 365 * 24 * time.Hour

// Authority signs certificates for this machine.
type Authority struct {
	root  *x509.Certificate
	key   crypto.Signer
	now   func() time.Time
	hosts func() []string

	lock   sync.Mutex
	leaf   leaf
	looked time.Time
}

// Open opens the authority in a folder; where none is, one is made. Hosts are the names and addresses that this machine is
// reached by; they are asked again and again, for a laptop goes from one network to the next.
func Open(dir string, now func() time.Time, hosts func() []string) (*Authority, error) {
	a := &Authority{now: now, hosts: hosts}
	_, errRoot := os.Stat(filepath.Join(dir, rootName))
	_, errKey := os.Stat(filepath.Join(dir, keyName))
	if errors.Is(errRoot, fs.ErrNotExist) && errors.Is(errKey, fs.ErrNotExist) {
		if err := a.make(dir); err != nil {
			return nil, fmt.Errorf("no site authority can be made in %s: %w", dir, err)
		}
	}
	if err := a.read(dir); err != nil {
		return nil, fmt.Errorf("the site authority in %s cannot be used: %w. Try: move that folder away; a new authority is made, and every phone has to be told of it", dir, err)
	}
	if _, err := a.fresh(); err != nil {
		return nil, err
	}
	return a, nil
}

// make makes a root that can vouch for names and addresses of a site alone, and puts it into a folder.
func (a *Authority) make(dir string) error {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return err
	}
	serial, err := number()
	if err != nil {
		return err
	}
	on := a.now().UTC()
	root := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "Trenchwright site authority, " + machine() + ", " + on.Format("2006-01-02")},
		NotBefore: on.Add(-clocksDiffer), NotAfter: on.Add(rootStays),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true, KeyUsage: x509.KeyUsageCertSign,
	}
	root.PermittedDNSDomains, root.PermittedIPRanges = bounds(a.hosts())
	der, err := x509.CreateCertificate(rand.Reader, root, root, key.Public(), key)
	if err != nil {
		return err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	if err := putOnce(filepath.Join(dir, keyName), 0o600, "PRIVATE KEY", secret); err != nil {
		return err
	}
	return putOnce(filepath.Join(dir, rootName), 0o644, "CERTIFICATE", der)
}

// putOnce writes a file that was not there.
func putOnce(at string, mode fs.FileMode, kind string, b []byte) error {
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	err = pem.Encode(f, &pem.Block{Type: kind, Bytes: b})
	return errors.Join(err, f.Sync(), f.Close())
}

// read reads the authority and looks whether it is one.
func (a *Authority) read(dir string) error {
	at := filepath.Join(dir, keyName)
	info, err := os.Stat(at)
	if err != nil {
		return err
	}
	if mode := info.Mode().Perm(); mode&0o077 != 0 && runtime.GOOS != "windows" {
		return fmt.Errorf("%s can be read by others on this machine (mode %o, 600 is wanted)", at, mode)
	}
	secret, err := block(at, "PRIVATE KEY")
	if err != nil {
		return err
	}
	key, err := x509.ParsePKCS8PrivateKey(secret)
	if err != nil {
		return fmt.Errorf("%s: %w", at, err)
	}
	signer, ok := key.(crypto.Signer)
	if !ok {
		return fmt.Errorf("%s cannot sign", at)
	}
	at = filepath.Join(dir, rootName)
	der, err := block(at, "CERTIFICATE")
	if err != nil {
		return err
	}
	root, err := x509.ParseCertificate(der)
	if err != nil {
		return fmt.Errorf("%s: %w", at, err)
	}
	if own, ok := signer.Public().(interface{ Equal(crypto.PublicKey) bool }); !ok || !own.Equal(root.PublicKey) {
		return errors.New("its key does not belong to its certificate")
	}
	if !root.IsCA {
		return errors.New("its certificate is none of an authority")
	}
	if a.now().After(root.NotAfter) {
		return fmt.Errorf("it ended on %s", root.NotAfter.Format("2 January 2006"))
	}
	a.root, a.key = root, signer
	return nil
}

// block is the first block of a PEM file, of the kind that is wanted.
func block(at, kind string) ([]byte, error) {
	text, err := os.ReadFile(at)
	if err != nil {
		return nil, err
	}
	b, _ := pem.Decode(text)
	if b == nil || b.Type != kind {
		return nil, fmt.Errorf("%s holds no %s", at, strings.ToLower(kind))
	}
	return b.Bytes, nil
}

// Root is the certificate that phones have to trust, as DER.
func (a *Authority) Root() []byte { return a.root.Raw }

// Made is since when, and Ends until when the authority can be trusted.
func (a *Authority) Made() time.Time { return a.root.NotBefore.Add(clocksDiffer) }
func (a *Authority) Ends() time.Time { return a.root.NotAfter }

// Fingerprint is the SHA-256 sum of the root as phones show it, in pairs of digits.
func (a *Authority) Fingerprint() string { return Fingerprint(a.root.Raw) }

// Fingerprint is the SHA-256 sum of a certificate in pairs of digits.
func Fingerprint(der []byte) string {
	sum := sha256.Sum256(der)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(pairs, " ")
}

// number is a serial number that nobody can foretell.
func number() (*big.Int, error) { return rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120)) }

// bounds are the names and addresses that an authority may vouch for: those of sites and this machine. A root that was stolen
// then vouches for no other site, in browsers that know such bounds.
func bounds(hosts []string) (names []string, ranges []*net.IPNet) {
	names = []string{"localhost", "local", "lan", "internal", "home.arpa"}
	for _, text := range []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10", "127.0.0.0/8", "::1/128", "fe80::/10", "fc00::/7"} {
		_, r, err := net.ParseCIDR(text)
		if err != nil {
			panic(err) // the texts above are ranges
		}
		ranges = append(ranges, r)
	}
	for _, h := range hosts {
		if ip := net.ParseIP(h); ip == nil {
			names = append(names, h)
		} else if four := ip.To4(); four != nil {
			ranges = append(ranges, &net.IPNet{IP: four, Mask: net.CIDRMask(32, 32)})
		} else {
			ranges = append(ranges, &net.IPNet{IP: ip, Mask: net.CIDRMask(128, 128)})
		}
	}
	return names, ranges
}
