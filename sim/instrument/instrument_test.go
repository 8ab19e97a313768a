package instrument_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

func unitInService(t *testing.T, change func(c *plant.Condition)) (*plant.Model, *plant.State) {
	t.Helper()
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	f, err := scenario.Decode("mill", data)
	require.NoError(t, err)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	c := plant.Healthy()
	if change != nil {
		change(&c)
	}
	s := m.Start(c)
	s.NoDraw = true
	return m, s
}

func TestReadingsScatterAsTheInstrumentSays(t *testing.T) {
	m, s := unitInService(t, nil)
	for _, in := range instrument.All() {
		if in.Quantity == instrument.Sighting {
			continue
		}
		t.Run(in.ID, func(t *testing.T) {
			x := in.Exact(m, s)
			if x.Seen != "" {
				x = in.Rounded(instrument.Reading{Value: 3}) // nothing to measure: as if there were
			}
			if in.Most > 0 {
				x.Value = in.Most / 2 // off the end of the scale, where no reading is above
			}
			exact := x.Value
			r := repro.NewStream(7, in.ID)
			const n = 4000
			var sum, squares float64
			for range n {
				v := in.Noisy(x, &r).Value
				steps := v / in.Resolution
				require.InDelta(t, math.Round(steps), steps, 1e-6, "a whole number of steps")
				sum += v
				squares += (v - exact) * (v - exact)
			}
			if exact > 3*in.Sigma(exact) || in.Signed {
				require.InDelta(t, exact, sum/n, 0.1*in.Sigma(exact)+0.05*in.Resolution, "right on the mean")
			}
			require.Less(t, math.Sqrt(squares/n), 1.3*in.Sigma(exact), "no wider than Sigma says")
		})
	}
}

func TestNoReadingIsBeyondTheScale(t *testing.T) {
	in, _ := instrument.Find("brine-strength")
	r := repro.NewStream(3, in.ID)
	for range 500 {
		require.LessOrEqual(t, in.Noisy(instrument.Reading{Value: 1}, &r).Value, 1.0)
	}
}

func TestAFamilyTellsHowTheHardWaterCameAndWent(t *testing.T) {
	const day = 86400
	for _, row := range []struct {
		since float64 // days ago it was first noticed; 0 never
		hard  plant.HardDays
		told  string
	}{
		{0, plant.HardDays{Soft: 9}, "it is not hard that we know of"},
		{1, plant.HardDays{Hard: 1, Spells: 1}, "since yesterday or so"},
		{6, plant.HardDays{Hard: 6, Spells: 1}, "for about a week"},
		{30, plant.HardDays{Hard: 29, Soft: 1, Spells: 2}, "for longer than a week"},
		{30, plant.HardDays{Hard: 15, Soft: 15, Spells: 8, SoftForDays: 1}, "on and off, for longer than a week"},
		{3, plant.HardDays{Hard: 2, Soft: 1, Spells: 2}, "on and off, for a few days"},
		{20, plant.HardDays{Hard: 12, Soft: 2, Spells: 3}, "on and off, for longer than a week"},
		{10, plant.HardDays{Soft: 10, SoftForDays: 10}, "now and then, never for a whole day"},
		{20, plant.HardDays{Hard: 4, Soft: 16, Spells: 1, SoftForDays: 16}, "it was for a time, but not these days"},
	} {
		m, s := unitInService(t, nil)
		s.TimeS, s.Log.Hard = 40*day, row.hard
		if row.since > 0 {
			s.Log.HardFromS = s.TimeS - row.since*day
		}
		ask, _ := instrument.Find("ask-since")
		require.Equal(t, row.told, ask.Exact(m, s).Seen)
	}
}

func TestOnlyTheBrineLineReadsBelowZero(t *testing.T) {
	m, s := unitInService(t, nil)
	for _, in := range instrument.All() {
		if in.Quantity == instrument.Sighting || in.Signed {
			continue
		}
		r := repro.NewStream(1, in.ID)
		for range 500 {
			require.GreaterOrEqual(t, in.Noisy(in.Exact(m, s), &r).Value, 0.0, in.ID)
		}
	}
}

