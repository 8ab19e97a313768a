package room

import (
	"bufio"
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
	"brinebench/sim"
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

// makeClass makes a class with drills of the mill house, exams or not.
func (p *person) makeClass(exams ...bool) (c class.Shown) {
	var drills []body
	for _, exam := range exams {
		drills = append(drills, body{"kind": "call", "ref": mill, "seed": 5, "exam": exam})
	}
	p.must("POST", "/api/classes", body{"name": "Tuesday", "minutes": 60, "drills": drills}, &c)
	return c
}

func (x *school) trainee(code, nickname string) *person {
	p := x.person()
	p.must("POST", "/api/join", body{"code": code, "nickname": nickname}, nil)
	return p
}

func path(format string, args ...any) string { return fmt.Sprintf("/api/"+format, args...) }

func TestFromTheFirstStartToTheResults(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		x := newSchool(t, address)
		desk := x.instructor()
		c := desk.makeClass(false, true)
		ada := x.trainee(c.Code, "Ada")
		watch := desk.events(path("classes/%d/events", c.ID), "")
		log := replayed(t, "expert")
		tk := ada.takeUp(c.Drills[0].ID)
		require.Equal(t, uint64(5), tk.Seed)
		ada.upload(&tk, log, 0, 3, false)
		watch.until("board", func(data []byte) bool {
			var n class.News
			require.NoError(t, json.Unmarshal(data, &n))
			return len(n.Rows) > 0 && n.Rows[0].Acts == 3 && n.Rows[0].Belief != nil
		})
		ada.upload(&tk, log, 2, len(log.Acts), true)
		watch.until("board", func(data []byte) bool {
			var n class.News
			require.NoError(t, json.Unmarshal(data, &n))
			return len(n.Rows) > 0 && len(n.Rows[0].Scores) == 1
		})
		status, data := desk.ask("GET", path("classes/%d/results.csv", c.ID), nil)
		require.Equal(t, 200, status)
		require.Contains(t, string(data), "Ada,1,Hard water at the mill house,call,scored,95.2,")
		status, data = desk.ask("GET", path("classes/%d/results.html", c.ID), nil)
		require.Equal(t, 200, status)
		require.Contains(t, string(data), "<td>95.2</td>")
		status, data = desk.ask("GET", path("classes/%d/members/1/drills/%d/recording", c.ID, c.Drills[0].ID), nil)
		require.Equal(t, 200, status)
		require.Equal(t, *log, logOf(t, data))
		var report struct{ Score float64 }
		ada.must("GET", path("me/drills/%d/report", c.Drills[0].ID), nil, &report)
		require.Equal(t, 95.17866868573626, report.Score, "as brinebench replay tells of the same log")
	})
}

func TestAnExamIsToldAtTheEnd(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(true)
	exam := c.Drills[0]
	ada := x.trainee(c.Code, "Ada")
	told := func() string {
		_, data := ada.ask("GET", "/api/me", nil)
		return string(data)
	}
	for _, secret := range []string{"mill", `"seed":"5"`, "nozzle"} {
		require.NotContains(t, told(), secret)
	}
	ada.refused(404, "none", "GET", path("me/drills/%d/report", exam.ID+1), nil)
	tk := ada.takeUp(exam.ID)
	for _, secret := range []string{mill, "Hard water at", "ladder"} {
		require.NotContains(t, string(tk.Body), secret)
	}
	log := replayedOn(t, &tk, "expert")
	ada.upload(&tk, log, 0, len(log.Acts), true)
	x.scored(ada, 0)
	ada.refused(403, "exam", "GET", path("me/drills/%d/report", exam.ID), nil)
	require.NotContains(t, told(), `"score":`)
	require.Contains(t, told(), `"told":0`)
	desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
	for _, secret := range []string{`"score":`, "mill", `"seed":"5"`} {
		require.NotContains(t, told(), secret, "others may still hand in")
	}
	ada.refused(403, "exam", "GET", path("me/drills/%d/report", exam.ID), nil)
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	require.Equal(t, m.Class.EndMS+class.GraceMS+1, m.ToldMS)
	x.ms.Store(class.GraceMS / 2)
	require.False(t, m.Class.Open(m.ToldMS), "hand-in is closed by then")
	require.NotContains(t, told(), `"score":`)
	x.ms.Store(m.ToldMS - time.Now().UnixMilli())
	require.Contains(t, told(), `"score":95.17866868573626`)
	require.Contains(t, told(), "Hard water at the mill house")
	ada.must("GET", path("me/drills/%d/report", exam.ID), nil, nil)
	desk.refused(409, "closed", "POST", path("classes/%d/freeze", c.ID), body{"frozen": true})
}

