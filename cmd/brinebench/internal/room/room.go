// Package room is the classroom over HTTP: what an instructor and trainees ask and tell,
// and what they are told as it happens. All of it is under /api/, but for /healthz and
// /metrics. It keeps nothing itself, so that several programs may serve one store.
package room

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"brinebench/cmd/brinebench/internal/live"
	"brinebench/cmd/brinebench/internal/store"
)

// Options are what an operator chooses.
type Options struct {
	Log       *slog.Logger
	SetupCode string         // asked for with the first password
	Proxies   []netip.Prefix // whose word on addresses is taken
	KeepDays  int            // a class is erased so long after the last thing that happened in it; 0 never
	Beat      time.Duration  // between two signs of life on a stream of events
	Look      time.Duration  // between two looks for what is new
	Patience  time.Duration  // for a request to come and to be worked at; and as long again for its answer to go
	NowMS     func() int64   // the clock; nil for the machine's
}

// Defaults of Options.
const (
	defaultBeat = 10 * time.Second
	defaultLook = 200 * time.Millisecond
	patience    = 20 * time.Second
)

// Room answers requests. Run has to run beside it.
type Room struct {
	store   *store.Store
	tracker *live.Tracker
	opt     Options
	log     *slog.Logger
	hub     *hub
	limits  *limits
	metrics *metrics
	hashing chan struct{} // holds as many passwords as may be hashed at once
	reading chan struct{} // holds as many bodies as may be unpacked and read at once
	mux     *http.ServeMux
	guard   *http.CrossOriginProtection
	closing chan struct{}
}

// New makes a room on a store.
func New(s *store.Store, opt Options) *Room {
	if opt.Log == nil {
		opt.Log = slog.New(slog.DiscardHandler)
	}
	if opt.NowMS == nil {
		opt.NowMS = func() int64 { return time.Now().UnixMilli() }
	}
	if opt.Beat == 0 {
		opt.Beat = defaultBeat
	}
	if opt.Look == 0 {
		opt.Look = defaultLook
	}
	if opt.Patience == 0 {
		opt.Patience = patience
	}
	r := &Room{
		store: s, opt: opt, log: opt.Log, tracker: live.New(s, opt.Log, opt.NowMS), hub: newHub(),
		limits: newLimits(), metrics: newMetrics(), hashing: make(chan struct{}, 2), reading: make(chan struct{}, maxReading),
		mux: http.NewServeMux(), guard: http.NewCrossOriginProtection(), closing: make(chan struct{}),
	}
	r.routes()
	return r
}

// routes are all that can be asked.
func (r *Room) routes() {
	r.mux.HandleFunc("GET /healthz", r.healthz)
	r.mux.HandleFunc("GET /metrics", r.tellMetrics)

	r.open("GET /api/desk", r.desk)
	r.open("POST /api/desk/password", r.firstPassword)
	r.open("POST /api/desk/in", r.signIn)
	r.staff("POST /api/desk/out", r.signOut)
	r.staff("POST /api/desk/change", r.changePassword)
	r.staff("GET /api/desk/backup", r.backup)
	r.staff("GET /api/catalogue", r.catalogue)
	r.staff("GET /api/classes", r.classes)
	r.staff("POST /api/classes", r.makeClass)
	r.staff("GET /api/classes/{class}", r.classOf(r.showClass))
	r.staff("DELETE /api/classes/{class}", r.classOf(r.erase))
	r.staff("POST /api/classes/{class}/lock", r.classOf(r.lock))
	r.staff("POST /api/classes/{class}/freeze", r.classOf(r.freeze))
	r.staff("POST /api/classes/{class}/message", r.classOf(r.message))
	r.staff("POST /api/classes/{class}/start", r.classOf(r.startTime))
	r.staff("POST /api/classes/{class}/extend", r.classOf(r.extend))
	r.staff("POST /api/classes/{class}/drills", r.classOf(r.pushDrill))
	r.staff("POST /api/classes/{class}/end", r.classOf(r.end))
	r.staff("GET /api/classes/{class}/board", r.classOf(r.board))
	r.staff("GET /api/classes/{class}/events", r.classOf(r.boardEvents))
	r.staff("GET /api/classes/{class}/results.csv", r.classOf(r.resultsCSV))
	r.staff("GET /api/classes/{class}/results.html", r.classOf(r.resultsHTML))
	r.staff("GET /api/classes/{class}/export", r.classOf(r.export))
	r.staff("POST /api/classes/{class}/members/{member}", r.classOf(r.changeMember))
	r.staff("GET /api/classes/{class}/members/{member}/drills/{drill}/recording", r.classOf(r.recording))
	r.staff("GET /api/classes/{class}/members/{member}/drills/{drill}/log", r.classOf(r.memberLog))
	r.staff("GET /api/classes/{class}/members/{member}/drills/{drill}/report", r.classOf(r.staffReport))

	r.open("POST /api/join", r.join)
	r.open("POST /api/resume", r.resume)
	r.trainee("GET /api/me", r.me)
	r.trainee("POST /api/me/here", ask.here)
	r.trainee("POST /api/me/out", r.leave)
	r.trainee("GET /api/me/events", r.memberEvents)
	r.trainee("POST /api/me/drills/{drill}/open", r.takeUp)
	r.trainee("GET /api/me/drills/{drill}/log", r.ownLog)
	r.trainee("POST /api/me/drills/{drill}/acts", r.keepActs)
	r.trainee("POST /api/me/drills/{drill}/answer", r.keepAnswer)
	r.trainee("POST /api/me/drills/{drill}/draft", r.keepDraft)
	r.trainee("GET /api/me/drills/{drill}/report", r.ownReport)
	r.open("/api/", func(ask) error { return errNone })
}

