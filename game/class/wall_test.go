package class

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// wallOf is a class of two calls, both of them given, and three trainees: one at work at the
// second, who has named a cause, one who has handed in both, and one of whom each case tells.
func wallOf(c *Class, third Row) Wall {
	half := 0.5
	shown := Shown{Class: *c, Drills: []Drill{{ID: 1, Place: 1, Kind: Call}, {ID: 2, Place: 2, Kind: Call}}}
	third.Member = 3
	rows := []Row{
		{
			Member: 1, Nickname: "Ada", State: Stuck, Drill: 2, Last: "diagnose x", Told: "Named the cause: x, 70 % sure.", Belief: &half, Unsafe: 1, Named: "x", Right: true,
			Begun: []int64{1, 2}, Closed: []int64{1}, Scores: map[int64]float64{1: 60}, Rights: map[int64]bool{1: false},
		},
		{Member: 2, Begun: []int64{1, 2}, Closed: []int64{1, 2}, Scores: map[int64]float64{1: 90, 2: 30}, Rights: map[int64]bool{1: true, 2: false}},
		third,
	}
	return OnWall(&shown, rows, []Mistake{
		{"named: one", "", []int64{1, 2}, []int64{1}},
		{"needless: both", "", []int64{1, 2}, []int64{1, 2}},
		{"named: two", "", []int64{1}, []int64{2}},
		{"unsafe: lid", "open", []int64{1}, []int64{2}},
	}, 1000)
}

func TestTheWallGivesNoAnswerAwayWhileSomebodyWorksAtIt(t *testing.T) {
	scored := map[int64]float64{1: 30}
	wrong := map[int64]bool{1: false}
	first := Sum{Drill: 1, Scored: 3, Mean: 60, Right: 1, Wrong: 2}
	for name, x := range map[string]struct {
		class    Class
		third    Row
		mistakes []string
		sums     []Sum
	}{
		"the third is at the first drill":      {Class{}, Row{Begun: []int64{1}}, []string{"unsafe: opened"}, nil},
		"the third has begun nothing":          {Class{}, Row{}, []string{"unsafe: opened"}, nil},
		"the third left it for the second":     {Class{}, Row{Begun: []int64{1, 2}}, []string{"unsafe: opened"}, nil},
		"the third skipped it":                 {Class{}, Row{Begun: []int64{2}}, []string{"named: one", "unsafe: opened"}, nil},
		"the third was sent out":               {Class{}, Row{Begun: []int64{1}, Out: true}, []string{"named: one", "unsafe: opened"}, nil},
		"all have handed in the first":         {Class{}, Row{Begun: []int64{1}, Closed: []int64{1}, Scores: scored, Rights: wrong}, []string{"named: one", "unsafe: opened"}, []Sum{first}},
		"it is handed in and yet to be scored": {Class{}, Row{Begun: []int64{1}, Closed: []int64{1}}, []string{"named: one", "unsafe: opened"}, nil},
		"the class has ended":                  {Class{EndMS: 900}, Row{Scores: scored, Rights: wrong}, []string{"named: one", "needless: both", "named: two", "unsafe: opened"}, []Sum{first}},
		"time is up, and more may be given":    {Class{DueMS: 900}, Row{Begun: []int64{1}}, []string{"unsafe: opened"}, nil},
	} {
		w := wallOf(&x.class, x.third)
		var mistakes []string
		for _, m := range w.Mistakes {
			mistakes = append(mistakes, m.What+m.Act)
		}
		require.Equal(t, x.mistakes, mistakes, name)
		require.Equal(t, x.sums, w.Sums, name)
		require.False(t, w.Exam, name)
		require.Equal(t, Row{
			Member: 1, State: Working, Drill: 2, Last: "diagnose x", Unsafe: 1, Named: SomeCause, Begun: []int64{1, 2}, Closed: []int64{1},
		}, w.Rows[0], "%s: that a cause was named, and no more", name)
		require.Empty(t, w.Rows[1].Named, name)
	}
}

