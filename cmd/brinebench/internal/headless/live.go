package headless

import (
	"fmt"
	"math"

	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// life is what "plant" prints.
type life struct {
	Scenario string       `json:"scenario"`
	Faults   []faultShown `json:"faults"`
	Days     float64      `json:"days"`
	Service  []service    `json:"service"`
	Cycles   []cycle      `json:"cycles"`
	Totals   totals       `json:"totals"`
	Ledger   ledger       `json:"ledger_error_relative"`
	Unsolved int          `json:"network_steps_unsolved"`
	Hash     string       `json:"state_hash"`
}

type faultShown struct {
	ID       string  `json:"id"`
	Severity float64 `json:"severity"`
}

// service is one stretch between regenerations.
type service struct {
	FromDay      float64 `json:"from_day"`
	HouseL       float64 `json:"house_L"`
	HardnessMean float64 `json:"hardness_mean_gpg"`
	HardL        float64 `json:"house_above_1_gpg_L"`
}

// cycle is one regeneration.
type cycle struct {
	Day       float64   `json:"day"`
	Minutes   float64   `json:"minutes"`
	DrawnL    float64   `json:"brine_drawn_L"`
	RefilledL float64   `json:"refilled_L"`
	SaltKg    float64   `json:"salt_used_kg"`
	LevelM    float64   `json:"brine_level_after_m"`
	Stations  []station `json:"stations"`
}

// station is one stop of a cycle; pressures and flows are means over its time.
type station struct {
	ID          string  `json:"id"`
	Minutes     float64 `json:"minutes"`
	ValveInPSI  float64 `json:"valve_in_psi"`
	ValveOutPSI float64 `json:"valve_out_psi"`
	BedTopPSI   float64 `json:"bed_top_psi"`
	DrainGPM    float64 `json:"drain_gpm"`
	BrineGPM    float64 `json:"brine_line_gpm"`
	BrineMaxGPM float64 `json:"brine_line_greatest_gpm"`
	MotiveGPM   float64 `json:"motive_gpm"`
	BedM        float64 `json:"bed_depth_greatest_m"`
}

type totals struct {
	SupplyL      float64 `json:"supply_L"`
	HouseL       float64 `json:"house_L"`
	DrainL       float64 `json:"drain_L"`
	DrawnL       float64 `json:"brine_drawn_L"`
	RefilledL    float64 `json:"refilled_L"`
	SaltKg       float64 `json:"salt_used_kg"`
	HardnessMean float64 `json:"hardness_mean_gpg"`
	HardL        float64 `json:"house_above_1_gpg_L"`
}

type ledger struct {
	Water     float64 `json:"water"`
	TankWater float64 `json:"brine_tank_water"`
	Salt      float64 `json:"salt"`
	Na        float64 `json:"Na"`
	K         float64 `json:"K"`
	Ca        float64 `json:"Ca"`
	Mg        float64 `json:"Mg"`
	Fe        float64 `json:"Fe"`
}

// live runs the unit and writes down what happens to it.
func live(f *scenario.File, m *plant.Model, seconds float64) life {
	past := f.Begin(m)
	s := past.State
	start := s.Clone()
	out := life{Scenario: f.ID, Days: seconds / unit.Day, Faults: []faultShown{}, Cycles: []cycle{}}
	for _, x := range f.Faults {
		out.Faults = append(out.Faults, faultShown{x.ID, x.Severity})
	}
	w := watch{model: m, state: s}
	w.open()
	for s.TimeS < seconds {
		before := s.TimeS
		past.Step(seconds)
		w.look(&out, s.TimeS-before)
	}
	m.Exchange(s)
	out.Service = append(out.Service, w.service())
	b := m.Audit(start, s)
	out.Ledger = ledger(b)
	out.Unsolved = s.Unsolved
	out.Hash = fmt.Sprintf("%016x", s.Hash())
	l := &s.Ledger
	out.Totals = totals{
		SupplyL: l.SupplyM3 * 1e3, HouseL: l.HouseM3 * 1e3, DrainL: l.DrainM3 * 1e3,
		DrawnL: l.DrawnM3 * 1e3, RefilledL: l.RefilledM3 * 1e3, SaltKg: saltKg(l),
		HardnessMean: ratio(l.HouseMol.Hardness(), l.HouseM3) / unit.GPG, HardL: l.HouseHardM3 * 1e3,
	}
	return out
}

// saltKg is the salt that left the brine tank for the bed: chloride drawn less
// chloride that came back with the refill.
func saltKg(l *plant.Ledger) float64 {
	return (l.TankOutMol.Anion() - l.TankInMol.Anion()) * water.MolarMassNaCl
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// watch follows one unit from station to station.
type watch struct {
	model *plant.Model
	state *plant.State
	from  plant.Ledger // books at the start of the present stretch or cycle
	fromS float64
	inRun bool // a regeneration is under way
	at    int  // station it stands at, -1 on the way
	now   station
	timeS float64 // at the station
	cycle cycle
}

func (w *watch) open() { w.from, w.fromS, w.at = w.state.Ledger, w.state.TimeS, -1 }

// look takes in one step of dt seconds.
func (w *watch) look(out *life, dt float64) {
	c := &w.state.Control
	if c.Regenerating && !w.inRun {
		w.inRun = true
		w.model.Exchange(w.state)
		out.Service = append(out.Service, w.service())
		w.open()
		w.cycle = cycle{Day: w.state.TimeS / unit.Day}
	}
	if !w.inRun {
		return
	}
	if at := w.station(); at != w.at {
		w.leave()
		w.at = at
	}
	w.measure(dt)
	if !c.Regenerating {
		w.inRun = false
		w.leave()
		w.close(out)
	}
}

// station is where the drum stands in a regeneration; -1 while it moves.
func (w *watch) station() int {
	c := &w.state.Control
	if c.Moving || c.Station == 0 {
		return -1
	}
	return c.Station
}

func (w *watch) measure(dt float64) {
	if w.at < 0 {
		return
	}
	m, s, n := w.model, w.state, &w.now
	w.timeS += dt
	n.ValveInPSI += m.PressurePa(s, plant.ValveIn) / unit.PSI * dt
	n.ValveOutPSI += m.PressurePa(s, plant.ValveOut) / unit.PSI * dt
	n.BedTopPSI += m.PressurePa(s, plant.BedTop) / unit.PSI * dt
	n.DrainGPM += m.Flow(s, plant.Drain) / unit.GPM * dt
	n.MotiveGPM += m.Flow(s, plant.MotiveSeat) / unit.GPM * dt
	brine := m.Flow(s, plant.BrineLine) / unit.GPM
	n.BrineGPM += brine * dt
	if math.Abs(brine) > math.Abs(n.BrineMaxGPM) {
		n.BrineMaxGPM = brine
	}
	n.BedM = math.Max(n.BedM, s.BedDepthM)
}

// leave closes the station that was watched.
func (w *watch) leave() {
	if w.at < 0 || w.timeS == 0 {
		return
	}
	n, t := w.now, w.timeS
	n.ID = w.model.Config().Program.Stops[w.at].ID
	n.Minutes = t / 60
	for _, x := range []*float64{&n.ValveInPSI, &n.ValveOutPSI, &n.BedTopPSI, &n.DrainGPM, &n.BrineGPM, &n.MotiveGPM} {
		*x /= t
	}
	w.cycle.Stations = append(w.cycle.Stations, n)
	w.now, w.timeS, w.at = station{}, 0, -1
}

// close books the cycle that has ended.
func (w *watch) close(out *life) {
	w.model.Exchange(w.state)
	l := &w.state.Ledger
	w.cycle.Minutes = (w.state.TimeS - w.fromS) / 60
	w.cycle.DrawnL = (l.DrawnM3 - w.from.DrawnM3) * 1e3
	w.cycle.RefilledL = (l.RefilledM3 - w.from.RefilledM3) * 1e3
	w.cycle.SaltKg = saltKg(l) - saltKg(&w.from)
	w.cycle.LevelM = w.model.Tank(w.state).LevelM
	out.Cycles = append(out.Cycles, w.cycle)
	w.open()
}

// service tells of the stretch since the last regeneration.
func (w *watch) service() service {
	l := &w.state.Ledger
	m3 := l.HouseM3 - w.from.HouseM3
	return service{
		FromDay: w.fromS / unit.Day, HouseL: m3 * 1e3,
		HardnessMean: ratio(l.HouseMol.Hardness()-w.from.HouseMol.Hardness(), m3) / unit.GPG,
		HardL:        (l.HouseHardM3 - w.from.HouseHardM3) * 1e3,
	}
}
