package class

import (
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

func TestCodesAreDrawnEvenlyAndReadAsTheyAreTyped(t *testing.T) {
	counts := map[rune]int{}
	seen := map[string]bool{}
	const codes = 2000
	for range codes {
		code := NewCode()
		require.Len(t, code, 9)
		require.False(t, seen[code])
		seen[code] = true
		require.Equal(t, code, Typed(strings.ToLower(strings.ReplaceAll(code, "-", " "))))
		for _, r := range strings.ReplaceAll(code, "-", "") {
			counts[r]++
		}
	}
	require.Len(t, counts, len(letters))
	even := codes * codeLen / len(letters)
	for r, n := range counts {
		require.InDelta(t, even, n, 0.3*float64(even), "%c: 7 standard deviations", r)
	}
	for _, s := range []string{"A1", "ä", "<b>", strings.Repeat("A", 101), "A\x00"} {
		require.Empty(t, Typed(s), s)
	}
	require.Len(t, NewToken(), tokenLen+3)
}

func TestNamesAreCleaned(t *testing.T) {
	for given, want := range map[string]string{
		" Ada ": "Ada", "<script>": "<script>", "李雷": "李雷", "=1+1": "=1+1", strings.Repeat("ü", MaxName): strings.Repeat("ü", MaxName),
		"": "", " ": "", "a\nb": "", "a\u202eb": "", "\xff": "", strings.Repeat("u", MaxName+1): "", "a\x00": "",
	} {
		got, err := CleanName(given)
		require.Equal(t, want, got)
		require.Equal(t, want == "", err != nil, given)
	}
}

// What begins a formula, after the usual advice against CSV injection (OWASP).
func TestNoCellOfTheResultsIsAFormula(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "=cmd|' /C calc'!A0", "＝1", "%0A=1", "|x"} {
		require.Equal(t, "'"+s, disarm(s))
	}
	for s, want := range map[string]string{"Ada;=1+1": "Ada;'=1+1", "=1;=2": "'=1;'=2", "a;;  +1": "a;;'  +1", ";@x": ";'@x", "a; \t-1": "a;' \t-1"} {
		require.Equal(t, want, disarm(s), "cells are parted by ; in many places")
	}
	for _, s := range []string{"", "Ada", "a;b", "a; b=c", "a=b", "12.5", "O'Neil"} {
		require.Equal(t, s, disarm(s))
	}
	sheet := sheetOf([]Member{{ID: 7, Nickname: `=HYPERLINK("x")`}})
	require.Equal(t, `'=HYPERLINK("x")`, sheet[1][0])
}

// sheetOf reads the results of a class of a call, a sequence drill and one that is not begun.
func sheetOf(members []Member) (lines [][]string) {
	var out strings.Builder
	s := Sheet{
		Class:  Class{Name: "Tuesday", MadeMS: 1_800_000_000_000},
		Drills: []Drill{{ID: 1, Place: 1, Title: "Hard, water", Kind: Call, Exam: true}, {ID: 2, Place: 2, Title: "two", Kind: Sequence}, {ID: 3, Place: 3, Title: "three", Kind: Call}},
		Title:  func(d *Drill) string { return d.Title },
		Truth:  func(*Drill) []string { return []string{"salt-absent"} },
		Cause:  func(id string) string { return "the " + id },

		Members: members,
		Attempts: []Attempt{
			{Member: 7, Drill: 1, Acts: 12, Status: Scored}, {Member: 7, Drill: 2, Answered: 3, Asked: 25, Status: Scored},
		},
		Results: []Result{{Member: 7, Drill: 1, Score: 95.178, Minutes: 61.6, Unsafe: 1, Named: "a+b", Right: true}, {Member: 7, Drill: 2, Score: 4}},
	}
	if err := s.WriteCSV(&out); err != nil {
		panic(err)
	}
	lines, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
	if err != nil {
		panic(err)
	}
	return lines
}

