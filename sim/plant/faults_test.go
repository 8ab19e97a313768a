package plant_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

func TestFieldsAreAllThatAConditionHas(t *testing.T) {
	var c plant.Condition
	v := reflect.ValueOf(&c).Elem()
	n := 0.0
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.Array {
			for k := range f.Len() {
				n++
				f.Index(k).SetFloat(n)
			}
		} else {
			n++
			f.SetFloat(n)
		}
	}
	for i, x := range c.Fields() {
		require.Equal(t, float64(i+1), x, "in the order of declaration")
	}
	require.Len(t, c.Fields(), int(n))
}

func TestBooksCloseWithEveryFault(t *testing.T) {
	m := mill(t).Coarse()
	for _, f := range fault.Catalogue() {
		c := plant.Healthy()
		f.Apply(&c, f.Severities[len(f.Severities)-1])
		s := m.Start(c)
		s.Control.Skip = 0 // a regeneration in the first night
		start := s.Clone()
		run(m, s, 1.5*unit.Day)
		require.Zero(t, s.Unsolved, f.ID)
		require.LessOrEqual(t, m.Audit(start, s).Worst(), 1e-9, "%s: %+v", f.ID, m.Audit(start, s))
	}
}

// Two faults at a time, drawn at random, one after the other for 90 days each.
func TestBooksCloseOverNinetyDaysWithRandomFaults(t *testing.T) {
	m := mill(t).Coarse()
	r := repro.NewStream(2026, "random faults")
	all := fault.Catalogue()
	for range 2 {
		c := plant.Healthy()
		var ids []string
		for range 2 {
			f := &all[int(r.Float64()*float64(len(all)))]
			f.Apply(&c, r.Float64())
			ids = append(ids, f.ID)
		}
		s := m.Start(c)
		start := s.Clone()
		run(m, s, 90*unit.Day)
		b := m.Audit(start, s)
		t.Logf("%v: worst %.1e of %.0f m³", ids, b.Worst(), s.Ledger.SupplyM3)
		require.Zero(t, s.Unsolved)
		require.LessOrEqual(t, b.Worst(), 1e-9, "%v: %+v", ids, b)
	}
}

// at sends a unit with a fault to a stop and lets it settle.
func at(t *testing.T, m *plant.Model, id string, faults map[string]float64) *plant.State {
	s := m.Start(condition(faults))
	s.NoDraw = true
	toStation(t, m, s, id)
	run(m, s, 60)
	return s
}

func TestALeakingBrineLineDrawsAirAndLessBrine(t *testing.T) {
	m := mill(t)
	sound := at(t, m, "brine", nil)
	require.Zero(t, sound.Air.M3S)
	last := m.TankDraw(sound)
	for _, severity := range []float64{0.3, 0.6, 1} {
		s := at(t, m, "brine", map[string]float64{"brine-line-air": severity})
		require.Positive(t, s.Air.M3S, "bubbles")
		require.Less(t, m.TankDraw(s), last, "the larger the hole, the less brine: %v", severity)
		require.InDelta(t, m.Flow(s, plant.Drain), m.Flow(s, plant.MotiveSeat)+m.TankDraw(s), 1e-8,
			"what leaves through the bed is water alone")
		last = m.TankDraw(s)
	}
}

func TestABallThatNeverSeatsLetsTheTankRunDryAndDrawsAir(t *testing.T) {
	m := mill(t)
	s := at(t, m, "brine", map[string]float64{"air-check-open": 1})
	run(m, s, 3000)
	require.Less(t, m.Tank(s).LevelM, 0.02)
	require.Greater(t, s.Air.Share, 0.9)
	require.Zero(t, m.TankDraw(s))
	sound := at(t, m, "brine", nil)
	run(m, sound, 3000)
	require.InDelta(t, m.Config().Brine.AirCheckM, m.Tank(sound).LevelM, 0.01)
	require.Zero(t, sound.Air.M3S)
}

func TestWaterGoesPastTheBedWhereItCan(t *testing.T) {
	m := mill(t)
	hard := func(faults map[string]float64) float64 {
		s := m.Start(condition(faults))
		s.NoDraw, s.HouseTap = true, 0.35
		run(m, s, 300)
		w := m.Water(s, plant.HouseSide)
		return w.Hardness() / unit.GPG
	}
	require.Less(t, hard(nil), 0.2)
	for _, id := range []string{
		"riser-seal", "riser-cracked", "resin-channelled", "pass-seat-worn", "pass-seat-stuck-open",
		"upflow-seat-worn", "bypass-leak", "bypass-ajar",
	} {
		f, ok := fault.Find(id)
		require.True(t, ok)
		require.Greater(t, hard(map[string]float64{id: f.Severities[0]}), 0.5, id)
	}
}