func TestSightingsTellWhatIsThere(t *testing.T) {
	for _, row := range []struct {
		situation string
		change    func(c *plant.Condition)
		id, seen  string
	}{
		{"sound injector", nil, "look-injector", "bores clear, edges sharp, sizes as on the unit's plate"},
		{"plugged nozzle", func(c *plant.Condition) { c.NozzleOpen = 0.04 }, "look-injector", "nozzle blocked with grit"},
		{"half a nozzle", func(c *plant.Condition) { c.NozzleOpen = 0.6 }, "look-injector", "nozzle partly blocked with grit"},
		{"screen looked at for a plugged nozzle", func(c *plant.Condition) { c.NozzleOpen = 0.04 }, "look-screen", "clear"},
		{"worn pass seat", func(c *plant.Condition) { c.SeatLeakCv[valve.Pass] = 1.2 }, "look-seats", "the pass seat is cut through and its disc does not close"},
		{"salt in its place", nil, "salt-probe", "salt loose and solid to the floor"},
		{"no salt", func(c *plant.Condition) { c.SaltLeft = 0 }, "salt-look", "no salt"},
		{"in service", nil, "drain-look", instrument.NothingRuns},
		{"a time clock", nil, "set-hardness", "no such thing: it goes by days"},
		{"a time clock", nil, "set-capacity", "no such thing: it goes by days"},
		{"a time clock", nil, "meter-count", "no such thing: it goes by days"},
		{"nothing at the taps", nil, "ask-shower", "no"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			m, s := unitInService(t, row.change)
			in, ok := instrument.Find(row.id)
			require.True(t, ok)
			require.Equal(t, row.seen, in.Exact(m, s).Seen)
		})
	}
}

func TestAFamilyTellsOfSaltAndOfAWeakShower(t *testing.T) {
	for _, row := range []struct {
		situation    string
		weakS, drawS float64
		saltyM3      float64
		told         string
	}{
		{"salt only", 0, 3600, 0.02, "it tasted of salt more than once"},
		{"weak only", 1800, 3600, 0, "the shower has become weak"},
		{"both", 1800, 3600, 0.02, "it tasted of salt more than once, and the shower has become weak"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			m, s := unitInService(t, nil)
			s.Ledger.HouseSaltyM3, s.Log.WeakS, s.Log.DrawS = row.saltyM3, row.weakS, row.drawS
			ask, _ := instrument.Find("ask-shower")
			require.Equal(t, row.told, ask.Exact(m, s).Seen)
		})
	}
}

// TestComplaintsAreProvenGoneByTheirTests has a reading on either side of what shows a
// complaint to be gone.
func TestComplaintsAreProvenGoneByTheirTests(t *testing.T) {
	m, _ := unitInService(t, nil)
	rows := map[string]struct {
		gone, stays       float64
		goneWord, staying string
	}{
		"conductivity-house": {gone: 0.09, stays: 0.4},
		"chloride-house":     {gone: 0.21, stays: 0.3},
		"house-flow":         {gone: 4 * unit.GPM, stays: 2 * unit.GPM},
		"pressure-running":   {gone: 30 * unit.PSI, stays: 12 * unit.PSI},
		"flow-idle":          {gone: 0, stays: 0.2 * unit.GPM},
		"drain-look":         {goneWord: instrument.NothingRuns, staying: "a trickle"},
		"drain-listen":       {goneWord: "silence", staying: "a trickle"},
		"brine-level":        {gone: m.Config().BrineM, stays: 2 * m.Config().BrineM},
		"kitchen-compare":    {goneWord: "both alike", staying: "the kitchen's is the harder by far"},
		"supply-meter":       {goneWord: "mains at the outlet, its voltage out of the plug-in supply", staying: "mains at the outlet, nothing out of the plug-in supply"},
		"strainer-look":      {goneWord: "clean", staying: "resin beads in the strainer"},
	}
	met := map[string]bool{}
	for _, c := range instrument.Complaints() {
		for _, p := range c.Proofs() {
			in, ok := instrument.Find(p.Test)
			require.True(t, ok, p.Test)
			row, ok := rows[p.Test]
			require.True(t, ok, p.Test)
			require.Equal(t, row.goneWord != "", in.Quantity == instrument.Sighting, p.Test)
			require.True(t, p.Shows(m, row.gone, row.goneWord), "%s: %s", c.ID, p.Test)
			require.False(t, p.Shows(m, row.stays, row.staying), "%s: %s", c.ID, p.Test)
			met[p.Test] = true
		}
	}
	require.Len(t, met, len(rows))
}

