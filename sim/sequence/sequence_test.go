package sequence_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/sequence"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

const benchUnit = `{
  "format": "brinebench-scenario-1", "id": "bench", "title": "t", "customer": "c", "complaint": "c", "house": "h", "notes": [], "seed": 11,
  "water": {"hardness_gpg": 16, "calcium_share": 0.68, "sodium_mg_L": 14, "potassium_mg_L": 2, "temperature_C": 12},
  "supply": {"static_psi": 58, "residual_psi": 47, "residual_at_gpm": 10},
  "household": {"people": 4},
  "unit": {"set": "tank-9-in", "salt_dose_lb": 6},
  "controller": {"kind": "clock", "every_days": 4, "start": "02:00"},
  "history": {"days": 3, "days_since_regeneration": 0, "call_at": "09:30"},
  "faults": []
}`

func config(t testing.TB) plant.Config {
	t.Helper()
	f, err := scenario.Decode("bench", []byte(benchUnit))
	require.NoError(t, err)
	return f.Config()
}

// bench is the unit at a position of its program.
func bench(t testing.TB, stop string) (*plant.Model, *plant.State, sequence.Setting) {
	t.Helper()
	cfg := config(t)
	full, err := plant.New(cfg)
	require.NoError(t, err)
	m := full.Coarse()
	s := m.Start(plant.Healthy())
	sequence.At(m, s, stop)
	for _, x := range cfg.Program.Stops {
		if x.ID == stop {
			return m, s, x.Open
		}
	}
	require.FailNow(t, "no position", stop)
	return nil, nil, sequence.Setting{}
}

// wrongSettings are twelve, with what a technician expects of them by the passages
// alone (design of the valve: which two places each seat joins).
var wrongSettings = []struct {
	stop, wrong string
	flip        []valve.Seat
	technician  string
	expected    []string
}{
	{
		"service", "inlet shut",
		[]valve.Seat{valve.Inlet},
		"Nothing feeds the bed: the taps run dry.",
		[]string{"house-dry", "bed-idle"},
	},
	{
		"service", "pass open too",
		[]valve.Seat{valve.Pass},
		"The open way past the bed is the easier one: most of the water goes by it, hard. Pressure and flow seem right, so that only a hardness test shows it.",
		[]string{"hard-to-house", "bed-idle"},
	},
	{
		"service", "rinse open too",
		[]valve.Seat{valve.Rinse},
		"Soft water runs to the drain as fast as the drain control lets it; the tap hardly shows it, the drain is heard.",
		[]string{"drain-runs"},
	},
	{
		"service", "brine open too",
		[]valve.Seat{valve.Brine},
		"A refill that does not end: the tank fills through the throat until the float shuts.",
		[]string{"tank-fills"},
	},
	{
		"backwash", "pass shut",
		[]valve.Seat{valve.Pass},
		"The bed is washed, and the house has no water for ten minutes.",
		[]string{"house-dry"},
	},
	{
		"backwash", "inlet for upflow",
		[]valve.Seat{valve.Upflow, valve.Inlet},
		"Supply and drain meet above the bed: the drain runs as ever, and the bed lies still.",
		[]string{"bed-not-lifted", "bed-idle"},
	},
	{
		"backwash", "drain way shut",
		[]valve.Seat{valve.Backwash},
		"Pressure from below with no way out: nothing moves, nothing comes at the drain.",
		[]string{"bed-not-lifted", "bed-idle", "drain-dry"},
	},
	{
		"brine", "outlet open, rinse and pass shut",
		[]valve.Seat{valve.Outlet, valve.Rinse, valve.Pass},
		"Brine goes down the bed and out to the taps, a trickle of it, for the injector is all that feeds them.",
		[]string{"brine-to-house", "house-dry", "drain-dry"},
	},
	{
		"brine", "backwash open too",
		[]valve.Seat{valve.Backwash},
		"Brine is drawn and leaves at the top, the easier way to the drain: salt used, bed not regenerated.",
		[]string{"bed-idle"},
	},
	{
		"brine", "inlet open too",
		[]valve.Seat{valve.Inlet},
		"Full pressure at the injector's outlet: it cannot draw, water is pushed into the brine tank, and the drain runs fast.",
		[]string{"no-brine", "tank-fills", "drain-floods"},
	},
	{
		"fast-rinse", "rinse shut",
		[]valve.Seat{valve.Rinse},
		"Nothing leaves: the brine's rest stays in the bed, and the house gets it afterwards.",
		[]string{"bed-idle", "drain-dry"},
	},
	{
		"refill", "brine shut",
		[]valve.Seat{valve.Brine},
		"Service as ever, and no water in the tank: no brine next time.",
		[]string{"no-refill"},
	},
}