// Design section 6: what tells a leaking pass seat from a leaking riser seal is
// the hardness of the drain water in fast rinse.
// Leaks of shut seats would change the water of a pipe within minutes, had it no volume.
func TestWaterThatStandsStaysWhatItWas(t *testing.T) {
	m := mill(t)
	for _, row := range []struct {
		name   string
		change func(c *plant.Condition)
	}{
		{"healthy", func(*plant.Condition) {}},
		{"riser seal nicked", func(c *plant.Condition) { c.RiserSealCv = 0.6 }},
		{"bypass leaks", func(c *plant.Condition) { c.BypassLeakCv = 0.4 }},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := plant.Healthy()
			row.change(&c)
			s := m.Start(c)
			s.NoDraw, s.HouseTap = true, 0.5
			run(m, s, 600)
			for _, p := range []plant.Path{plant.House, plant.BypassOut, plant.Riser} {
				drawn := m.PathWater(s, p).Hardness()
				x := s.Clone()
				x.HouseTap = 0
				run(m, x, 600)
				require.InDelta(t, drawn, m.PathWater(x, p).Hardness(), 0.02, "path %d", p)
			}
			drawn := m.PathWater(s, plant.House).Anion()
			s.HouseTap, s.StartNow = 0, true
			run(m, s, 2400)
			require.Greater(t, m.PathWater(s, plant.Drain).Anion(), 10*drawn, "in brine draw")
			require.InDelta(t, drawn, m.PathWater(s, plant.House).Anion(), 0.02*drawn, "the house pipe, while brine goes to the drain")
		})
	}
}

func TestFastRinseTellsTheRiserSealFromThePassSeat(t *testing.T) {
	m := mill(t)
	drain := func(id string) float64 {
		s := m.Start(condition(map[string]float64{id: 0.5}))
		s.NoDraw = true
		toStation(t, m, s, "fast-rinse")
		run(m, s, 240)
		w := m.Water(s, plant.DrainLine)
		return w.Hardness() / unit.GPG
	}
	require.Greater(t, drain("riser-seal"), 3.0)
	require.Less(t, drain("pass-seat-worn"), 1.0)
}

func TestCrossedLinesSendTheHousesWaterUpThroughTheBed(t *testing.T) {
	m := mill(t)
	s := m.Start(condition(map[string]float64{"lines-crossed": 1}))
	s.NoDraw, s.HouseTap = true, 0.35
	run(m, s, 120)
	require.Positive(t, m.Flow(s, plant.House))
	require.Less(t, m.Flow(s, plant.Bed), -0.9*m.Flow(s, plant.House))
	require.Greater(t, s.BedDepthM, 1.1*m.Config().Bed.DepthM, "and lift it")
}

func TestABackwashWithoutItsControlCarriesResinOff(t *testing.T) {
	m := mill(t)
	for _, row := range []struct {
		id   string
		lost bool
	}{{"drain-control-missing", true}, {"drain-control-small", false}} {
		s := at(t, m, "backwash", map[string]float64{row.id: 1})
		run(m, s, 540)
		require.Equal(t, row.lost, m.Losing(s), row.id)
		toStation(t, m, s, "brine")
		require.Equal(t, row.lost, m.LostShare(s) > 0.01, row.id)
		require.InDelta(t, m.Config().Bed.DepthM*(1-m.LostShare(s)), m.RestDepthM(s), 1e-12)
	}
}

func TestASeatThatSticksDoesNotHeedItsLobe(t *testing.T) {
	m := mill(t)
	s := at(t, m, "backwash", map[string]float64{"backwash-seat-stuck-shut": 1})
	require.Zero(t, m.Lift(s, valve.Backwash))
	require.Less(t, m.Flow(s, plant.Drain), 1e-6)
	s = at(t, m, "service", map[string]float64{"rinse-seat-stuck-open": 1})
	require.Equal(t, 1.0, m.Lift(s, valve.Rinse))
	require.Greater(t, m.Flow(s, plant.Drain)/unit.GPM, 2.0, "softened water runs to the drain all day")
}

func TestASlippedDrumLiftsItsSeatsLate(t *testing.T) {
	m := mill(t)
	s := m.Start(condition(map[string]float64{"drum-slipped": 1}))
	s.Control.DrumDeg = 112
	require.Equal(t, m.Config().Program.Lift(valve.Upflow, 72), m.Lift(s, valve.Upflow))
}

