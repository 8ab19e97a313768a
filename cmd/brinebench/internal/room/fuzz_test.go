package room

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"

	"brinebench/cmd/brinebench/internal/live"
	"brinebench/cmd/brinebench/internal/store"
	"brinebench/game/class"
)

// An upload that can be read comes out as it went in.
func FuzzUploadReads(f *testing.F) {
	f.Add(`{"epoch":1,"engine":"e","from":0,"acts":[{"tick":4,"kind":"test","id":"x","value":0.5}],"ticks":9,"hash":"00ff"}`)
	f.Add(`{"acts":[{"value":1e308}]}`)
	f.Add(`{"hash":"zz"}`)
	f.Fuzz(func(t *testing.T, text string) {
		var s class.SentUpload
		if decode([]byte(text), &s) != nil {
			return
		}
		u, err := s.Upload()
		if err != nil {
			return
		}
		if u.Check(&class.Attempt{Epoch: 1}, 0) == nil && len(u.Acts) > class.MaxBatch {
			t.Fatal("too many acts pass")
		}
		again := class.SentUpload{Epoch: u.Epoch, Engine: u.Engine, From: u.From, Ticks: u.Ticks}
		for i := range u.Acts {
			again.Acts = append(again.Acts, class.Sent(&u.Acts[i]))
		}
		if _, err := json.Marshal(again); err != nil {
			t.Fatal(err)
		}
	})
}

// Whatever is asked, by anybody or by a member or by the instructor, the server does not
// fall over, and never says that it is at fault.
func FuzzEveryEndpoint(f *testing.F) {
	routes := []string{
		"POST /api/join", "POST /api/resume", "POST /api/desk/in", "POST /api/classes", "POST /api/classes/1/message", "POST /api/classes/1/lock",
		"POST /api/classes/1/extend", "POST /api/classes/1/drills", "POST /api/classes/1/members/1", "GET /api/classes/1/board", "GET /api/me",
		"POST /api/me/drills/1/open", "POST /api/me/drills/1/acts", "POST /api/me/drills/2/answer", "GET /api/me/drills/1/report",
		"GET /api/classes/1/members/1/drills/1/recording", "DELETE /api/classes/2", "GET /api/desk", "GET /healthz",
	}
	bodies := []string{
		"", "{}", "null", "[]", `{"code":"ABCD","nickname":"x"}`, `{"name":"x","drills":[{"kind":"call"}]}`, `{"text":"x","member":1}`, `{"minutes":5}`,
		`{"kind":"sizing"}`, `{"do":"in"}`, `{"epoch":1,"engine":"brinebench-engine-17","acts":[{"tick":4,"kind":"test","id":"hardness-raw"}],"ticks":9}`,
		`{"epoch":1,"answer":{}}`, `{"Password":"x"}`, `{"token":"x"}`,
	}
	for i, route := range routes {
		f.Add(route, bodies[i%len(bodies)], "", uint8(i))
	}
	for i, text := range bodies {
		f.Add(routes[i%len(routes)], text, "gzip", uint8(i))
	}
	x := newSmall(f)
	f.Fuzz(func(t *testing.T, route, text, coding string, who uint8) {
		method, at, _ := strings.Cut(route, " ")
		if strings.HasSuffix(at, "/events") || strings.Contains(at, "desk/password") || strings.Contains(at, "desk/change") || strings.Contains(at, "desk/in") {
			return // streams do not end; the rest takes time by design
		}
		q, err := http.NewRequest(method, "http://localhost"+at, strings.NewReader(text))
		if err != nil || !strings.HasPrefix(at, "/") {
			return
		}
		q.RemoteAddr = "127.0.0.1:1"
		q.Header.Set("Content-Type", "application/json")
		if coding != "" {
			q.Header.Set("Content-Encoding", coding)
		}
		switch who % 3 {
		case 1:
			q.AddCookie(x.member)
		case 2:
			q.AddCookie(x.desk)
		}
		x.room.limits = newLimits()
		out := httptest.NewRecorder()
		x.room.ServeHTTP(out, q)
		if out.Code >= 500 {
			t.Fatalf("%s %q as %d: %d %s", route, text, who%3, out.Code, out.Body)
		}
	})
}

// small is a room with a class, a member and an instructor, and no server.
type small struct {
	room         *Room
	member, desk *http.Cookie
}

func newSmall(f *testing.F) small {
	ctx := context.Background()
	s, err := store.Open(ctx, filepath.Join(f.TempDir(), "class.db"))
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { s.Close() })
	x := small{room: New(s, Options{})}
	c := class.Class{Name: "x", Code: class.NewCode(), MadeMS: x.room.opt.NowMS()}
	var drills []class.Drill
	for _, kind := range []class.Kind{class.Call, class.Sizing, class.Sequence} {
		d, err := drillOf(&class.Wanted{Kind: kind, Seed: 5}, nil)
		if err != nil {
			f.Fatal(err)
		}
		drills = append(drills, d)
	}
	token, session := class.NewToken(), class.NewSession()
	err = s.AddClass(ctx, &c, drills)
	if err == nil {
		err = s.Join(ctx, &class.Member{Class: c.ID, Nickname: "Ada"}, class.Digest(token))
	}
	if err == nil {
		err = s.AddSession(ctx, class.Digest(session), 0, 1<<60)
	}
	if err != nil {
		f.Fatal(err)
	}
	x.member = &http.Cookie{Name: memberCookie, Value: token}
	x.desk = &http.Cookie{Name: deskCookie, Value: session}
	return x
}

// Any answer to a drill is marked or refused, within bounds.
func FuzzAnswersAreMarkedOrRefused(f *testing.F) {
	d, err := drillOf(&class.Wanted{Kind: class.Sequence, Seed: 5}, nil)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(`{"cycle-name-standard-backwash":{"Stop":"backwash"}}`)
	f.Add(`{"cycle-path-standard-service-house":{"Path":[1,2,255]}}`)
	f.Add(`{"cycle-name-standard-service":{"Seats":[-1]}}`)
	f.Fuzz(func(t *testing.T, answer string) {
		r, why, err := live.Mark(context.Background(), &d, []byte(answer))
		if err != nil || (r == nil) == (why == "") || r != nil && (r.Score < 0 || r.Score > 100) {
			t.Fatal(r, why, err)
		}
	})
}
