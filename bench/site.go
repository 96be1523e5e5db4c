package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"sync"
	"testing/fstest"
	"time"

	"trenchwright/edge/server"
	"trenchwright/edge/store"
	"trenchwright/job/field"
)

// The promises for records from site.
const (
	siteRecords = 10_000
	siteAtOnce  = 200 // records in one request, as the workspace sends them
	siteDevices = 200
	siteFew     = 5  // records that a device has gathered in a while
	siteRounds  = 20 // requests of each device
	siteLongest = 10 * time.Second
	siteSlow    = 200 * time.Millisecond // of a hundred requests one may take longer
)

// site is records over real connections to a server in this very process: the same processors serve both ends.
func (b *bench) site() error {
	s, err := store.Open(filepath.Join(b.dir, "site"), store.Options{})
	if err != nil {
		return err
	}
	defer s.Close()
	h, err := server.New(server.Options{Assets: fstest.MapFS{"index.html.gz": {Data: store.Packed([]byte("page"))}}, Store: s})
	if err != nil {
		return err
	}
	w := httptest.NewServer(h)
	defer w.Close()
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: siteDevices}}

	began := time.Now()
	for from := 0; from < siteRecords; from += siteAtOnce {
		if err := bring(client, w.URL, "sync", made("sync", from, siteAtOnce)); err != nil {
			return err
		}
	}
	took := time.Since(began)
	b.report.row(row{
		what: fmt.Sprintf("records from site over loopback, %d at a time, each on the disk", siteAtOnce), size: "10,000 records", ours: secs(took),
		target: secs(siteLongest), verdict: within(took <= siteLongest),
	})

	rounds := siteRounds
	if b.quick {
		rounds = 2
	}
	times, err := crowd(client, w.URL, rounds)
	if err != nil {
		return err
	}
	slow := times[len(times)*99/100]
	b.report.row(row{
		what: fmt.Sprintf("devices that bring %d records each at once, %d times: 99 of 100 requests within", siteFew, rounds), size: fmt.Sprintf("%d devices", siteDevices),
		ours: fmt.Sprintf("%s (half of them %s)", secs(slow), secs(times[len(times)/2])), target: secs(siteSlow), verdict: within(slow <= siteSlow),
	})
	last, err := s.LastRecord(context.Background(), "crowd")
	if want := int64(siteDevices * rounds * siteFew); err == nil && last != want {
		b.report.wrong = append(b.report.wrong, fmt.Sprintf("%d records of many devices are in the store, and %d were acknowledged", last, want))
	}
	return err
}

// crowd lets every device bring records as fast as it is answered, and gives how long each request took, the quickest first.
func crowd(client *http.Client, at string, rounds int) ([]time.Duration, error) {
	var lock sync.Mutex
	var times []time.Duration
	var faults []error
	var wait sync.WaitGroup
	for d := range siteDevices {
		wait.Go(func() {
			for n := range rounds {
				text := made(fmt.Sprintf("device-%d", d), n*siteFew, siteFew)
				began := time.Now()
				err := bring(client, at, "crowd", text)
				took := time.Since(began)
				lock.Lock()
				times, faults = append(times, took), append(faults, err)
				lock.Unlock()
			}
		})
	}
	wait.Wait()
	slices.Sort(times)
	return times, errors.Join(faults...)
}

// made are records of a device as lines.
func made(device string, from, n int) []byte {
	var list []field.Record
	for i := range n {
		var chance [10]byte
		copy(chance[:], fmt.Sprintf("%-4.4s%06d", device[len(device)-min(4, len(device)):], from+i))
		list = append(list, field.Record{ID: field.ULID(int64(1_790_000_000_000+from+i), chance), Job: "yard", Device: device, Number: from + i + 1, Person: "somebody in gang two",
			Made: "2026-03-02T08:00:00+01:00", Kind: field.Set, From: fmt.Sprintf("A-%03d", 1+i%900), Says: []byte(`{"within":true,"joint":"3 mm"}`)})
	}
	var b bytes.Buffer
	_ = field.Write(&b, list) // into memory
	return b.Bytes()
}

func bring(client *http.Client, at, job string, text []byte) error {
	r, err := client.Post(at+"/api/jobs/"+job+"/records", "application/x-ndjson", bytes.NewReader(text))
	if err != nil {
		return err
	}
	defer r.Body.Close()
	said, err := io.ReadAll(r.Body)
	if err == nil && r.StatusCode != http.StatusOK {
		err = fmt.Errorf("%d: %s", r.StatusCode, said)
	}
	return err
}
