package room

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/cmd/brinebench/internal/live"
	"brinebench/cmd/brinebench/internal/store/storetest"
	"brinebench/game/class"
	"brinebench/sim"
)

// A sizing drill is of the job of its number, which a person can type: the sheet that was
// printed under that number fits it.
func TestASizingDrillHasTheJobOfItsNumber(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	var c class.Shown
	desk.must("POST", "/api/classes", body{"name": "sheets", "drills": []body{{"kind": "sizing", "seed": 8}, {"kind": "sizing", "seed": class.MostJob}, {"kind": "sizing", "seed": 8, "exam": true}}}, &c)
	require.Equal(t, sim.DrawSizing(8).Title, c.Drills[0].Title)
	require.Equal(t, []uint64{8, class.MostJob, 8}, []uint64{c.Drills[0].Job(), c.Drills[1].Job(), c.Drills[2].Job()})
	ada := x.trainee(c.Code, "Ada")
	require.JSONEq(t, string(sim.DrawSizing(8).JSON), string(ada.takeUp(c.Drills[0].ID).Body))
	var m class.Mine
	ada.must("GET", "/api/me", nil, &m)
	require.Zero(t, m.Class.Drills[2].Job(), "of an exam its key could be looked up")

	at := path("classes/%d/drills", c.ID)
	desk.refused(400, "bad", "POST", at, body{"kind": "sizing", "seed": class.MostJob + 1})
	for range 10 {
		var drawn class.Drill
		desk.must("POST", at, body{"kind": "sizing"}, &drawn)
		require.Positive(t, drawn.Job(), "drawn by lot it has one too")
	}
}

func TestASequenceDrillAsksWhatTheCatalogueSays(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	var choices []class.Choice
	desk.must("GET", "/api/catalogue", nil, &choices)
	told := 0
	for _, choice := range choices {
		require.Equal(t, choice.Kind == class.Sequence, choice.Asks != nil, choice.Ref)
		if choice.Kind != class.Sequence {
			continue
		}
		told++
		n := 0
		for _, a := range choice.Asks {
			n += a.N
		}
		_, body, err := benchNamed(choice.Ref)
		require.NoError(t, err)
		answer, err := live.Read(&class.Drill{Kind: class.Sequence, Body: body}, []byte(`{}`))
		require.NoError(t, err)
		require.Equal(t, answer.Asked, n, choice.Ref)
	}
	require.Positive(t, told)
}

// Each trainee is told by which number the wall calls them.
func TestATraineeKnowsTheirNumberOnTheWall(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		x := newSchool(t, address)
		desk := x.instructor()
		c, other := desk.makeClass(false), desk.makeClass(false)
		ada := x.trainee(c.Code, "Ada")
		x.trainee(other.Code, "Else")
		bo, cy := x.trainee(c.Code, "Bo"), x.trainee(c.Code, "Cy")
		number := func(p *person) int {
			var m class.Mine
			p.must("GET", "/api/me", nil, &m)
			var n class.News
			desk.must("GET", path("classes/%d/board", c.ID), nil, &n)
			require.Equal(t, m.Member.ID, n.Rows[m.Number-1].Member, "as the board has them")
			return m.Number
		}
		require.Equal(t, []int{1, 2, 3}, []int{number(ada), number(bo), number(cy)})
		desk.must("POST", path("classes/%d/members/1", c.ID), body{"do": "erase"}, nil)
		require.Equal(t, []int{1, 2}, []int{number(bo), number(cy)})
	})
}

// Results that are taken away before all is marked say so.
func TestResultsTellThatTheyAreNotComplete(t *testing.T) {
	storetest.Each(t, func(t *testing.T, address string) {
		x := newSchool(t, address)
		desk := x.instructor()
		c := desk.makeClass(false)
		ada, bo := x.trainee(c.Code, "Ada"), x.trainee(c.Code, "Bo")
		tk := ada.takeUp(c.Drills[0].ID)
		ada.upload(&tk, replayed(t, "expert"), 0, 4, false)
		bo.takeUp(c.Drills[0].ID)
		results := func(what string) string {
			_, data := desk.ask("GET", path("classes/%d/results.%s", c.ID, what), nil)
			return string(data)
		}
		require.NotContains(t, results("html"), "Not complete")
		desk.must("POST", path("classes/%d/end", c.ID), nil, nil)
		require.Contains(t, results("html"), "Not complete yet: 1 piece of work is being marked.")
		require.Contains(t, results("html"), "<td>being marked</td>")
		require.Contains(t, results("html"), "<td>opened, nothing done</td>")
		require.Contains(t, results("csv"), "call,being marked,,")
		require.Contains(t, results("csv"), "call,untouched,,")
		x.ms.Add(class.GraceMS + 2000)
		x.scored(ada, 0)
		require.NotContains(t, results("html"), "Not complete")
		require.NotContains(t, results("csv"), "being marked")
		require.Contains(t, results("csv"), "call,untouched,,", "what nothing was done in has no score")
	})
}

// A board that hangs in another window hears of a drill that is given: it asks for it then.
func TestABoardHearsOfADrillThatIsGiven(t *testing.T) {
	x := newSchool(t, "")
	desk := x.instructor()
	c := desk.makeClass(false)
	watch := desk.events(path("classes/%d/events", c.ID), "")
	drills := func(want int) {
		watch.until("board", func(data []byte) bool {
			var n class.News
			require.NoError(t, json.Unmarshal(data, &n))
			return n.Drills == want
		})
	}
	drills(1)
	desk.must("POST", path("classes/%d/drills", c.ID), body{"kind": "sizing"}, nil)
	drills(2)
}
