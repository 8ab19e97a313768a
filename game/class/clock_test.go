package class

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTimeThatIsLeftHasSecondsTowardsItsEnd(t *testing.T) {
	for left, want := range map[int64]string{
		3_600_000: "60", 3_599_000: "60", 1_200_900: "20", 1_199_500: "20", 1_140_500: "19", 600_000: "10", 599_000: "9:59", 119_500: "2:00", 61_000: "1:01", 1: "0:01", 0: "0:00", -5000: "0:00",
	} {
		require.Equal(t, want, Countdown(left), "%d ms", left)
	}
}

func TestAFrozenClassHasTheTimeThatItHad(t *testing.T) {
	c := Class{DueMS: 1000, Frozen: true, FrozenMS: 600}
	require.Equal(t, int64(400), c.LeftMS(5000))
	require.False(t, c.Over(5000))
	require.Error(t, c.Shut(5000))
	c.Frozen = false
	require.True(t, c.TimeUp(1000))
	require.Equal(t, int64(1000+GraceMS), c.HandedMS())
	c.EndMS = 900
	require.Equal(t, int64(900+GraceMS), c.HandedMS())
	require.True(t, c.Over(950))
}

func TestWhatIsToldOfAClassIsWhatBecomesOfIt(t *testing.T) {
	var c Class
	for _, e := range []Event{{Kind: Extend, Text: "900"}, {Kind: Freeze, MS: 100}, {Kind: Freeze, MS: 150}} {
		c.Hear(&e)
	}
	require.Equal(t, Class{DueMS: 900, Frozen: true, FrozenMS: 100}, c)
	c.Hear(&Event{Kind: Thaw, MS: 200, Text: "1000"})
	require.Equal(t, int64(1000), c.DueMS)
	require.False(t, c.Frozen)
	c.Hear(&Event{Kind: Ended, MS: 300})
	require.Equal(t, int64(300), c.EndMS)
}

func TestTimeWaitsUntilItIsStarted(t *testing.T) {
	c := Class{LengthMS: 60_000}
	require.True(t, c.Waits())
	require.False(t, c.Over(1<<50))
	c.Hear(&Event{Kind: Extend, Text: "70000"})
	require.False(t, c.Waits())
	require.True(t, c.TimeUp(70_000))
	require.False(t, (&Class{}).Waits(), "there is no limit")
	require.False(t, (&Class{LengthMS: 1, EndMS: 1}).Waits())
}

func TestADrillIsBegunWhileTheClassIsAtWork(t *testing.T) {
	const limit, due = 60_000, 70_000
	for name, x := range map[string]struct {
		class Class
		word  string // why none can be begun, "" where one can
	}{
		"no limit":                      {Class{}, ""},
		"the time waits":                {Class{LengthMS: limit}, Early},
		"it waits, and all stand still": {Class{LengthMS: limit, Frozen: true, FrozenMS: 1}, Early},
		"it was started":                {Class{LengthMS: limit, DueMS: due}, ""},
		"it was started, and frozen":    {Class{LengthMS: limit, DueMS: due, Frozen: true, FrozenMS: 1}, Frozen},
		"frozen, and without a limit":   {Class{Frozen: true, FrozenMS: 1}, Frozen},
		"the time is up":                {Class{LengthMS: limit, DueMS: 20_000}, Late},
		"ended":                         {Class{LengthMS: limit, DueMS: due, EndMS: 1}, Closed},
		"ended before it was started":   {Class{LengthMS: limit, EndMS: 1}, Closed},
	} {
		word := ""
		if refusal, ok := AsRefusal(x.class.Shut(20_000)); ok {
			word = refusal.Word
		}
		require.Equal(t, x.word, word, name)
	}
}
