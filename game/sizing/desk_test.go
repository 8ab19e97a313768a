package sizing_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/sizing"
	"brinebench/sim"
)

func TestTheDeskComesBackAsItWasLeft(t *testing.T) {
	library := []sizing.Sheet{{ID: "one", JSON: sim.DrawSizing(9).JSON}}
	d := sizing.New(library)
	d.SetAnswer(with(d.Answer(), "capacity", "thirty", "grain"))
	require.True(t, d.Open("one"))
	require.False(t, d.Open("none"))
	d.Own = sound()
	require.Empty(t, d.TakeOwn())
	d.SetAnswer(with(d.Answer(), "hardness", "7", "dH"))
	u := d.Setup(true)
	u.Turn(&sizing.Dials(true)[2], 10)
	d.SetSetup(u)

	back := sizing.New(library)
	require.NoError(t, back.Restore(d.Text()))
	require.Equal(t, d.Text(), back.Text())
	require.Equal(t, sizing.Own, back.Source)
	require.Equal(t, "7", back.Answer().Typed["hardness"].Text)
	require.Equal(t, 11, back.Setup(true).At["set_hardness"])
	require.Nil(t, back.Draw("1"))
	require.Equal(t, "thirty", back.Answer().Typed["capacity"].Text, "an answer waits with its job")

	for _, bad := range []string{``, `[]`, `{"Answers":3}`, `{"Source":"drawn","Seed":-1}`} {
		d := sizing.New(library)
		was := string(d.Text())
		require.Error(t, d.Restore([]byte(bad)), bad)
		require.Equal(t, was, string(d.Text()), bad)
	}
}

// A sheet that is gone, an own job that cannot be read, a seed out of bounds: a drawn job
// comes in its place, and what was typed stays.
func TestAJobThatIsGoneTakesNothingAlong(t *testing.T) {
	for _, bad := range []string{`"Source":"own","OwnJob":{}`, `"Source":"library","Sheet":"gone"`, `"Source":"drawn","Seed":99999999999`, `"Source":"else"`} {
		d := sizing.New(nil)
		kept := `{` + bad + `,"Own":{"Typed":{"people":{"Text":"4"}}},"Answers":{"library-gone":{"Typed":{"hardness":{"Text":"7"}}}},"Setups":{"drawn-1/clock":{"At":{"clock":60}}}}`
		require.NoError(t, d.Restore([]byte(kept)), bad)
		require.Equal(t, sizing.Drawn, d.Source, bad)
		require.NotEmpty(t, d.Job.Title, bad)
		require.Equal(t, "4", d.Own.Typed["people"].Text, bad)
		require.Equal(t, "7", d.Answers["library-gone"].Typed["hardness"].Text, bad)
		require.Equal(t, 60, d.Setups["drawn-1/clock"].At["clock"], bad)
	}
}

// However much is done, what is kept can be brought back, and the present job is in it.
func TestWhatIsKeptCanBeBroughtBack(t *testing.T) {
	d := sizing.New(nil)
	for range 30 {
		d.Seed++ // not opened: that would take long
		f := sizing.Form{}
		for _, x := range d.Job.Figures {
			f.Set(x.ID, sizing.Typed{Text: strings.Repeat("<", 50_000)})
		}
		d.SetAnswer(f)
	}
	back := sizing.New(nil)
	require.NoError(t, back.Restore(d.Text()))
	require.Equal(t, d.Answer(), back.Answer())
	require.NotEmpty(t, back.Answer().Typed)
}

func TestMarksThatAreNoneAreNotKept(t *testing.T) {
	d := sizing.New(nil)
	for _, bad := range []string{"", "<undefined>", "[1]"} {
		require.Error(t, d.SetMarks([]byte(bad)), bad)
	}
	_, marked := d.MarksNow()
	require.False(t, marked)
	require.NoError(t, d.SetMarks([]byte(`{"Score":50}`)))
	require.NotEmpty(t, d.Text())
}

func TestAnOwnJobThatChangesLosesAllItsMarks(t *testing.T) {
	d := sizing.New(nil)
	d.Own = sound()
	require.Empty(t, d.TakeOwn())
	tried := func() (tried int) {
		for _, demand := range []bool{false, true} {
			if u := d.Setup(demand); u.Marks != nil {
				tried++
			}
		}
		if _, marked := d.MarksNow(); marked {
			tried++
		}
		return tried
	}
	for _, demand := range []bool{false, true} {
		u := d.Setup(demand)
		u.Turn(&sizing.Dials(demand)[0], 60)
		u.Marks = &sim.SizingSetupMarks{Score: 50}
		d.SetSetup(u)
	}
	require.NoError(t, d.SetMarks([]byte(`{"Score":50}`)))
	require.Empty(t, d.TakeOwn())
	require.Equal(t, 3, tried(), "the same job once more")
	d.Own = with(d.Own, "people", "7", "")
	require.Empty(t, d.TakeOwn())
	require.Zero(t, tried())
	require.Equal(t, 60, d.Setup(false).At["clock"], "what was set stays")
}

// A drawn title is a place and a case, so jobs share titles; what is kept of them by key
// must not.
func TestJobsOfOneTitleHaveKeysOfTheirOwn(t *testing.T) {
	d := sizing.New(nil)
	titles, keys := map[string]bool{}, map[string]bool{}
	const seeds = 16
	for range seeds {
		titles[d.Job.Title], keys[d.Key()] = true, true
		d.Another()
	}
	require.Less(t, len(titles), seeds, "titles are shared")
	require.Len(t, keys, seeds)
}

func TestAnswersOfLongAgoMakeRoom(t *testing.T) {
	d := sizing.New(nil)
	for range 60 {
		d.SetAnswer(with(sizing.Form{}, "hardness", "7", "gpg"))
		d.Seed++ // not opened: that would take long
	}
	require.LessOrEqual(t, len(d.Answers), 40)
	require.Less(t, len(d.Text()), 1<<16)
}