func TestTheResultsTellWhatAppliesToADrillAndNothingElse(t *testing.T) {
	lines := sheetOf([]Member{{ID: 7, Nickname: "Ada"}})
	require.Equal(t, []string{
		"nickname", "drill", "title", "kind", "status", "score", "minutes", "unsafe", "named", "right", "acts", "why",
		"class", "date", "exam", "named as", "cause", "cause as", "answered", "asked", "job",
	}, lines[0])
	day := lines[1][13]
	require.Equal(t, []string{
		"Ada", "1", "Hard, water", "call", "scored", "95.2", "61", "1", "a+b", "true", "12", "",
		"Tuesday", day, "true", "the a; the b", "salt-absent", "the salt-absent", "", "", "",
	}, lines[1])
	require.Equal(t, []string{
		"Ada", "2", "two", "sequence", "scored", "4.0", "", "", "", "", "", "", "Tuesday", day, "false", "", "", "", "3", "25", "",
	}, lines[2], "no minutes, no verdict and no acts where there are none")
	require.Equal(t, "not begun", lines[3][4])
	require.Regexp(t, `^2027-01-1\d$`, day)
}

// Results that are taken away while the server still marks say so.
func TestTheResultsTellWhatIsBeingMarkedAndWhatWasLeftUntouched(t *testing.T) {
	for name, x := range map[string]struct {
		attempt Attempt
		over    bool
		want    string
	}{
		"at work":                  {Attempt{Status: Going, Acts: 1}, false, "going"},
		"opened":                   {Attempt{Status: Going}, false, "going"},
		"handed in":                {Attempt{Status: Handed, Acts: 1}, false, "being marked"},
		"at work when it was over": {Attempt{Status: Going, Acts: 1}, true, "being marked"},
		"an answer begun":          {Attempt{Status: Going, Asked: 25}, true, "being marked"},
		"handed in, and over":      {Attempt{Status: Handed}, true, "being marked"},
		"opened, and over":         {Attempt{Status: Going}, true, "untouched"},
		"scored":                   {Attempt{Status: Scored, Acts: 1}, true, "scored"},
		"refused":                  {Attempt{Status: Refused, Acts: 1}, true, "refused"},
	} {
		s := Sheet{NowMS: 5, Title: func(*Drill) string { return "" }, Truth: func(*Drill) []string { return nil }, Cause: func(string) string { return "" }}
		if x.over {
			s.Class.EndMS = 4
		}
		line := s.line(&Drill{Kind: Call}, &x.attempt, nil)
		require.Equal(t, x.want, line["status"], name)
		require.Empty(t, line["score"], name)
	}
}

func TestASizingJobIsToldByTheNumberThatTheSizingPageTakes(t *testing.T) {
	s := Sheet{Title: func(*Drill) string { return "" }}
	require.Equal(t, "8", s.line(&Drill{Kind: Sizing, Seed: 8}, nil, nil)["job"])
	for name, d := range map[string]Drill{
		"a sequence": {Kind: Sequence, Seed: 8}, "an exam that is not told": {Kind: Sizing}, "drawn from more than can be typed": {Kind: Sizing, Seed: MostJob + 1},
	} {
		require.Empty(t, s.line(&d, nil, nil)["job"], name)
	}
}

func TestAVerdictIsRightWhenItNamesAllAndNothingElse(t *testing.T) {
	require.True(t, Right("a+b", []string{"b", "a"}))
	require.False(t, Right("a", []string{"a", "b"}))
	require.False(t, Right("a+b", []string{"a"}))
	require.True(t, Right(sim.NoFault, nil))
	require.False(t, Right("", nil))
}