func TestAMemberGoesOnOnAnotherDevice(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	log := replayed(t, "expert")
	first := x.person()
	var welcome struct{ Token string }
	first.must("POST", "/api/join", body{"code": c.Code, "nickname": "Ada"}, &welcome)
	tk := first.takeUp(c.Drills[0].ID)
	first.upload(&tk, log, 0, 5, false)

	second := x.person()
	second.must("POST", "/api/resume", body{"token": strings.ToLower(welcome.Token)}, nil)
	again := second.takeUp(c.Drills[0].ID)
	require.Len(t, again.Acts, 5)
	require.Equal(t, class.Sent(&log.Acts[4]), again.Acts[4])
	require.Equal(t, tk.Attempt.OpenedMS, again.Attempt.OpenedMS)
	status, _ := first.send(&tk, log, 5, 6, false)
	require.Equal(t, 409, status)
	second.upload(&again, log, 5, len(log.Acts), false)
}

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

func TestADoorIsLockedAndAMemberSentOut(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	ada := x.trainee(c.Code, "Ada")
	x.person().refused(409, "taken", "POST", "/api/join", body{"code": c.Code, "nickname": "ada"})
	desk.must("POST", path("classes/%d/lock", c.ID), body{"locked": true}, nil)
	x.person().refused(403, "locked", "POST", "/api/join", body{"code": c.Code, "nickname": "Bo"})
	desk.must("POST", path("classes/%d/members/1", c.ID), body{"do": "out"}, nil)
	ada.refused(403, "out", "GET", "/api/me", nil)
	desk.must("POST", path("classes/%d/members/1", c.ID), body{"do": "in"}, nil)
	var fresh struct{ Token string }
	desk.must("POST", path("classes/%d/members/1", c.ID), body{"do": "token"}, &fresh)
	ada.refused(401, "join", "GET", "/api/me", nil)
	ada.must("POST", "/api/resume", body{"token": fresh.Token}, nil)
	ada.must("GET", "/api/me", nil, nil)
	desk.must("POST", path("classes/%d/members/1", c.ID), body{"do": "erase"}, nil)
	ada.refused(401, "join", "GET", "/api/me", nil)
	desk.must("DELETE", path("classes/%d", c.ID), nil, nil)
	desk.refused(404, "none", "GET", path("classes/%d", c.ID), nil)
}

// A page that had no answer asks again, and it comes to the same.
func TestWhatIsAskedTwiceIsDoneOnce(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	make := body{"name": "Tuesday", "drills": []body{{"kind": "call"}, {"kind": "sizing"}}, "once": "0123456789abcdef-a"}
	var one, same, other class.Shown
	desk.must("POST", "/api/classes", make, &one)
	desk.must("POST", "/api/classes", make, &same)
	require.Equal(t, one, same)
	make["once"] = "0123456789abcdef-b"
	desk.must("POST", "/api/classes", make, &other)
	require.NotEqual(t, one.ID, other.ID)

	type welcome struct {
		Member class.Member
		Token  string
	}
	join := body{"code": one.Code, "nickname": "Ada", "once": "0123456789abcdef-c"}
	var first, again welcome
	x.person().must("POST", "/api/join", join, &first)
	desk.must("POST", path("classes/%d/lock", one.ID), body{"locked": true}, nil)
	ada := x.person()
	ada.must("POST", "/api/join", join, &again)
	require.Equal(t, first, again)
	ada.must("GET", "/api/me", nil, nil)
	desk.must("POST", path("classes/%d/lock", one.ID), body{"locked": false}, nil)
	x.person().refused(409, "taken", "POST", "/api/join", body{"code": one.Code, "nickname": "Ada", "once": "0123456789abcdef-d"})
	x.person().refused(400, "bad", "POST", "/api/join", body{"code": one.Code, "nickname": "Bo", "once": "short"})

	due := x.room.opt.NowMS() + 600_000
	for range 2 {
		desk.must("POST", path("classes/%d/extend", one.ID), body{"due": due}, nil)
		var c class.Shown
		desk.must("GET", path("classes/%d", one.ID), nil, &c)
		require.Equal(t, due, c.DueMS)
	}
	for _, none := range []body{{"due": due, "minutes": 1}, {"due": 1}, {"due": due + 86_400_000}, {}} {
		desk.refused(400, "bad", "POST", path("classes/%d/extend", one.ID), none)
	}
}

