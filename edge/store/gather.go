package store

import (
	"context"
	"database/sql"
	"slices"
	"sync"
)

// mostGathered is how many records go into one transaction.
const mostGathered = 20_000

// putting is what one caller brings.
type putting struct {
	job, by string
	lines   []line
	got     Acknowledged
	done    chan error
}

// puts gathers what many bring at once, so that the disk is waited for once for all of them.
type puts struct {
	lock    sync.Mutex
	waiting []*putting
	busy    bool
	work    sync.WaitGroup
}

func (q *puts) add(p *putting, put func([]*putting)) {
	q.lock.Lock()
	defer q.lock.Unlock()
	q.waiting = append(q.waiting, p)
	if q.busy {
		return
	}
	q.busy = true
	q.work.Go(func() {
		for batch := q.next(); batch != nil; batch = q.next() {
			put(batch)
		}
	})
}

// next is as much of what waits as goes into one transaction; nil: nothing waits, and whoever comes next begins anew.
func (q *puts) next() []*putting {
	q.lock.Lock()
	defer q.lock.Unlock()
	if len(q.waiting) == 0 {
		q.busy = false
		return nil
	}
	n, all := 0, 0
	for n < len(q.waiting) && (n == 0 || all+len(q.waiting[n].lines) <= mostGathered) {
		all += len(q.waiting[n].lines)
		n++
	}
	batch := q.waiting[:n:n]
	q.waiting = q.waiting[n:]
	return batch
}

// putAll keeps what several brought: all of it, or nothing.
func (s *Store) putAll(batch []*putting) {
	ctx := context.Background() // one who does not wait any more holds up nobody
	err := s.change(ctx, func(tx *sql.Tx) error {
		w, err := newRecordWriter(ctx, tx, milliseconds(s.now()))
		if err != nil {
			return err
		}
		defer w.insert.Close()
		for _, p := range batch {
			if _, err := w.put(p.job, p.by, p.lines); err != nil {
				return err
			}
			p.got.Last = w.last[p.job]
		}
		return w.tell()
	})
	for _, p := range batch {
		p.done <- err
	}
}

// recordWriter writes records within one transaction.
type recordWriter struct {
	ctx    context.Context
	tx     *sql.Tx
	at     int64 // milliseconds since 1970
	insert *sql.Stmt
	last   map[string]int64 // sequence number by job
	fresh  []string         // jobs that got records, the first first
	heard  []string         // devices
	of     map[string]int   // new records by device
}

func newRecordWriter(ctx context.Context, tx *sql.Tx, at int64) (*recordWriter, error) {
	insert, err := tx.PrepareContext(ctx, `INSERT INTO records (job, seq, id, hash, text, bringer, at) VALUES (?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (job, id, hash) DO NOTHING`)
	return &recordWriter{ctx: ctx, tx: tx, at: at, insert: insert, last: map[string]int64{}, of: map[string]int{}}, err
}

// put gives how many of the records were not here.
func (w *recordWriter) put(job, by string, lines []line) (fresh int, err error) {
	last, known := w.last[job]
	if !known {
		if err := w.tx.QueryRowContext(w.ctx, "SELECT coalesce(max(seq), 0) FROM records WHERE job = ?", job).Scan(&last); err != nil {
			return 0, err
		}
	}
	for _, l := range lines {
		done, err := w.insert.ExecContext(w.ctx, job, last+1, l.id, l.hash[:], l.text, by, w.at)
		if err != nil {
			return 0, err
		}
		n, err := done.RowsAffected()
		if err != nil {
			return 0, err
		}
		if n == 0 {
			continue // it is here
		}
		last++
		fresh++
		for _, sum := range l.photos {
			if err := write(w.ctx, w.tx, row{"INSERT INTO pictured (job, sha256) VALUES (?, ?) ON CONFLICT DO NOTHING", []any{job, sum}}); err != nil {
				return 0, err
			}
		}
	}
	w.last[job] = last
	if fresh > 0 && !slices.Contains(w.fresh, job) {
		w.fresh = append(w.fresh, job)
	}
	if by != "" && !slices.Contains(w.heard, by) {
		w.heard = append(w.heard, by)
	}
	w.of[by] += fresh
	return fresh, nil
}

// tell notes for whom there is something new, and who was heard.
func (w *recordWriter) tell() error {
	for _, job := range w.fresh {
		if err := happened(w.ctx, w.tx, job, ofRecords); err != nil {
			return err
		}
	}
	for _, device := range w.heard {
		if err := heard(w.ctx, w.tx, device, w.of[device], w.at); err != nil {
			return err
		}
	}
	return nil
}