func TestTheKitchenCanHaveWaterOfItsOwn(t *testing.T) {
	for _, row := range []struct {
		situation string
		raw       float64
		where     string
		compared  string
	}{
		{"all behind the unit", 0, "at none that we know of", "both alike"},
		{"the kitchen ahead of it", 1, "in the kitchen: kettle and cups. In the bath we have seen nothing of it", "the kitchen's is the harder by far"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			m, s := unitInService(t, func(c *plant.Condition) { c.KitchenRaw = row.raw })
			s.HouseTap = 0.3
			for range 60 {
				m.Step(s, 1)
			}
			ask, _ := instrument.Find("ask-where")
			kitchen, _ := instrument.Find("kitchen-compare")
			house, _ := instrument.Find("hardness-house")
			require.Equal(t, row.where, ask.Exact(m, s).Seen)
			require.Equal(t, row.compared, kitchen.Exact(m, s).Seen)
			require.InDelta(t, 0, house.Exact(m, s).Value, 0.5*unit.GPG)
		})
	}
}

func TestABridgeLooksFullAndRingsHollow(t *testing.T) {
	m, s := unitInService(t, func(c *plant.Condition) { c.SaltBridge = 1 })
	for range 3 * 24 {
		m.Step(s, 60)
	}
	s.StartNow = true
	for m.Step(s, 0.25); s.Control.Regenerating; {
		m.Step(s, m.MaxStep(s))
	}
	look, _ := instrument.Find("salt-look")
	probe, _ := instrument.Find("salt-probe")
	require.Equal(t, "plenty, dry on top", look.Exact(m, s).Seen)
	require.Equal(t, "rod breaks through a crust into a hollow", probe.Exact(m, s).Seen)
}

func TestHardnessOfTheFeedIsThatOfTheScenario(t *testing.T) {
	m, s := unitInService(t, nil)
	raw, _ := instrument.Find("hardness-raw")
	require.Equal(t, instrument.NothingRuns, raw.Exact(m, s).Seen, "the tap is shut")
	s.RawTap = 0.5
	m.Step(s, 1)
	m.Step(s, 1)
	require.InDelta(t, 16*unit.GPG, raw.Exact(m, s).Value, 1e-3)
	house, _ := instrument.Find("hardness-house")
	s.HouseTap = 0.3
	for range 30 {
		m.Step(s, 1)
	}
	require.Less(t, house.Exact(m, s).Value, 0.1*unit.GPG, "a fresh bed softens")
}

func TestEveryOpenablePartHasOneLook(t *testing.T) {
	looks := 0
	for i := range instrument.All() {
		in := &instrument.All()[i]
		if !in.NeedsOpening() {
			continue
		}
		looks++
		found, ok := instrument.LookAt(in.Where)
		require.True(t, ok)
		require.Equal(t, in.ID, found.ID, "one look to a part")
	}
	require.Positive(t, looks)
}

