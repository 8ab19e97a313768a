package room

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
)

func TestMain(m *testing.M) { os.Exit(storetest.Run(m)) }

const (
	setupCode = "ABCD-EFGH-JKLM-NPQR"
	password  = "correct horse battery"
	mill      = "hard-water-at-the-mill-house"
)

// school is a room that is served, and its clock.
type school struct {
	t    *testing.T
	room *Room
	url  string
	ms   atomic.Int64 // added to the machine's clock
}

func newSchool(t *testing.T, address string, change ...func(*Options)) *school {
	t.Helper()
	if address == "" {
		address = filepath.Join(t.TempDir(), "class.db")
	}
	s, err := store.Open(context.Background(), address)
	require.NoError(t, err)
	x := &school{t: t}
	opt := Options{SetupCode: setupCode, Beat: 50 * time.Millisecond, Look: 20 * time.Millisecond, NowMS: func() int64 { return time.Now().UnixMilli() + x.ms.Load() }}
	for _, f := range change {
		f(&opt)
	}
	x.room = New(s, opt)
	ctx, stop := context.WithCancel(context.Background())
	rested := make(chan bool)
	go func() { x.room.Run(ctx); close(rested) }()
	server := httptest.NewServer(x.room)
	x.url = server.URL
	t.Cleanup(func() { stop(); <-rested; server.Close(); s.Close() })
	return x
}

// person is a browser with its cookies.
type person struct {
	*school
	http.Client
	header http.Header
}

func (x *school) person() *person {
	jar, err := cookiejar.New(nil)
	require.NoError(x.t, err)
	return &person{school: x, Client: http.Client{Jar: jar}, header: http.Header{}}
}

// ask sends a request, a value as JSON, and returns status and body.
func (p *person) ask(method, path string, value any) (int, []byte) {
	p.t.Helper()
	var body io.Reader
	if value != nil {
		data, err := json.Marshal(value)
		require.NoError(p.t, err)
		body = bytes.NewReader(data)
	}
	return p.raw(method, path, body)
}

func (p *person) raw(method, path string, body io.Reader) (int, []byte) {
	p.t.Helper()
	q, err := http.NewRequest(method, p.url+path, body)
	require.NoError(p.t, err)
	q.Header = p.header.Clone()
	if body != nil && q.Header.Get("Content-Type") == "" {
		q.Header.Set("Content-Type", "application/json")
	}
	response, err := p.Do(q)
	require.NoError(p.t, err)
	defer response.Body.Close()
	data, err := io.ReadAll(response.Body)
	require.NoError(p.t, err)
	return response.StatusCode, data
}

// must asks and reads an answer that has to be good.
func (p *person) must(method, path string, value, into any) {
	p.t.Helper()
	status, data := p.ask(method, path, value)
	require.Less(p.t, status, 300, "%s %s: %s", method, path, data)
	if into != nil {
		require.NoError(p.t, json.Unmarshal(data, into), "%s", data)
	}
}

// refused asks what has to be refused, with that status and word.
func (p *person) refused(status int, word, method, path string, value any) {
	p.t.Helper()
	got, data := p.ask(method, path, value)
	var said struct{ Error, Text string }
	require.NoError(p.t, json.Unmarshal(data, &said), "%s %s: %d %s", method, path, got, data)
	require.Equal(p.t, status, got, "%s %s: %s", method, path, data)
	require.Equal(p.t, word, said.Error, "%s %s: %s", method, path, data)
}

type body map[string]any

// instructor is signed in, after the first start.
func (x *school) instructor() *person {
	p := x.person()
	p.must("POST", "/api/desk/password", body{"Setup": strings.ToLower(setupCode), "Password": password}, nil)
	return p
}

// makeClass makes a class without a limit, of drills of the mill house, exams or not.
func (p *person) makeClass(exams ...bool) class.Shown { return p.timed(0, exams...) }

// timed makes one of so many minutes, which wait until the time is started.
func (p *person) timed(minutes int, exams ...bool) (c class.Shown) {
	var drills []body
	for _, exam := range exams {
		drills = append(drills, body{"kind": "call", "ref": mill, "seed": 5, "exam": exam})
	}
	p.must("POST", "/api/classes", body{"name": "Tuesday", "minutes": minutes, "drills": drills}, &c)
	return c
}

func (x *school) trainee(code, nickname string) *person {
	p := x.person()
	p.must("POST", "/api/join", body{"code": code, "nickname": nickname}, nil)
	return p
}

func path(format string, args ...any) string { return fmt.Sprintf("/api/"+format, args...) }

// jarFor carries a person's cookies to another program's address.
func (p *person) jarFor(y *school, who *person) http.CookieJar {
	jar, err := cookiejar.New(nil)
	require.NoError(p.t, err)
	q, err := http.NewRequest("GET", p.url+"/api/me", nil)
	require.NoError(p.t, err)
	to, err := http.NewRequest("GET", y.url+"/api/me", nil)
	require.NoError(p.t, err)
	jar.SetCookies(to.URL, who.Jar.Cookies(q.URL))
	return jar
}

// scored waits until the server has scored a person's attempt, by its place among theirs.
func (x *school) scored(p *person, attempt int) {
	x.t.Helper()
	require.Eventually(x.t, func() bool {
		var m class.Mine
		p.must("GET", "/api/me", nil, &m)
		if attempt >= len(m.Attempts) {
			attempt = len(m.Attempts) - 1
		}
		return m.Attempts[attempt].Status == class.Scored
	}, time.Minute, 100*time.Millisecond)
}

func packed(t *testing.T, data []byte) io.Reader {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, err := z.Write(data)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return &out
}
