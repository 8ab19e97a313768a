package room

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime/debug"
	"strconv"
	"time"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

// Bounds of what is taken in.
const (
	maxSent     = 256 << 10 // bytes of a body as it is sent
	maxUnpacked = 256 << 10 // bytes of it unpacked
	maxReading  = 8         // bodies that are unpacked and read at once
)

// problem is what a request is answered when it is not carried out: a word for the
// page, and a sentence for people.
type problem struct {
	status int
	Word   string `json:"error"`
	Text   string `json:"text"`
}

func (p *problem) Error() string { return p.Text }

func bad(err error) error {
	if err == nil {
		return nil
	}
	return &problem{http.StatusBadRequest, "bad", err.Error()}
}

// ask is one request and what is known of who asks.
type ask struct {
	w      http.ResponseWriter
	q      *http.Request
	whole  context.Context // the request's own, without the time within which it is to be answered
	member class.Member    // of a trainee's
	class  class.Class     // of a trainee's, and of an instructor's that names one

	reading chan struct{} // holds as many bodies as may be unpacked at once
}

type handler func(a ask) error

// open answers anybody, within a time: of that it takes to ask and to answer.
func (r *Room) open(pattern string, h handler) {
	r.mux.HandleFunc(pattern, func(w http.ResponseWriter, q *http.Request) {
		began := time.Now()
		http.NewResponseController(w).SetWriteDeadline(began.Add(2 * r.opt.Patience)) // a recorder in a test has none
		within, cancel := context.WithDeadline(q.Context(), began.Add(r.opt.Patience))
		defer cancel()
		err := r.carryOut(h, ask{w: w, q: q.WithContext(within), whole: q.Context(), reading: r.reading})
		status := http.StatusOK
		if err != nil {
			status = r.fail(w, q, err)
		}
		r.metrics.request(pattern, status, time.Since(began))
	})
}

// carryOut turns a panic into an error: nothing has been written then.
func (r *Room) carryOut(h handler, a ask) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
		}
	}()
	return h(a)
}

// staff answers the instructor.
func (r *Room) staff(pattern string, h handler) {
	r.open(pattern, func(a ask) error {
		if err := r.isStaff(a.q); err != nil {
			return err
		}
		return h(a)
	})
}

func (r *Room) isStaff(q *http.Request) error {
	ok, err := r.signedIn(q)
	if err == nil && !ok {
		err = &problem{http.StatusUnauthorized, "sign-in", "sign in first"}
	}
	return err
}

// classOf finds the class that a request names.
func (r *Room) classOf(h handler) handler {
	return func(a ask) (err error) {
		id, err := a.number("class")
		if err != nil {
			return err
		}
		if a.class, err = r.store.Class(a.q.Context(), id); err != nil {
			return err
		}
		return h(a)
	}
}

// trainee answers a member of a class, as fast as a person works.
func (r *Room) trainee(pattern string, h handler) {
	r.open(pattern, func(a ask) error {
		digest := memberDigest(a.q)
		if digest == nil {
			return errJoin
		}
		if !r.limits.member.allow(string(digest)) {
			return errSlow
		}
		var err error
		if a.member, err = r.memberOf(a.q); err != nil {
			return err
		}
		if a.class, err = r.store.Class(a.q.Context(), a.member.Class); err != nil {
			return err
		}
		if err := r.see(&a); err != nil {
			return err
		}
		return h(a)
	})
}

// memberOf finds the member who asks, as far as they may.
func (r *Room) memberOf(q *http.Request) (m class.Member, err error) {
	m, err = r.store.MemberBy(q.Context(), memberDigest(q))
	switch {
	case store.IsNone(err):
		return m, errJoin
	case err == nil && m.Out:
		return m, &problem{http.StatusForbidden, "out", "the instructor has closed this place"}
	}
	return m, err
}

// seenEveryMS is how exactly it is kept when something last came from a member.
const seenEveryMS = 5000

