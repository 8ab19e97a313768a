package call

import (
	"fmt"
	"slices"

	"brinebench/sim/plant"
	"brinebench/sim/unit"
)

// What a technician takes for nothing: a gauge in whole psi shows zero, a tap drips.
const (
	safePa  = 2 * unit.PSI
	runsM3S = 0.02 * unit.GPM
)

// unsafe tells why an act must not be done now; "" when it may.
func (c *Call) unsafe(a Act) string {
	switch a.Kind {
	case Open:
		return c.unsafeToOpen(a.Part)
	case Adjust:
		if c.Repipes(a) {
			return c.unsafeToCut()
		}
	case Replace:
		switch {
		case c.Repipes(a):
			return c.unsafeToCut()
		case a.Part == plant.PartController && c.Plant.Powered:
			return "CAUTION: The controller is plugged in: its motor can start, and a wire that slips is the end of the new one. Pull the plug first and keep it in sight."
		}
	case Bypass, ShutOff:
		if c.gaping() != nil && c.letsWaterIn(a) {
			return "WARNING: Water let onto an open part. Put everything back before the unit gets pressure again."
		}
	case Disinfect:
		bed := &c.model.Config().Bed
		if c.clean && c.Plant.Ledger.DrainM3-c.rinse < float64(bed.AreaM2*bed.DepthM) {
			return "WARNING: Resin cleaner is still in the bed: with bleach it makes poisonous gas. Rinse to the drain first, best by a whole regeneration, until a test paper shows no more acid there than in the raw water and nothing smells. If in doubt, no bleach."
		}
	case StartRegen, Advance:
		return c.unsafeToDrive()
	case Power:
		if a.Value > 0 && (c.inside() || c.Plant.Control.Regenerating) {
			return c.unsafeToDrive()
		}
	}
	return ""
}

// gaping returns an open part that would let water out; nil when none does. The
// drain line taken off has its end in a bucket; the bypass is only turned through.
func (c *Call) gaping() *PartInfo {
	for _, id := range c.Opened {
		if p, _ := Part(id); p.Wet && id != plant.PartDrainLine && id != plant.PartBypass {
			return p
		}
	}
	return nil
}

// inside reports whether hands are where the drum turns.
func (c *Call) inside() bool {
	return slices.ContainsFunc(c.Opened, func(id plant.Part) bool { p, _ := Part(id); return p.Internal })
}

// unsafeToDrive tells why the drum must not turn; "" when it may.
func (c *Call) unsafeToDrive() string {
	if c.inside() {
		return "WARNING: The drum would turn with the valve open and hands in reach. Put the part back first."
	}
	p := c.gaping()
	if p == nil {
		return ""
	}
	return fmt.Sprintf("WARNING: %s is open: the drum would send water out of it. Put the part back first.", p.Name)
}

func (c *Call) unsafeToOpen(id plant.Part) string {
	p, _ := Part(id)
	s := c.Plant
	switch {
	case p.Internal && !p.Wet && s.Powered:
		return unplugFirst
	case !p.Wet || id == plant.PartBypass:
		return ""
	case c.pressureAt(id) > safePa:
		return underPressure(p.Name, c.pressureAt(id))
	case max(c.flowAt(id), -c.flowAt(id)) > runsM3S:
		return fmt.Sprintf("WARNING: Water runs through the %s. Opened now, it would run onto the floor. Let the position end, or bypass the unit.", p.Name)
	case p.Internal && s.Powered:
		return unplugFirst
	case id != plant.PartDrainLine && s.Powered && (s.Control.Regenerating || s.Control.Moving):
		return "CAUTION: A regeneration is running: the clock would drive on and send water out of the open part. Unplug the controller first."
	}
	return ""
}

const unplugFirst = "CAUTION: The controller is plugged in and its motor can turn the drum onto fingers. Unplug it first and keep the plug in sight."

// Repipes reports whether an act takes the pipes of the house off the bypass: to fit a new
// one, or to change over pipes that are crossed.
func (c *Call) Repipes(a Act) bool {
	return a.Part == plant.PartBypass && (a.Kind == Replace || a.Kind == Adjust && c.Plant.Cond.LinesCrossed > 0.5)
}

// unsafeToCut tells why the pipes of the house must not be taken off the bypass.
func (c *Call) unsafeToCut() string {
	worst := c.greatest(plant.SupplySide, plant.HouseSide, plant.ValveIn, plant.ValveOut)
	if worst <= safePa {
		return ""
	}
	return fmt.Sprintf("WARNING: The house's pipes hang on the bypass, under %.0f psi (%.0f kPa): loosened now, they would flood the room. "+
		"Close the supply shut-off and open a low tap, the bypass in service so that the unit runs off too; see zero, then loosen them.", worst/unit.PSI, worst/unit.Kilopascal)
}

func underPressure(name string, pa float64) string {
	const spurtPa = 5 * unit.PSI
	if pa < spurtPa {
		return fmt.Sprintf("CAUTION: %s still holds water under %.0f psi (%.0f kPa). Let it run off through a low tap or the drain and see zero, then open.", name, pa/unit.PSI, pa/unit.Kilopascal)
	}
	return fmt.Sprintf("WARNING: %s is under %.0f psi (%.0f kPa). Opened now, it would fly out with a jet of water. "+
		"Bypass and let the pressure off through the drain, which backwash opens for one, or, with the supply shut off, through a low tap; see zero, then open.",
		name, pa/unit.PSI, pa/unit.Kilopascal)
}

// pressureAt is the greatest pressure that opening the part would let out, Pa.
func (c *Call) pressureAt(p plant.Part) float64 {
	switch p {
	case plant.PartDrainLine:
		return c.greatest(plant.DrainLine)
	case plant.PartDrainCtl:
		return c.greatest(plant.DrainManifold)
	case plant.PartBrineLine, plant.PartRefillCtl:
		return c.greatest(plant.ValveBrine)
	case plant.PartMeter:
		return c.greatest(plant.ValveOut, plant.RiserTop)
	}
	return c.greatest(plant.ValveIn, plant.BedTop, plant.RiserTop)
}

func (c *Call) greatest(nodes ...plant.Node) (pa float64) {
	for _, n := range nodes {
		pa = max(pa, c.model.PressurePa(c.Plant, n))
	}
	return pa
}

// flowAt is the flow through a part as it stands, m³/s.
func (c *Call) flowAt(p plant.Part) float64 {
	switch p {
	case plant.PartDrainLine, plant.PartDrainCtl:
		return c.model.Flow(c.Plant, plant.Drain)
	case plant.PartBrineLine, plant.PartRefillCtl:
		return c.model.Flow(c.Plant, plant.BrineLine)
	case plant.PartInjector, plant.PartScreen:
		return c.model.Flow(c.Plant, plant.MotiveSeat)
	case plant.PartMeter:
		return c.model.Flow(c.Plant, plant.BypassOut)
	}
	return 0
}

// letsWaterIn reports whether a bypass or shut-off act puts the valve under
// pressure that has none now.
func (c *Call) letsWaterIn(a Act) bool {
	service, open := c.Plant.Bypass == plant.BypassService, !c.Plant.ShutOff
	if service && open {
		return false
	}
	if a.Kind == Bypass {
		service = a.ID == BypassNames[plant.BypassService]
	} else {
		open = a.Value == 0
	}
	return service && open
}