func TestADeadMotorAndAStrippedGearLeaveTheDrumAtHome(t *testing.T) {
	m := mill(t)
	for _, id := range []string{"motor-dead", "gear-stripped", "current-lost"} {
		s := m.Start(condition(map[string]float64{id: 1}))
		run(m, s, 5*unit.Day)
		require.Zero(t, s.Control.DrumDeg, id)
		require.Zero(t, s.Ledger.DrawnM3, id)
	}
}

// Plugged alike, either basket takes the same of the flow to the house, whichever way round
// they stand in it: only a look tells them apart.
func TestEitherPluggedDistributorWeakensTheTapsAndTheBackwash(t *testing.T) {
	m := mill(t)
	flows := func(faults map[string]float64) (house, backwash float64) {
		s := m.Start(condition(faults))
		s.NoDraw, s.HouseTap = true, 1
		run(m, s, 60)
		house = m.Flow(s, plant.House)
		s.HouseTap = 0
		toStation(t, m, s, "backwash")
		run(m, s, 60)
		return house, m.Flow(s, plant.Drain)
	}
	house, backwash := flows(nil)
	upperHouse, upperBackwash := flows(map[string]float64{"upper-distributor-plugged": 0.985})
	lowerHouse, lowerBackwash := flows(map[string]float64{"lower-distributor-plugged": 0.985})
	require.Less(t, upperHouse, 0.7*house)
	require.Less(t, upperBackwash, 0.7*backwash)
	require.InDelta(t, lowerHouse, upperHouse, 0.05*upperHouse)
	require.InDelta(t, lowerBackwash, upperBackwash, 0.05*upperBackwash)
}

func TestABrokenBasketLetsTheBedGoByTheWater(t *testing.T) {
	m := mill(t)
	lost := func(days float64, faults map[string]float64) float64 {
		s := m.Start(condition(faults))
		start := s.Clone()
		run(m, s, days*unit.Day)
		require.Less(t, m.Audit(start, s).Worst(), 1e-9)
		return m.LostShare(s)
	}
	broken := map[string]float64{"lower-distributor-broken": 1}
	require.Zero(t, lost(8, nil))
	four, eight := lost(4, broken), lost(8, broken)
	require.Greater(t, four, 0.002)
	require.InDelta(t, 2*four, eight, 0.5*four)
	require.Less(t, eight, 0.05)
}

// A leak through a shut seat moves a thousandth of what the line holds; a refill fills it
// within seconds.
func TestTheBrineLineKeepsWhatStandsInItUntilItIsDisplaced(t *testing.T) {
	m := mill(t)
	s := at(t, m, "brine", nil)
	salt := func() float64 { return m.PathWater(s, plant.BrineLine).Anion() }
	run(m, s, 300)
	drawn := salt()
	require.Greater(t, drawn, 4000.0, "nearly saturated, mol/m³")
	run(m, s, 3600)
	toStation(t, m, s, "fast-rinse")
	run(m, s, 240)
	require.Greater(t, salt(), 0.9*drawn)
	toStation(t, m, s, "refill")
	run(m, s, 30)
	require.Less(t, salt(), 0.01*drawn)
}

func TestACrackedTankLosesItsBrineAndARainedInOneGainsWater(t *testing.T) {
	m := mill(t)
	level := func(id string) float64 {
		s := m.Start(condition(map[string]float64{id: 1}))
		run(m, s, 2*unit.Day)
		return m.Tank(s).LevelM
	}
	sound := m.Tank(m.Start(plant.Healthy())).LevelM
	require.Less(t, level("tank-cracked"), 0.5*sound)
	require.Greater(t, level("tank-seep"), sound+0.1)
}

func TestASettingIsReadAsItIsSet(t *testing.T) {
	m := mill(t)
	require.Equal(t, 4, m.Panel(m.Start(plant.Healthy())).Days)
	require.Equal(t, 12, m.Panel(m.Start(condition(map[string]float64{"days-wrong": 1}))).Days)
	s := m.Start(condition(map[string]float64{"clock-wrong": 0.5}))
	wrong, _ := fault.Find("clock-wrong")
	require.InDelta(t, wrong.At(0.5), m.ClockFastS(s), 1)
	fixed := s.Cond
	fault.Do(&fixed, plant.PartController, fault.Adjust)
	m.Suffer(s, fixed)
	require.InDelta(t, 0, m.ClockFastS(s), 1)
}