// see notes that something has come from a member's page.
func (r *Room) see(a *ask) error {
	now := r.opt.NowMS()
	if now-a.member.SeenMS < seenEveryMS {
		return nil
	}
	a.member.SeenMS = now
	return r.store.Seen(a.q.Context(), a.member.ID, now)
}

// number reads a number of the path.
func (a *ask) number(name string) (int64, error) {
	n, err := strconv.ParseInt(a.q.PathValue(name), 10, 64)
	if err != nil || n < 1 {
		return 0, errNone
	}
	return n, nil
}

// read reads a body of JSON, which may be packed with gzip: one value, with known
// fields only, within bounds.
func (a *ask) read(into any) error {
	if a.q.Header.Get("Content-Type") != "application/json" {
		return &problem{http.StatusUnsupportedMediaType, "type", "Content-Type: not application/json"}
	}
	ctl := http.NewResponseController(a.w)
	until, _ := a.q.Context().Deadline()
	ctl.SetReadDeadline(until)
	sent, err := io.ReadAll(a.q.Body) // however slowly it comes, it holds nobody up
	if err != nil {
		return tooLong(err)
	}
	ctl.SetReadDeadline(time.Time{}) // past it the server would take the peer for gone
	select {
	case a.reading <- struct{}{}:
	case <-a.q.Context().Done():
		return a.q.Context().Err()
	}
	defer func() { <-a.reading }()
	data, err := a.unpack(sent)
	if err != nil {
		return err
	}
	return bad(decode(data, into))
}

// unpack brings a body into the form in which it is read.
func (a *ask) unpack(sent []byte) ([]byte, error) {
	var from io.Reader = bytes.NewReader(sent)
	switch coding := a.q.Header.Get("Content-Encoding"); coding {
	case "":
		return sent, nil
	case "gzip":
		z, err := gzip.NewReader(from)
		if err != nil {
			return nil, bad(err)
		}
		from = z
	default:
		return nil, &problem{http.StatusUnsupportedMediaType, "coding", "Content-Encoding: neither gzip nor none"}
	}
	data, err := io.ReadAll(io.LimitReader(from, maxUnpacked+1))
	if err != nil {
		return nil, bad(err)
	}
	if len(data) > maxUnpacked {
		return nil, tooLong(&http.MaxBytesError{Limit: maxUnpacked})
	}
	return data, nil
}

func tooLong(err error) error {
	var much *http.MaxBytesError
	if errors.As(err, &much) {
		return &problem{http.StatusRequestEntityTooLarge, "long", fmt.Sprintf("more than %d bytes", much.Limit)}
	}
	return bad(err)
}

// answer writes a value as JSON.
func (a *ask) answer(value any) error {
	data, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return a.send("application/json", data)
}

// send writes an answer that is there as a whole: what is cut off on the way is too short.
func (a *ask) send(contentType string, data []byte) error {
	h := a.w.Header()
	h.Set("Content-Type", contentType)
	h.Set("Content-Length", strconv.Itoa(len(data)))
	a.w.Write(data)
	return nil
}

// done answers that there is nothing more to say.
func (a *ask) done() error {
	a.w.WriteHeader(http.StatusNoContent)
	return nil
}

// fail writes what went wrong. An error that is not the asker's is told to the log, and
// to the asker only that there was one.
func (r *Room) fail(w http.ResponseWriter, q *http.Request, err error) int {
	p := asProblem(err)
	if refusal, ok := class.AsRefusal(err); ok {
		p = &problem{http.StatusConflict, refusal.Word, refusal.Why}
	}
	if p == nil {
		if q.Context().Err() != nil { // who asked has gone; but nothing is to look like a good answer
			w.WriteHeader(http.StatusServiceUnavailable)
			return 499
		}
		r.log.Error("request failed", "method", q.Method, "path", q.URL.Path, "error", err)
		p = &problem{http.StatusInternalServerError, "failed", "the server could not do it; try again"}
	}
	if p.status == http.StatusTooManyRequests {
		w.Header().Set("Retry-After", "2")
	}
	data, _ := json.Marshal(p) // two strings
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(p.status)
	w.Write(data)
	return p.status
}
