package hydraulic

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// table reads a reference table: a row per record, a value per column name. Cells
// that are no number are left out. Sources are in SOURCES.csv beside the tables.
func table(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "tables", name+".csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []map[string]float64
	for _, row := range rows[1:] {
		m := map[string]float64{}
		for i, cell := range row {
			if v, err := strconv.ParseFloat(cell, 64); err == nil {
				m[rows[0][i]] = v
			}
		}
		out = append(out, m)
	}
	require.NotEmpty(t, out)
	return out
}

// items reads a reference table of items and values.
func items(t *testing.T, name string) map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "tables", name+".csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	m := map[string]float64{}
	for _, row := range rows {
		if v, err := strconv.ParseFloat(row[1], 64); err == nil {
			m[row[0]] = v
		}
	}
	return m
}

// Colebrook, J. ICE 11 (1939) 133, at 40 digits.
func TestFrictionIsColebrooks(t *testing.T) {
	for _, r := range table(t, "colebrook_exact") {
		f := Friction(r["Re"], r["eps_over_D"])
		require.InEpsilon(t, r["f_Darcy_Colebrook"], f, 1e-13, "Re %g, roughness %g", r["Re"], r["eps_over_D"])
	}
}

// White, Fluid Mechanics, Example 6.7 (from memory), recomputed.
func TestPipeLosesWhatTheTextbookSays(t *testing.T) {
	want := items(t, "darcy_worked_example")
	l := PipeLaw(500, 0.2, 0.26e-3, 0, 900, 900*1e-5)
	require.InEpsilon(t, want["recomputed Re"], l.PipeRe*0.2, 1e-6)
	require.InEpsilon(t, want["recomputed f (Colebrook)"], Friction(l.PipeRe*0.2, l.RelRough), 1e-6)
	pa, _ := l.Loss(0.2)
	head := pa / 900 / gravity
	require.InEpsilon(t, want["recomputed hf m"], head, 1e-4)
	require.InDelta(t, 117, head, 0.5)
}

// Ergun, Chem. Eng. Prog. 48 (1952) 89; the first row is a worked example of a
// public general fluids library.
func TestBedLosesAfterErgun(t *testing.T) {
	for _, r := range table(t, "ergun_examples") {
		p := Packing{BeadM: r["dp_m"], Void: r["void"], BeadKgM3: 1250, RhoKgM3: r["rho"], MuPaS: r["mu_Pa_s"]}
		viscous, inertial := p.Ergun(r["L_m"])
		v := r["v_superficial_m_s"]
		require.InEpsilon(t, r["dP_Pa"], viscous*v+inertial*v*v, 1e-8)

		const area = 0.05
		l := p.BedLaw(r["L_m"], area)
		pa, _ := l.Loss(v * area)
		require.InDelta(t, r["dP_Pa"], pa, 0.02, "the law down the bed")
	}
}

// Richardson & Zaki 1954, Wen & Yu 1966, Schiller-Naumann drag; equations from
// memory, values computed elsewhere. Water after water_density_viscosity_0_60C.
func TestBedExpandsAfterRichardsonAndZaki(t *testing.T) {
	type water struct{ rho, mu float64 }
	waters := map[float64]water{}
	for _, r := range table(t, "water_density_viscosity_0_60C") {
		waters[r["T_C"]] = water{r["rho_IAPWS_SR6_08_0.1MPa_kg_m3"], r["mu_IAPWS_R12_08_mPa_s"] / 1000}
	}
	for _, r := range table(t, "bed_expansion_computed") {
		w := waters[r["T_C"]]
		require.NotZero(t, w.rho, "water at %g °C", r["T_C"])
		p := Packing{BeadM: r["dp_m"], Void: 0.38, BeadKgM3: r["rho_particle_wet"], RhoKgM3: w.rho, MuPaS: w.mu}
		const tank = 0.254
		require.InEpsilon(t, r["Ar"], p.Archimedes(), 2e-4)
		require.InEpsilon(t, r["umf_WenYu1966_m_s"], p.MinimumFluidisation(), 2e-4)
		require.InEpsilon(t, r["ut_SchillerNaumann_m_s"], p.TerminalVelocity(), 2e-4)
		require.InEpsilon(t, r["Re_t"], p.TerminalReynolds(), 2e-4)
		require.InEpsilon(t, r["n_RichardsonZaki1954_D0.254m"], p.RichardsonZaki(tank), 2e-4)
		require.InDelta(t, max(p.Void, r["eps_RZ1954"]), p.VoidAt(r["v_m_s"], tank), 2e-4)
		require.InDelta(t, max(0, r["expansion_pct_from_void_0.38_RZ"]), 100*p.Expansion(r["v_m_s"], tank), 0.2)
	}
}

