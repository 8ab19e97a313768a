package plant

import "math"

// Iron goes with the water, and what the water does to the pipes it does not: the
// bed takes it up and gives it to the brine (see resin.Iron), and all that comes into
// the brine tank rusts there, in water that stands open to the air for days, and
// settles as mud. Brine has none, then, and salt brings none.

// IronBook books the iron that crosses the plant's border, from the start, mol.
// What goes into the brine tank rusts there and settles as mud: what is drawn out
// of it has none.
type IronBook struct {
	Supply, House, Drain, RawTap, Floor float64 // with the water
	Mud                                 float64 // left in the brine tank
	Bed                                 float64 // that the bed has taken up, less what it has lost, when it was worn, cleaned or renewed
}

// ironSources gives the iron in each source as it stands, mol/m³. What has left the
// cushion is out of its volume already, and not yet out of its content.
func (s *State) ironSources() [numSources]float64 {
	return [numSources]float64{
		fromRaw: s.Around.FeedIron, fromTop: s.Bed.Iron.Freeboard[0], fromBottom: s.Bed.Iron.Plenum,
		fromCushion: s.Cushion.IronMol / (s.Cushion.m3() + s.taken(fromCushion)),
	}
}

// iron returns the iron in the volumes in v, mol.
func (v *mix) iron(src *[numSources]float64) (mol float64) {
	for i := range v {
		mol += float64(v[i] * src[i])
	}
	return mol
}

// settleIron books the iron that the waiting volumes carry.
func (s *State) settleIron(src *[numSources]float64) {
	if *src == ([numSources]float64{}) {
		return
	}
	b, to := &s.Ledger.Iron, &s.Pending
	b.Supply += float64(s.taken(fromRaw)*src[fromRaw]) - to[toStreet].iron(src)
	b.House += to[toHouse].iron(src)
	b.Drain += to[toDrain].iron(src)
	b.RawTap += to[toRawTap].iron(src)
	b.Floor += to[toFloor].iron(src)
	b.Mud += to[toTank].iron(src)
	s.Cushion.IronMol += to[toCushion].iron(src) - float64(s.taken(fromCushion)*src[fromCushion])
}

// Iron returns the dissolved iron at a node, mol/m³.
func (m *Model) Iron(s *State, n Node) float64 {
	src := s.ironSources()
	src[fromTop], src[fromBottom] = s.Bed.Iron.TopOut, s.Bed.Iron.BottomOut
	return s.Mixes[n].iron(&src)
}

// RustShare is the share of a new bed's sites that rust keeps, 0..1.
func (m *Model) RustShare(s *State) float64 { return m.bed.RustShare(&s.Bed) }

// ironError is that of the iron's book between a start and a state, relative to
// what went through.
func (m *Model) ironError(start, now *State) float64 {
	b, had := &now.Ledger.Iron, m.ironHeld(start)
	return relative(b.kept()-(m.ironHeld(now)-had), math.Abs(b.Supply)+math.Abs(b.Bed)+had)
}

// kept is what must have stayed in bed and cushion by the book, mol.
func (b *IronBook) kept() float64 {
	return b.Supply + b.Bed - b.House - b.Drain - b.RawTap - b.Floor - b.Mud
}

// ironHeld is the iron in bed and cushion, mol.
func (m *Model) ironHeld(s *State) float64 { return m.bed.IronMol(&s.Bed) + s.Cushion.IronMol }