func TestAWrongSettingDoesWhatATechnicianExpects(t *testing.T) {
	var trials []trial
	for _, row := range wrongSettings {
		m, s, right := bench(t, row.stop)
		before := s.Hash()
		set := right
		for _, seat := range row.flip {
			set[seat] = !set[seat]
		}
		sound, got := sequence.Try(m, s, right), sequence.Try(m, s, set)
		require.Equal(t, before, s.Hash(), "a trial leaves the unit alone")
		require.Zero(t, sound.Unsolved+got.Unsolved)
		var ids, told []string
		for _, f := range sequence.Findings(&sound, &got) {
			ids, told = append(ids, f.ID), append(told, f.What)
			require.NotEmpty(t, f.What)
			require.NotEmpty(t, f.Why)
		}
		require.Equal(t, row.expected, ids, "%s: %s: %+v against %+v", row.stop, row.wrong, got, sound)
		require.Empty(t, sequence.Findings(&sound, &sound))
		require.Empty(t, sequence.Reasons(right, right, false))
		trials = append(trials, trial{sound, got, told, sequence.Reasons(right, set, false)})
	}
	keep(t, "wrong settings", settingsTable(trials))
}

// What the passages alone say (valve.Hazards) must be seen in the plant too, for
// every setting of the seats in every position.
func TestThePlantShowsWhatThePassagesSay(t *testing.T) {
	for _, stop := range []string{"service", "backwash", "brine"} {
		m, s, right := bench(t, stop)
		sound := sequence.Try(m, s, right)
		for bits := 0; bits < 1<<valve.NumSeats; bits += 5 {
			var set sequence.Setting
			for seat := range set {
				set[seat] = bits>>seat&1 == 1
			}
			got := sequence.Try(m, s, set)
			require.Zero(t, got.Unsolved, "%08b", bits)
			ids := map[string]bool{}
			for _, f := range sequence.Findings(&sound, &got) {
				ids[f.ID] = true
			}
			for _, h := range valve.Hazards(set, false) {
				switch {
				case h == valve.HouseDry:
					require.True(t, ids["house-dry"] || ids["house-weak"], "%s %08b: %+v", stop, bits, got)
				case h == valve.BrineToHouse && stop == "brine" && !set[valve.Pass]:
					require.True(t, ids["brine-to-house"] || ids["house-dry"], "%s %08b: %+v", stop, bits, got)
				case h == valve.BedIdle && stop == "backwash":
					require.True(t, ids["bed-not-lifted"], "%s %08b: %+v", stop, bits, got)
				}
			}
		}
	}
}

// kilograin is the exchange of 1,000 grains of hardness as calcium carbonate, eq.
const kilograin = 2 * 1000 * unit.Grain / unit.MolarCaCO3

func live(t *testing.T, cfg plant.Config, steps ...sequence.Step) sequence.Outcome {
	t.Helper()
	p, errs := sequence.Build(&cfg.Program, steps)
	require.Empty(t, errs)
	told := []float64{0}
	o, err := sequence.Live(cfg, &p, func(done float64) {
		require.Greater(t, done, told[len(told)-1])
		told = append(told, done)
	})
	require.InDelta(t, 1, told[len(told)-1], 1e-12)
	require.NoError(t, err)
	require.Zero(t, o.Unsolved)
	return o
}

