package store

import (
	"context"
	"database/sql"
	"sync"
	"time"
)

// Changed is what happened since some moment.
type Changed struct {
	Last int64    `json:"last"` // the moment to ask from next time
	Jobs []string `json:"jobs"` // in which something was saved or issued, the one that changed first coming first
	// Records are the jobs that records came for, in the same order; such a job may not be here itself yet.
	Records []string `json:"records"`
}

// Changes is in which jobs something happened after the change with number after; 0 is the beginning.
func (s *Store) Changes(ctx context.Context, after int64) (Changed, error) {
	return look(ctx, s, func(tx *sql.Tx) (c Changed, err error) {
		if c.Last, err = last(ctx, tx); err != nil {
			return c, err
		}
		if c.Jobs, err = changed(ctx, tx, ofJob, after); err != nil {
			return c, err
		}
		c.Records, err = changed(ctx, tx, ofRecords, after)
		if len(c.Records) == 0 {
			c.Records = nil
		}
		return c, err
	})
}

// What a change is of.
const (
	ofJob     = 0
	ofRecords = 1
)

func changed(ctx context.Context, tx reader, what int, after int64) ([]string, error) {
	return rows(ctx, tx, func(scan func(...any) error) (job string, err error) {
		var first int64
		return job, scan(&job, &first)
	}, "SELECT job, min(seq) AS first FROM changes WHERE seq > ? AND what = ? GROUP BY job ORDER BY first", after, what)
}

// Last is the number of the change that happened last, 0 if none did.
func (s *Store) Last(ctx context.Context) (int64, error) {
	n, err := last(ctx, s.read)
	return n, said(err)
}

func last(ctx context.Context, tx reader) (n int64, err error) {
	return n, tx.QueryRowContext(ctx, "SELECT coalesce(max(seq), 0) FROM changes").Scan(&n)
}

// happened notes that something in a job changed.
func happened(ctx context.Context, tx *sql.Tx, job string, what int) error {
	return write(ctx, tx, row{"INSERT INTO changes (seq, job, what) VALUES ((SELECT coalesce(max(seq), 0) + 1 FROM changes), ?, ?)", []any{job, what}})
}

// News is a channel that is closed when something has happened after the change with number after: at once, if it has
// already. Whoever is woken asks Changes, then News again.
func (s *Store) News(after int64) <-chan struct{} { return s.news.wait(after) }

// news is who waits for what comes next.
type news struct {
	lock sync.Mutex
	last int64
	come chan struct{}
}

func (n *news) start(last int64) { n.last, n.come = last, make(chan struct{}) }

func (n *news) wait(after int64) <-chan struct{} {
	n.lock.Lock()
	defer n.lock.Unlock()
	if n.last > after {
		gone := make(chan struct{})
		close(gone)
		return gone
	}
	return n.come
}

func (n *news) tell(last int64) {
	n.lock.Lock()
	defer n.lock.Unlock()
	if last > n.last {
		n.last = last
		close(n.come)
		n.come = make(chan struct{})
	}
}

// wake tells everybody who waits, if there is something new.
func (s *Store) wake(ctx context.Context) {
	if n, err := s.Last(context.WithoutCancel(ctx)); err == nil { // what cannot be read now is seen by the next look
		s.news.tell(n)
	}
}

// lookEvery is how soon what another process saved is noticed.
const lookEvery = time.Second

// watch looks for what other processes save.
func (s *Store) watch(ctx context.Context) {
	defer close(s.stopped)
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			s.wake(ctx)
		}
	}
}
