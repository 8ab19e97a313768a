package outfit

import (
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim/brine"
	"brinebench/sim/internal/refdata"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// A usual site, 60 °F and 55 psi; the dose is set by each test.
var usual = Site{WaterC: float64(unit.FromFahrenheit(60)), SupplyPSI: 55}

func (s Site) with(saltLb float64) Site {
	s.SaltLb = saltLb
	return s
}

// run returns the parts of a set for a program.
func run(t testing.TB, s *Set, programID string) Parts {
	p, ok := valve.ProgramNamed(programID)
	require.True(t, ok, programID)
	return s.PartsFor(&p)
}

func ids(list []Misfit) (out []string) {
	for _, m := range list {
		out = append(out, m.ID)
	}
	return out
}

func TestSetsAreNamedAndCopied(t *testing.T) {
	for _, s := range All() {
		got, ok := Named(s.ID)
		require.True(t, ok)
		require.Equal(t, s, got)
		_, ok = valve.ProgramNamed(s.ProgramID)
		require.True(t, ok, s.ProgramID)
	}
	All()[0].ID = "other"
	require.Equal(t, "tank-8-in", All()[0].ID)
	_, ok := Named("other")
	require.False(t, ok)
}

func TestSetsRiseInSize(t *testing.T) {
	all := All()
	sizes := func(s *Set) []float64 {
		return []float64{
			s.TankDiameterIn, s.ResinFt3, s.NozzleMM, s.ThroatMM, s.DrainControlGPM, s.RefillControlGPM,
			s.UpflowInjector.NozzleMM, s.UpflowInjector.ThroatMM, s.UpflowRefillControlGPM,
			s.SaltLb[0], s.SaltLb[1], s.SaltLb[2], s.ServiceGPM,
		}
	}
	var diameters []float64
	for i := range all {
		diameters = append(diameters, all[i].TankDiameterIn)
		if i == 0 {
			continue
		}
		last, here := sizes(&all[i-1]), sizes(&all[i])
		for k := range here {
			require.Greater(t, here[k], last[k], "%s, size %d", all[i].ID, k)
		}
		require.GreaterOrEqual(t, all[i].BrineTankIn, all[i-1].BrineTankIn)
		require.GreaterOrEqual(t, all[i].RiserBoreMM, all[i-1].RiserBoreMM)
	}
	require.Equal(t, []float64{8, 9, 10, 12, 13, 14}, diameters)
}

// The salt rule's doses, 6, 10 and 15 lb/ft³ (testdata/reference/tables/rules_of_thumb.csv).
func TestDosesFollowTheSaltRule(t *testing.T) {
	for _, s := range All() {
		for i, lbPerFt3 := range []float64{6, 10, 15} {
			require.Equal(t, lbPerFt3*s.ResinFt3, s.SaltLb[i], s.ID)
		}
	}
}

// Backwash near 5 gpm/ft² at 60 °F: common practice, no source.
func TestDrainControlsGiveTheUsualBackwash(t *testing.T) {
	for _, s := range All() {
		require.InDelta(t, 5, s.DrainControlGPM*unit.GPM/s.AreaM2()/unit.GPMPerSquareFoot, 0.15, s.ID)
	}
}

// A table of Richardson & Zaki computed apart from the engine, for a column of 10 in.
func TestExpansionFollowsRichardsonAndZaki(t *testing.T) {
	tank := Tank{TankDiameterIn: 10}
	checked := 0
	for _, row := range refdata.Rows(t, "tables/bed_expansion_computed.csv") {
		if row.Number("dp_m") != 0.0006 || row.Number("rho_particle_wet") != beadKgM3 {
			continue
		}
		gpm := row.Number("backwash_gpm_ft2") * unit.GPMPerSquareFoot * tank.AreaM2() / unit.GPM
		got := percent(Expansion(&tank, gpm, row.Number("T_C"), 0))
		require.InDelta(t, row.Number("expansion_pct_from_void_0.38_RZ"), got, 0.5, "%v gpm/ft² at %v °C", row.Number("backwash_gpm_ft2"), row.Number("T_C"))
		checked++
	}
	require.Greater(t, checked, 20)
}

// About 50 % at 60 °F is usual, and no resin must go to the drain in winter:
// common practice, no source.
func TestBackwashLiftsTheBedAndKeepsItInTheTank(t *testing.T) {
	for _, s := range All() {
		mild, cold := Expansion(&s.Tank, s.DrainControlGPM, usual.WaterC, 0), Expansion(&s.Tank, s.DrainControlGPM, 5, 0)
		t.Logf("%s: bed %.1f in, freeboard %.0f %%, lifted by %.0f %% at 60 °F and %.0f %% at 5 °C",
			s.ID, s.BedDepthM()/unit.Inch, percent(s.Freeboard()), percent(mild), percent(cold))
		require.Greater(t, s.Freeboard(), 0.5, s.ID)
		require.Greater(t, mild, 0.4, s.ID)
		require.Less(t, mild, 0.65, s.ID)
		require.Less(t, cold, s.Freeboard(), s.ID)
		require.Greater(t, cold, mild, "cold water is more viscous")
	}
}

// Rated at 3 to 5 gpm/ft³ (rules_of_thumb.csv). A whole unit may lose 15 psi there
// (NSF/ANSI 44, secondary source); the valve body takes most of it.
func TestBedLosesLittleAtRatedFlow(t *testing.T) {
	for _, s := range All() {
		require.InDelta(t, 4.3, s.ServiceGPM/s.ResinFt3, 1.1, s.ID)
		p := packing(usual.WaterC, 0)
		law := p.BedLaw(s.BedDepthM(), s.AreaM2())
		pa, _ := law.Loss(s.ServiceGPM * unit.GPM)
		t.Logf("%s: %.2f psi at %v gpm", s.ID, pa/unit.PSI, s.ServiceGPM)
		require.Less(t, pa, 5*unit.PSI, s.ID)
	}
}

// The injector of the design of the bench: 0.22 gpm drawn in 0.51 gpm. Salt by
// hand: 0.217 gpm of brine at 1.2 kg/L and 26.4 % in that and 0.286 gpm of water.
func TestInjectorOfOneCubicFoot(t *testing.T) {
	s, _ := Named("tank-9-in")
	d := Drawn(&s.Tank, &s.Parts, usual)
	require.True(t, d.Solved)
	require.InDelta(t, 0.22, d.BrineGPM, 0.01)
	require.InDelta(t, 0.51, d.TotalGPM, 0.015)
	require.InDelta(t, 0.217*1.2*0.264/(0.217*1.2+0.286), d.Fraction, 0.002)
	require.Greater(t, d.RinseGPM, d.TotalGPM-d.BrineGPM, "nothing drawn, nothing that holds the nozzle back")
	require.Less(t, d.RinseGPM, d.TotalGPM)
}

// Slow rinse 0.25 to 0.5 gpm/ft³, brine about a tenth: common practice, no source.
func TestInjectorsSuitTheirBeds(t *testing.T) {
	for _, s := range All() {
		d := Drawn(&s.Tank, &s.Parts, usual)
		require.True(t, d.Solved)
		t.Logf("%s: brine %.3f of %.3f gpm, %.1f %%, rinse %.2f gpm/ft³", s.ID, d.BrineGPM, d.TotalGPM, percent(d.Fraction), d.RinseGPM/s.ResinFt3)
		require.GreaterOrEqual(t, d.RinseGPM/s.ResinFt3, 0.25, s.ID)
		require.LessOrEqual(t, d.RinseGPM/s.ResinFt3, 0.35, s.ID)
		require.InDelta(t, 0.125, d.Fraction, 0.01, s.ID)

		up := run(t, &s, "counter-current")
		d = Drawn(&s.Tank, &up, usual)
		require.Less(t, Expansion(&s.Tank, d.TotalGPM, usual.WaterC, d.Fraction), 0.06, s.ID)
		require.InDelta(t, 0.125, d.Fraction, 0.01, s.ID)
	}
}

// 6 lb are 2 gal of water and 2.26 gal of brine; a bed of 1 ft³ is 7.48 gal.
func TestTimesByHand(t *testing.T) {
	s, _ := Named("tank-9-in")
	require.InDelta(t, 2/0.4*60, RefillFlowS(&s.Parts, 6), 1e-9)
	d := Draw{BrineGPM: 0.2, RinseGPM: 0.3}
	require.InDelta(t, (2.26/0.2+7.4805/0.3)*60, BrineStopS(&s.Tank, d, 6), 0.1)
}

// The brine tank's own model, filled and left to stand.
func TestBrineStandsWhereTheTankHasIt(t *testing.T) {
	for _, s := range All() {
		sp := brine.Standard()
		d := s.BrineTankIn * unit.Inch
		sp.AreaM2 = 3.141592653589793 / 4 * d * d
		sp.HeightM, sp.FloatM, sp.AirCheckM = s.BrineTankHighIn*unit.Inch, s.FloatIn*unit.Inch, s.AirCheckIn*unit.Inch
		sp.BridgeM = sp.FloatM
		require.Empty(t, sp.Validate(), s.ID)
		tank := brine.New(&sp, 0, sp.AirCheckM)
		brine.AddSalt(&sp, &tank, 1000)
		tank = brine.New(&sp, brine.SaltKg(&tank), sp.AirCheckM) // full to the rim
		brine.Step(&sp, &tank, 1, brine.Inputs{InM3: s.SaltLb[2] / 3 * unit.USGallon})
		for range 6 * 60 {
			brine.Step(&sp, &tank, 60, brine.Inputs{})
		}
		require.InDelta(t, brine.LevelM(&sp, &tank)/unit.Inch, BrineLevelIn(&s.Parts, s.SaltLb[2]), 0.3, s.ID)
		require.False(t, tank.FloatShut, s.ID)
	}
}

func BenchmarkCheck(b *testing.B) {
	s, _ := Named("tank-9-in")
	for range b.N {
		Check(s.Tank, s.Parts, usual.with(10))
	}
}
