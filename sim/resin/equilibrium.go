package resin

import (
	"errors"
	"fmt"
	"math"

	"brinebench/sim/repro"
	"brinebench/sim/water"
)

// ColumnSpec is the size of an equilibrium column and its resin.
type ColumnSpec struct {
	DepthM        float64    // of the bed, m, > 0
	CapacityEqM3  float64    // exchange capacity, mol of charge per m³ of bed, > 0
	Void          float64    // share of the bed that is water, 0 < x ≤ 1; at 1 the capacity is per m³ of water
	Cells         int        // from the top, 1..[MaxCells]
	DispersivityM float64    // m, ≥ 0 and at most [MaxReach] cells
	LogK          water.Ions // decimal logarithm of the Gaines–Thomas constant of each ion's half reaction, -50..50
}

// Bounds of a column. A dispersivity of more cells than MaxReach would only
// blend the whole bed, at one round of mixing for each third of a cell.
const (
	MaxCells = 10000
	MaxReach = 100
)

// Column is a bed in which every cell is in equilibrium with its water: the
// limit of slow flow. It is the scheme of advection and dispersion that
// geochemical column engines use (Parkhurst & Appelo, USGS TM 6-A43, 2013;
// formulae from memory, but they give every figure of that manual's example 11).
//
// A shift moves the water of each cell one cell on and brings each cell to
// equilibrium. Where there is a dispersivity α, rounds of mixing follow: in each,
// every cell takes the share m of either neighbour's water for as much of its
// own, all from before the round, and comes to equilibrium again. With Δx the
// length of a cell and N cells, α' = α·(1 + 2/N)/Δx, in n = 1 + ⌊3·α'⌋ rounds
// of m = α'/n. Nothing is mixed across the two ends (a flux boundary at both);
// the 2/N makes up for the two half cells there that do not disperse.
//
// Gaines and Thomas' mass action with unit activity coefficients: the
// equivalent fraction on the resin is y = K·c·s^z, c in mol/L. Only differences
// log K − z·log K(Na) matter.
//
// Every ion is conserved to round-off and stays positive. Nothing is allocated
// after [NewColumn].
type Column struct {
	spec  ColumnSpec
	kappa water.Ions // fraction on resin = kappa·s^z·concentration in mol of charge/m³
	hold  water.Ions // capacity·kappa per void
	mixes int        // rounds of mixing after a shift
	share float64    // of a neighbour's water taken in a round, 0..⅓
	cells []tray     // from the top; written by Equilibrate and Shift
	ok    bool       // every cell has come to equilibrium so far; written by Shift
}

// tray is one cell: a stirred volume of water and resin in equilibrium.
type tray struct {
	c water.Ions // in the water, mol of charge/m³ of bed
	q water.Ions // on the resin, mol of charge/m³ of bed

	// Written by a shift or a round of mixing, for settle.
	to water.Ions // what the water will be, mol of charge/m³ of bed
	by water.Ions // by what it changes

	// What the last time left, to foretell the next.
	t       float64    // about the root 1/s, mol of charge/m³
	off     float64    // the root from there, relative to it
	perMiss float64    // relative step per error of the sum, m³ of bed/mol of charge
	on      water.Ions // of each ion in the cell, the part on the resin
}

// NewColumn checks sp and prepares a column with sodium on the resin and no ion
// in the water. The error names every bad field.
func NewColumn(sp ColumnSpec) (*Column, error) {
	if err := sp.check(); err != nil {
		return nil, err
	}
	k := &Column{spec: sp, kappa: sp.kappa(), cells: make([]tray, sp.Cells), ok: true}
	k.hold = k.kappa.Scale(sp.CapacityEqM3 / sp.Void)
	if k.mixes = sp.Mixes(); k.mixes > 0 {
		k.share = sp.spread() / float64(k.mixes)
	}
	for j := range k.cells {
		k.cells[j].q[water.Na] = sp.CapacityEqM3
	}
	return k, nil
}

// Reach returns the dispersivity in cells.
func (sp ColumnSpec) Reach() float64 { return sp.DispersivityM * float64(sp.Cells) / sp.DepthM }

// spread is α' of [Column].
func (sp ColumnSpec) spread() float64 { return sp.Reach() * (1 + 2/float64(sp.Cells)) }

// Mixes returns the rounds of mixing that follow each shift.
func (sp ColumnSpec) Mixes() int {
	if sp.DispersivityM == 0 {
		return 0
	}
	return 1 + int(math.Floor(3*sp.spread()))
}

// kappa turns the constants to concentrations in mol of charge/m³, as in
// [NewModel].
func (sp ColumnSpec) kappa() (k water.Ions) {
	for i, z := range water.Charge {
		k[i] = repro.Pow(10, sp.LogK[i])
		if z == 2 {
			k[i] *= 500
		}
	}
	return k
}

