package plant

import "brinebench/sim/valve"

// Condition is the physical state of wear, fouling, fitting and setting of every
// part: what a fault changes and a repair puts right. It is plain data inside
// State; the fault package writes it at the start, repairs write it afterwards
// (both through Model.Suffer), the step only reads it. The healthy value is given
// with each field. Shares of an opening are of its free area.
type Condition struct {
	// Injector.
	NozzleOpen    float64 // free share of the nozzle, 0..1 (1)
	NozzleWear    float64 // by how much its area has grown, as a share, 0..1 (0)
	ThroatOpen    float64 // free share of the throat, 0..1 (1)
	ThroatWear    float64 // how far the throat's edge is worn and the mixing spoilt, 0..1 (0)
	ScreenOpen    float64 // free share of the injector screen, 0..1 (1)
	InjectorScale float64 // bores of the injector fitted over those that fit the tank (1)

	// Brine side.
	BrineLineOpen float64 // free share of the brine line, 0..1 (1)
	BrineAirM     float64 // diameter of a hole through which the brine line takes air, m (0)
	BrineIce      float64 // share of the brine line's area that ice fills, 0..1 (0)
	AirCheckShut  float64 // how far the ball sticks to its seat, 0..1 (0)
	AirCheckOpen  float64 // above 0.5 the ball never seats (0)
	AirCheckHigh  float64 // how far up towards the float the ball seats, as a share of the way there (0)
	RefillOpen    float64 // free share of the refill control's bore, 0..1 (1)
	RefillScale   float64 // rating of the refill control fitted over the right one (1)
	FloatLowM     float64 // how far the safety float sits below its proper height, m (0)
	FloatStuck    float64 // above 0.5 the float holds the refill shut for good (0)
	FloatLoose    float64 // above 0.5 the float never shuts (0)
	SaltBridge    float64 // share of the undissolved salt that hangs above the liquid, 0..1 (0)
	SaltLeft      float64 // share of the scenario's salt charge present at the start, 0..1 (1)
	SaltMush      float64 // how far fine salt has caked round the well's foot, 0..1 (0)
	TankSeepM3S   float64 // water that runs into the brine tank from outside, m³/s (0)
	TankCrackM    float64 // diameter of a hole in the brine tank's wall at the floor, m (0)

	// Drain side.
	DrainLineOpen float64 // free share of the drain line, 0..1 (1)
	DrainIce      float64 // share of the drain line's area that ice fills, 0..1 (0)
	DrainUpM      float64 // by how much the drain line rises too high, m (0)
	DrainCtlOpen  float64 // free share of the drain flow control's bore, 0..1 (1)
	DrainCtlScale float64 // rating of the drain flow control fitted over the right one (1)
	DrainCtlGone  float64 // above 0.5 there is none (0)

	// Valve.
	SeatLeakCv  [valve.NumSeats]float64 // Cv of what a worn seat lets by when shut, US gpm/psi½ (0)
	SeatHeld    [valve.NumSeats]float64 // lift below which a stuck disc cannot shut, 0..1 (0)
	SeatCap     [valve.NumSeats]float64 // lift above which a stuck disc cannot open, 0..1 (1)
	DrumSlipDeg float64                 // by how much the drum lags behind its shaft, degrees (0)

	// Controller.
	CurrentLost  float64 // above 0.5 the controller's plug-in supply gives no current (0)
	MotorDead    float64 // above 0.5 the motor does not turn (0)
	GearStripped float64 // above 0.5 the motor turns without the drum (0)
	SensorLost   float64 // above 0.5 a sensed drum's position is not seen (0)
	DriftSPerDay float64 // by how much the clock gains each day, s (0)
	ClockOffS    float64 // by how much the clock was set wrong, s (0)
	MeterTurns   float64 // share of the water that turns the meter, 0..1 (1)
	MeterWired   float64 // share of its pulses that reach the controller, 0..1 (1)
	DaysSet      float64 // days set over the right interval (1)
	HardnessSet  float64 // hardness set over the right one (1)
	CapacitySet  float64 // capacity set over the right one (1)
	DoseSet      float64 // refill time set over the right one (1)

	// Tank and bed.
	RiserSealCv   float64 // Cv past the riser's seal, bed top to riser top, US gpm/psi½ (0)
	RiserCrackCv  float64 // Cv of a crack in the riser, bed top to plenum, US gpm/psi½ (0)
	UpperDistOpen float64 // free share of the upper distributor, 0..1 (1)
	LowerDistOpen float64 // free share of the lower distributor, 0..1 (1)
	LowerDistGap  float64 // how far the lower distributor's basket is broken and lets beads by, 0..1 (0)
	BedLost       float64 // share of the resin that is gone, 0..1 (0)
	BedRust       float64 // share of the exchange sites under rust, 0..1 (0)
	BedCut        float64 // share of the cross-links that chlorine has cut, 0..1 (0)
	BedChannel    float64 // share of the water that finds a channel down through the bed, 0..1 (0)

	// Pipes.
	BypassLeakCv float64 // Cv across the worn bypass in its service position, US gpm/psi½ (0)
	BypassAjar   float64 // how far the bypass was left between service and bypass, 0..1 (0)
	LinesCrossed float64 // above 0.5 inlet and outlet are joined the wrong way round (0)

	// House and street.
	SupplyScale float64 // static supply pressure over that of the scenario (1)
	FeedHarder  float64 // hardness of the feed over that of the scenario (1)
	FeedIron    float64 // iron in the feed beyond that of the scenario, mol/m³ (0)
	FeedColderC float64 // by how much the feed is colder, °C (0)
	MorePeople  float64 // people more than the unit was set up for (0)
	LeakM3S     float64 // what runs away in the house all the time, m³/s (0)
	KitchenRaw  float64 // above 0.5 the kitchen's cold tap is fed ahead of the unit (0); its draws are counted with the house's
}

