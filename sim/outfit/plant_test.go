package outfit_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/scenarios"
	"brinebench/sim/outfit"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
)

// atStop returns a plant of the set's parts standing at a stop of its program,
// with the pressure that its valve then has.
func atStop(t *testing.T, s *outfit.Set, psi float64, id string) (*plant.Model, *plant.State, outfit.Site) {
	t.Helper()
	data, err := scenarios.FS.ReadFile("hard-water-at-the-mill-house.json")
	require.NoError(t, err)
	f, err := scenario.Decode("mill", data)
	require.NoError(t, err)
	f.StaticPSI, f.ResidualPSI = psi, psi-5
	f.Unit.TankDiameterIn, f.Unit.TankHeightIn, f.Unit.ResinFt3 = s.TankDiameterIn, s.TankHeightIn, s.ResinFt3
	f.Unit.NozzleMM, f.Unit.ThroatMM = s.NozzleMM, s.ThroatMM
	f.Unit.DrainControlGPM, f.Unit.RefillControlGPM = s.DrainControlGPM, s.RefillControlGPM
	f.Unit.BrineTankIn, f.Unit.BrineTankHighIn, f.Unit.BrineBoreIn = s.BrineTankIn, s.BrineTankHighIn, s.BrineBoreIn
	f.Unit.AirCheckIn, f.Unit.FloatIn, f.Unit.SaltDoseLb = s.AirCheckIn, s.FloatIn, s.SaltLb[0]
	f.Unit.DrainRiseFt, f.Unit.DrainBoreIn, f.Unit.DrainLengthFt, f.People = 0, 0.75, 5, 0
	m, err := plant.New(f.Config())
	require.NoError(t, err)
	st := m.Start(plant.Healthy())
	stops := m.Config().Program.Stops
	for stops[st.Control.Station].ID != id || st.Control.Moving {
		st.AdvanceNow = !st.Control.Moving
		m.Step(st, 0.25)
	}
	for range 40 {
		m.Step(st, 0.25)
	}
	site := outfit.Site{WaterC: f.TempC, SupplyPSI: m.PressurePa(st, plant.ValveIn) / unit.PSI, SaltLb: f.Unit.SaltDoseLb}
	return m, st, site
}

// The small network of this package against the whole of the plant.
func TestDrawIsThatOfThePlant(t *testing.T) {
	for _, id := range []string{"tank-8-in", "tank-9-in", "tank-10-in"} {
		for _, psi := range []float64{30, 60, 90} {
			s, _ := outfit.Named(id)
			m, st, site := atStop(t, &s, psi, "brine")
			d := outfit.Drawn(&s.Tank, &s.Parts, site)
			drawn, total := m.Flow(st, plant.BrineLine)/unit.GPM, m.Flow(st, plant.Discharge)/unit.GPM
			t.Logf("%s, %.0f psi: plant %.3f of %.3f gpm, here %.3f of %.3f", id, site.SupplyPSI, drawn, total, d.BrineGPM, d.TotalGPM)
			require.InEpsilon(t, drawn, d.BrineGPM, 0.06)
			require.InEpsilon(t, total, d.TotalGPM, 0.03)
		}
	}
}

func TestRefillIsMeteredFromThePressureThatItNeeds(t *testing.T) {
	s, _ := outfit.Named("tank-9-in")
	need := outfit.RefillNeedsPSI(&s.Tank, &s.Parts, 12)
	for _, part := range []float64{0.5, 0.8, 0.9, 1.1, 1.5} {
		m, st, site := atStop(t, &s, part*need, "refill")
		refill := -m.Flow(st, plant.BrineLine) / unit.GPM
		t.Logf("%.1f psi of %.1f: %.3f gpm", site.SupplyPSI, need, refill)
		if site.SupplyPSI > need {
			require.InEpsilon(t, s.RefillControlGPM, refill, 0.02)
		} else {
			require.Less(t, refill, 0.985*s.RefillControlGPM)
		}
	}
}
