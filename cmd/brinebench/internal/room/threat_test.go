package room

import (
	"bytes"
	"context"
	"net/http"
	"net/netip"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/class"
	"brinebench/game/say"
	"brinebench/sim"
)

// The threats that DEVELOPERS.md lists, each with its test.

func TestAForgedLogIsRefusedAndShown(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	forgeries := []struct {
		name, word string
		forge      func(u *class.SentUpload, log *sim.Log)
	}{
		{"another reading asked for", class.Diverged, func(u *class.SentUpload, _ *sim.Log) { u.Acts[1].ID = "hardness-raw" }},
		{"an act left out", class.Diverged, func(u *class.SentUpload, _ *sim.Log) { u.Acts = append(u.Acts[:1:1], u.Acts[2:]...) }},
		{"an act that cannot be done", class.Diverged, func(u *class.SentUpload, _ *sim.Log) { u.Acts[1].Kind = "win" }},
		{"an end that it does not have", class.Diverged, func(u *class.SentUpload, _ *sim.Log) { u.Hash = "0123456789abcdef" }},
		{"cut off", class.Diverged, func(u *class.SentUpload, _ *sim.Log) { u.Acts = u.Acts[:len(u.Acts)-1] }},
		{"reordered", class.Order, func(u *class.SentUpload, _ *sim.Log) { u.Acts[2], u.Acts[3] = u.Acts[3], u.Acts[2] }},
		{"an act in the future", class.Future, func(u *class.SentUpload, log *sim.Log) { u.Acts[len(u.Acts)-1].Tick = log.Ticks + 1 }},
		{"sooner than can be", class.Future, func(u *class.SentUpload, _ *sim.Log) { u.Ticks = class.LatestTick(60_000) }},
	}
	for _, f := range forgeries {
		p := x.trainee(c.Code, f.name)
		tk := p.takeUp(c.Drills[0].ID)
		log := replayed(t, "expert")
		u := stretch(&tk, log, 0, len(log.Acts), true)
		f.forge(&u, log)
		status, data := p.ask("POST", path("me/drills/%d/acts", tk.Attempt.Drill), u)
		if f.word == class.Diverged { // seen when it is lived again
			require.Equal(t, 200, status, "%s: %s", f.name, data)
		} else {
			require.Equal(t, 409, status, "%s: %s", f.name, data)
			require.Contains(t, string(data), `"error":"`+f.word+`"`, f.name)
		}
	}
	doubled := x.trainee(c.Code, "doubled")
	tk := doubled.takeUp(c.Drills[0].ID)
	log := replayed(t, "expert")
	doubled.upload(&tk, log, 0, 3, false)
	log.Acts[1].ID = "hardness-raw"
	status, data := doubled.send(&tk, log, 1, 4, false)
	require.Equal(t, 409, status)
	require.Contains(t, string(data), class.Doubled)

	honest := x.trainee(c.Code, "honest")
	tk = honest.takeUp(c.Drills[0].ID)
	log = replayed(t, "expert")
	honest.upload(&tk, log, 0, len(log.Acts), true)
	x.scored(honest, 0)
	var n class.News
	desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
	require.Len(t, n.Alarms, len(forgeries)+1, "the instructor is told")
	for i, f := range append(forgeries, struct {
		name, word string
		forge      func(u *class.SentUpload, log *sim.Log)
	}{"doubled", class.Doubled, nil}) {
		require.Equal(t, class.Foul, n.Rows[i].State, f.name)
		require.True(t, strings.HasPrefix(n.Rows[i].Why, f.word+": "), "%s: %s", f.name, n.Rows[i].Why)
		for _, l := range say.Langs {
			require.NotEmpty(t, say.In(l).Text("refusal."+class.WordOf(n.Rows[i].Why)), "%s: the board has words for it", l)
		}
		require.Empty(t, n.Rows[i].Scores, f.name)
	}
	require.Equal(t, class.Done, n.Rows[len(n.Rows)-1].State)
}

// What an older page sends, or a broken one, is no forgery: it is told so, and goes on.
func TestAnHonestLogGoesOnAfterWhatCannotBeRead(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	ada := x.trainee(c.Code, "Ada")
	tk := ada.takeUp(c.Drills[0].ID)
	log := replayed(t, "expert")
	ada.upload(&tk, log, 0, 2, false)
	at := path("me/drills/%d/acts", tk.Attempt.Drill)
	older := stretch(&tk, log, 2, 3, false)
	older.Engine = "brinebench-engine-4"
	ada.refused(409, class.WrongEngine, "POST", at, older)
	broken := stretch(&tk, log, 2, 3, false)
	broken.Acts[0].Kind = ""
	ada.refused(409, class.Malformed, "POST", at, broken)
	ada.refused(400, "bad", "POST", at, body{"epoch": "one"})
	ada.upload(&tk, log, 2, len(log.Acts), true)
	var n class.News
	desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
	require.Empty(t, n.Alarms)
}

