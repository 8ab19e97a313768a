package room

import (
	"bytes"
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/time/rate"

	"brinebench/game/class"
)

func TestGuessesAreCountedAndPeopleAreNotHindered(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	ada, guesser := x.trainee(c.Code, "Ada"), x.person()
	slow := 0
	for i := range 150 {
		where, value := "/api/join", body{"code": class.NewCode(), "nickname": "x"}
		if i%2 == 0 {
			where, value = "/api/resume", body{"token": class.NewToken()}
		}
		if status, _ := guesser.ask("POST", where, value); status == 429 {
			slow++
		}
	}
	require.GreaterOrEqual(t, slow, 40)
	ada.must("GET", "/api/me", nil, nil)
}

// The cookies of last year's class are no guesses: pages send them by themselves.
func TestCookiesThatHaveExpiredHinderNobody(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	for range 5 {
		p := x.trainee(c.Code, class.NewCode())
		var m class.Mine
		p.must("GET", "/api/me", nil, &m)
		require.NoError(t, x.room.store.EraseMember(context.Background(), c.ID, m.Member.ID))
		for range 30 {
			p.refused(401, "join", "GET", "/api/me", nil)
		}
	}
	x.trainee(c.Code, "Ada")
}

func TestWholeClassesJoinFromOneAddress(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	for range 100 {
		x.trainee(c.Code, class.NewCode())
	}
}

func TestAMemberIsHeldToAPersonsPace(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	ada, bo := x.trainee(c.Code, "Ada"), x.trainee(c.Code, "Bo")
	slow := 0
	for range 100 {
		if status, _ := ada.ask("GET", "/api/me", nil); status == 429 {
			slow++
		}
	}
	require.Positive(t, slow)
	bo.must("GET", "/api/me", nil, nil)
	first := bo.events("/api/me/events", "")
	first.until("state", nil)
	for range maxStreamsKey {
		bo.events("/api/me/events", "").until("state", nil)
	}
	first.until("over", nil)
	require.False(t, first.Scan(), "ended for the youngest, as it may be dead")
}

func TestPasswordsAreNotTriedAtWill(t *testing.T) {
	x := newSchool(t, "")
	thief := x.person()
	thief.refused(403, "setup", "POST", "/api/desk/password", body{"Setup": "ABCD", "Password": password})
	thief.refused(409, "first", "POST", "/api/desk/in", body{"Password": password})
	desk := x.instructor()
	thief.refused(409, "first", "POST", "/api/desk/password", body{"Setup": setupCode, "Password": password})
	slow := 0
	for range 12 {
		if status, _ := thief.ask("POST", "/api/desk/in", body{"Password": "guess"}); status == 429 {
			slow++
		}
	}
	require.Positive(t, slow)
	desk.must("GET", "/api/classes", nil, nil)
	desk.must("POST", "/api/desk/in", body{"Password": password}, nil) // the device is known: nobody locks it out
	slow = 0
	for range 12 {
		if status, _ := desk.ask("POST", "/api/desk/in", body{"Password": "guess"}); status == 429 {
			slow++
		}
	}
	require.Positive(t, slow, "nor does it guess at will")
}

func TestPasswordsTriedAtOnceAreNoMoreThanInTurn(t *testing.T) {
	x := newSchool(t, "")
	x.instructor()
	thief := x.person()
	thief.Jar = nil
	var tried atomic.Int64
	var all sync.WaitGroup
	for range 40 {
		all.Go(func() {
			if status, _ := thief.ask("POST", "/api/desk/in", body{"Password": "guess"}); status == 403 {
				tried.Add(1)
			}
		})
	}
	all.Wait()
	require.LessOrEqual(t, tried.Load(), int64(10), "8 at once, and one each 10 s")
	require.Positive(t, tried.Load())
}

func TestWhatWasRightIsGivenBack(t *testing.T) {
	tr := &tries{newBuckets(0, 2), rate.NewLimiter(0, 2)}
	look := func(right bool) error {
		_, err := tr.check(trier{key: "x"}, func() (bool, error) { return right, nil })
		return err
	}
	for range 5 {
		require.NoError(t, look(true))
	}
	require.NoError(t, look(false))
	require.NoError(t, look(true))
	require.NoError(t, look(false))
	require.ErrorIs(t, look(true), errSlow)
}

// A cookie that somebody makes up names no device.
func TestADeviceIsKnownByTheServersSignAlone(t *testing.T) {
	x := newSchool(t, "")
	own, err := x.room.device(context.Background(), "a")
	require.NoError(t, err)
	foreign, err := newSchool(t, "").room.device(context.Background(), "a")
	require.NoError(t, err)
	for value, known := range map[string]bool{own: true, foreign: false, "a": false, "a.": false, "": false, "b" + own[1:]: false} {
		q := httptest.NewRequest("POST", "/api/desk/in", nil)
		q.AddCookie(&http.Cookie{Name: deviceCookie, Value: value})
		who, err := x.room.trier(q)
		require.NoError(t, err)
		require.Equal(t, known, who.known, value)
	}
}

