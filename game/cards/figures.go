package cards

import "brinebench/sim"

// column is a figure of a part that is taken in every position.
type column struct {
	id   string
	unit sim.Unit
	way  Way
	of   func(v *sim.View) float64
}

func flow(id string, p sim.Path, w Way) column {
	return column{id, sim.UnitFlow, w, func(v *sim.View) float64 { return v.Paths[p].FlowM3S }}
}

func pressure(id string, n sim.Node) column {
	return column{id, sim.UnitPressure, Plain, func(v *sim.View) float64 { return v.PressurePa[n] }}
}

func figure(id string, u sim.Unit, of func(v *sim.View) float64) column {
	return column{id, u, Plain, of}
}

// columns are the figures of each part; a part that has none says so by its words alone.
var columns = map[sim.Part][]column{
	sim.PartSupply:  {flow("flow", sim.PathSupply, Plain), pressure("street", sim.NodeStreet), pressure("here", sim.NodeSupplySide)},
	sim.PartShutOff: {flow("flow", sim.PathSupply, Plain), pressure("here", sim.NodeSupplySide)},
	sim.PartRawTap:  {pressure("here", sim.NodeSupplySide)},
	sim.PartBypass:  {flow("in", sim.PathBypassIn, Plain), flow("out", sim.PathBypassOut, Plain), flow("cross", sim.PathBypassCross, Plain)},
	sim.PartHouseTap: {
		flow("flow", sim.PathHouse, Plain), pressure("here", sim.NodeHouseSide),
		figure("hardness", sim.UnitHardness, func(v *sim.View) float64 { return v.Paths[sim.PathHouse].Water.HardnessMolM3 }),
	},
	sim.PartMeter:    {figure("flow", sim.UnitFlow, func(v *sim.View) float64 { return v.MeterM3S })},
	sim.PartDrum:     {figure("angle", sim.UnitCount, func(v *sim.View) float64 { return v.DrumDeg })},
	sim.PartValve:    {pressure("in", sim.NodeValveIn), pressure("out", sim.NodeValveOut), pressure("drain", sim.NodeDrainManifold)},
	sim.PartInjector: {flow("nozzle", sim.PathMotiveSeat, Plain), pressure("throat", sim.NodeThroat), flow("suction", sim.PathBrineSeat, Tank), flow("leaves", sim.PathDischarge, Plain)},
	sim.PartScreen:   {flow("flow", sim.PathMotiveSeat, Plain), pressure("before", sim.NodeScreen), pressure("behind", sim.NodeNozzleIn)},
	sim.PartDrainCtl: {flow("flow", sim.PathDrain, Plain), pressure("before", sim.NodeDrainManifold), pressure("behind", sim.NodeDrainLine)},
	sim.PartDrainLine: {
		flow("flow", sim.PathDrain, Plain), pressure("here", sim.NodeDrainLine),
		figure("hardness", sim.UnitHardness, func(v *sim.View) float64 { return v.Paths[sim.PathDrain].Water.HardnessMolM3 }),
	},
	sim.PartAirGap:    {figure("flow", sim.UnitFlow, func(v *sim.View) float64 { return v.DrainStream })},
	sim.PartRefillCtl: {flow("flow", sim.PathBrineSeat, Tank), pressure("suction", sim.NodeSuction), pressure("port", sim.NodeValveBrine)},
	sim.PartBrineLine: {flow("flow", sim.PathBrineLine, Tank), pressure("port", sim.NodeValveBrine), pressure("foot", sim.NodeBrinePickup)},
	sim.PartBrineTank: {
		figure("level", sim.UnitLength, func(v *sim.View) float64 { return v.Tank.LevelM }),
		figure("saturation", sim.UnitFraction, func(v *sim.View) float64 { return v.Tank.Saturation }),
	},
	sim.PartSalt:     {figure("salt", sim.UnitLength, func(v *sim.View) float64 { return v.Tank.SaltTopM })},
	sim.PartFloat:    {figure("level", sim.UnitLength, func(v *sim.View) float64 { return v.Tank.LevelM })},
	sim.PartAirCheck: {figure("level", sim.UnitLength, func(v *sim.View) float64 { return v.Tank.LevelM }), figure("ball", sim.UnitFraction, func(v *sim.View) float64 { return v.Tank.AirCheckLift })},
	sim.PartBed: {
		flow("flow", sim.PathBed, UpDown), figure("loss", sim.UnitPressure, func(v *sim.View) float64 { return max(v.Bed.LossPa, -v.Bed.LossPa) }),
		figure("lift", sim.UnitFraction, lift), figure("left", sim.UnitFraction, func(v *sim.View) float64 { return v.Bed.RemainingCap }),
	},
	sim.PartRiser:     {flow("flow", sim.PathRiser, Plain), pressure("head", sim.NodeRiserTop), pressure("foot", sim.NodeBedBottom)},
	sim.PartUpperDist: {flow("flow", sim.PathBed, UpDown), pressure("here", sim.NodeBedTop)},
	sim.PartLowerDist: {flow("flow", sim.PathBed, UpDown), pressure("here", sim.NodeBedBottom)},
}

// sizes are what a part measures, as printed on it or by tape.
func sizes(s *sim.Setup, part sim.Part) []Figure {
	const gpm = 3.785411784e-3 / 60
	mm := func(id string, x float64) Figure { return Figure{ID: id, Value: x, Unit: Millimetres} }
	m := func(id string, x float64) Figure { return Figure{ID: id, Value: x, Unit: sim.UnitLength} }
	switch part {
	case sim.PartInjector:
		return []Figure{mm("nozzle", s.NozzleMM), mm("throat", s.ThroatMM)}
	case sim.PartDrainCtl:
		return []Figure{{ID: "rating", Value: s.DrainControlGPM * gpm, Unit: sim.UnitFlow}}
	case sim.PartRefillCtl:
		return []Figure{{ID: "rating", Value: s.RefillControlGPM * gpm, Unit: sim.UnitFlow}}
	case sim.PartBrineTank:
		return []Figure{m("diameter", s.BrineTankDiameterM), m("height", s.BrineTankHeightM)}
	case sim.PartFloat:
		return []Figure{m("above-floor", s.FloatM)}
	case sim.PartAirCheck:
		return []Figure{m("above-floor", s.AirCheckM)}
	case sim.PartBed:
		return []Figure{m("diameter", s.TankDiameterM), m("depth", s.BedDepthM), {ID: "resin", Value: s.ResinM3, Unit: Volume}}
	case sim.PartSupply:
		return []Figure{{ID: "static", Value: s.SupplyPa, Unit: sim.UnitPressure}, {ID: "hardness", Value: s.FeedHardnessMolM3, Unit: sim.UnitHardness}, {ID: "temperature", Value: s.FeedTempC, Unit: sim.UnitWarmth}}
	}
	return nil
}

// Units that no instrument shows: bores are given in mm whatever the system, and resin
// by volume, m³.
const (
	Millimetres sim.Unit = "mm"
	Volume      sim.Unit = "volume"
)
