package room

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/store"
	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
	"brinebench/sim"
)

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
		require.Contains(t, string(data), "Ada,1,Hard water at the mill house,call,scored,95.6,")
		status, data = desk.ask("GET", path("classes/%d/results.html", c.ID), nil)
		require.Equal(t, 200, status)
		require.Contains(t, string(data), "<td>95.6<br><small>right: Injector nozzle plugged, 111 min</small></td>")
		status, data = desk.ask("GET", path("classes/%d/members/1/drills/%d/recording", c.ID, c.Drills[0].ID), nil)
		require.Equal(t, 200, status)
		require.Equal(t, *log, logOf(t, data))
		var report struct{ Score float64 }
		ada.must("GET", path("me/drills/%d/report", c.Drills[0].ID), nil, &report)
		require.Equal(t, 95.56565834550389, report.Score, "as brinebench replay tells of the same log")
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
	for _, secret := range []string{"mill", "molino", "titles", `"seed":"5"`, "nozzle"} {
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
	for _, secret := range []string{`"score":`, "mill", "molino", `"seed":"5"`} {
		require.NotContains(t, told(), secret, "others may still hand in")
	}
	ada.refused(403, "exam", "GET", path("me/drills/%d/report", exam.ID), nil)
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	require.Equal(t, m.Class.EndMS+class.GraceMS+1, m.ToldMS)
	x.ms.Store(class.GraceMS / 2)
	require.Error(t, m.Class.Halted(m.ToldMS), "hand-in is closed by then")
	require.NotContains(t, told(), `"score":`)
	x.ms.Store(m.ToldMS - time.Now().UnixMilli())
	require.Contains(t, told(), `"score":95.56565834550389`)
	require.Contains(t, told(), "Hard water at the mill house")
	require.Contains(t, told(), inSpanish)
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

	for _, none := range []body{{"kind": "call", "fault": "no-such"}, {"kind": "call", "ref": mill, "fault": "salt-bridge"}} {
		desk.refused(400, "fault", "POST", at, none)
		desk.refused(400, "fault", "POST", "/api/classes", body{"name": "x", "drills": []body{{"kind": "sizing"}, none}})
	}
	desk.refused(400, "bad", "POST", at, body{"kind": "sizing", "fault": "salt-bridge"})
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