func TestAFlowIsMeasuredOverTheWholeTest(t *testing.T) {
	m, s := unitInService(t, nil)
	bucket, _ := instrument.Find("drain-flow")
	s.AdvanceNow = true
	for m.Step(s, 0.25); s.Control.Moving; {
		m.Step(s, 0.25)
	}
	from := s.Ledger
	for range 120 {
		m.Step(s, 1)
	}
	s.AdvanceNow = true // the position ends before the test does
	for range 60 {
		m.Step(s, 1)
	}
	whole := bucket.Over(m, s, &from, 180).Value
	require.InDelta(t, (s.Ledger.DrainM3-from.DrainM3)/180, whole, 1e-12)
	require.Greater(t, whole, 2*bucket.Exact(m, s).Value)
}

func TestNobodyHearsAMotorThatIsDead(t *testing.T) {
	ask, _ := instrument.Find("ask-noise")
	hears := func(broken func(c *plant.Condition)) string {
		m, s := unitInService(t, broken)
		s.Log.Last = plant.Run{Seconds: 5000}
		return ask.Exact(m, s).Seen
	}
	require.Equal(t, "nothing: it has not run at night", hears(func(c *plant.Condition) { c.MotorDead = 1 }))
	require.Equal(t, "nothing: it has not run at night", hears(func(c *plant.Condition) { c.CurrentLost = 1 }))
	require.Equal(t, "the motor, and hardly any water", hears(func(c *plant.Condition) { c.GearStripped = 1 }))
}

func TestBeadsAtTheTapsComeOfABrokenWayAndNotOfALeakAbove(t *testing.T) {
	strainer, ok := instrument.Find("strainer-look")
	require.True(t, ok)
	for _, row := range []struct {
		broken func(c *plant.Condition)
		seen   string
	}{
		{nil, "clean"},
		{func(c *plant.Condition) { c.RiserSealCv = 2.5 }, "clean"},
		{func(c *plant.Condition) { c.RiserCrackCv = 2.5 }, "resin beads in the strainer"},
		{func(c *plant.Condition) { c.LowerDistGap = 1 }, "resin beads in the strainer"},
		{func(c *plant.Condition) { c.LinesCrossed = 1 }, "resin beads in the strainer"},
		{func(c *plant.Condition) { c.BedCut = 0.9 }, "fine amber fragments in the strainer"},
	} {
		m, s := unitInService(t, row.broken)
		require.Equal(t, row.seen, strainer.Exact(m, s).Seen)
	}
}

func TestAMultimeterFindsWhereTheCurrentEnds(t *testing.T) {
	seen := func(id string, broken func(c *plant.Condition)) string {
		in, ok := instrument.Find(id)
		require.True(t, ok)
		m, s := unitInService(t, broken)
		return in.Exact(m, s).Seen
	}
	lost, dead := func(c *plant.Condition) { c.CurrentLost = 1 }, func(c *plant.Condition) { c.MotorDead = 1 }
	require.Equal(t, "mains at the outlet, nothing out of the plug-in supply", seen("supply-meter", lost))
	require.Equal(t, "mains at the outlet, its voltage out of the plug-in supply", seen("supply-meter", dead))
	require.Equal(t, "no voltage at its terminals, winding sound", seen("motor-meter", lost))
	require.Equal(t, "voltage there, winding open", seen("motor-meter", dead))
	require.Equal(t, "dead: no power", seen("drive-try", lost))
	require.Equal(t, "the drum does not move", seen("drum-watch", lost))
}

func TestABypassHandleShowsWhereItStands(t *testing.T) {
	for _, row := range []struct {
		situation string
		at        plant.BypassPos
		ajar      float64
		seen      string
	}{
		{"turned home", plant.BypassService, 0, "to its service mark"},
		{"its stop set wrong", plant.BypassService, 0.2, "it stops short of its service mark"},
		{"the same, bypassed", plant.BypassBypass, 0.2, "to its bypass mark"},
		{"shut", plant.BypassShut, 0, "to its shut mark"},
	} {
		t.Run(row.situation, func(t *testing.T) {
			m, s := unitInService(t, func(c *plant.Condition) { c.BypassAjar = row.ajar })
			s.Bypass = row.at
			handle, _ := instrument.Find("bypass-handle")
			require.Equal(t, row.seen, handle.Exact(m, s).Seen)
		})
	}
}
