package server

import (
	_ "embed"
	"encoding/pem"
	"html/template"
	"net"
	"net/http"
	"strings"
	"time"
)

// Trust is the site authority that this server's certificate comes from.
type Trust struct {
	Root        []byte // its certificate, as DER
	Fingerprint string
	Made, Ends  time.Time
}

//go:embed trust.html
var trustHTML string

//go:embed trust.css
var trustCSS []byte

var trustPage = template.Must(template.New("trust").Parse(trustHTML))

// trusting answers under /trust: how a phone comes to trust this workspace.
func (o Options) trusting(mux *http.ServeMux) {
	mux.HandleFunc("GET /trust", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		_ = trustPage.Execute(w, o.trustView(r))
	})
	mux.HandleFunc("GET /trust/trust.css", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		_, _ = w.Write(trustCSS)
	})
	mux.HandleFunc("GET /trust/root.crt", func(w http.ResponseWriter, r *http.Request) {
		if o.Trust == nil {
			writeRefusal(w, http.StatusNotFound, "this workspace has no site authority. Try: trenchwright serve --tls own")
			return
		}
		w.Header().Set("Content-Type", "application/x-x509-ca-cert")
		w.Header().Set("Content-Disposition", `attachment; filename="trenchwright-site.crt"`)
		_, _ = w.Write(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: o.Trust.Root}))
	})
}

type trustView struct {
	Own, Over, Offline     bool // an authority of its own; this page came over TLS; offline mode is possible
	Said                   string
	Fingerprint, Made, End string
	Address                string
}

func (o Options) trustView(r *http.Request) trustView {
	v := trustView{Own: o.Trust != nil, Over: r.TLS != nil, Offline: offline(r.TLS != nil, r.Host), Said: offlineSaid(r.TLS != nil, r.Host, o.TLS), Address: "https://" + r.Host + "/"}
	if o.Trust != nil {
		v.Fingerprint, v.Made, v.End = o.Trust.Fingerprint, o.Trust.Made.Format("2 January 2006"), o.Trust.Ends.Format("2 January 2006")
	}
	return v
}

// offline tells whether a browser that came so can work without signal.
func offline(overTLS bool, host string) bool {
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	host = strings.Trim(host, "[]")
	ip := net.ParseIP(host)
	return overTLS || host == "localhost" || strings.HasSuffix(host, ".localhost") || ip != nil && ip.IsLoopback()
}

func offlineSaid(overTLS bool, host string, tls bool) string {
	switch {
	case offline(overTLS, host):
		return "Offline mode is possible at this address, once the browser trusts it."
	case tls:
		return "This address is plain http: browsers give no offline mode here. The same address with https has it, once the phone trusts the site authority: /trust says how."
	}
	return "This address is plain http: browsers give no offline mode here, and anybody on the network can read along. Whoever runs the program can start it with --tls own."
}

// plainly holds back what must not go over plain http where TLS is there: pages go on to https, everything else is refused.
func plainly(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case r.TLS != nil, r.URL.Path == "/trust", strings.HasPrefix(r.URL.Path, "/trust/"), r.URL.Path == "/api/about":
			h.ServeHTTP(w, r)
		case strings.HasPrefix(r.URL.Path, "/api/"), r.Method != http.MethodGet && r.Method != http.MethodHead:
			writeRefusal(w, http.StatusForbidden, "this came over plain http, and was not done. Try: the same address with https; /trust says how a phone comes to trust it")
		default:
			http.Redirect(w, r, "/trust", http.StatusSeeOther)
		}
	})
}
