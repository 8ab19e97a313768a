package resin

import (
	"math"

	"brinebench/sim/water"
)

// Model is a bed with everything worked out that does not change. It is safe to
// share and never written after [NewModel].
type Model struct {
	spec        Spec
	cellM3      float64        // bed volume of one cell of one path, m³
	cellDepth   float64        // m
	beadArea    float64        // bead surface per bed volume, m²/m³
	viscosity25 float64        // of water at 25 °C, Pa·s
	share       [Paths]float64 // of the flow
	kappa       water.Ions     // fraction on resin = kappa · s^z · concentration in mol of charge/m³
}

// State is all that changes in a bed. It is plain data: assignment copies it.
// [Model.March] writes it, all but Cut and Lost.
type State struct {
	Q         [Paths][Cells]water.Ions // on the resin, mol of charge per m³ of bed; sums to the capacity in each cell
	C         [Paths][Cells]water.Ions // in the water between the beads, mol/m³
	Freeboard [Layers]water.Ions       // in the water above the bed, mol/m³; the uppermost layer first, and none heavier than the one below
	Plenum    water.Ions               // in the water below the bed, mol/m³
	Root      [Paths][Cells]float64    // last root 1/s of each cell, mol of charge/m³; only a starting value
	Iron      Iron
	Cut       float64 // share of the resin's cross-links cut by chlorine, 0..1; [Model.Chlorinate] writes it
	Lost      float64 // share of the bed's depth that is gone, 0..1; [Model.Lose] writes it
}

// NewModel checks sp and prepares a bed. The error names every bad field.
func NewModel(sp Spec) (*Model, error) {
	if err := sp.check(); err != nil {
		return nil, err
	}
	m := &Model{
		spec:        sp,
		cellM3:      sp.AreaM2 * sp.DepthM / (Cells * Paths),
		cellDepth:   sp.DepthM / Cells,
		beadArea:    6 * (1 - sp.Void) / sp.BeadM,
		viscosity25: water.Viscosity(25),
		share:       [Paths]float64{0.5 * (1 - sp.PathSpread), 0.5 * (1 + sp.PathSpread)},
	}
	// A constant for mol/L holds 1000 times over for mol/m³; a divalent ion has
	// half as many moles as moles of charge.
	m.kappa = water.Ions{water.Na: 1, water.K: sp.KK, water.Ca: 500 * sp.KCa, water.Mg: 500 * sp.KMg}
	return m, nil
}

// Spec returns what the model was made from.
func (m *Model) Spec() Spec { return m.spec }

// MaxVolume is the volume through the bed per [Model.March], m³, up to which
// the march stays accurate: half of the water between the beads of one layer of
// cells. More is stable and conservative, but smears fronts.
func (m *Model) MaxVolume() float64 {
	return float64(m.spec.Void * m.cellM3 * (0.5 * Paths))
}

// Fresh returns a bed in the sodium form, filled throughout with feed (mol/m³)
// that has been softened.
func (m *Model) Fresh(feed water.Ions) State {
	var s State
	m.Equilibrate(&s, water.Ions{water.Na: feed.Anion()})
	return s
}

// Equilibrate makes the bed new, fills bed, freeboard and plenum with w (mol/m³)
// and brings the resin into equilibrium with it. Water without any ion leaves the
// resin in the sodium form.
func (m *Model) Equilibrate(s *State, w water.Ions) {
	*s = State{}
	y, root := m.balance(w)
	q := y.Scale(m.spec.CapacityEqM3)
	for p := range s.C {
		for j := range s.C[p] {
			s.C[p][j], s.Q[p][j], s.Root[p][j] = w, q, root
		}
	}
	s.Plenum = w
	s.Fill(w, 0)
}

// balance returns the equivalent fractions on resin in equilibrium with w and
// the root 1/s, from Gaines and Thomas' mass action: Σ κ s^z c = 1.
func (m *Model) balance(w water.Ions) (y water.Ions, root float64) {
	a := float64(w[water.Na]) + float64(m.kappa[water.K]*w[water.K])
	b := float64(m.kappa[water.Ca]*2*w[water.Ca]) + float64(m.kappa[water.Mg]*2*w[water.Mg])
	root = 0.5 * (a + math.Sqrt(float64(a*a)+float64(4*b)))
	if root == 0 {
		return water.Ions{water.Na: 1}, 0
	}
	sum := 0.0
	for i, c := range w {
		y[i] = m.kappa[i] * c * water.Charge[i] / root
		if water.Charge[i] == 2 {
			y[i] /= root
		}
		sum += y[i]
	}
	return y.Scale(1 / sum), root
}

// Inventory returns the amount of each cation in the water and on the resin of
// bed, freeboard and plenum, mol.
func (m *Model) Inventory(s *State) water.Ions {
	var bed water.Ions
	for p := range s.C {
		for j := range s.C[p] {
			for i := range bed {
				bed[i] += float64(m.spec.Void*s.C[p][j][i]) + s.Q[p][j][i]/water.Charge[i]
			}
		}
	}
	return bed.Scale(m.cellOf(s)).Plus(m.freeboardOf(s), mean(s.Freeboard[:])).Plus(m.spec.PlenumM3, s.Plenum)
}
