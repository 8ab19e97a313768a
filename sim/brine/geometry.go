package brine

import "math"

// Pile says where the salt is, m above the floor.
type Pile struct {
	LooseTopM float64 // top of the salt standing on the floor
	BottomM   float64 // underside of the hanging salt; 0 when none hangs
	TopM      float64 // top of all the salt
}

// SaltPile returns where the salt is. A bridge hangs at the spec's height, or
// lower where its thickness would carry it over the wall.
func SaltPile(sp *Spec, s *State) Pile {
	perMol := naclKg / float64(sp.SaltBulkKgM3*sp.AreaM2)
	loose := float64((s.SolidMol - s.HangingMol) * perMol)
	thick := float64(s.HangingMol * perMol)
	if thick <= 0 {
		return Pile{LooseTopM: loose, TopM: loose}
	}
	bottom := math.Max(loose, math.Min(sp.BridgeM, sp.HeightM-thick))
	return Pile{LooseTopM: loose, BottomM: bottom, TopM: bottom + thick}
}

// layers returns the heights at which the free cross-section changes: voids of
// the loose pile, hollow, voids of the bridge, and free above it.
func (p *Pile) layers() [3]float64 {
	if p.BottomM == 0 {
		return [3]float64{p.LooseTopM, p.LooseTopM, p.LooseTopM}
	}
	return [3]float64{p.LooseTopM, p.BottomM, p.TopM}
}

// freeAreas returns the cross-section free to liquid in each layer and above, m².
func freeAreas(sp *Spec) [4]float64 {
	voids := sp.AreaM2 * sp.SaltVoid
	return [4]float64{voids, sp.AreaM2, voids, sp.AreaM2}
}

// LevelM returns the liquid level above the floor, m: salt displaces liquid.
func LevelM(sp *Spec, s *State) float64 {
	pile := SaltPile(sp, s)
	area := freeAreas(sp)
	left, floor := VolumeM3(sp, s), 0.0
	for i, top := range pile.layers() {
		room := float64((top - floor) * area[i])
		if left <= room {
			return floor + left/area[i]
		}
		left -= room
		floor = top
	}
	return floor + left/area[3]
}

// volumeTo returns the liquid that the tank holds up to a level, m³.
func volumeTo(sp *Spec, s *State, levelM float64) float64 {
	pile := SaltPile(sp, s)
	area := freeAreas(sp)
	v, floor := 0.0, 0.0
	for i, top := range pile.layers() {
		v += float64((math.Min(levelM, top) - math.Min(levelM, floor)) * area[i])
		floor = top
	}
	return v + float64(math.Max(0, levelM-floor)*area[3])
}

// ToLatchM3 returns how much liquid has yet to leave a tank whose level falls before the
// air check seats, or to come before the float shuts, m³; endless where that has been.
func ToLatchM3(sp *Spec, s *State, falls bool, floatLowM float64) float64 {
	switch {
	case falls && !s.AirCheckSeated:
		return DrawableM3(sp, s)
	case !falls && !s.FloatShut:
		return math.Max(0, volumeTo(sp, s, sp.FloatM-floatLowM)-VolumeM3(sp, s))
	}
	return math.Inf(1)
}

// DrawableM3 returns the liquid above the air check, m³: all that can be drawn.
func DrawableM3(sp *Spec, s *State) float64 {
	return math.Max(0, VolumeM3(sp, s)-volumeTo(sp, s, sp.AirCheckM))
}

// wetted returns the salt under the liquid, mol: loose and hanging.
func wetted(sp *Spec, s *State) (loose, hanging float64) {
	pile := SaltPile(sp, s)
	level := LevelM(sp, s)
	loose = float64((s.SolidMol - s.HangingMol) * under(level, 0, pile.LooseTopM))
	hanging = float64(s.HangingMol * under(level, pile.BottomM, pile.TopM))
	return loose, hanging
}

// under returns the part of the span from bottom to top that lies below level, 0..1.
func under(level, bottom, top float64) float64 {
	if top <= bottom {
		return 0
	}
	return math.Max(0, math.Min(1, (level-bottom)/(top-bottom)))
}