func TestNothingNewIsTakenWhileFrozenOrLate(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.timed(60, false)
	desk.must("POST", path("classes/%d/start", c.ID), nil, nil)
	ada := x.trainee(c.Code, "Ada")
	tk := ada.takeUp(c.Drills[0].ID)
	log := replayed(t, "expert")
	at := path("me/drills/%d/acts", tk.Attempt.Drill)
	freeze := func(yes bool) { desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": yes}, nil) }

	freeze(true)
	ada.upload(&tk, log, 0, 2, false) // may have been done before
	freeze(true)
	x.ms.Add(class.GraceMS + 1000)
	ada.refused(409, class.Frozen, "POST", at, stretch(&tk, log, 2, 4, false))
	ada.upload(&tk, log, 0, 2, false) // is here already
	freeze(false)
	ada.upload(&tk, log, 2, 4, false)

	x.ms.Add(3_600_000 + class.GraceMS/2)
	ada.upload(&tk, log, 4, 6, false) // may have been done before
	desk.must("POST", path("classes/%d/extend", c.ID), body{"minutes": 5}, nil)
	ada.upload(&tk, log, 6, 8, false)
	x.ms.Add(300_000 + class.GraceMS)
	status, data := ada.ask("POST", at, stretch(&tk, log, 8, len(log.Acts), true))
	require.Equal(t, 409, status)
	require.Regexp(t, class.Late+"|"+class.Closed, string(data))
	var n class.News
	desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
	require.Empty(t, n.Alarms)
}

// A log that another engine made is not to be lived again here, and that is nobody's fault.
func TestAnAttemptOfAnOlderEngineIsToldAsSuch(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false, false)
	ada := x.trainee(c.Code, "Ada")
	log := replayed(t, "expert")
	for i, act := range []int{len(log.Acts) - 1, len(log.Acts)} { // one cannot be lived again, one can
		_, err := x.room.store.TakeUp(context.Background(), 1, c.Drills[i].ID, "brinebench-engine-4", x.room.opt.NowMS()-3_600_000)
		require.NoError(t, err)
		_, err = x.room.store.Keep(context.Background(), 1, c.Drills[i].ID, &class.Upload{
			Epoch: 1, Engine: sim.Engine, Acts: log.Acts[:act], Ticks: log.Ticks, Hash: &log.Hash,
		}, nil, x.room.opt.NowMS())
		require.NoError(t, err)
	}
	x.scored(ada, 1)
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	require.Equal(t, class.Unscored, m.Attempts[0].Status)
	require.Contains(t, m.Attempts[0].Why, "brinebench-engine-4")
	_, csv := desk.ask("GET", path("classes/%d/results.csv", c.ID), nil)
	require.Contains(t, string(csv), "call,unscored,")
}

func TestNoScoreIsTakenFromAPage(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	p := x.trainee(c.Code, "Ada")
	tk := p.takeUp(c.Drills[0].ID)
	p.refused(400, "bad", "POST", path("me/drills/%d/acts", tk.Attempt.Drill), body{
		"epoch": 1, "engine": sim.Engine, "from": 0, "acts": []class.SentAct{}, "ticks": 0, "score": 100,
	})
}

func TestSessionsEnd(t *testing.T) {
	x := newSchool(t, "")
	one := x.instructor()
	two := x.person()
	two.must("POST", "/api/desk/in", body{"Password": password}, nil)
	one.refused(400, "bad", "POST", "/api/desk/change", body{"Password": password, "Next": "short"})
	one.must("POST", "/api/desk/change", body{"Password": password, "Next": "another password"}, nil)
	two.refused(401, "sign-in", "GET", "/api/classes", nil)
	one.must("GET", "/api/classes", nil, nil)
	one.must("POST", "/api/desk/out", nil, nil)
	one.refused(401, "sign-in", "GET", "/api/classes", nil)
	two.refused(403, "password", "POST", "/api/desk/in", body{"Password": password})
	two.must("POST", "/api/desk/in", body{"Password": "another password"}, nil)
	x.ms.Store(sessionMS + 1000)
	two.refused(401, "sign-in", "GET", "/api/classes", nil)
}

