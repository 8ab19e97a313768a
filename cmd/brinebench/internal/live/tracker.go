// Package live lives what trainees do in the engine, off the way of their requests: it
// follows the calls that somebody looks at, and scores what was handed in. No figure of
// a score comes from anywhere else. One goroutine does it all, one thing at a time.
package live

import (
	"context"
	"log/slog"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

// Bounds of what is held in memory.
const (
	maxAssessors = class.MaxDrills + 4 // calls ready to be judged, some 10 MB each: those of a whole class
	maxAdvisers  = 48                  // calls with their shadow units, 1 to 4 MB each
	maxFollowers = 600                 // calls that are followed, 50 kB each
	watchMS      = 60_000
	pause        = 100 * time.Millisecond // when there is nothing to do
	sliceTicks   = 2000                   // that a call lives at a time; so long the end of the program waits
	turnTicks    = 20_000                 // that one call lives while the others wait
)

// key names an attempt.
type key struct{ member, drill int64 }

// Tracker follows and scores.
type Tracker struct {
	store *store.Store
	log   *slog.Logger
	nowMS func() int64

	mu       sync.Mutex
	watched  map[int64]int64 // by class: until when
	insights map[key]class.Insight

	// The goroutine's own.
	assessors []ready
	follows   map[key]*follow
	handInMS  int64 // nothing was overdue before

	Scored, Refused atomic.Int64 // attempts
	ScoringNS       atomic.Int64 // spent on them
	Behind          atomic.Int64 // attempts whose belief is yet to be worked out
}

// New makes a tracker; Run sets it to work.
func New(s *store.Store, log *slog.Logger, nowMS func() int64) *Tracker {
	return &Tracker{
		store: s, log: log, nowMS: nowMS, watched: map[int64]int64{}, insights: map[key]class.Insight{},
		follows: map[key]*follow{},
	}
}

// Watch has the calls of a class followed for a minute from now on.
func (t *Tracker) Watch(classID int64) {
	t.mu.Lock()
	t.watched[classID] = t.nowMS() + watchMS
	t.mu.Unlock()
}

// Insight is what is known of an attempt.
func (t *Tracker) Insight(member, drill int64) (class.Insight, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	x, ok := t.insights[key{member, drill}]
	return x, ok
}

func (t *Tracker) tell(k key, x class.Insight) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.insights[k] = x
}

// Run works until ctx ends.
func (t *Tracker) Run(ctx context.Context) {
	for ctx.Err() == nil {
		worked := t.keepUp(ctx)
		worked = t.handInOne(ctx) || worked
		worked = t.scoreOne(ctx) || worked
		worked = t.weighOne() || worked
		if worked {
			continue
		}
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
	}
}

// classesWatched are the classes that somebody looks at; of others nothing is held.
func (t *Tracker) classesWatched() (list []int64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for id, until := range t.watched {
		if until < t.nowMS() {
			delete(t.watched, id)
			continue
		}
		list = append(list, id)
	}
	return list
}

// guarded carries out what the engine does with somebody's acts, and reports whether it
// came to its end: one call that the engine cannot live takes nothing from the others.
func (t *Tracker) guarded(what string, k key, f func()) (done bool) {
	defer func() {
		if p := recover(); p != nil {
			t.log.Error(what, "member", k.member, "drill", k.drill, "panic", p, "stack", string(debug.Stack()))
		}
	}()
	f()
	return true
}

// fail notes an error that is not the trainee's.
func (t *Tracker) fail(ctx context.Context, what string, err error) {
	if err != nil && ctx.Err() == nil {
		t.log.Error(what, "error", err)
	}
}