// ServeHTTP answers one request.
func (r *Room) ServeHTTP(w http.ResponseWriter, q *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	if err := r.guard.Check(q); err != nil {
		r.fail(w, q, &problem{http.StatusForbidden, "cross-origin", "the request comes from another site"})
		return
	}
	if !r.limits.address.allow(r.origin(q)) {
		r.fail(w, q, errSlow)
		return
	}
	q.Body = http.MaxBytesReader(w, q.Body, maxSent)
	r.mux.ServeHTTP(w, q)
}

// Run does what goes on beside the requests, until ctx ends: scores, streams of events,
// retention. It returns when all of that has come to rest.
func (r *Room) Run(ctx context.Context) {
	var all sync.WaitGroup
	all.Go(func() { r.tracker.Run(ctx) })
	all.Go(func() { r.listen(ctx) })
	all.Go(func() { r.retain(ctx) })
	<-ctx.Done()
	close(r.closing)
	all.Wait()
}

// retain erases what is older than is kept, at the start and every hour.
func (r *Room) retain(ctx context.Context) {
	for r.opt.KeepDays > 0 {
		r.expire(ctx)
		select {
		case <-ctx.Done():
			return
		case <-time.After(time.Hour):
		}
	}
}

func (r *Room) expire(ctx context.Context) {
	const day = 86_400_000
	n, err := r.store.Expire(ctx, r.opt.NowMS()-int64(r.opt.KeepDays)*day)
	switch {
	case err != nil && ctx.Err() == nil:
		r.log.Error("retention", "error", err)
	case n > 0:
		r.log.Info("classes erased after their time", "classes", n)
	}
}

// healthz answers 200 while the store does.
func (r *Room) healthz(w http.ResponseWriter, q *http.Request) {
	ctx, cancel := context.WithTimeout(q.Context(), 2*time.Second)
	defer cancel()
	if err := r.store.Ping(ctx); err != nil {
		r.log.Error("store does not answer", "error", err)
		http.Error(w, "the store does not answer", http.StatusServiceUnavailable)
		return
	}
	w.Write([]byte("ok\n"))
}

// Answers that are given in several places; errNone is for what is not there, or not for who asks.
var (
	errNone = &problem{http.StatusNotFound, "none", "there is no such thing"}
	errJoin = &problem{http.StatusUnauthorized, "join", "join a class first"}
	errSlow = &problem{http.StatusTooManyRequests, "slow", "too many requests; wait a moment"}
)

// asProblem turns an error into what is said of it; what is inside stays in the log.
func asProblem(err error) *problem {
	var p *problem
	switch {
	case errors.As(err, &p):
		return p
	case store.IsNone(err):
		return errNone
	}
	return nil
}
