package resin

import "brinebench/sim/water"

// The water above the bed lies in layers. Water that comes in at the top and is heavier
// than what it meets falls through it and mixes with it, as brine does; what is lighter
// lies on it and drives it down, as the rinse does. So do one-dimensional models of
// lakes and of stratified storage tanks (convective adjustment, from memory).

// layerOf is the volume of one layer of the water above the bed, m³.
func (m *Model) layerOf(s *State) float64 { return m.freeboardOf(s) / Layers }

// sink passes what comes in at the top down through the layers. It returns the mean
// concentrations (mol/m³) of what left the topmost at the head of the tank and of what
// went into the bed.
func (m *Model) sink(s *State, p *Ports) (topOut, toBed water.Ions) {
	v, through := m.layerOf(s), p.TopInM3-p.TopOutM3-p.PastM3
	topOut = stir(&s.Freeboard[0], v, p.TopInM3, p.TopIn)
	toBed = topOut
	for i := 1; i < Layers; i++ {
		toBed = stir(&s.Freeboard[i], v, through, toBed)
	}
	return topOut, toBed
}

// rise passes what comes up out of the bed through the layers to the head of the tank,
// where what has gone past the bed joins it. It returns the mean concentrations of what
// left there.
func (m *Model) rise(s *State, p *Ports, fromBed, past water.Ions) (topOut water.Ions) {
	v, through := m.layerOf(s), p.TopOutM3-p.TopInM3-p.PastM3
	up := fromBed
	for i := Layers - 1; i > 0; i-- {
		up = stir(&s.Freeboard[i], v, through, up)
	}
	up = blend(through, up, p.PastM3, past)
	return stir(&s.Freeboard[0], v, p.TopOutM3, blend(p.TopOutM3-p.TopInM3, up, p.TopInM3, p.TopIn))
}

// sinkIron is sink for iron.
func (m *Model) sinkIron(s *State, p *Ports) (topOut, toBed float64) {
	f, v, through := &s.Iron.Freeboard, m.layerOf(s), p.TopInM3-p.TopOutM3-p.PastM3
	topOut = pass(&f[0], v, p.TopInM3, p.TopInIron*p.TopInM3)
	toBed = topOut
	for i := 1; i < Layers; i++ {
		toBed = pass(&f[i], v, through, toBed*through)
	}
	return topOut, toBed
}

// riseIron is rise for iron.
func (m *Model) riseIron(s *State, p *Ports, fromBed, past float64) (topOut float64) {
	f, v, through := &s.Iron.Freeboard, m.layerOf(s), p.TopOutM3-p.TopInM3-p.PastM3
	up := fromBed
	for i := Layers - 1; i > 0; i-- {
		up = pass(&f[i], v, through, up*through)
	}
	return pass(&f[0], v, p.TopOutM3, float64(through*up)+float64(p.PastM3*past)+float64(p.TopInM3*p.TopInIron))
}

// overturn mixes every layer that is heavier than the one below it with that: by more
// than rounding makes it, for water that only differs in its ions lies still.
func (s *State) overturn() {
	const heavier = 1 + 1e-6
	for i := 1; i < Layers; i++ {
		from, mixed := i, s.Freeboard[i]
		for from > 0 && s.Freeboard[from-1].Anion() > heavier*mixed.Anion() {
			from--
			mixed = mean(s.Freeboard[from : i+1])
		}
		if from < i {
			iron := meanOf(s.Iron.Freeboard[from : i+1])
			for j := from; j <= i; j++ {
				s.Freeboard[j], s.Iron.Freeboard[j] = mixed, iron
			}
		}
	}
}

// Fill puts water and its iron (mol/m³) in the place of all that is above the bed.
func (s *State) Fill(w water.Ions, iron float64) {
	for i := range Layers {
		s.Freeboard[i], s.Iron.Freeboard[i] = w, iron
	}
}

// mean is the concentration of layers mixed.
func mean(layers []water.Ions) (c water.Ions) {
	for _, l := range layers {
		c = c.Plus(1/float64(len(layers)), l)
	}
	return c
}

// meanOf is mean for iron.
func meanOf(layers []float64) (c float64) {
	for _, l := range layers {
		c += l / float64(len(layers))
	}
	return c
}
