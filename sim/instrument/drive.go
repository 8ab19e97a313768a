package instrument

import (
	"fmt"
	"math"

	"brinebench/sim/control"
	"brinebench/sim/plant"
)

var driveTests = []Instrument{
	{
		ID: "position-look", Name: "Position told against position seen", What: "What the controller says, and what the drum's own mark says.",
		Where: plant.PartDrum, Minutes: 0.5, seen: positionSeen,
	},
}

// controllerTests are of its settings and of drive and log.
var controllerTests = []Instrument{
	{
		ID: "clock-read", Name: "Controller's clock against a watch", What: "By how much it is fast (positive) or slow.",
		Where: plant.PartController, Minutes: 0.5, Quantity: Span, Resolution: 60, Noise: 20, Signed: true,
		value: func(m *plant.Model, s *plant.State) float64 { return m.ClockFastS(s) },
	},
	{
		ID: "clock-rate", Name: "Controller's clock, minutes gained in a week", What: "By when the customer remembers setting it, and what it shows now: how fast it runs.",
		Where: plant.PartController, Minutes: 1, Quantity: Span, Resolution: 300, Noise: 300, Signed: true,
		value: func(_ *plant.Model, s *plant.State) float64 { return float64(7 * s.Cond.DriftSPerDay) },
	},
	{
		ID: "set-days", Name: "Days set", What: "The interval set on the controller, in days.",
		Where: plant.PartController, Minutes: 0.5, Quantity: Count, Resolution: 1,
		value: func(m *plant.Model, s *plant.State) float64 { return float64(m.Panel(s).Days) },
	},
	{
		ID: "set-hardness", Name: "Hardness set", What: "The hardness set on the controller.",
		Where: plant.PartController, Minutes: 0.5, Quantity: Hardness, Resolution: 1 * gpg, lacks: goesByDays,
		value: func(m *plant.Model, s *plant.State) float64 { return m.Panel(s).HardnessMolM3 },
	},
	{
		ID: "set-capacity", Name: "Capacity set, kilograins", What: "The capacity set on the controller, in thousands of grains.",
		Where: plant.PartController, Minutes: 0.5, Quantity: Count, Resolution: 1, lacks: goesByDays,
		value: func(m *plant.Model, s *plant.State) float64 { return float64(m.Panel(s).CapacityKgr) },
	},
	{
		ID: "set-refill", Name: "Refill time set", What: "The time of the refill set on the controller, which sets the salt dose.",
		Where: plant.PartController, Minutes: 0.5, Quantity: Span, Resolution: 1,
		value: func(m *plant.Model, s *plant.State) float64 { return m.Panel(s).RefillS },
	},
	{
		ID: "drum-watch", Name: "Stopwatch on a step of the drum", What: "How long the drum takes from one position to the next.",
		Where: plant.PartDrum, Needs: "Plugged in.", Minutes: 1, seen: stepTimed,
	},
	{
		ID: "drive-try", Name: "Drive tried: listen and watch the drum", What: "Whether the motor runs when it should, and whether the drum goes with it.",
		Where: plant.PartMotor, Needs: "Plugged in.", Minutes: 1, seen: driveSeen,
	},
	{
		ID: "supply-meter", Name: "Multimeter at the outlet and at the plug-in supply", What: "Whether there is mains at the outlet and the marked voltage, 12 to 24 V on most, on the controller's side.",
		Where: plant.PartPlugIn, Needs: "A licensed or trained hand: mains at the outlet.", Minutes: 2, Plain: true, seen: supplyMeasured,
	},
	{
		ID: "motor-meter", Name: "Multimeter at the motor", What: "The voltage at its terminals, and the resistance of its winding with the plug out.",
		Where: plant.PartMotor, Needs: "A licensed or trained hand: mains may stand behind the cover.", Minutes: 3, seen: motorMeasured,
	},
	{
		ID: "drum-mark", Name: "Marks of drum and shaft", What: "By how many degrees the drum stands behind its shaft.",
		Where: plant.PartDrum, Minutes: 1, Quantity: Angle, Resolution: 5, Noise: 1,
		value: func(_ *plant.Model, s *plant.State) float64 { return s.Cond.DrumSlipDeg },
	},
	{
		ID: "draw-watch", Name: "Level recorder left in the brine well", What: "How long the last regeneration drew brine, by the trace of a recorder that was sent ahead of the visit for the customer to hang into the well.",
		Where: plant.PartAirCheck, Minutes: 5, Quantity: Span, Resolution: 60, Noise: 30,
		value: func(_ *plant.Model, s *plant.State) float64 { return s.Log.Last.DrawS },
	},
}

// goesByDays is what a time clock shows in place of the settings and of the count that
// only a demand controller has.
func goesByDays(m *plant.Model) string {
	if m.Config().Control.Kind == control.Demand {
		return ""
	}
	return "no such thing: it goes by days"
}

func driveSeen(_ *plant.Model, s *plant.State) string {
	switch c := &s.Cond; {
	case !s.Lit():
		return "dead: no power"
	case c.MotorDead > 0.5:
		return "silence, the drum stands"
	case c.GearStripped > 0.5:
		return "the motor hums, the drum stands"
	}
	return "the motor hums, the drum turns with it"
}

// stepTimed is what a stopwatch shows of the drum's travel between two positions.
func stepTimed(m *plant.Model, s *plant.State) string {
	p := &m.Config().Program
	if c := &s.Cond; !s.Lit() || c.MotorDead > 0.5 || c.GearStripped > 0.5 {
		return "the drum does not move"
	}
	return fmt.Sprintf("%.0f s from one position to the next", p.Stops[1].AngleDeg/p.DrumDegS)
}

func motorMeasured(_ *plant.Model, s *plant.State) string {
	switch broken := s.Cond.MotorDead > 0.5; {
	case broken && s.Lit():
		return "voltage there, winding open"
	case broken:
		return "no voltage at its terminals, winding open"
	case s.Lit():
		return "voltage there, winding sound"
	}
	return "no voltage at its terminals, winding sound"
}

// supplyMeasured is what a meter shows in front of the controller.
func supplyMeasured(_ *plant.Model, s *plant.State) string {
	switch {
	case !s.Powered:
		return "mains at the outlet, the plug-in supply pulled out of it"
	case s.Cond.CurrentLost > 0.5:
		return "mains at the outlet, nothing out of the plug-in supply"
	}
	return "mains at the outlet, its voltage out of the plug-in supply"
}

// positionSeen compares what the controller believes with the drum's true angle.
func positionSeen(m *plant.Model, s *plant.State) string {
	said := m.Config().Program.Stops[s.Control.Station].Name
	if s.Control.Alarm {
		said = "alarm, position not found"
	}
	near, off := nearest(m, s)
	if off > 8 {
		return fmt.Sprintf("told: %s; the drum stands between two positions", said)
	}
	return fmt.Sprintf("told: %s; seen: %s", said, near)
}

// nearest is the stop that the drum stands nearest to, and by how many degrees it
// misses it.
func nearest(m *plant.Model, s *plant.State) (name string, off float64) {
	off = 360
	for _, st := range m.Config().Program.Stops {
		d := math.Abs(st.AngleDeg - s.Control.DrumDeg)
		d = math.Min(d, 360-d)
		if d < off {
			name, off = st.Name, d
		}
	}
	return name, off
}