// The instructor has a member, or all, find a fault of the instructor's choice.
func TestAFaultIsPushedToOneOrToAll(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	ada, bo := x.trainee(c.Code, "Ada"), x.trainee(c.Code, "Bo")
	here, there := ada.events("/api/me/events", "0"), bo.events("/api/me/events", "0")
	at := path("classes/%d/drills", c.ID)
	var choices []class.Choice
	desk.must("GET", "/api/catalogue", nil, &choices)
	faults := map[string][]string{}
	for _, c := range choices {
		faults[c.Ref] = c.Faults
	}
	require.Equal(t, []string{"nozzle-plugged"}, faults[mill])
	require.Equal(t, []string{sim.NoFault}, faults["the-christening-at-the-old-inn"])

	var own, all class.Drill
	desk.must("POST", at, body{"kind": "call", "fault": "drain-control-plugged", "member": 1}, &own)
	desk.must("POST", at, body{"kind": "call", "fault": "pass-seat-worn"}, &all)
	require.Contains(t, faults[own.Ref], "drain-control-plugged")
	require.Contains(t, faults[all.Ref], "pass-seat-worn")
	require.Equal(t, fmt.Sprint(own.ID), here.text("drill"))
	require.Equal(t, fmt.Sprint(all.ID), here.text("drill"))
	require.Equal(t, fmt.Sprint(all.ID), there.text("drill"))

	mine := func(p *person) (ids []int64) {
		var m class.Mine
		p.must("GET", "/api/me", nil, &m)
		for _, d := range m.Class.Drills {
			ids = append(ids, d.ID)
		}
		return ids
	}
	require.Equal(t, []int64{c.Drills[0].ID, own.ID, all.ID}, mine(ada))
	require.Equal(t, []int64{c.Drills[0].ID, all.ID}, mine(bo))
	for _, does := range []string{"POST open", "GET log", "POST acts", "GET report"} {
		method, what, _ := strings.Cut(does, " ")
		var value any
		if what == "acts" {
			value = class.SentUpload{Epoch: 1, Engine: sim.Engine}
		}
		bo.refused(404, "none", method, path("me/drills/%d/%s", own.ID, what), value)
	}
	ada.takeUp(own.ID)
	_, csv := desk.ask("GET", path("classes/%d/results.csv", c.ID), nil)
	require.Equal(t, 1+3+2, strings.Count(string(csv), "\n"), "%s", csv)
	_, page := desk.ask("GET", path("classes/%d/results.html", c.ID), nil)
	require.Equal(t, 1, strings.Count(string(page), "<td>–</td>"))

	for _, none := range []body{
		{"kind": "call", "fault": "no-such"}, {"kind": "call", "ref": mill, "fault": "salt-bridge"}, {"kind": "sizing", "fault": "salt-bridge"},
	} {
		desk.refused(400, "bad", "POST", at, none)
	}
	desk.refused(404, "none", "POST", at, body{"kind": "call", "member": 9})
	desk.refused(400, "bad", "POST", "/api/classes", body{"name": "x", "drills": []body{{"kind": "call", "member": 1}}})
	desk.must("POST", path("classes/%d/members/1", c.ID), body{"do": "erase"}, nil)
	var shown class.Shown
	desk.must("GET", path("classes/%d", c.ID), nil, &shown)
	require.Len(t, shown.Drills, 2, "with the member goes what they alone had to do")
	desk.must("POST", at, body{"kind": "call", "fault": "drain-control-plugged", "member": 2}, nil)
}

