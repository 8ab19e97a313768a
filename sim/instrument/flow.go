package instrument

import (
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/valve"
)

var pressureTests = []Instrument{
	gauge("pressure-in", "Pressure, valve inlet", "Pressure ahead of the valve, as it stands now. What its dial shows counts once it is read here.", plant.ValveIn),
	gauge("pressure-out", "Pressure, valve outlet", "Pressure after the valve, as it stands now. What its dial shows counts once it is read here.", plant.ValveOut),
	gauge("pressure-drain", "Pressure, drain port", "Pressure ahead of the drain flow control, as it stands now.", plant.DrainManifold),
	{
		ID: "pressure-running", Name: "Pressure, valve outlet with a bath tap open",
		What:  "What is left of the pressure after the valve when the house draws.",
		Where: plant.PartValve, Needs: inService, Minutes: 2, Quantity: Pressure, Resolution: 1 * psi, Noise: 0.4 * psi, Relative: 0.01, RunHouseTap: 1,
		value: func(m *plant.Model, s *plant.State) float64 { return math.Max(0, m.PressurePa(s, plant.ValveOut)) },
	},
}

func gauge(id, name, what string, at plant.Node) Instrument {
	return Instrument{
		ID: id, Name: name, What: what, Where: plant.PartValve, Minutes: 1, Quantity: Pressure,
		Resolution: 1 * psi, Noise: 0.4 * psi, Relative: 0.01,
		Dial:  at != plant.DrainManifold, // where a gauge is screwed in for the test
		value: func(m *plant.Model, s *plant.State) float64 { return math.Max(0, m.PressurePa(s, at)) },
	}
}

var flowTests = []Instrument{
	{
		ID: "drain-flow", Name: "Drain flow, bucket and watch",
		What:  "What the drain line gives in its present position, measured at the air gap.",
		Where: plant.PartAirGap, Needs: drains, Minutes: 3, Quantity: Flow, Resolution: 0.02 * gpm, Noise: 0.01 * gpm, Relative: 0.03,
		value:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.Drain) },
		booked: func(l *plant.Ledger) float64 { return l.DrainM3 },
	},
	{
		ID: "drain-look", Name: "Watch the air gap", What: "What runs into the drain just now, by eye.",
		Where: plant.PartAirGap, Minutes: 0.5, seen: drainSeen,
	},
	{
		ID: "drain-listen", Name: "Listen at the drain", What: "Whether water goes to the drain, by ear.",
		Where: plant.PartAirGap, Minutes: 0.5, seen: drainHeard,
	},
	{
		ID: "house-flow", Name: "House flow, bucket and watch", What: "What a bath tap wide open gives.",
		Where: plant.PartHouseTap, Minutes: 2, Quantity: Flow, Resolution: 0.1 * gpm, Noise: 0.05 * gpm, Relative: 0.03, RunHouseTap: 1,
		value: func(m *plant.Model, s *plant.State) float64 {
			return math.Max(0, m.Flow(s, plant.House)-m.LeakFlow(s))
		},
	},
	{
		ID: "flow-idle", Name: "Flow indicator, all taps shut", What: "Whether water runs through the unit while nobody draws.",
		Where: plant.PartMeter, Needs: "In service, all taps shut.", Minutes: 2, Quantity: Flow, Resolution: 0.02 * gpm, Noise: 0.01 * gpm,
		value: func(m *plant.Model, s *plant.State) float64 {
			return m.MeterM3S(s)
		},
	},
	{
		ID: "meter-count", Name: "Meter reading against a bucket", What: "The share of a measured volume that the controller has counted.",
		Where: plant.PartMeter, Needs: inService, Minutes: 4, Quantity: Fraction, Resolution: 0.02, Noise: 0.02, RunHouseTap: 0.5, lacks: goesByDays,
		value: func(m *plant.Model, s *plant.State) float64 { return float64(s.Cond.MeterTurns * s.Cond.MeterWired) },
		runs:  func(m *plant.Model, s *plant.State) float64 { return m.Flow(s, plant.BypassOut) },
	},
	{
		ID: "valve-listen", Name: "Listen at the valve, a rod to the ear", What: "Whether water hisses through a port that its lobe holds shut. While the float is up and shut, a leak at the brine seat is silent.",
		Where: plant.PartValve, Needs: "All taps shut.", Minutes: 1, seen: valveHeard,
	},
	{
		ID: "strainer-look", Name: "Strainer of a house tap unscrewed", What: "What the water has carried to the taps.",
		Where: plant.PartHouseTap, Minutes: 2, Plain: true, seen: strainerSeen,
	},
	{
		ID: "bypass-handle", Name: "Bypass handle",
		What:  "Whether it stands where it was turned to, before anything is opened.",
		Where: plant.PartBypass, Minutes: 0.5, Plain: true, seen: handleSeen,
	},
	{
		ID: "floor-look", Name: "Look round the unit", What: "Floor, fittings and drain: what is wet that should be dry.",
		Where: plant.PartValve, Minutes: 0.5, seen: floorSeen,
	},
}

