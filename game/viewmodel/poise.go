package viewmodel

import (
	"math"

	"brinebench/sim"
)

// Poise is the unit as the eye sees it: what has a place or an angle eases towards
// where the unit has it, so that nothing jumps when a hand turns a valve, time runs
// fast or the person looks at another moment. Numbers are not taken from it.
type Poise struct {
	View    sim.View
	ShutOff float64    // turn of the shut-off, 0 open .. 1 shut
	Bypass  [3]float64 // shares of the positions service, bypass and shut, together 1
	begun   bool
}

// easeS is the time constant of the approach, s: a step is nearly over after three.
const easeS = 0.11

// Follow lets dt seconds go by, or goes to v at once: at first, and where motion is
// not wanted. It allocates nothing; the view's list of opened parts is shared.
func (p *Poise) Follow(v *sim.View, dt float64, atOnce bool) {
	shut, bypass := turns(v)
	was := p.View
	p.View = *v
	if !p.begun || atOnce {
		p.begun, p.ShutOff, p.Bypass = true, shut, bypass
		return
	}
	k := 1 - math.Exp(-dt/easeS)
	ease := func(from, to float64) float64 {
		if d := (to - from) * (1 - k); math.Abs(d) > 3e-4*math.Abs(to)+1e-4 {
			return to - d
		}
		return to
	}
	now := &p.View
	now.DrumDeg = math.Mod(ease(0, math.Mod(v.DrumDeg-was.DrumDeg+540, 360)-180)+was.DrumDeg+360, 360)
	for i := range now.SeatLift {
		now.SeatLift[i] = ease(was.SeatLift[i], v.SeatLift[i])
	}
	for i := range now.PressurePa {
		now.PressurePa[i] = ease(was.PressurePa[i], v.PressurePa[i])
	}
	now.Bed.DepthM = ease(was.Bed.DepthM, v.Bed.DepthM)
	now.HouseTap, now.RawTap = ease(was.HouseTap, v.HouseTap), ease(was.RawTap, v.RawTap)
	p.ShutOff = ease(p.ShutOff, shut)
	for i := range p.Bypass {
		p.Bypass[i] = ease(p.Bypass[i], bypass[i])
	}
	easeTank(&now.Tank, &was.Tank, ease)
}

func easeTank(now, was *sim.TankView, ease func(from, to float64) float64) {
	now.LevelM = ease(was.LevelM, now.LevelM)
	now.SaltTopM = ease(was.SaltTopM, now.SaltTopM)
	if was.SaltBottomM > 0 && now.SaltBottomM > 0 { // else a bridge forms or falls
		now.SaltBottomM = ease(was.SaltBottomM, now.SaltBottomM)
	}
	now.LooseSaltTopM = ease(was.LooseSaltTopM, now.LooseSaltTopM)
	now.FloatM = ease(was.FloatM, now.FloatM)
	now.AirCheckLift = ease(was.AirCheckLift, now.AirCheckLift)
}

// turns tells how shut-off and bypass stand.
func turns(v *sim.View) (shutOff float64, bypass [3]float64) {
	if v.ShutOff {
		shutOff = 1
	}
	switch v.Bypass {
	case "bypass":
		bypass[1] = 1
	case "shut":
		bypass[2] = 1
	default:
		bypass[0], bypass[1] = 1-v.BypassAjar, v.BypassAjar
	}
	return shutOff, bypass
}

// Bore returns the directions that a bypass plug's bore opens to, radians.
func (p *Poise) Bore(q *Ball) (from, to float64) {
	near := func(a, b float64) float64 { return b + math.Remainder(a-b, 2*math.Pi) }
	quarter := near(q.Mains+1.25*math.Pi, q.Valve)
	from = q.Mains + p.Bypass[2]*(quarter-math.Pi-near(q.Mains, quarter-math.Pi))
	to = p.Bypass[0]*q.Valve + p.Bypass[1]*near(q.Across, q.Valve) + p.Bypass[2]*quarter
	return from, to
}