func TestNewResinIsNew(t *testing.T) {
	m := mill(t)
	for _, id := range []string{"resin-lost", "resin-oxidised", "resin-iron"} {
		s := m.Start(condition(map[string]float64{id: 1}))
		start := s.Clone()
		c := s.Cond
		fault.Do(&c, plant.PartBed, fault.Replace)
		m.Suffer(s, c)
		run(m, s, unit.Day)
		require.Less(t, m.RustShare(s), 0.02, id)
		require.Zero(t, m.LostShare(s), id)
		require.LessOrEqual(t, m.Audit(start, s).Worst(), 1e-9, id)
	}
}

// sited is the mill house with a site of its own.
func sited(t *testing.T, site string) *plant.Model {
	text := strings.Replace(strings.NewReplacer("HARD", "16", "CAP", "19").Replace(demandHouse),
		`"faults"`, `"site": `+site+`, "faults"`, 1)
	f, err := scenario.Decode("sited", []byte(text))
	require.NoError(t, err)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	return m
}

func TestAWellsPressureGoesUpAndDownBetweenItsSwitchPoints(t *testing.T) {
	m := sited(t, `{"well": {"shutoff_psi": 80, "rated_psi": 40, "rated_gpm": 8, "tank_gal": 20, "precharge_psi": 28, "cut_in_psi": 30, "cut_out_psi": 50}}`)
	s := m.Start(plant.Healthy())
	s.NoDraw, s.HouseTap = true, 0.6
	least, most := math.Inf(1), 0.0
	for range 1800 {
		m.Step(s, 1)
		least = min(least, m.PressurePa(s, plant.Street)/unit.PSI)
		most = max(most, m.PressurePa(s, plant.Street)/unit.PSI)
	}
	require.InDelta(t, 30, least, 1)
	require.InDelta(t, 50, most, 1)
	require.Greater(t, s.Around.Well.Starts, 2)
}

func TestAnOutdoorUnitFreezesWhereFreshWaterStands(t *testing.T) {
	m := sited(t, `{"outdoors": 1, "air_mean_C": -8, "air_amplitude_C": 0, "air_swing_C": 1}`)
	s := m.Start(plant.Healthy())
	s.NoDraw = true
	toStation(t, m, s, "refill") // leaves refill water in the brine line
	toStation(t, m, s, "service")
	run(m, s, unit.Day)
	require.Greater(t, s.Around.BrineIce.Fraction, 0.99)
	toStation(t, m, s, "brine")
	require.Less(t, m.TankDraw(s)/unit.GPM, 0.05, "nothing comes through the ice")
	mild := sited(t, `{"outdoors": 1, "air_mean_C": 8, "air_amplitude_C": 0}`)
	s = mild.Start(plant.Healthy())
	run(mild, s, unit.Day)
	require.Zero(t, s.Around.BrineIce.Fraction)
}

func TestFeedFollowsItsSeasonAndItsChanges(t *testing.T) {
	m := sited(t, `{"feed_amplitude_C": 6, "feed_coldest_day": 40, "day_of_year": 38, "iron_mg_L": 1,
		"changes": [{"from_day": 5, "hardness_times": 1.5, "iron_more_mg_L": 2}]}`)
	s := m.Start(plant.Healthy())
	require.Equal(t, 6.0, s.Around.FeedC)
	before := s.Around
	run(m, s, 6*unit.Day)
	require.InDelta(t, 1.5*before.Feed.Hardness(), s.Around.Feed.Hardness(), 1e-12)
	require.InDelta(t, 3*before.FeedIron, s.Around.FeedIron, 1e-12)
	require.Positive(t, m.RustShare(s))
}

func TestABlendingBypassLetsSomeRawWaterThrough(t *testing.T) {
	f, err := scenario.Decode("blend", []byte(strings.Replace(
		strings.NewReplacer("HARD", "16", "CAP", "19").Replace(demandHouse), `"salt_dose_lb": 6`, `"salt_dose_lb": 6, "blend_cv": 0.4`, 1)))
	require.NoError(t, err)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	s := m.Start(plant.Healthy())
	s.NoDraw, s.HouseTap = true, 0.35
	run(m, s, 120)
	w := m.Water(s, plant.HouseSide)
	require.InDelta(t, 3.5, w.Hardness()/unit.GPG, 1.5)
}

