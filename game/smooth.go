package game

import (
	"math"

	"brinebench/sim"
)

// blend writes into dst the state a fraction f of the way from a to b, so that
// motion stays even at one tick in fifteen frames. What is no quantity is b's.
func blend(dst, a, b *sim.View, f float64) {
	opened := append(dst.Opened[:0], b.Opened...)
	*dst = *b
	dst.Opened = opened
	if a.Tick == b.Tick {
		return
	}
	l := func(p, q float64) float64 { return p + (q-p)*f }
	dst.TimeS = l(a.TimeS, b.TimeS)
	dst.DrumDeg = lerpRound(a.DrumDeg, b.DrumDeg, f, 360)
	dst.Controller.ClockS = lerpRound(a.Controller.ClockS, b.Controller.ClockS, f, 86400)
	if a.Controller.Station == b.Controller.Station && a.Controller.Moving == b.Controller.Moving {
		dst.Controller.ElapsedS = l(a.Controller.ElapsedS, b.Controller.ElapsedS)
		dst.Controller.RemainingS = l(a.Controller.RemainingS, b.Controller.RemainingS)
	}
	for i := range dst.SeatLift {
		dst.SeatLift[i] = l(a.SeatLift[i], b.SeatLift[i])
	}
	for i := range dst.Paths {
		dst.Paths[i].FlowM3S = l(a.Paths[i].FlowM3S, b.Paths[i].FlowM3S)
	}
	for i := range dst.PressurePa {
		dst.PressurePa[i] = l(a.PressurePa[i], b.PressurePa[i])
	}
	dst.Bed.DepthM = l(a.Bed.DepthM, b.Bed.DepthM)
	dst.Bed.VelocityMS = l(a.Bed.VelocityMS, b.Bed.VelocityMS)
	dst.Tank.LevelM = l(a.Tank.LevelM, b.Tank.LevelM)
	dst.Tank.SaltTopM = l(a.Tank.SaltTopM, b.Tank.SaltTopM)
	dst.Tank.FloatM = l(a.Tank.FloatM, b.Tank.FloatM)
	dst.Tank.AirCheckLift = l(a.Tank.AirCheckLift, b.Tank.AirCheckLift)
	dst.DrainStream = l(a.DrainStream, b.DrainStream)
	dst.HouseDrawM3S = l(a.HouseDrawM3S, b.HouseDrawM3S)
	dst.HouseSetM3S = l(a.HouseSetM3S, b.HouseSetM3S)
}

// lerpRound goes the shorter way round a dial of that many divisions.
func lerpRound(a, b, f, round float64) float64 {
	d := math.Mod(b-a+1.5*round, round) - 0.5*round
	return math.Mod(a+d*f+round, round)
}
