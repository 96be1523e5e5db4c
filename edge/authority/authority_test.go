package authority

import (
	"crypto/x509"
	"encoding/pem"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var start = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

// trusts tells whether somebody who trusts the authority's root trusts a host at a time.
func trusts(t *testing.T, a *Authority, host string, at time.Time) error {
	t.Helper()
	c, err := a.Certificate(nil)
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := x509.ParseCertificate(c.Certificate[0])
	if err != nil {
		t.Fatal(err)
	}
	root, err := x509.ParseCertificate(a.Root())
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	pool.AddCert(root)
	_, err = leaf.Verify(x509.VerifyOptions{DNSName: host, Roots: pool, CurrentTime: at})
	return err
}

func TestAuthorityIsMadeOnceAndSignsAnewByItself(t *testing.T) {
	dir, now, hosts := filepath.Join(t.TempDir(), "tls"), start, []string{"192.168.7.9", "site-box", "site-box.local"}
	a, err := Open(dir, func() time.Time { return now }, func() []string { return hosts })
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range hosts {
		if err := trusts(t, a, h, now); err != nil {
			t.Error(h, err)
		}
	}
	if trusts(t, a, "192.168.7.10", now) == nil || trusts(t, a, "site-box", now.Add(31*24*time.Hour)) == nil {
		t.Error("another machine, or a later time, is trusted")
	}
	info, err := os.Stat(filepath.Join(dir, keyName))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Error(info.Mode(), err)
	}
	first, _ := a.Certificate(nil)
	now = now.Add(19 * 24 * time.Hour)
	if same, _ := a.Certificate(nil); same != first {
		t.Error("made anew for nothing")
	}
	now = now.Add(2 * 24 * time.Hour)
	if again, _ := a.Certificate(nil); again == first || trusts(t, a, "site-box", now.Add(25*24*time.Hour)) != nil {
		t.Error("not made anew in time")
	}
	hosts, now = []string{"10.0.0.4"}, now.Add(2*time.Minute)
	if err := trusts(t, a, "10.0.0.4", now); err != nil {
		t.Error("on another network:", err)
	}
	b, err := Open(dir, func() time.Time { return now }, func() []string { return hosts })
	if err != nil || b.Fingerprint() != a.Fingerprint() || len(strings.Fields(b.Fingerprint())) != 32 {
		t.Error("opened again it is another authority", err)
	}
}

// The root vouches for no name outside of sites, whatever is signed with its key.
func TestAuthorityVouchesForSitesAlone(t *testing.T) {
	hosts := []string{"site-box"}
	a, err := Open(t.TempDir(), func() time.Time { return start }, func() []string { return hosts })
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []string{"bank.example", "198.51.100.7"} {
		l, err := a.sign([]string{h}, start)
		if err != nil {
			t.Fatal(err)
		}
		a.leaf, a.looked = l, start
		if err := trusts(t, a, h, start); err == nil {
			t.Errorf("%s is vouched for", h)
		}
	}
}

func TestUnusableAuthorityIsRefusedInWords(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(t *testing.T, dir string)
		later time.Duration
		says  string
	}{
		"readable key": {spoil: func(t *testing.T, dir string) { os.Chmod(filepath.Join(dir, keyName), 0o644) }, says: "can be read by others"},
		"no key":       {spoil: func(t *testing.T, dir string) { os.Remove(filepath.Join(dir, keyName)) }, says: "no such file"},
		"rubbish":      {spoil: func(t *testing.T, dir string) { os.WriteFile(filepath.Join(dir, rootName), []byte("x"), 0o644) }, says: "holds no certificate"},
		"other key": {spoil: func(t *testing.T, dir string) {
			other := t.TempDir()
			Open(other, time.Now, func() []string { return nil })
			b, _ := os.ReadFile(filepath.Join(other, keyName))
			os.WriteFile(filepath.Join(dir, keyName), b, 0o600)
		}, says: "does not belong"},
		"ended": {spoil: func(*testing.T, string) {}, later: 11 * 365 * 24 * time.Hour, says: "it ended on"},
	} {
		dir := t.TempDir()
		hosts := func() []string { return []string{"localhost"} }
		if _, err := Open(dir, func() time.Time { return start }, hosts); err != nil {
			t.Fatal(err)
		}
		c.spoil(t, dir)
		_, err := Open(dir, func() time.Time { return start.Add(c.later) }, hosts)
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "Try: ") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestGivenCertificateIsReadAgain(t *testing.T) {
	now := start
	write := func(at, host string) {
		a, err := Open(t.TempDir(), func() time.Time { return now }, func() []string { return []string{host} })
		if err != nil {
			t.Fatal(err)
		}
		c, _ := a.Certificate(nil)
		key, _ := x509.MarshalPKCS8PrivateKey(c.PrivateKey)
		os.WriteFile(at+".crt", pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: c.Certificate[0]}), 0o644)
		os.WriteFile(at+".key", pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: key}), 0o600)
	}
	at := filepath.Join(t.TempDir(), "site")
	write(at, "first")
	g, err := Load(at+".crt", at+".key", func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	name := func() string {
		c, _ := g.Certificate(nil)
		leaf, _ := x509.ParseCertificate(c.Certificate[0])
		return leaf.DNSNames[0]
	}
	write(at, "second")
	os.Chtimes(at+".crt", start, start)
	if now = now.Add(2 * time.Minute); name() != "second" {
		t.Error("the renewed certificate is not used")
	}
	os.WriteFile(at+".crt", []byte("half"), 0o644)
	if now = now.Add(2 * time.Minute); name() != "second" {
		t.Error("half a file ended the service")
	}
	if _, err := Load(at+".crt", at+".key", time.Now); err == nil {
		t.Error("rubbish was taken")
	}
	if _, err := Load(at+"x", at+".key", time.Now); err == nil || !strings.Contains(err.Error(), "there is no file") {
		t.Error(err)
	}
	if len(Hosts("0.0.0.0", "Site.Example", "a b")) < 4 {
		t.Error("this machine has no name")
	}
	for _, h := range Hosts("0.0.0.0", "Site.Example", "a b") {
		if h == "0.0.0.0" || h == "a b" || h != strings.ToLower(h) {
			t.Errorf("%q cannot be reached", h)
		}
	}
}