// Healthy returns the condition of a unit with nothing wrong.
func Healthy() Condition {
	c := Condition{
		NozzleOpen: 1, ThroatOpen: 1, ScreenOpen: 1, InjectorScale: 1,
		BrineLineOpen: 1, RefillOpen: 1, RefillScale: 1, SaltLeft: 1,
		DrainLineOpen: 1, DrainCtlOpen: 1, DrainCtlScale: 1,
		MeterTurns: 1, MeterWired: 1, DaysSet: 1, HardnessSet: 1, CapacitySet: 1, DoseSet: 1,
		UpperDistOpen: 1, LowerDistOpen: 1, SupplyScale: 1, FeedHarder: 1,
	}
	for i := range c.SeatCap {
		c.SeatCap[i] = 1
	}
	return c
}

// Fields returns every figure of the condition, in the order of their declaration.
func (c *Condition) Fields() []float64 {
	f := []float64{
		c.NozzleOpen, c.NozzleWear, c.ThroatOpen, c.ThroatWear, c.ScreenOpen, c.InjectorScale,
		c.BrineLineOpen, c.BrineAirM, c.BrineIce, c.AirCheckShut, c.AirCheckOpen, c.AirCheckHigh,
		c.RefillOpen, c.RefillScale, c.FloatLowM, c.FloatStuck, c.FloatLoose,
		c.SaltBridge, c.SaltLeft, c.SaltMush, c.TankSeepM3S, c.TankCrackM,
		c.DrainLineOpen, c.DrainIce, c.DrainUpM, c.DrainCtlOpen, c.DrainCtlScale, c.DrainCtlGone,
	}
	f = append(f, c.SeatLeakCv[:]...)
	f = append(f, c.SeatHeld[:]...)
	f = append(f, c.SeatCap[:]...)
	return append(f,
		c.DrumSlipDeg, c.CurrentLost, c.MotorDead, c.GearStripped, c.SensorLost, c.DriftSPerDay, c.ClockOffS,
		c.MeterTurns, c.MeterWired, c.DaysSet, c.HardnessSet, c.CapacitySet, c.DoseSet,
		c.RiserSealCv, c.RiserCrackCv, c.UpperDistOpen, c.LowerDistOpen, c.LowerDistGap, c.BedLost, c.BedRust, c.BedCut, c.BedChannel,
		c.BypassLeakCv, c.BypassAjar, c.LinesCrossed,
		c.SupplyScale, c.FeedHarder, c.FeedIron, c.FeedColderC, c.MorePeople, c.LeakM3S, c.KitchenRaw,
	)
}