// Who may not ask any more hears nothing more.
func TestAStreamEndsWithTheRightToIt(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	for i, does := range []string{"out", "token", "erase"} {
		s := x.trainee(c.Code, does).events("/api/me/events", "")
		s.until("state", nil)
		desk.must("POST", path("classes/%d/members/%d", c.ID, i+1), body{"do": does}, nil)
		s.ends(does)
	}
	for name, end := range map[string]func(p *person){
		"signed out": func(p *person) { p.must("POST", "/api/desk/out", nil, nil) },
		"new password": func(*person) {
			desk.must("POST", "/api/desk/change", body{"Password": password, "Next": password}, nil)
		},
	} {
		p := x.person()
		p.must("POST", "/api/desk/in", body{"Password": password}, nil)
		s := p.events(path("classes/%d/events", c.ID), "")
		s.until("board", nil)
		end(p)
		s.ends(name)
	}
	ada := x.trainee(c.Code, "Ada").events("/api/me/events", "")
	ada.until("state", nil)
	board := desk.events(path("classes/%d/events", c.ID), "")
	desk.must("DELETE", path("classes/%d", c.ID), nil, nil)
	ada.ends("class erased")
	board.ends("class erased")
}

// Events that were erased leave a gap, at the end too: a stream goes on after it and does
// not look for ever.
func TestAStreamPassesOverWhatWasErased(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	ada, bo := x.trainee(c.Code, "Ada"), x.trainee(c.Code, "Bo")
	here := ada.events("/api/me/events", "0")
	here.until("state", nil)
	bo.must("GET", "/api/me", nil, nil)
	desk.must("POST", path("classes/%d/message", c.ID), body{"member": 2, "text": "Bo alone"}, nil)
	desk.must("POST", path("classes/%d/members/2", c.ID), body{"do": "erase"}, nil)
	here.beat()
	seq, err := x.room.pass(context.Background(), nil, 1, c.ID, 0)
	require.NoError(t, err)
	require.Equal(t, int64(1), seq)
	desk.must("POST", path("classes/%d/message", c.ID), body{"text": "all"}, nil)
	require.Equal(t, "message", here.kinds("message"))
	require.Equal(t, []string{"2"}, here.ids)
}

func TestEveryRouteAsksWhoIsThere(t *testing.T) {
	x := newSchool(t, "")
	c := x.instructor().makeClass(false)
	ada := x.trainee(c.Code, "Ada")
	source, err := os.ReadFile("room.go")
	require.NoError(t, err)
	routes := regexp.MustCompile(`r\.(staff|trainee)\("(GET|POST|DELETE) (/api/[^"]*)"`).FindAllStringSubmatch(string(source), -1)
	require.Greater(t, len(routes), 25)
	anybodys := []string{
		"GET /healthz", "GET /metrics", // which has its own test
		"GET /api/desk", "POST /api/desk/password", "POST /api/desk/in", "POST /api/join", "POST /api/resume", "/api/", // which is nothing
	}
	var open []string
	for _, route := range regexp.MustCompile(`\tr\.(?:open|mux\.Handle\w*)\(("[^"]*"|.)`).FindAllStringSubmatch(string(source), -1) {
		open = append(open, strings.Trim(route[1], `"`))
	}
	require.Equal(t, anybodys, open, "nothing else is anybody's")
	_, table, _ := strings.Cut(string(source), "func (r *Room) routes() {")
	table, _, _ = strings.Cut(table, "\n}")
	require.Equal(t, len(routes)+len(anybodys), strings.Count(table, "\tr."), "every line of the table is seen here")
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	handles := 0
	for _, name := range files {
		if !strings.HasSuffix(name, "_test.go") {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			handles += strings.Count(string(text), "mux.Handle")
		}
	}
	require.Equal(t, 3, handles, "two in the table, and that of open: there is no other way in")
	for _, route := range routes {
		at := regexp.MustCompile(`\{\w+\}`).ReplaceAllString(route[3], "1")
		word := map[string]string{"staff": "sign-in", "trainee": "join"}[route[1]]
		x.person().refused(401, word, route[2], at, nil)
		if route[1] == "staff" {
			ada.refused(401, word, route[2], at, nil)
		}
	}
}

