package plant_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/fault"
	"brinebench/sim/plant"
	"brinebench/sim/repro"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

// demandHouse is a family of four on 16 gpg with a cubic foot at 6 lb, whose
// demand controller is set to a hardness; capacity 20 kilograins as the rule has it.
const demandHouse = `{
  "format": "brinebench-scenario-1", "id": "demand", "title": "t", "customer": "c", "complaint": "c", "house": "h", "notes": [], "seed": 11,
  "water": {"hardness_gpg": 16, "calcium_share": 0.68, "sodium_mg_L": 14, "potassium_mg_L": 2, "temperature_C": 12},
  "supply": {"static_psi": 58, "residual_psi": 47, "residual_at_gpm": 10},
  "household": {"people": 4},
  "unit": {"set": "tank-9-in", "salt_dose_lb": 6},
  "controller": {"kind": "demand", "start": "02:00", "hardness_gpg": HARD, "capacity_kgr": CAP, "reserve": "learning", "reserve_pct": 25, "override_days": 14},
  "history": {"days": 0, "days_since_regeneration": 0, "call_at": "09:30"},
  "faults": []
}`

func demandUnit(tb testing.TB, hardGPG, capKgr int) *plant.Model {
	tb.Helper()
	text := strings.NewReplacer("HARD", fmt.Sprint(hardGPG), "CAP", fmt.Sprint(capKgr)).Replace(demandHouse)
	f, err := scenario.Decode("demand", []byte(text))
	require.NoError(tb, err)
	m, err := plant.New(f.Config())
	require.NoError(tb, err)
	return m
}

// ninety lives a unit through 90 days and returns the days on which water above
// 1 gpg reached the house, and how many liters of it.
func ninety(m *plant.Model, s *plant.State) (hardDays []int, hardL float64) {
	const drops = 1e-3 // m³: what stands in the valve when the drum turns
	before := s.Ledger.HouseHardM3
	for day := range 90 {
		run(m, s, unit.Day)
		if s.Ledger.HouseHardM3-before > drops {
			hardDays = append(hardDays, day)
		}
		before = s.Ledger.HouseHardM3
	}
	return hardDays, 1e3 * s.Ledger.HouseHardM3
}

// The published rule is 20 kilograin at 6 lb on warm water (rules_of_thumb.csv);
// at 12 °C the bed has some 4 % less (testdata/reference/README.md), so 19 is right.
func TestADemandUnitSetRightKeepsTheHouseSoftForNinetyDays(t *testing.T) {
	m := demandUnit(t, 16, 19).Coarse()
	s := m.Start(plant.Healthy())
	start := s.Clone()
	hard, liters := ninety(m, s)
	require.Empty(t, hard, "%.1f L", liters)
	salt := (s.Ledger.TankOutMol.Anion() - s.Ledger.TankInMol.Anion()) * 0.058443 / unit.Pound
	softened := s.Ledger.HouseM3 * 16 / unit.USGallon / 1000 // kilograin
	t.Logf("salt %.1f lb for %.1f kilograin: %.3f lb each", salt, softened, salt/softened)
	// 6 lb for 19 kilograin, and the reserve that each regeneration throws away: by the
	// rule 0.30 lb per kilograin for the whole, 0.32 used to 19.
	require.InDelta(t, 6.0/19, salt/softened, 0.06)
	require.LessOrEqual(t, m.Audit(start, s).Worst(), 1e-9)
}

// Iron goes in by the site's water, and out by house, drain, raw tap and the mud in
// the brine tank; the bed comes fouled, is cleaned and then renewed.
func TestTheBooksOfIronCloseOverNinetyDays(t *testing.T) {
	r := repro.NewStream(1871, "iron")
	all := fault.Catalogue()
	drawn := all[int(r.Float64()*float64(len(all)))].ID
	for _, faults := range []map[string]float64{
		{"resin-iron": 0.4, "resin-lost": 0.3},
		{"resin-iron": 0.4, "resin-lost": 0.3, "bypass-ajar": 0.6, "feed-iron": 1},
		{"resin-iron": 0.4, "resin-lost": 0.3, drawn: 0.7},
	} {
		m := sited(t, `{"iron_mg_L": 1, "changes": [{"from_day": 20, "iron_more_mg_L": 2}, {"from_day": 40}]}`).Coarse()
		s := m.Start(plant.Healthy())
		start := s.Clone()
		c := condition(faults)
		m.Suffer(s, c)
		for _, mend := range []func(){func() { c.BedRust = 0 }, func() { c.BedLost = 0 }} {
			run(m, s, 30*unit.Day)
			s.RawTap = 0.5
			run(m, s, 60)
			s.RawTap = 0
			mend()
			m.Suffer(s, c)
		}
		run(m, s, 30*unit.Day)
		b, k := m.Audit(start, s), &s.Ledger.Iron
		t.Logf("%v: iron %.1e, worst %.1e; mol: in %.3f, house %.3f, drain %.3f, raw tap %.4f, mud %.4f, by work on the bed %.3f",
			faults, b.Fe, b.Worst(), k.Supply, k.House, k.Drain, k.RawTap, k.Mud, k.Bed)
		require.LessOrEqual(t, b.Worst(), 1e-9, "%v: %+v", faults, b)
		for _, mol := range []float64{k.Supply, k.House, k.Drain, k.RawTap, k.Mud} {
			require.Positive(t, mol)
		}
		mgL := k.Supply * 55.845 / s.Ledger.SupplyM3
		require.InDelta(t, 1+2*20.0/90+c.FeedIron*55.845, mgL, 0.2, "what the site's file and the fault say")
	}
}

func TestHardnessSetAtHalfBringsHardWaterBeforeEveryRegeneration(t *testing.T) {
	m := demandUnit(t, 8, 19).Coarse()
	s := m.Start(plant.Healthy())
	hard, liters := ninety(m, s)
	t.Logf("hard on %d days, %.0f L: %v", len(hard), liters, hard)
	require.Greater(t, len(hard), 30)
	require.Greater(t, liters, 0.25e3*s.Ledger.HouseM3)
}
