package plant

import (
	"math"

	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// Run is what was noticed of one regeneration.
type Run struct {
	Seconds  float64 // away from service, s
	DrawS    float64 // drawing brine, s
	DrainM3S float64 // the strongest stream at the drain, m³/s
}

// Log is what people remember of a unit: plain data, Step writes it.
type Log struct {
	Last, Now Run     // the last regeneration, and the one that runs
	DrawS     float64 // how long the family has drawn water so far, s
	WeakS     float64 // how long of that with little pressure, s
	HardFromS float64 // when the family first noticed water above 1 gpg, s of the unit's time; 0 never
	Hard      HardDays
}

// HardDays tells how the hard water came and went, day by day, since it was first
// noticed. An exchange writes it.
type HardDays struct {
	Day         int     // of the household, that is being lived
	M3, HardM3  float64 // drawn on it, and of that hard, m³
	Hard, Soft  int     // days that are over
	Spells      int     // of hard days on end
	SoftForDays int     // soft days since the last hard one
}

// hardShare of a day's water makes it a hard day: common practice, no source.
const hardShare = 0.1

// draw books water that a family gets on a day; once noticed, its days count.
func (h *HardDays) draw(day int, m3, hardM3 float64, noticed bool) {
	if day != h.Day {
		h.end(noticed)
		h.Day, h.M3, h.HardM3 = day, 0, 0
	}
	h.M3 += m3
	h.HardM3 += hardM3
}

func (h *HardDays) end(noticed bool) {
	switch {
	case !noticed || h.M3 <= 0:
	case h.HardM3 < float64(hardShare*h.M3):
		h.Soft++
		h.SoftForDays++
	default:
		if h.Hard == 0 || h.SoftForDays > 0 {
			h.Spells++
		}
		h.Hard++
		h.SoftForDays = 0
	}
}

// drawsM3S is a draw of brine that can be seen, m³/s.
const drawsM3S = 0.02 * unit.GPM

// remember writes the log of one step.
func (m *Model) remember(s *State, dt float64) {
	l := &s.Log
	if draw := m.houseDraw(s) - s.Cond.LeakM3S; draw > 0 {
		l.DrawS += dt
		if s.Net.P[HouseSide] < weakPa {
			l.WeakS += dt
		}
	}
	switch {
	case s.Control.Regenerating || s.Control.Moving:
		l.Now.Seconds += dt
		l.Now.DrainM3S = math.Max(l.Now.DrainM3S, s.Net.Q[linkDrainLine])
		if m.TankDraw(s) > drawsM3S {
			l.Now.DrawS += dt
		}
	case l.Now.Seconds > 0:
		l.Last, l.Now = l.Now, Run{}
	}
}

// weakPa is the pressure at the house below which people complain, Pa: common
// practice, no source.
const weakPa = 14 * unit.PSI

// WeakAtTaps reports whether the family has noticed a weak flow.
func (m *Model) WeakAtTaps(s *State) bool { return s.Log.WeakS > 0.15*s.Log.DrawS }

// TankDraw is the flow out of the brine tank, m³/s; negative into it. Air is none.
func (m *Model) TankDraw(s *State) float64 {
	q := s.Net.Q[linkAirCheck]
	switch {
	case q > 0 && s.Felt.Dry:
		return 0
	case q < 0:
		return q + s.Rates[toTank][fromAir]
	}
	return q
}

// LeakFlow is what runs away in the house just now, m³/s.
func (m *Model) LeakFlow(s *State) float64 {
	if draw := m.houseDraw(s); draw > 0 {
		return float64(s.Net.Q[linkHouse] * s.Cond.LeakM3S / draw)
	}
	return 0
}

// ChlorideKgM3 is the chloride of water that has come through the unit, kg/m³. A
// softener's water carries what anions came with the raw water; what there is beyond a
// usual share of chloride among them (common practice, no source) is salt.
func (s *State) ChlorideKgM3(w water.Ions) float64 {
	const usual, kgMol = 0.25, 35.45e-3
	raw := s.Around.Feed.Anion()
	came := float64(usual * math.Max(0, math.Min(w.Anion(), raw)))
	return float64((came + math.Max(0, w.Anion()-raw)) * kgMol)
}

// People is how many live in the house today.
func (m *Model) People(s *State) int {
	h := m.household(&s.Cond)
	return h.PeopleOn(s.House.Day)
}

// ClockFastS is by how much the controller's clock is fast, s, −12 h to 12 h.
func (m *Model) ClockFastS(s *State) float64 {
	d := s.Control.ClockS - s.House.TimeS
	return d - float64(unit.Day*math.Floor(d/unit.Day+0.5))
}