func TestAnswersAreMarkedByTheServer(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	var c class.Shown
	desk.must("POST", "/api/classes", body{"name": "both", "drills": []body{{"kind": "sizing", "seed": 100}, {"kind": "sequence", "ref": "standard"}}}, &c)
	ada := x.trainee(c.Code, "Ada")
	answers, err := filepath.Glob(filepath.Join("..", "..", "..", "..", "testdata", "sizing", "answers", "*.json"))
	require.NoError(t, err)
	answer, err := os.ReadFile(answers[0])
	require.NoError(t, err)
	for i, a := range []string{string(answer), `{"cycle-name-standard-backwash": {"Stop": "backwash"}, "cycle-name-standard-service": {"Stop": "backwash"}}`} {
		tk := ada.takeUp(c.Drills[i].ID)
		at := path("me/drills/%d/answer", c.Drills[i].ID)
		for _, none := range []string{`[]`, `"x"`, `{"format": "x"}`, `{"cycle-seats-standard-backwash": {"Seats": [99]}}`} {
			ada.refused(400, "bad", "POST", at, body{"epoch": tk.Attempt.Epoch, "answer": json.RawMessage(none)})
		}
		ada.must("POST", at, body{"epoch": tk.Attempt.Epoch, "answer": json.RawMessage(a)}, nil)
		ada.must("POST", at, body{"epoch": tk.Attempt.Epoch, "answer": json.RawMessage(a)}, nil)
		ada.refused(409, "closed", "POST", at, body{"epoch": tk.Attempt.Epoch, "answer": json.RawMessage([]string{`{"format": "brinebench-answer-1"}`, `{}`}[i])})
		x.scored(ada, i)
	}
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	require.Len(t, m.Scores, 2)
	require.Positive(t, m.Scores[0].Score)
	require.Positive(t, m.Scores[1].Score)
	require.Less(t, m.Scores[1].Score, 20.0, "one of many")
}

func TestOldClassesAreErased(t *testing.T) {
	x := newSchool(t, "", func(o *Options) { o.KeepDays = 30 })
	desk := x.instructor()
	c := desk.makeClass(false)
	const day = 86_400_000
	x.ms.Store(29 * day)
	x.room.expire(context.Background())
	_, err := x.room.store.Class(context.Background(), c.ID)
	require.NoError(t, err)
	x.ms.Store(31 * day)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	go x.room.retain(ctx) // at the start
	require.Eventually(t, func() bool {
		_, err := x.room.store.Class(context.Background(), c.ID)
		return store.IsNone(err)
	}, time.Minute, 10*time.Millisecond)
}

func TestTheInstructorExportsAndBacksUp(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	ada := x.trainee(c.Code, "Ada")
	tk := ada.takeUp(c.Drills[0].ID)
	ada.upload(&tk, replayed(t, "expert"), 0, 4, false)
	var x2 store.Export
	desk.must("GET", path("classes/%d/export", c.ID), nil, &x2)
	require.Len(t, x2.Acts[0].Acts, 4)
	status, data := desk.ask("GET", "/api/desk/backup", nil)
	require.Equal(t, 200, status)
	require.True(t, bytes.HasPrefix(data, []byte("SQLite format 3\x00")))
	status, _ = x.person().ask("GET", "/api/desk/backup", nil)
	require.Equal(t, 401, status)
}

func TestTheOperatorSeesHowItGoes(t *testing.T) {
	x := newSchool(t, "")
	p := x.person()
	status, data := p.ask("GET", "/healthz", nil)
	require.Equal(t, 200, status)
	require.Equal(t, "ok\n", string(data))
	_, data = p.ask("GET", "/api/desk", nil)
	require.JSONEq(t, `{"first": true, "in": false}`, string(data))
	_, data = p.ask("GET", "/metrics", nil)
	require.Contains(t, string(data), `brinebench_requests_total{route="GET /api/desk",status="200"} 1`)
	p.header.Set("X-Forwarded-For", "192.0.2.1")
	status, _ = p.ask("GET", "/metrics", nil)
	require.Equal(t, 404, status, "through a proxy")
	require.NoError(t, x.room.store.Close())
	p.header.Del("X-Forwarded-For")
	status, _ = p.ask("GET", "/healthz", nil)
	require.Equal(t, 503, status)
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
