package authority

import (
	"net"
	"os"
	"regexp"
	"slices"
	"strings"
)

// hostForm is what can stand as a name in a certificate.
var hostForm = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*$`)

func machine() string {
	if name, err := os.Hostname(); err == nil && hostForm.MatchString(strings.ToLower(name)) {
		return strings.ToLower(name)
	}
	return "localhost"
}

// Hosts are the names and addresses that this machine is reached by, sorted, with more that somebody named.
func Hosts(more ...string) []string {
	all := []string{"localhost", "127.0.0.1", "::1", machine()}
	if !strings.Contains(machine(), ".") && machine() != "localhost" {
		all = append(all, machine()+".local")
	}
	for _, ip := range Addresses() {
		all = append(all, ip)
	}
	for _, h := range more {
		if h = strings.ToLower(h); net.ParseIP(h) != nil && !net.ParseIP(h).IsUnspecified() || net.ParseIP(h) == nil && hostForm.MatchString(h) {
			all = append(all, h)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// Addresses are those of this machine on its networks.
func Addresses() []string {
	var all []string
	found, _ := net.InterfaceAddrs() // on a machine that does not tell, its name has to do
	for _, a := range found {
		n, ok := a.(*net.IPNet)
		if ok && !n.IP.IsLoopback() && !n.IP.IsLinkLocalUnicast() && !n.IP.IsMulticast() {
			all = append(all, n.IP.String())
		}
	}
	slices.Sort(all)
	return all
}
