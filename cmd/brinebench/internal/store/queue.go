package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"runtime/debug"
	"sync"
)

// queue carries out what is to be written to SQLite, which has one writer: all that
// waits goes into one transaction, so that the disk is waited for once. Nobody is
// answered before it is on the disk.
type queue struct {
	db      *sql.DB
	dialect dialect
	jobs    chan *job
	ended   chan struct{}
	mu      sync.RWMutex // held while a job is put in, and by close
	closed  bool
}

// job is one thing to be written, all of it or nothing.
type job struct {
	f    func(t *tx) error
	err  error
	done chan struct{}
}

// carryOut does it; a panic is an error of this job alone.
func (j *job) carryOut(t *tx) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("store: panic: %v\n%s", p, debug.Stack())
		}
	}()
	return j.f(t)
}

const mostAtOnce = 100 // jobs in one transaction

var errClosed = errors.New("store: closed")

func newQueue(db *sql.DB, d dialect) *queue {
	q := &queue{db: db, dialect: d, jobs: make(chan *job, mostAtOnce), ended: make(chan struct{})}
	go q.run()
	return q
}

// do has f carried out and waits for the disk. Once it is in the queue it is carried
// out, whatever becomes of ctx.
func (q *queue) do(ctx context.Context, f func(t *tx) error) error {
	j := &job{f: f, done: make(chan struct{})}
	q.mu.RLock()
	if q.closed {
		q.mu.RUnlock()
		return errClosed
	}
	select {
	case q.jobs <- j:
		q.mu.RUnlock()
	case <-ctx.Done():
		q.mu.RUnlock()
		return ctx.Err()
	}
	<-j.done
	return j.err
}

// close lets what waits be carried out and ends the queue.
func (q *queue) close() {
	q.mu.Lock()
	already := q.closed
	q.closed = true
	q.mu.Unlock()
	if !already {
		close(q.jobs)
	}
	<-q.ended
}

func (q *queue) run() {
	defer close(q.ended)
	for j := range q.jobs {
		list := []*job{j}
	more:
		for len(list) < mostAtOnce {
			select {
			case next, open := <-q.jobs:
				if !open {
					break more
				}
				list = append(list, next)
			default:
				break more
			}
		}
		q.carryOut(list)
		for _, j := range list {
			close(j.done)
		}
	}
}

// carryOut writes all jobs in one transaction; what a job has done that fails is undone.
func (q *queue) carryOut(list []*job) {
	ctx := context.Background()
	fail := func(err error) {
		for _, j := range list {
			j.err = errors.Join(j.err, fmt.Errorf("store: %w", err))
		}
	}
	plain, err := q.db.BeginTx(ctx, nil)
	if err != nil {
		fail(err)
		return
	}
	defer plain.Rollback() // does nothing after Commit
	t := &tx{q.dialect, plain}
	for _, j := range list {
		if err := t.exec(ctx, "SAVEPOINT job"); err != nil {
			fail(err)
			return
		}
		if j.err = j.carryOut(t); j.err != nil {
			if err := t.exec(ctx, "ROLLBACK TO job"); err != nil {
				fail(err)
				return
			}
		}
		if err := t.exec(ctx, "RELEASE job"); err != nil {
			fail(err)
			return
		}
	}
	if err := plain.Commit(); err != nil {
		fail(err)
	}
}