func TestTheBoardTellsWhoNeedsHelp(t *testing.T) {
	const now = 1_000_000_000
	attempt := func(member int64, lastMS int64, status Status) Attempt {
		return Attempt{Member: member, Drill: 1, Acts: 9, Ticks: 480, LastMS: lastMS, Last: "test x", Status: status}
	}
	insights := map[int64]Insight{
		5: {Acts: 9, Minutes: 3, Named: "x", Weighed: 9, Belief: 0.1, Dull: stuckDull, Mistakes: []Slip{{What: "needless replace injector"}}, Unsafe: 2},
		3: {Acts: 9, Weighed: 9, Belief: 0.9, Dull: stuckDull, Mistakes: []Slip{{What: "needless replace injector"}, {"unsafe x", sim.ActOpen}}},
	}
	w := Watched{
		Insight: func(member, _ int64) (Insight, bool) { x, ok := insights[member]; return x, ok },
		Attempts: []Attempt{
			attempt(2, now-IdleMS-1, Going), attempt(3, now, Going), attempt(4, now, Scored), attempt(5, now, Going), attempt(6, now, Going), attempt(7, now, Refused), attempt(8, now, Unscored),
		},
		Results: []Result{{Member: 4, Drill: 1, Score: 50, Minutes: 5.6, Unsafe: 2, Named: "y", Right: true}},
	}
	for id := int64(1); id <= 8; id++ {
		w.Members = append(w.Members, Member{ID: id, SeenMS: now})
	}
	w.Members[5].SeenMS = now - AwayMS - 1
	want := []State{Joined, Idle, Working, Done, Stuck, Away, Foul, Lost}
	rows := Board(&w, now)
	for i, row := range rows {
		require.Equal(t, want[i], row.State, "member %d", i+1)
	}
	require.Equal(t, []any{3.0, "x", false}, []any{rows[4].Minutes, rows[4].Named, rows[4].Right})
	require.Equal(t, 2.0, rows[1].Minutes, "as far as the page has told")
	require.Equal(t, 0.1, *rows[4].Belief)
	require.Nil(t, rows[1].Belief)
	require.Equal(t, 2, rows[4].Unsafe)
	require.Equal(t, map[int64]float64{1: 50}, rows[3].Scores)
	require.Equal(t, []any{5.6, 2, "y", true}, []any{rows[3].Minutes, rows[3].Unsafe, rows[3].Named, rows[3].Right}, "as the results have it")
	w.Drills = []Drill{{ID: 1}, {ID: 2}, {ID: 3, Member: 5}}
	require.Equal(t, Ready, Board(&w, now)[3].State, "another drill is left")
	w.Attempts = append(w.Attempts, Attempt{Member: 4, Drill: 2, Status: Handed})
	require.Equal(t, Done, Board(&w, now)[3].State)
	require.Equal(t, []int64{1}, rows[1].Begun)
	require.Empty(t, rows[0].Begun, "there is nothing to look at")
	w.Class.Frozen = true
	require.Equal(t, []State{Halted, Halted}, []State{Board(&w, now)[2].State, Board(&w, now)[4].State}, "nobody is at work in a class that stands still")
	require.Equal(t, []Mistake{{"needless replace injector", "", []int64{3, 5}, []int64{1}}, {"unsafe x", "open", []int64{3}, []int64{1}}}, Mistakes(&w))
}

// Who reads how a drill went has a page that tells no more, and is not away.
func TestWhoHasHandedInIsNotAway(t *testing.T) {
	const now = 1_000_000_000
	w := Watched{
		Insight: func(int64, int64) (Insight, bool) { return Insight{}, false },
		Drills:  []Drill{{ID: 1}, {ID: 2}}, Members: []Member{{ID: 1, SeenMS: now - AwayMS - 1}},
		Attempts: []Attempt{{Member: 1, Drill: 1, Acts: 9, LastMS: now - AwayMS, Status: Handed}},
	}
	require.Equal(t, Ready, Board(&w, now)[0].State)
	w.Attempts = append(w.Attempts, Attempt{Member: 1, Drill: 2, LastMS: now - AwayMS + 1, Status: Going})
	require.Equal(t, Away, Board(&w, now)[0].State)
}

func TestTheBoardCountsWhatIsUnsafeInAllDrills(t *testing.T) {
	insights := map[int64]Insight{1: {Unsafe: 7}, 2: {Unsafe: 2}, 3: {Unsafe: 1}}
	w := Watched{
		Insight:  func(_, drill int64) (Insight, bool) { x, ok := insights[drill]; return x, ok },
		Members:  []Member{{ID: 1}},
		Attempts: []Attempt{{Member: 1, Drill: 1, Status: Scored}, {Member: 1, Drill: 2, Status: Handed}, {Member: 1, Drill: 3, LastMS: 1, Status: Going}, {Member: 1, Drill: 4}},
		Results:  []Result{{Member: 1, Drill: 1, Minutes: 40, Unsafe: 3, Right: true}, {Member: 1, Drill: 4, Score: 50}},
	}
	row := Board(&w, 0)[0]
	require.Equal(t, 3+2+1, row.Unsafe, "of a call that is scored, as it was scored")
	require.Equal(t, map[int64]bool{1: true}, row.Rights, "no verdict is right or wrong of a drill that is no call")
}

