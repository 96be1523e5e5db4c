package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"

	"trenchwright/base/finding"
	"trenchwright/demo/longrun"
	"trenchwright/edge/store"
	"trenchwright/job"
	"trenchwright/view/groundin"
)

// A made-up run has 333 units a kilometre or so.
const (
	short = "long-run-5" // some 5,000 units on surveyed ground
	long  = "long-run-50"
	site  = "long-run-site" // 5 km, on which something lies
)

// made is a made-up run under an id.
func made(id string, kilometres float64) job.Job {
	j := longrun.Job(kilometres, 1)
	j.ID, j.Name = id, fmt.Sprintf("Made-up run of %g km", kilometres)
	return j
}

// filled is a folder of data with the made-up runs in it.
func (b *bench) filled() string {
	dir := b.TempDir()
	s, err := store.Open(dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	flat, hilly := made(long, 151), made(short, 15.1)
	if err := surveyed(s, &hilly); err != nil {
		b.Fatal(err)
	}
	for _, j := range []job.Job{flat, hilly, made(site, 5)} {
		if _, err := s.Save(context.Background(), store.Draft{ID: "R-" + j.ID, Author: "bench", Content: job.CanonicalJSON(j)}); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// surveyed puts a run onto made-up ground: low waves, points every 25 m along it in five rows, paving 30 cm above.
func surveyed(s *store.Store, j *job.Job) error {
	j.Ground = job.Ground{From: "D1", Surfaces: []job.Surface{
		{ID: "natural", Role: job.ExistingGround, File: "natural.csv"}, {ID: "paving", Role: job.FinishedGround, File: "paving.csv"},
	}}
	files := map[string][]byte{"natural.csv": points(*j, 0), "paving.csv": points(*j, 0.3)}
	on, faults := groundin.Survey(*j, func(name string) (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(files[name])), nil })
	if faults.Any(finding.Fault) {
		return fmt.Errorf("the made-up ground: %s", faults.Say(j.Speech()))
	}
	for i, a := range on.Job.Attachments {
		if err := s.PutAttachment(context.Background(), a.SHA256, bytes.NewReader(on.Clips[i].Bytes)); err != nil {
			return err
		}
	}
	*j = on.Job
	return nil
}

// points is a survey as a list of points.
func points(j job.Job, above float64) []byte {
	var b bytes.Buffer
	b.WriteString("name,easting (m),northing (m),level (m)\n")
	n := 0
	for i := range len(j.Route.Nodes) - 1 {
		from, to := *j.Route.Nodes[i].At, *j.Route.Nodes[i+1].At
		e, north := to[0]-from[0], to[1]-from[1]
		length := math.Hypot(e, north)
		for along := 0.0; along < length+25; along += 25 {
			for _, side := range []float64{-60, -20, 0, 20, 60} { // curves swing out by some metres
				x, y := from[0]+(e*along-north*side)/length, from[1]+(north*along+e*side)/length
				n++
				fmt.Fprintf(&b, "%d,%.3f,%.3f,%.3f\n", n, x, y, 80+above+2*math.Sin((x+y)/300)+math.Sin(x/90))
			}
		}
	}
	return b.Bytes()
}