func TestOrificePassesWhatItsDefinitionSays(t *testing.T) {
	for _, r := range table(t, "orifice_free_discharge") {
		l := Law{B: OrificeB(r["Cd"], r["d_mm"]/1000, r["rho"])}
		pa, _ := l.Loss(r["Q_L_s"] / 1000)
		require.InEpsilon(t, r["dP_Pa"], pa, 1e-6)
		require.InEpsilon(t, r["Q_US_gpm"], r["Q_L_s"]/1000/M3SPerGPM, 1e-6)
	}
}

// IEC 60534-1, and the worked liquid example of IEC 60534-2-1 (no fittings).
func TestFlowCoefficientsAgree(t *testing.T) {
	want := items(t, "kv_cv_relations")
	require.InEpsilon(t, CvB(want["Cv per Kv"], 1000), KvB(1, 1000), 1e-8)
	kv := 0.0
	for name, v := range want {
		if v > 164 && v < 166 && name[:4] == "Same" {
			kv = v
		}
	}
	l := Law{B: KvB(kv, 965.4)}
	pa, _ := l.Loss(360.0 / 3600)
	require.InEpsilon(t, 460e3, pa, 1e-6)
	// K = 890·d⁴/Cv², d in inches.
	k := want["K from Cv with d in inches: K = 890 d^4/Cv^2 (rounded)"] / (6 * 6)
	require.InEpsilon(t, MinorB(k, 0.0254, 1000), CvB(6, 1000), 2e-3)
}

// Pump Handbook (Karassik et al., 4th ed. 2007), nozzle retracted, equal
// densities; the table's curves are for Kn 0.05, Ks 0.15, Kt+Kd+a² 0.34 and full
// mixing, which a fit of the equations to the table gives to twelve digits. There
// the jet issues at the suction's pressure and here at the throat's, so the
// pressure gained is compared at a given flow of the nozzle.
func TestJetPumpFollowsTheHandbook(t *testing.T) {
	n, err := NewNetwork(4, []bool{false, true, false, true}, []Ends{
		{From: 0, To: 2}, {From: 1, To: 2}, {From: 2, To: 3, Jet: true, Nozzle: 0, Suction: 1},
	})
	require.NoError(t, err)
	k := JetLosses{Nozzle: 0.05, Suction: 0.15, Throat: 0.34, Mixing: 1}
	laws := make([]Law, 3)
	for _, r := range table(t, "jet_pump_N_M_curves") {
		if r["C_density_ratio"] != 1 || r["M_flow_ratio"] == 0 {
			continue
		}
		laws[0], laws[1], laws[2] = JetPump(k, 0.01*math.Sqrt(r["R_area_ratio"]), 0.01, 1, 1, rho).Laws(0)
		const head = 1e6 // velocity head of the jet, Pa
		jet := math.Sqrt(head / (laws[0].B / (1 + k.Nozzle)))
		ratio := r["N_pressure_ratio_nozzle_retracted_j0"]
		s := n.NewState()
		s.P[3] = head * (1 + k.Nozzle) * ratio / (1 + ratio)
		require.Equal(t, Solved, n.Solve(laws, []float64{-jet, 0, 0, 0}, &s).Status)
		require.InDelta(t, r["M_flow_ratio"], s.Q[1]/jet, 1e-6, "area ratio %g", r["R_area_ratio"])
	}
}
