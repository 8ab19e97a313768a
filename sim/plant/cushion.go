package plant

import "math"

// cushionM3Pa is how much water the unit takes up per pascal: 0.1 L at 60 psi.
// Common practice, no source: a fibreglass tank swells, and a little air stays.
const cushionM3Pa = 2.5e-10

// cushionRestM3 is the water in the cushion at no pressure; it keeps the content
// above nothing under any vacuum.
const cushionRestM3 = 3e5 * cushionM3Pa

// m3 is the water in the cushion.
func (c *Cushion) m3() float64 { return cushionRestM3 + float64(cushionM3Pa*c.Pa) - c.AirM3 }

// breathe lets air into a unit below the atmosphere that has a part off: its walls
// spring back, and the water in it stays as much as it was.
func (s *State) breathe() {
	const most = cushionRestM3 / 2
	if c := &s.Cushion; s.Aired && c.Pa < 0 && c.AirM3 < most {
		c.AirM3 -= float64(cushionM3Pa * c.Pa)
		c.Pa = 0
	}
}

// Pressure differences between the unit and its cushion: from the greater on the
// cushion follows, to the lesser. In between it stands still, so that not every
// tap that is opened has to be solved twice.
const (
	stirPa = 100e3
	calmPa = 3e3
)

// stillSlope is the slope of the cushion's link while it stands still, Pa·s/m³.
const stillSlope = 1e18

// pace tells how the cushion takes the next step, of dt: it follows the unit where
// that is cut off from the street or has changed its pressure much. Its link is
// then implicit in time, as soft as the step is long.
func (s *State) pace(dt float64) {
	c := &s.Cushion
	gap := math.Abs(s.Net.P[BedTop] - c.Pa)
	c.Follows = s.ShutOff || s.Bypass != BypassService || gap > stirPa || (c.Follows && gap > calmPa)
	if c.Follows && (dt > c.PaceS || (gap > calmPa && dt < 0.25*c.PaceS)) {
		c.PaceS = dt
	}
}

// slope is that of the cushion's link, Pa·s/m³.
func (c *Cushion) slope() float64 {
	if c.Follows {
		return c.PaceS / cushionM3Pa
	}
	return stillSlope
}
