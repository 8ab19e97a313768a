package room

import (
	"bufio"
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
)

func TestWhatIsToldComesOnceAndInOrder(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		x, y := newSchool(t, address), (*school)(nil)
		desk := x.instructor()
		c := desk.makeClass(false)
		ada, bo := x.trainee(c.Code, "Ada"), x.trainee(c.Code, "Bo")
		here := ada.events("/api/me/events", "")
		here.until("state", nil)
		if store.IsPostgres(address) { // another program on the same database
			y = newSchool(t, address)
			bo.school = y
			bo.Jar = ada.jarFor(y, bo)
		}
		there := bo.events("/api/me/events", "0")
		there.until("state", nil)
		say := func(to int64, text string) {
			desk.must("POST", path("classes/%d/message", c.ID), body{"member": to, "text": text}, nil)
		}
		desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": true}, nil)
		say(0, "<b>all</b>")
		say(2, "Bo alone")
		desk.must("POST", path("classes/%d/message", c.ID), body{"hint": true, "text": "look at the drain"}, nil)
		desk.must("POST", path("classes/%d/extend", c.ID), body{"minutes": 5}, nil)
		desk.must("POST", path("classes/%d/drills", c.ID), body{"kind": "sizing"}, nil)
		desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": false}, nil)
		desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
		require.Equal(t, "freeze message hint extend drill thaw end", here.kinds("end"))
		require.Equal(t, "freeze message message hint extend drill thaw end", there.kinds("end"))
		late := ada.events("/api/me/events", here.ids[2])
		require.Equal(t, "extend drill thaw end", late.kinds("end"), "after Last-Event-ID")
		require.NotContains(t, here.all, "Bo alone")
	})
}

func TestAStreamShowsThatItIsAlive(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	ada := x.trainee(c.Code, "Ada")
	s := ada.events("/api/me/events", "")
	s.beat()
	require.Equal(t, "no-store", s.response.Header.Get("Cache-Control"))
	require.Equal(t, "no", s.response.Header.Get("X-Accel-Buffering"))
}

// A stream is written to whether somebody reads it or not: what tells that a page is
// there is what comes from it.
func TestWhoSendsNothingIsAway(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	ada := x.trainee(c.Code, "Ada")
	s := ada.events("/api/me/events", "")
	state := func() class.State {
		var n class.News
		desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
		return n.Rows[0].State
	}
	require.Equal(t, class.Joined, state())
	x.ms.Store(class.AwayMS + 1000)
	for range 3 {
		s.beat()
	}
	require.Equal(t, class.Away, state())
	ada.must("POST", "/api/me/here", nil, nil)
	require.Equal(t, class.Joined, state())
}

// sse is a stream of events as it is read.
type sse struct {
	*bufio.Scanner
	t        *testing.T
	response *http.Response
	ids      []string
	all      string
}

func (p *person) events(path, after string) *sse {
	p.t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	q, err := http.NewRequestWithContext(ctx, "GET", p.url+path, nil)
	require.NoError(p.t, err)
	if after != "" {
		q.Header.Set("Last-Event-ID", after)
	}
	response, err := p.Do(q)
	require.NoError(p.t, err)
	require.Equal(p.t, "text/event-stream", response.Header.Get("Content-Type"))
	p.t.Cleanup(func() { stop(); response.Body.Close() })
	s := &sse{Scanner: bufio.NewScanner(response.Body), t: p.t, response: response}
	s.Buffer(nil, 1<<20)
	return s
}

// next reads one event.
func (s *sse) next() (name string, data []byte) {
	s.t.Helper()
	for s.Scan() {
		field, value, _ := strings.Cut(s.Text(), ": ")
		switch field {
		case "id":
			s.ids = append(s.ids, value)
		case "event":
			name = value
		case "data":
			data = []byte(value)
			s.all += value
		case "":
			if name != "" && data != nil {
				return name, data
			}
		}
	}
	require.Fail(s.t, "the stream ended", "%v", s.Err())
	return "", nil
}

// ends reads a stream to its end, which the server has to bring about.
func (s *sse) ends(why string) {
	s.t.Helper()
	for s.Scan() {
	}
	require.NoError(s.t, s.Err(), why)
}

// beat reads up to the next sign of life.
func (s *sse) beat() {
	s.t.Helper()
	for s.Scan() {
		if s.Text() == ": beat" {
			return
		}
	}
	require.Fail(s.t, "the stream ended", "%v", s.Err())
}

// text is that of the next event of a kind.
func (s *sse) text(name string) string {
	s.t.Helper()
	var e class.Event
	s.until(name, func(data []byte) bool { return json.Unmarshal(data, &e) == nil })
	return e.Text
}

func (s *sse) until(name string, fits func(data []byte) bool) {
	s.t.Helper()
	for {
		if got, data := s.next(); got == name && (fits == nil || fits(data)) {
			return
		}
	}
}

// kinds are the names of the events up to one, but for the state.
func (s *sse) kinds(last string) string {
	s.t.Helper()
	var names []string
	for {
		name, _ := s.next()
		if name != "state" {
			names = append(names, name)
		}
		if name == last {
			return strings.Join(names, " ")
		}
	}
}

func TestWhatWasToldIsToldAgainToWhoComesBack(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	at := path("classes/%d/message", c.ID)
	desk.must("POST", at, body{"text": "before Ada came"}, nil)
	x.ms.Add(10)
	ada, _ := x.trainee(c.Code, "Ada"), x.trainee(c.Code, "Bo")
	desk.must("POST", at, body{"text": "all"}, nil)
	desk.must("POST", at, body{"text": "Bo alone", "member": 2}, nil)
	desk.must("POST", at, body{"text": "a hint", "member": 1, "hint": true}, nil)
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	var told []string
	for _, e := range m.Heard {
		told = append(told, string(e.Kind)+" "+e.Text)
	}
	require.Equal(t, []string{"message all", "hint a hint"}, told)
}