func TestNobodyReachesIntoAnotherClass(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	one, two := desk.makeClass(false), desk.makeClass(false)
	ada := x.trainee(one.Code, "Ada")
	other := two.Drills[0].ID
	ada.refused(404, "none", "POST", path("me/drills/%d/open", other), nil)
	ada.refused(404, "none", "GET", path("me/drills/%d/log", other), nil)
	desk.refused(404, "none", "GET", path("classes/%d/members/1/drills/%d/report", one.ID, other), nil)
	for _, at := range []string{"me/drills/0/open", "me/drills/-1/open", "me/drills/9999999999999999999/open", "me/drills/1%2f..%2f2/open", "me/drills/%27/open"} {
		ada.refused(404, "none", "POST", "/api/"+at, nil)
	}
	for _, at := range []string{"/api/..%2f..%2fetc/passwd", "/api/%2e%2e/x", "/api/me/..%5c..%5cx"} {
		status, _ := ada.ask("GET", at, nil)
		require.Equal(t, 404, status, at)
	}
	desk.refused(400, "bad", "POST", "/api/classes", body{"name": "x", "drills": []body{{"kind": "call", "ref": "../class"}}})
	desk.refused(400, "bad", "POST", "/api/classes", body{"name": "x", "drills": []body{{"kind": "sequence", "ref": "../bench/standard"}}})
}

func TestOtherSitesAskInVain(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	for name, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "https://elsewhere.example"} {
		desk.header = http.Header{name: {value}}
		desk.refused(403, "cross-origin", "POST", path("classes/%d/end", c.ID), nil)
		desk.refused(403, "cross-origin", "DELETE", path("classes/%d", c.ID), nil)
	}
	desk.header = http.Header{"Content-Type": {"text/plain"}}
	desk.refused(415, "type", "POST", path("classes/%d/lock", c.ID), body{"locked": true})
}

func TestCookiesAreTheServersAlone(t *testing.T) {
	proxy := netip.MustParsePrefix("127.0.0.0/8")
	for _, secure := range []bool{false, true} {
		x := newSchool(t, "", func(o *Options) {
			if secure {
				o.Proxies = []netip.Prefix{proxy}
			}
		})
		q, err := http.NewRequest("POST", x.url+"/api/desk/password", strings.NewReader(`{"Setup": "`+setupCode+`", "Password": "`+password+`"}`))
		require.NoError(t, err)
		q.Header.Set("Content-Type", "application/json")
		q.Header.Set("X-Forwarded-Proto", "https") // believed of a trusted proxy alone
		q.Header.Set("X-Forwarded-For", "192.0.2.7")
		response, err := http.DefaultClient.Do(q)
		require.NoError(t, err)
		response.Body.Close()
		cookies := response.Cookies()
		require.Len(t, cookies, 2)
		for _, k := range cookies {
			require.True(t, k.HttpOnly)
			require.Equal(t, http.SameSiteStrictMode, k.SameSite)
			require.Equal(t, secure, k.Secure)
			require.Equal(t, "/api/", k.Path)
		}
	}
}

func TestWhatIsTypedIsNeverMarkupOrFormula(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	const evil = `=<script>alert(1)</script>"`
	p := x.trainee(c.Code, evil)
	p.takeUp(c.Drills[0].ID)
	_, csv := desk.ask("GET", path("classes/%d/results.csv", c.ID), nil)
	require.Contains(t, string(csv), `"'=<script>`)
	_, page := desk.ask("GET", path("classes/%d/results.html", c.ID), nil)
	require.NotContains(t, string(page), "<script>")
	require.Contains(t, string(page), "=&lt;script&gt;alert(1)")
	desk.must("POST", path("classes/%d/message", c.ID), body{"text": evil}, nil)
	for _, at := range []string{"board", "results.html", "results.csv"} {
		response, err := desk.Get(x.url + path("classes/%d/%s", c.ID, at))
		require.NoError(t, err)
		response.Body.Close()
		h := response.Header
		require.Equal(t, "nosniff", h.Get("X-Content-Type-Options"), at)
		require.Contains(t, h.Get("Content-Security-Policy"), "default-src 'none'", at)
		require.Equal(t, "no-store", h.Get("Cache-Control"), at)
	}
	for _, name := range []string{"", "  ", "a\nb", strings.Repeat("x", class.MaxName+1), "a\u202eb"} {
		x.person().refused(400, "bad", "POST", "/api/join", body{"code": c.Code, "nickname": name})
	}
}

func TestSecretsAreNotKeptAsTheyAre(t *testing.T) {
	file := filepath.Join(t.TempDir(), "class.db")
	x := newSchool(t, file)
	c := x.instructor().makeClass(false)
	p := x.person()
	var welcome struct{ Token string }
	p.must("POST", "/api/join", body{"code": c.Code, "nickname": "Ada"}, &welcome)
	names, err := filepath.Glob(file + "*")
	require.NoError(t, err)
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, secret := range []string{welcome.Token, password} {
			require.False(t, bytes.Contains(data, []byte(secret)), "%s", name)
		}
	}
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
}