func TestTheWallTellsNothingOfAnExamBeforeItIsTold(t *testing.T) {
	shown := Shown{Class: Class{EndMS: 1000}, Drills: []Drill{{ID: 1, Place: 1, Kind: Call, Exam: true}, {ID: 2, Place: 2, Kind: Sequence}}}
	var rows []Row
	for id := range int64(leastSummed) {
		rows = append(rows, Row{Member: id + 1, Last: "test x", Named: "x", Answered: 1, Asked: 2, Scores: map[int64]float64{1: 10, 2: 50}, Rights: map[int64]bool{1: true}})
	}
	mistakes := []Mistake{{"unsafe: lid", "open", []int64{1}, []int64{1}}}
	during, after := OnWall(&shown, rows, mistakes, 1000+GraceMS), OnWall(&shown, rows, mistakes, 1001+GraceMS)
	require.Equal(t, Wall{Exam: true, Rows: []Row{{Member: 1}, {Member: 2}, {Member: 3}}}, during)
	require.Equal(t, []Sum{{1, 3, 10, 3, 0}, {2, 3, 50, 0, 0}}, after.Sums)
	require.Equal(t, []Mistake{{UnsafeMistake, "opened", []int64{1}, []int64{1}}}, after.Mistakes)
	require.Equal(t, SomeCause, after.Rows[0].Named)
}

// A warning names the part that was opened, and that may be the one with the fault.
func TestTheWallTellsWhatIsUnsafeWithoutItsPart(t *testing.T) {
	shown := Shown{Drills: []Drill{{ID: 1, Place: 1, Kind: Call}}}
	w := OnWall(&shown, []Row{{Member: 1, Begun: []int64{1}, Told: "WARNING: Injector is under 58 psi.", Warned: true}}, []Mistake{
		{"unsafe: WARNING: Injector is under 58 psi.", "open", []int64{1, 2}, []int64{1}},
		{"unsafe: WARNING: Screen is under 40 psi.", "open", []int64{2, 3}, []int64{1, 4}},
		{"unsafe: CAUTION: The controller is plugged in.", "replace", []int64{1}, []int64{1}},
		{"unsafe: WARNING: The drum would turn.", "advance", []int64{4}, []int64{1}},
		{"unsafe: WARNING: Injector is open.", "start-regeneration", []int64{4}, []int64{1}},
		{"unsafe: WARNING: Water let onto an open part.", "bypass", []int64{4}, []int64{1}},
		{"unsafe: WARNING: Salt water ran.", "mishap", []int64{4}, []int64{1}},
		{"unsafe: WARNING: Resin cleaner is still in the bed.", "disinfect", []int64{4}, []int64{1}},
	}, 0)
	require.Equal(t, []Mistake{
		{UnsafeMistake, "opened", []int64{1, 2, 3}, []int64{1, 4}},
		{UnsafeMistake, "cut", []int64{1}, []int64{1}},
		{UnsafeMistake, "drum", []int64{4}, []int64{1}},
		{UnsafeMistake, "other", []int64{4}, []int64{1}},
		{UnsafeMistake, "salt", []int64{4}, []int64{1}},
		{UnsafeMistake, "water", []int64{4}, []int64{1}},
	}, w.Mistakes, "each by how many, and the last act of nobody in its words")
	require.Empty(t, w.Rows[0].Told)
	require.False(t, w.Rows[0].Warned)
	for _, m := range w.Mistakes {
		require.Contains(t, Hazards, m.Act)
	}
}

func TestNothingIsSummedWhileNobodyHasHandedIn(t *testing.T) {
	shown := Shown{Drills: []Drill{{ID: 1, Place: 1, Member: 7}}}
	require.True(t, shown.open(&shown.Drills[0], nil))
	rows := []Row{{Member: 8}, {Member: 7, Closed: []int64{1}}}
	require.True(t, shown.open(&shown.Drills[0], rows[:1]), "it is another's")
	require.False(t, shown.open(&shown.Drills[0], rows))
}