func TestACounterCurrentUnitRegeneratesUpwards(t *testing.T) {
	f, err := scenario.Decode("up", []byte(strings.Replace(
		strings.NewReplacer("HARD", "16", "CAP", "12").Replace(demandHouse), `"salt_dose_lb": 6`, `"salt_dose_lb": 4, "program": "counter-current"`, 1)))
	require.NoError(t, err)
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	s := m.Start(plant.Healthy())
	start := s.Clone()
	run(m, s, 2*unit.Day)
	s.NoDraw = true
	toStation(t, m, s, "brine")
	run(m, s, 120)
	require.Negative(t, m.Flow(s, plant.Bed), "brine goes up")
	require.Greater(t, m.TankDraw(s)/unit.GPM, 0.05)
	require.Less(t, s.BedDepthM, 1.1*m.Config().Bed.DepthM, "and hardly lifts the bed")
	drawn, refilled, salt := regenerate(m, s)
	require.Positive(t, drawn+refilled)
	require.InDelta(t, 4*unit.Pound, salt*0.058443, 0.8*unit.Pound)
	s.HouseTap = 0.35
	run(m, s, 600)
	w := m.Water(s, plant.HouseSide)
	require.Less(t, w.Hardness()/unit.GPG, 0.3, "the polished end is where the water leaves")
	require.LessOrEqual(t, m.Audit(start, s).Worst(), 1e-9)
}

func TestEveryProgramRegeneratesTheBed(t *testing.T) {
	for _, id := range valve.ProgramIDs() {
		f, err := scenario.Decode("program", []byte(strings.Replace(
			strings.NewReplacer("HARD", "16", "CAP", "15").Replace(demandHouse), `"salt_dose_lb": 6`, `"salt_dose_lb": 6, "program": "`+id+`"`, 1)))
		require.NoError(t, err)
		m, err := plant.New(f.Config())
		require.NoError(t, err)
		s := m.Start(plant.Healthy())
		s.NoDraw, s.HouseTap = true, 1
		for m.Load(s, 20) < 0.5 {
			run(m, s, 600)
		}
		s.HouseTap = 0
		regenerate(m, s)
		held := 0.0
		for i := range 40 {
			held += m.Load(s, i) / 40
		}
		require.Less(t, held, 0.5, id)
		require.Zero(t, s.Unsolved, id)
	}
}

func TestSaltThatRunsOutIsBooked(t *testing.T) {
	m := mill(t).Coarse()
	s := m.Start(plant.Healthy())
	start := s.Clone()
	for _, severity := range []float64{0.5, 1} {
		run(m, s, 2*unit.Day)
		m.Suffer(s, condition(map[string]float64{"salt-absent": severity}))
		require.LessOrEqual(t, s.Tank.SolidMol, (1-severity)*start.Tank.SolidMol)
	}
	require.InDelta(t, -start.Tank.SolidMol, s.Ledger.SaltAddedMol-s.Ledger.SaltDissolvedMol, 1e-9*start.Tank.SolidMol)
	run(m, s, unit.Day)
	require.LessOrEqual(t, m.Audit(start, s).Worst(), 1e-9)
}

// What chlorine has cut off over the years was washed out with the water of those years.
func TestAResinThatOxidisesSaltsNoWater(t *testing.T) {
	m := mill(t)
	s := m.Start(condition(nil))
	start := s.Clone()
	run(m, s, 0.3*unit.Day)
	m.Exchange(s)
	stood := s.Bed.C
	for _, severity := range []float64{0.3, 0.6, 1} {
		m.Suffer(s, condition(map[string]float64{"resin-oxidised": severity}))
	}
	require.True(t, stood == s.Bed.C, "the water between the beads")
	run(m, s, unit.Day)
	require.Zero(t, s.Ledger.HouseSaltyM3)
	require.LessOrEqual(t, m.Audit(start, s).Worst(), 1e-9)
}

// TestAirThatARefillTakesAlongIsNoWater: a tape in the well sees water alone, and so does the
// tank's book.
func TestAirThatARefillTakesAlongIsNoWater(t *testing.T) {
	m := mill(t)
	for name, hole := range map[string]float64{"sound": 0, "loose fitting": 0.6} {
		s := at(t, m, "refill", map[string]float64{"brine-line-air": hole})
		m.Exchange(s)
		start, before := s.Clone(), m.Tank(s).LevelM
		run(m, s, 120)
		m.Exchange(s)
		drawn := s.Ledger.RefilledM3 - start.Ledger.RefilledM3
		require.InDelta(t, -120*m.TankDraw(s), drawn, 0.03*drawn, name)
		require.Equal(t, hole > 0, s.Ledger.TankAirM3 > 0, name)
		require.Greater(t, m.Tank(s).LevelM, before, name)
		require.InDelta(t, drawn*1e3, s.Ledger.TankInKg-start.Ledger.TankInKg, 0.03*drawn*1e3, name)
	}
}
