package room

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"sync"
	"time"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

// hub tells the streams of this program that there is news in a class. Other programs
// on the store are heard by looking.
type hub struct {
	mu    sync.Mutex
	rooms map[int64]*corner
	nudge chan struct{}
}

// corner is a class that streams are open for.
type corner struct {
	users int
	last  int64
	news  chan struct{} // closed when there is something after last
}

func newHub() *hub { return &hub{rooms: map[int64]*corner{}, nudge: make(chan struct{}, 1)} }

// wake has the hub look at once.
func (h *hub) wake() {
	select {
	case h.nudge <- struct{}{}:
	default:
	}
}

func (h *hub) enter(id int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.rooms[id] == nil {
		h.rooms[id] = &corner{news: make(chan struct{})}
	}
	h.rooms[id].users++
}

func (h *hub) leave(id int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if c := h.rooms[id]; c != nil {
		if c.users--; c.users == 0 {
			delete(h.rooms, id)
		}
	}
}

// after returns a channel that is closed once a class has an event after the given one.
func (h *hub) after(id, seq int64) <-chan struct{} {
	h.mu.Lock()
	defer h.mu.Unlock()
	c := h.rooms[id]
	if c.last > seq {
		now := make(chan struct{})
		close(now)
		return now
	}
	return c.news
}

func (h *hub) entered() (ids []int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for id := range h.rooms {
		ids = append(ids, id)
	}
	return ids
}

func (h *hub) heard(id, last int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if c := h.rooms[id]; c != nil && last > c.last {
		c.last = last
		close(c.news)
		c.news = make(chan struct{})
	}
}

// listen looks for what is new in the classes that streams are open for.
func (r *Room) listen(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-r.hub.nudge:
		case <-time.After(r.opt.Look):
		}
		for _, id := range r.hub.entered() {
			_, last, err := r.store.Now(ctx, id)
			if err == nil {
				r.hub.heard(id, last)
			}
		}
	}
}

// stream is an open stream of server-sent events (WHATWG HTML, 9.2).
type stream struct {
	w     http.ResponseWriter
	ctl   *http.ResponseController
	end   <-chan struct{} // the request's or the program's end
	over  chan struct{}   // closed when a younger stream takes its place
	beat  *time.Ticker
	close func()
}

// openStream begins a stream; its close has to follow.
func (r *Room) openStream(a *ask, key string) (*stream, error) {
	over, ok := r.limits.streams.begin(key)
	if !ok {
		return nil, errSlow
	}
	a.q = a.q.WithContext(a.whole)
	s := &stream{w: a.w, ctl: http.NewResponseController(a.w), over: over, beat: time.NewTicker(r.opt.Beat)}
	s.close = func() {
		s.beat.Stop()
		r.limits.streams.end(key, over)
	}
	s.ctl.SetReadDeadline(time.Time{}) // nothing more comes; the end is told by the context
	h := a.w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("X-Accel-Buffering", "no") // proxies pass it on as it comes
	end := make(chan struct{})
	go func() {
		defer close(end)
		select {
		case <-a.q.Context().Done():
		case <-r.closing:
		}
	}()
	s.end = end
	return s, s.write("retry: 1000\n\n")
}

// write writes to who listens, and gives up where nobody takes it.
func (s *stream) write(text string) error {
	s.ctl.SetWriteDeadline(time.Now().Add(10 * time.Second)) // not everywhere to be had
	if _, err := s.w.Write([]byte(text)); err != nil {
		return err
	}
	return s.ctl.Flush()
}

// event writes one event; id is "" for one that is not counted. JSON has no line ends.
func (s *stream) event(id, name string, value any) error {
	data, err := json.Marshal(value)
	if err != nil {
		return err
	}
	head := ""
	if id != "" {
		head = "id: " + id + "\n"
	}
	return s.write(fmt.Sprintf("%sevent: %s\ndata: %s\n\n", head, name, data))
}

// replaced tells who listens that a younger stream has taken the place of this one, and
// not to come back.
func (s *stream) replaced() error { return s.event("", "over", struct{}{}) }