func TestTheBoardTellsWhatIsBeingMarked(t *testing.T) {
	w := Watched{
		Insight: func(int64, int64) (Insight, bool) { return Insight{}, false },
		Members: []Member{{ID: 1}},
		Attempts: []Attempt{
			{Member: 1, Drill: 1, Acts: 1, Status: Scored}, {Member: 1, Drill: 2, Acts: 1, Status: Handed}, {Member: 1, Drill: 3, Asked: 9, Status: Going}, {Member: 1, Drill: 4, Status: Going},
		},
	}
	row := Board(&w, 0)[0]
	require.Equal(t, [][]int64{{1, 2, 3}, {1, 2}, {2}}, [][]int64{row.Begun, row.Closed, row.Marking})
	w.Class.EndMS = 1
	require.Equal(t, []int64{2, 3}, Board(&w, 2)[0].Marking, "what is under way is handed in, where something was done")
}

// A second is two hours of a call at the most, and reading clocks takes half a minute of
// it, not half a minute at that pace.
func TestACallRunsNoFasterThanAPage(t *testing.T) {
	require.Equal(t, int64(30/sim.TickS), LatestTick(0))
	require.Equal(t, int64((7200+30)/sim.TickS), LatestTick(1000))
}

func TestAnUploadIsReadWithinBounds(t *testing.T) {
	list := func(n int) string { return `{"acts": [` + strings.TrimSuffix(strings.Repeat("{},", n), ",") + `]}` }
	var u SentUpload
	require.NoError(t, json.Unmarshal([]byte(list(MaxBatch)), &u))
	require.Len(t, u.Acts, MaxBatch)
	u = SentUpload{}
	require.ErrorContains(t, json.Unmarshal([]byte(list(350_000)), &u), "more than 200")
	require.LessOrEqual(t, cap(u.Acts), 2*MaxBatch)
	for text, fits := range map[string]bool{`{"acts": null}`: true, `{"acts": []}`: true, `{"acts": {}}`: false, `{"acts": [1]}`: false, `{"acts": [{"score": 1}]}`: false} {
		require.Equal(t, fits, json.Unmarshal([]byte(text), &SentUpload{}) == nil, text)
	}
}

func FuzzFreshNeverTakesWhatWasKept(f *testing.F) {
	f.Add(0, 3, 2, int64(5))
	f.Add(2, 1, 3, int64(0))
	f.Fuzz(func(t *testing.T, from, n, have int, tick int64) {
		if n < 0 || n > MaxBatch || have < 0 || have > 1000 || from < -5 || from > 1000 {
			t.Skip()
		}
		u := Upload{From: from, Acts: make([]sim.LogAct, n)}
		for i := range u.Acts {
			u.Acts[i].Tick = tick
		}
		if from < 0 {
			return // Check refuses it
		}
		var kept []Act
		for i := from; i < min(have, from+n); i++ {
			kept = append(kept, Act{Seq: i, LogAct: u.Acts[i-from]})
		}
		fresh, err := u.Fresh(have, kept)
		if (from > have) != (err != nil) {
			t.Fatalf("from %d, have %d: %v", from, have, err)
		}
		if err == nil && len(fresh) != max(0, from+n-max(have, from)) {
			t.Fatalf("from %d, %d acts, have %d: %d are new", from, n, have, len(fresh))
		}
	})
}

func TestACallIsDrawnFromThoseThatHaveWhatIsAskedFor(t *testing.T) {
	all := []Choice{
		{Kind: Call, Ref: "a", Rung: 1, Faults: []string{"x"}},
		{Kind: Call, Ref: "b", Rung: 2, Faults: []string{"x", "y"}},
		{Kind: Call, Ref: "c", Rung: 2, Faults: []string{"z"}},
		{Kind: Sequence, Ref: "s"},
	}
	for want, w := range map[string]Wanted{
		"abc": {}, "ab": {Fault: "x"}, "b": {Fault: "x", Rung: [2]int{2, 2}}, "c": {Ref: "c"}, "": {Ref: "c", Fault: "x"}, "a": {Rung: [2]int{1, 1}},
	} {
		got := ""
		for _, c := range w.Calls(all) {
			got += c.Ref
		}
		require.Equal(t, want, got, "%+v", w)
	}
}