// check reports every field that is out of range.
func (sp ColumnSpec) check() error {
	var errs []error
	within := func(ok bool, name string, v any, rule string) {
		if !ok {
			errs = append(errs, fmt.Errorf("resin: %s is %v, must be %s", name, v, rule))
		}
	}
	positive := func(v float64) bool { return v > 1e-12 && v < 1e12 }
	within(positive(sp.DepthM), "DepthM", sp.DepthM, "positive and finite")
	within(positive(sp.CapacityEqM3), "CapacityEqM3", sp.CapacityEqM3, "positive and finite")
	within(sp.Void >= 1e-6 && sp.Void <= 1, "Void", sp.Void, "above 0 and at most 1")
	within(sp.Cells >= 1 && sp.Cells <= MaxCells, "Cells", sp.Cells, fmt.Sprintf("1 to %d", MaxCells))
	within(sp.DispersivityM == 0 || sp.DispersivityM > 0 && sp.Reach() <= MaxReach,
		"DispersivityM", sp.DispersivityM, fmt.Sprintf("0 to the length of %d cells", MaxReach))
	for i, v := range sp.LogK {
		within(math.Abs(v) <= 50, fmt.Sprintf("LogK[%d]", i), v, "-50 to 50")
	}
	return errors.Join(errs...)
}

// Equilibrate fills the column with w (mol/m³, not negative) and brings the
// resin into equilibrium with it. Water without any ion leaves the resin in the
// sodium form.
func (k *Column) Equilibrate(w water.Ions) {
	c := charges(w)
	a := float64(k.kappa[water.Na]*c[water.Na]) + float64(k.kappa[water.K]*c[water.K])
	b := float64(k.kappa[water.Ca]*c[water.Ca]) + float64(k.kappa[water.Mg]*c[water.Mg])
	t := 0.5 * (a + math.Sqrt(float64(a*a)+float64(4*b))) // Σ κ c s^z = 1
	q := water.Ions{water.Na: k.spec.CapacityEqM3}
	if t > 0 {
		for i, z := range water.Charge {
			q[i] = k.kappa[i] * c[i] / t
			if z == 2 {
				q[i] /= t
			}
		}
	}
	q = q.Scale(k.spec.CapacityEqM3 / (q[water.Na] + q[water.K] + q[water.Ca] + q[water.Mg]))
	k.ok = true
	for j := range k.cells {
		k.cells[j] = tray{c: c.Scale(k.spec.Void), q: q, t: t}
	}
}

// Shift moves the water of every cell one cell on, down the column or up, and
// lets in (mol/m³, not negative) into the first; then mixing and equilibrium as
// told at [Column]. It reports whether every cell has come to equilibrium, which
// is so unless a number has left the range of a double.
func (k *Column) Shift(in water.Ions, up bool) bool {
	j, last, step := 0, len(k.cells), 1
	if up {
		j, last, step = last-1, -1, -1
	}
	w := charges(in).Scale(k.spec.Void)
	na, kk, ca, mg := w[water.Na], w[water.K], w[water.Ca], w[water.Mg]
	for ; j != last; j += step {
		x := &k.cells[j]
		hadNa, hadK, hadCa, hadMg := x.c[water.Na], x.c[water.K], x.c[water.Ca], x.c[water.Mg]
		x.to = water.Ions{na, kk, ca, mg}
		x.by = water.Ions{na - hadNa, kk - hadK, ca - hadCa, mg - hadMg}
		na, kk, ca, mg = hadNa, hadK, hadCa, hadMg
	}
	k.settle()
	for range k.mixes {
		k.mix()
		k.settle()
	}
	return k.ok
}

// mix is one round of mixing: what passes each edge between two cells, downwards.
// It looks the same from both ends.
func (k *Column) mix() {
	share, last := k.share, len(k.cells)-1
	var inNa, inK, inCa, inMg float64 // through the edge above
	for j := range k.cells {
		x, below := &k.cells[j], &k.cells[min(j+1, last)]
		na, kk, ca, mg := x.c[water.Na], x.c[water.K], x.c[water.Ca], x.c[water.Mg]
		outNa, outK := float64(share*(na-below.c[water.Na])), float64(share*(kk-below.c[water.K]))
		outCa, outMg := float64(share*(ca-below.c[water.Ca])), float64(share*(mg-below.c[water.Mg]))
		byNa, byK, byCa, byMg := inNa-outNa, inK-outK, inCa-outCa, inMg-outMg
		x.by = water.Ions{byNa, byK, byCa, byMg}
		x.to = water.Ions{na + byNa, kk + byK, ca + byCa, mg + byMg}
		inNa, inK, inCa, inMg = outNa, outK, outCa, outMg
	}
}

// Cells returns the number of cells.
func (k *Column) Cells() int { return len(k.cells) }

// Water returns the concentrations in cell j from the top, mol/m³.
func (k *Column) Water(j int) (c water.Ions) {
	for i, z := range water.Charge {
		c[i] = k.cells[j].c[i] / (k.spec.Void * z)
	}
	return c
}

// Resin returns the equivalent fractions on the resin of cell j from the top.
func (k *Column) Resin(j int) water.Ions {
	return k.cells[j].q.Scale(1 / k.spec.CapacityEqM3)
}

// charges turns mol into mol of charge.
func charges(c water.Ions) water.Ions {
	for i, z := range water.Charge {
		c[i] *= z
	}
	return c
}