// lastSeen is the number of the last event that who listens has had.
func lastSeen(q *http.Request) (int64, bool) {
	for _, s := range []string{q.Header.Get("Last-Event-ID"), q.URL.Query().Get("after")} {
		if n, err := strconv.ParseInt(s, 10, 64); err == nil && n >= 0 {
			return n, true
		}
	}
	return 0, false
}

// memberEvents tells a trainee what happens, from the event after the last one had; to
// who has had none, how the class stands.
func (r *Room) memberEvents(a ask) error {
	c, seq, err := r.store.Now(a.q.Context(), a.class.ID)
	if err != nil {
		return err
	}
	if n, ok := lastSeen(a.q); ok {
		seq = min(n, seq)
	}
	s, err := r.openStream(&a, fmt.Sprint("member ", a.member.ID))
	if s == nil {
		return err
	}
	still := func() error { // sent out, erased, given another token: the stream ends
		_, err := r.memberOf(a.q)
		return err
	}
	defer s.close()
	r.hub.enter(c.ID)
	defer r.hub.leave(c.ID)
	if err == nil {
		err = s.event("", "state", map[string]any{"frozen": c.Frozen, "frozenAt": c.FrozenMS, "due": c.DueMS, "ended": c.EndMS, "seq": seq})
	}
	for err == nil {
		select {
		case <-s.end:
			return nil
		case <-s.over:
			return s.replaced()
		case <-s.beat.C:
			if err = still(); err == nil {
				err = s.write(": beat\n\n")
			}
		case <-r.hub.after(c.ID, seq):
			if err = still(); err == nil {
				seq, err = r.pass(a.whole, s, a.member.ID, c.ID, seq)
			}
		}
	}
	return nil // who listened has gone, and comes back, or may not listen any more
}

// pass writes the events after a number that a member is to hear of, and returns the
// number up to which that is done. There may be gaps where members were erased, at the
// end too.
func (r *Room) pass(ctx context.Context, s *stream, member, classID, seq int64) (int64, error) {
	_, last, err := r.store.Now(ctx, classID)
	if err != nil {
		return seq, err
	}
	events, err := r.store.Events(ctx, classID, seq)
	for i := range events {
		e := &events[i]
		seq = e.Seq
		if !e.For(member) || err != nil {
			continue
		}
		err = s.event(strconv.FormatInt(e.Seq, 10), string(e.Kind), e)
	}
	if len(events) < store.MostEvents {
		seq = max(seq, last)
	}
	return seq, err
}

// boardEvents tells the instructor's board all rows, and then those that change.
func (r *Room) boardEvents(a ask) error {
	s, err := r.openStream(&a, fmt.Sprint("desk ", a.class.ID))
	if s == nil {
		return err
	}
	defer s.close()
	shown := map[int64]string{}
	look := time.NewTicker(r.opt.Look)
	defer look.Stop()
	alarms, mistakes := int64(0), ""
	for err == nil {
		if err = r.isStaff(a.q); err != nil {
			break
		}
		var n class.News
		if n, err = r.look(a.q.Context(), a.class.ID, alarms); err != nil {
			break
		}
		for _, e := range n.Alarms {
			alarms = max(alarms, e.Seq)
		}
		rows := n.Rows
		n.Rows = []class.Row{}
		for _, row := range rows {
			text, _ := json.Marshal(row)
			if shown[row.Member] != string(text) {
				shown[row.Member] = string(text)
				n.Rows = append(n.Rows, row)
			}
		}
		text, _ := json.Marshal([]any{n.Mistakes, n.Class, n.Drills})
		if len(n.Rows) > 0 || len(n.Alarms) > 0 || string(text) != mistakes {
			mistakes = string(text)
			err = s.event("", "board", n)
		}
		if err == nil {
			err = r.rest(s, look)
		}
		if err == errOver {
			return nil
		}
	}
	return nil
}

// errOver says that a stream has come to its end.
var errOver = fmt.Errorf("room: the stream has ended")

// rest waits for the next look.
func (r *Room) rest(s *stream, look *time.Ticker) error {
	for {
		select {
		case <-s.end:
			return errOver
		case <-s.over:
			s.replaced()
			return errOver
		case <-s.beat.C:
			if err := s.write(": beat\n\n"); err != nil {
				return err
			}
		case <-look.C:
			return nil
		}
	}
}