func TestANetworkIsCountedAsOne(t *testing.T) {
	r := &Room{}
	for peer, want := range map[string]string{
		"192.0.2.1:5": "192.0.2.1", "[::ffff:192.0.2.1]:5": "::ffff:192.0.2.1", "[2001:db8:1:2:3::4]:5": "2001:db8:1:2::/64",
		"[2001:db8:1:2:ffff::]:5": "2001:db8:1:2::/64", "[fe80::1%eth0]:5": "fe80::/64", "nonsense": "nonsense",
	} {
		q := httptest.NewRequest("GET", "/api/desk", nil)
		q.RemoteAddr = peer
		require.Equal(t, want, r.origin(q), peer)
	}
}

func TestAnAddressIsBelievedOfATrustedProxyAlone(t *testing.T) {
	r := &Room{opt: Options{Proxies: []netip.Prefix{netip.MustParsePrefix("10.0.0.0/8")}}}
	for _, test := range []struct{ peer, forwarded, want string }{
		{"192.0.2.1:5", "198.51.100.9", "192.0.2.1"},
		{"10.0.0.1:5", "198.51.100.9", "198.51.100.9"},
		{"10.0.0.1:5", "203.0.113.1, 198.51.100.9", "198.51.100.9"},
		{"10.0.0.1:5", "198.51.100.9, 10.0.0.2", "198.51.100.9"},
		{"10.0.0.1:5", "nonsense", "10.0.0.1"},
		{"10.0.0.1:5", "", "10.0.0.1"},
		{"[::ffff:10.0.0.1]:5", "2001:db8::1", "2001:db8::1"},
	} {
		q := httptest.NewRequest("GET", "/api/desk", nil)
		q.RemoteAddr = test.peer
		q.Header.Set("X-Forwarded-For", test.forwarded)
		require.Equal(t, test.want, r.address(q), test)
	}
}

func TestABodyIsBounded(t *testing.T) {
	x := newSchool(t, "")
	p := x.person()
	status, _ := p.raw("POST", "/api/join", bytes.NewReader(bytes.Repeat([]byte(" "), maxSent+1)))
	require.Equal(t, 413, status)
	p.header.Set("Content-Encoding", "gzip")
	bomb := packed(t, bytes.Repeat([]byte(" "), 100<<20))
	status, data := p.raw("POST", "/api/join", bomb)
	require.Equal(t, 413, status, "%s", data)
	status, _ = p.raw("POST", "/api/join", packed(t, []byte(`{"code": "ABCD-EFGH", "nickname": "Ada"}`)))
	require.Equal(t, 404, status, "packed and read")
	status, _ = p.raw("POST", "/api/join", strings.NewReader("no gzip"))
	require.Equal(t, 400, status)
	status, data = p.raw("POST", "/api/join", packed(t, bytes.Repeat([]byte(" "), maxUnpacked+1)))
	require.Equal(t, 413, status, "%s", data)
	p.header.Set("Content-Encoding", "br")
	status, _ = p.raw("POST", "/api/join", strings.NewReader("{}"))
	require.Equal(t, 415, status)
}

// Who asks and then takes no answer, or asks what takes for ever, holds nothing up for long.
func TestARequestEnds(t *testing.T) {
	x := newSchool(t, "", func(o *Options) { o.Patience = 500 * time.Millisecond })
	x.room.open("GET /api/test/large", func(a ask) error { return a.send("text/plain", make([]byte, 64<<20)) })
	x.room.open("GET /api/test/long", func(a ask) error { <-a.q.Context().Done(); return a.q.Context().Err() })
	x.room.open("GET /api/test/broken", func(ask) error { panic("x") })
	p := x.person()
	p.refused(500, "failed", "GET", "/api/test/long", nil)
	p.refused(500, "failed", "GET", "/api/test/broken", nil)

	host := strings.TrimPrefix(x.url, "http://")
	for _, request := range []string{
		"GET /api/test/large HTTP/1.1\r\nHost: x\r\n\r\n",
		"POST /api/join HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 10\r\n\r\n{",
	} {
		conn, err := net.Dial("tcp", host)
		require.NoError(t, err)
		defer conn.Close()
		_, err = conn.Write([]byte(request))
		require.NoError(t, err)
	}
	require.Eventually(t, func() bool {
		_, data := x.person().ask("GET", "/metrics", nil)
		return strings.Contains(string(data), `{route="GET /api/test/large",status="200"} 1`) && strings.Contains(string(data), `{route="POST /api/join",status="400"} 1`)
	}, time.Minute, 50*time.Millisecond)

	c := class.Class{Name: "x", Code: class.NewCode(), MadeMS: x.room.opt.NowMS()}
	require.NoError(t, x.room.store.AddClass(context.Background(), &c, nil))
	s := x.trainee(c.Code, "Ada").events("/api/me/events", "")
	for began := time.Now(); time.Since(began) < 4*x.room.opt.Patience; { // but streams
		s.beat()
	}
}

// What is cut off on the way is seen to be: its length is told before.
func TestAnAnswerTellsItsLength(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	for range 60 { // short ones have it anyway
		name := class.NewToken()
		require.NoError(t, x.room.store.Join(context.Background(), &class.Member{Class: c.ID, Nickname: name}, class.Digest(name)))
	}
	for _, at := range []string{"board", "export", "results.html", "results.csv"} {
		q, err := http.NewRequest("GET", x.url+path("classes/%d/%s", c.ID, at), nil)
		require.NoError(t, err)
		q.Header.Set("Accept-Encoding", "identity")
		response, err := desk.Do(q)
		require.NoError(t, err)
		response.Body.Close()
		require.Positive(t, response.ContentLength, at)
	}
}