func TestWhoMakesAMistakeTwiceIsOne(t *testing.T) {
	type made struct {
		member, drill int64
		what          []string
	}
	for name, x := range map[string]struct {
		made []made
		want []Mistake
	}{
		"nobody":            {nil, []Mistake{}},
		"one in two drills": {[]made{{1, 2, []string{"a"}}, {1, 1, []string{"a"}}}, []Mistake{{"a", "", []int64{1}, []int64{1, 2}}}},
		"two in one drill":  {[]made{{1, 1, []string{"a"}}, {2, 1, []string{"a"}}}, []Mistake{{"a", "", []int64{1, 2}, []int64{1}}}},
		"two are more than one twice": {
			[]made{{1, 1, []string{"a", "b"}}, {1, 2, []string{"a"}}, {1, 3, []string{"a"}}, {2, 2, []string{"b"}}},
			[]Mistake{{"b", "", []int64{1, 2}, []int64{1, 2}}, {"a", "", []int64{1}, []int64{1, 2, 3}}},
		},
		"as many, by their names": {[]made{{1, 1, []string{"b", "a"}}}, []Mistake{{"a", "", []int64{1}, []int64{1}}, {"b", "", []int64{1}, []int64{1}}}},
	} {
		w := Watched{Attempts: []Attempt{{Member: 9, Drill: 9}}} // nobody follows it
		known := map[pair]Insight{}
		for _, m := range x.made {
			w.Attempts = append(w.Attempts, Attempt{Member: m.member, Drill: m.drill})
			var slips []Slip
			for _, what := range m.what {
				slips = append(slips, Slip{What: what})
			}
			known[pair{m.member, m.drill}] = Insight{Mistakes: slips}
		}
		w.Insight = func(member, drill int64) (Insight, bool) {
			i, ok := known[pair{member, drill}]
			return i, ok
		}
		require.Equal(t, x.want, Mistakes(&w), name)
	}
}

func TestTheBoardTellsWhatWasAnsweredWrong(t *testing.T) {
	report := func(marks any) []byte {
		text, err := json.Marshal(marks)
		require.NoError(t, err)
		return text
	}
	sequence := func(scores ...float64) []byte {
		m := SequenceMarks{}
		for i, score := range scores {
			m.Exercises = append(m.Exercises, SequenceMark{Kind: SequenceKinds[i], Stop: "Backwash", Answered: score >= 0, Score: score})
		}
		return report(m)
	}
	sizing := sim.SizingMarks{Figures: []sim.SizingFigureMark{
		{Name: "Salt", Verdict: "wrong"}, {Name: "Water", Verdict: "follows"}, {Name: "Tank", Verdict: "missing"}, {Name: "Bed", Verdict: "right"},
	}}
	w := Watched{
		Insight: func(int64, int64) (Insight, bool) { return Insight{}, false },
		Drills:  []Drill{{ID: 1, Kind: Sequence}, {ID: 2, Kind: Sizing}, {ID: 3, Kind: Call}},
		Results: []Result{
			{Member: 1, Drill: 1, Report: sequence(WholeMark, 0, 60, -1)},
			{Member: 2, Drill: 1, Report: sequence(WholeMark, 0, WholeMark, 0)},
			{Member: 3, Drill: 1, Report: []byte(`{"Exercises": [{"ID": "x", "Answered": true}]}`)}, // of an older server
			{Member: 1, Drill: 2, Report: report(sizing)},
			{Member: 2, Drill: 3}, // the store leaves out a call's
		},
	}
	require.Equal(t, []Mistake{
		{"seats: Backwash", "", []int64{1, 2}, []int64{1}},
		{"figure: Salt", "", []int64{1}, []int64{2}},
		{"lobes: Backwash", "", []int64{2}, []int64{1}},
		{"path: Backwash", "", []int64{1}, []int64{1}},
	}, Mistakes(&w))
	for _, m := range Mistakes(&w) {
		kind, _, _ := strings.Cut(m.What, ": ")
		require.Contains(t, SlipKinds(), kind)
	}
}