func drainSeen(m *plant.Model, s *plant.State) string {
	q := m.Flow(s, plant.Drain)
	switch {
	case q < 0.005*gpm:
		return NothingRuns
	case m.Losing(s):
		return "a full stream with resin beads in it"
	case q < 0.02*gpm:
		return "single drops"
	case q < 0.15*gpm:
		return "a trickle"
	case q < 1*gpm:
		return "a thin stream"
	case q > 1.5*m.Config().DrainM3S:
		return "a gush, far more than the control's rating"
	}
	return "a full stream"
}

// valveHeard is what leaks between parts of the valve that a lobe should keep apart.
func valveHeard(m *plant.Model, s *plant.State) string {
	const heard = 0.03 * gpm // common practice, no source
	for seat := range valve.NumSeats {
		shut := m.Config().Program.Lift(seat, s.Control.DrumDeg) == 0
		if q := m.Flow(s, plant.InletSeat+plant.Path(seat)); shut && math.Abs(q) > heard {
			return "a hiss in the valve body"
		}
	}
	return "quiet"
}

func drainHeard(m *plant.Model, s *plant.State) string {
	switch q := m.Flow(s, plant.Drain); {
	case q < 0.02*gpm:
		return "silence"
	case q < 0.6*gpm:
		return "a trickle"
	}
	return "a rush of water"
}

// crumbling is the share of cut cross-links above which beads break and go with the
// water: common practice, no source.
const crumbling = 0.4

// losesBeads reports whether beads go with the water to the house: through the riser's
// wall or the basket at its foot, or up and out of a bed that lines crossed lift all day.
func losesBeads(c *plant.Condition) bool {
	return c.RiserCrackCv > 0 || c.LowerDistGap > 0 || c.LinesCrossed > 0.5
}

// strainerSeen shows what has come with the water.
func strainerSeen(_ *plant.Model, s *plant.State) string {
	switch c := &s.Cond; {
	case losesBeads(c):
		return "resin beads in the strainer"
	case c.BedCut > crumbling:
		return "fine amber fragments in the strainer"
	}
	return "clean"
}

func handleSeen(_ *plant.Model, s *plant.State) string {
	switch {
	case s.Bypass == plant.BypassBypass:
		return "to its bypass mark"
	case s.Bypass == plant.BypassShut:
		return "to its shut mark"
	case s.Cond.BypassAjar > 0:
		return "it stops short of its service mark"
	}
	return "to its service mark"
}

func floorSeen(m *plant.Model, s *plant.State) string {
	switch {
	case s.Ledger.SpillM3 > 1e-3 && s.Cond.TankCrackM > 0:
		return "a puddle and salt crust at the foot of the brine tank"
	case s.Ledger.SpillM3 > 1e-3:
		return "the brine tank has run over: a puddle and salt crust"
	case s.Ledger.FloorM3 > 1e-5:
		return "salt crust and drops below the brine line"
	}
	return "dry"
}
