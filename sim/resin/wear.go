package resin

import (
	"math"

	"brinebench/sim/repro"
	"brinebench/sim/water"
)

// Damage by free chlorine. It cuts the cross-links that hold a bead together; the
// bead swells, softens and packs, and of a volume of bed less and less exchanges.
// Common practice, no source: resin in household service lasts some ten years at
// 1 mg/L, five at 2 mg/L, half as long at 10 °C more; it is spent when a quarter of
// its capacity is gone, and loses about twice its pressure then. Ten years of 0.75
// m³ a day on a cubic foot at 1 mg/L as Cl2 are 1,400 mol to the m³ of bed, which is
// taken to cut half of the links.
const (
	HalfDose   = 1400.0 // mol of free chlorine per m³ of bed at 20 °C
	doublingC  = 10.0   // °C
	sitesPerX  = 0.5    // of the capacity that is lost with all links cut
	shrinkPerX = 0.3    // of the void
)

// sound is the share of the capacity that is left.
func sound(cut float64) float64 { return 1 - float64(sitesPerX*cut) }

// Chlorinate lets the bed consume mol (≥ 0) of free chlorine, as Cl2, from water of
// tempC (held within 0..50). Doses add up: a year in one call is as good as day by
// day. What loses its site goes into the water between the beads.
func (m *Model) Chlorinate(s *State, mol, tempC float64) {
	if !(mol >= 0) {
		panic("resin: chlorine must not be negative")
	}
	t := min(max(tempC, 0), 50)
	dose := mol / (m.cellOf(s) * (Cells * Paths))
	left := repro.Pow(2, -dose/HalfDose*repro.Pow(2, (t-20)/doublingC))
	was := sound(s.Cut)
	s.Cut = 1 - float64((1-s.Cut)*left)
	f := 1 - sound(s.Cut)/was
	for k := range s.Q {
		for j := range s.Q[k] {
			m.toWater(&s.C[k][j], &s.Q[k][j], f)
			iron := float64(f * s.Iron.Held[k][j])
			s.Iron.Held[k][j] -= iron
			s.Iron.Water[k][j] += 0.5 * iron / m.spec.Void
		}
	}
}

// Void returns the share of the bed between the beads as the pressure feels it. The
// bed's content is reckoned with Spec's.
func (m *Model) Void(s *State) float64 {
	return float64(m.spec.Void * (1 - float64(shrinkPerX*s.Cut)))
}

// DepthM returns the settled depth of the bed, m.
func (m *Model) DepthM(s *State) float64 { return float64(m.spec.DepthM * (1 - s.Lost)) }

// cellOf is the bed volume of one cell of one path, m³.
func (m *Model) cellOf(s *State) float64 { return float64(m.cellM3 * (1 - s.Lost)) }

// freeboardOf is the volume of water above the bed, m³.
func (m *Model) freeboardOf(s *State) float64 {
	return m.spec.FreeboardM3 + float64(m.cellM3*(Cells*Paths)*s.Lost)
}

// Lose takes away the top of the bed, a share (0 ≤ x < 1) of what there is. The
// water between the lost beads stays in the freeboard, and as much of the
// freeboard's water as they had volume comes in for them; all of it is stirred. Lose returns what the
// tank lost by that, net, of cations and iron, mol. [Model.MaxVolume] goes on
// counting the whole bed.
func (m *Model) Lose(s *State, share float64) (gone water.Ions, ironMol float64) {
	if !(share >= 0 && share < 1) {
		panic("resin: the share lost must lie between 0 and 1")
	}
	had, hadIron := m.Inventory(s), m.IronMol(s)
	pores, ironPores := m.pores(s)
	free := m.freeboardOf(s)
	lost := float64(m.cellOf(s) * (Cells * Paths) * share)
	for k := range Paths {
		s.shorten(k, share)
	}
	s.Lost = 1 - float64((1-s.Lost)*(1-share))
	left, ironLeft := m.pores(s)
	beads := float64(lost * (1 - m.spec.Void))
	above, iron := mean(s.Freeboard[:]), meanOf(s.Iron.Freeboard[:])
	for i := range above {
		above[i] = (float64((free+beads)*above[i]) + max(pores[i]-left[i], 0)) / (free + lost)
	}
	s.Fill(above, (float64((free+beads)*iron)+max(ironPores-ironLeft, 0))/(free+lost))
	return had.Plus(-1, m.Inventory(s)), hadIron - m.IronMol(s)
}

// pores returns the content of the water between the beads, mol.
func (m *Model) pores(s *State) (c water.Ions, iron float64) {
	v := float64(m.spec.Void * m.cellOf(s))
	for k := range s.C {
		for j := range s.C[k] {
			c = c.Plus(v, s.C[k][j])
			iron += float64(v * s.Iron.Water[k][j])
		}
	}
	return c, iron
}

// shorten spreads what lies below the top share of path k over all its cells. A
// new cell is no longer than an old one, so that it lies in one or two of them, none
// of which is above it.
func (s *State) shorten(k int, share float64) {
	f := &s.Iron
	for j := range Cells {
		top := float64(Cells*share) + float64((1-share)*float64(j))
		a := min(int(math.Floor(top)), Cells-1)
		b := min(a+1, Cells-1)
		w := min(max((top+(1-share)-float64(b))/(1-share), 0), 1) // of b
		s.Q[k][j] = s.Q[k][a].Scale(1-w).Plus(w, s.Q[k][b])
		s.C[k][j] = s.C[k][a].Scale(1-w).Plus(w, s.C[k][b])
		for _, x := range [...]*[Cells]float64{&s.Root[k], &f.Water[k], &f.Held[k], &f.Rust[k]} {
			x[j] = float64((1-w)*x[a]) + float64(w*x[b])
		}
	}
}
