package room

import (
	"encoding/json"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/class"
)

// sequence is a class of a call and a sequence drill, of an hour that has begun.
func (p *person) sequence(exam bool) (c class.Shown) {
	p.must("POST", "/api/classes", body{"name": "both", "minutes": 60, "drills": []body{
		{"kind": "call", "ref": mill, "seed": 5, "exam": exam}, {"kind": "sequence", "ref": "standard", "exam": exam},
	}}, &c)
	p.must("POST", path("classes/%d/start", c.ID), nil, nil)
	p.must("GET", path("classes/%d", c.ID), nil, &c)
	return c
}

// drafts keeps an answer to a sequence drill as far as it has come.
func (p *person) drafts(tk *class.Taken, stop string) (int, []byte) {
	return p.ask("POST", path("me/drills/%d/draft", tk.Attempt.Drill), body{
		"epoch": tk.Attempt.Epoch, "answer": json.RawMessage(`{"cycle-name-standard-backwash": {"Stop": "` + stop + `"}}`),
	})
}

func TestWhatWasDoneWhenTheClassIsOverIsHandedInAsItStands(t *testing.T) {
	for name, over := range map[string]func(x *school, desk *person, c *class.Shown){
		"time is up": func(x *school, _ *person, _ *class.Shown) { x.ms.Add(3_600_000) },
		"the class ends": func(_ *school, desk *person, c *class.Shown) {
			desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
		},
	} {
		t.Run(name, func(t *testing.T) {
			x := newSchool(t, "")
			desk := x.instructor()
			c := desk.sequence(true)
			ada := x.trainee(c.Code, "Ada")
			call, seq := ada.takeUp(c.Drills[0].ID), ada.takeUp(c.Drills[1].ID)
			log := replayedOn(t, &call, "expert")
			ada.upload(&call, log, 0, 6, false)
			status, data := ada.drafts(&seq, "backwash")
			require.Equal(t, 200, status, "%s", data)
			require.Contains(t, string(data), `"answered":1`)

			over(x, desk, &c)
			x.ms.Add(class.GraceMS + 2000)
			status, data = ada.drafts(&seq, "service")
			require.Equal(t, 409, status, "nothing new: %s", data)
			x.scored(ada, 0)
			x.scored(ada, 1)
			var m class.Mine
			ada.must("GET", "/api/me", nil, &m)
			require.Equal(t, 1, m.Attempts[1].Answered)
			require.Positive(t, m.Attempts[1].Asked)
			var marks class.SequenceMarks
			desk.must("GET", path("classes/%d/members/1/drills/%d/report", c.ID, c.Drills[1].ID), nil, &marks)
			require.Positive(t, marks.Score)

			again := ada.takeUp(c.Drills[0].ID)
			require.Equal(t, call.Attempt.Epoch, again.Attempt.Epoch, "to be looked at")
			require.Equal(t, "finish", again.Acts[len(again.Acts)-1].Kind)
			status, data = ada.send(&call, log, 6, 8, false)
			require.Equal(t, 409, status)
			require.Contains(t, string(data), class.Closed, "what was held back is no forgery")
			var n class.News
			desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
			require.Empty(t, n.Alarms)
		})
	}
}

func TestNothingIsHandedInThatNobodyWorkedAt(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.sequence(false)
	ada := x.trainee(c.Code, "Ada")
	ada.takeUp(c.Drills[1].ID)
	desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
	_, err := x.room.store.Overdue(t.Context(), x.room.opt.NowMS()+2*class.GraceMS)
	require.Error(t, err)
}

func TestNoDrillIsBegunInAClassThatIsFrozenOrOver(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.sequence(false)
	ada := x.trainee(c.Code, "Ada")
	begin := path("me/drills/%d/open", c.Drills[0].ID)
	desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": true}, nil)
	ada.refused(409, class.Frozen, "POST", begin, nil)
	desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": false}, nil)
	x.ms.Add(3_601_000)
	ada.refused(409, class.Late, "POST", begin, nil)
	desk.must("POST", path("classes/%d/extend", c.ID), body{"minutes": 5}, nil)
	ada.takeUp(c.Drills[1].ID)
	desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
	ada.refused(409, class.Closed, "POST", begin, nil)
}

// A class may be made the evening before: its time begins when the instructor starts it, and
// nobody with its code works at it before.
func TestTheTimeBeginsWhenItIsStarted(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.timed(60, false, true)
	require.True(t, c.Waits())
	x.ms.Add(10 * 3_600_000)
	ada := x.trainee(c.Code, "Ada")
	for _, d := range c.Drills {
		ada.refused(409, class.Early, "POST", path("me/drills/%d/open", d.ID), nil)
		ada.refused(404, "none", "GET", path("me/drills/%d/log", d.ID), nil)
	}
	heard := ada.events("/api/me/events", "")
	heard.until("state", nil)
	for range 2 {
		desk.must("POST", path("classes/%d/start", c.ID), nil, nil)
		x.ms.Add(1_800_000 - 5000)
		for _, d := range c.Drills {
			ada.takeUp(d.ID)
		}
	}
	x.ms.Add(10_000)
	heard.until("extend", nil)
	var n class.News
	desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
	require.True(t, n.Class.TimeUp(n.NowMS), "an hour is over, and the second start started nothing")
	require.Less(t, n.NowMS-n.Class.DueMS, int64(60_000))
	ada.refused(401, "sign-in", "POST", path("classes/%d/start", c.ID), nil)
	desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
	desk.refused(409, class.Closed, "POST", path("classes/%d/start", c.ID), nil)
}

func TestMoreMinutesStartTheTimeThatWaits(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.timed(60, false)
	desk.must("POST", path("classes/%d/extend", c.ID), body{"minutes": 5}, nil)
	desk.must("GET", path("classes/%d", c.ID), nil, &c)
	require.InDelta(t, x.room.opt.NowMS()+65*60_000, c.DueMS, 5000)
	x.trainee(c.Code, "Ada").takeUp(c.Drills[0].ID)
}

func TestAFreezeStopsTheClassesClock(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.sequence(false)
	ada := x.trainee(c.Code, "Ada")
	desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": true}, nil)
	const longMS = 2 * 3_600_000
	x.ms.Add(longMS)
	var n class.News
	desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
	require.False(t, n.Class.TimeUp(n.NowMS), "the hour stands still")
	require.Equal(t, c.DueMS, n.Class.DueMS)
	var thaw class.Event
	desk.must("POST", path("classes/%d/freeze", c.ID), body{"frozen": false}, &thaw)
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	require.InDelta(t, c.DueMS+longMS, m.Class.DueMS, 5000)
	require.Equal(t, strconv.FormatInt(m.Class.DueMS, 10), thaw.Text, "pages are told")
	ada.takeUp(c.Drills[0].ID)
}