// The rule of 20 kilograin at 6 lb for a cubic foot is published (12VAC5-590-900 D,
// see testdata/reference/tables/rules_of_thumb.csv), for warm water; this is at 12 °C.
func TestProgramsAreJudgedByWhatTheyDo(t *testing.T) {
	cfg := config(t)
	wash, draw, rinse, fill := sequence.Step{Stop: "backwash", Seconds: 600}, sequence.Step{Stop: "brine", Seconds: 3600},
		sequence.Step{Stop: "fast-rinse", Seconds: 600}, sequence.Step{Stop: "refill"}
	good := live(t, cfg, wash, draw, rinse, fill)
	require.InDelta(t, 20, good.RegainedEq/kilograin, 2)
	require.InDelta(t, 6, good.SaltKg/unit.Pound, 0.2)
	require.Less(t, good.ChlorideKgM3, 0.5)
	require.Zero(t, good.FirstHardM3)
	require.Less(t, good.WaterM3, 80*unit.USGallon)

	short := live(t, cfg, wash, sequence.Step{Stop: "brine", Seconds: 720}, rinse, fill)
	require.InDelta(t, good.SaltKg, short.SaltKg, 0.02, "all brine is drawn")
	require.Less(t, short.RegainedEq, 0.92*good.RegainedEq, "brine not pushed through")

	unwashed := live(t, cfg, draw, rinse, fill)
	require.InDelta(t, good.RegainedEq, unwashed.RegainedEq, 0.05*good.RegainedEq, "dirt takes more than one service")
	require.Less(t, unwashed.WaterM3, 0.75*good.WaterM3)

	unrinsed := live(t, cfg, wash, draw, fill)
	require.Greater(t, unrinsed.ChlorideKgM3, 10*good.ChlorideKgM3, "brine at the tap")
	require.Greater(t, unrinsed.FirstHardM3, 0.005)

	mixed := live(t, cfg, draw, wash, rinse, fill)
	require.Less(t, mixed.RegainedEq, 0.97*good.RegainedEq, "the clean end of the bed is mixed into the rest")

	dry := live(t, cfg, wash, rinse, fill)
	require.Zero(t, dry.SaltKg)
	require.Less(t, dry.RegainedEq, 0.2*good.RegainedEq, "what the backwash mixes in from below")

	cfg.Control.RefillS *= 2
	long := live(t, cfg, wash, draw, rinse, fill)
	require.Greater(t, long.BrineKg, 1.5*good.BrineKg)
	require.InDelta(t, good.RegainedEq, long.RegainedEq, 0.02*good.RegainedEq, "felt at the next regeneration only")

	keep(t, "programs", programsTable([]program{
		{"good: backwash 10, brine and slow rinse 60, fast rinse 10, refill", "The published capacity for the dose, less a little for cold water; nothing salty or hard at the tap.", good},
		{"no slow rinse: the brine position ends after 12 min, when the air check has seated", "Brine in the bed is flushed out by the fast rinse before it has done its work: less regained.", short},
		{"no backwash", "As much regained at once; dirt and channels show only after many regenerations. A third of the water saved.", unwashed},
		{"no fast rinse", "The bed is not packed and the last brine not cleared: salty, hard water at first.", unrinsed},
		{"brine before backwash", "The bed's cleanest beads, on top, are mixed in with the spent ones below: less regained.", mixed},
		{"no brine", "Nothing but what the backwash mixes up from the unspent bottom.", dry},
		{"refill too long: twice", "Nothing yet; the next regeneration draws nearly twice the salt for a little more capacity.", long},
	}))
}

func TestAProgramIsRefusedByTheStep(t *testing.T) {
	cfg := config(t)
	for _, row := range []struct {
		steps []sequence.Step
		why   []string
	}{
		{nil, []string{"steps: none"}},
		{[]sequence.Step{{Stop: "service"}, {Stop: "soak", Seconds: 5}}, []string{`steps[0].stop: "service"`, `steps[1].stop: "soak"`}},
		{[]sequence.Step{{Stop: "brine", Seconds: -1}}, []string{"steps[0].seconds: -1"}},
		{[]sequence.Step{{Stop: "brine", Seconds: 1e9}}, []string{"steps[0].seconds"}},
		{[]sequence.Step{{Stop: "brine"}, {Stop: "brine"}}, []string{"comes a second time"}},
	} {
		_, errs := sequence.Build(&cfg.Program, row.steps)
		require.Len(t, errs, len(row.why), "%v", errs)
		for i, why := range row.why {
			require.ErrorContains(t, errs[i], why)
		}
	}
}
