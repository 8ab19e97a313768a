package sim

import (
	"slices"

	"brinebench/sim/call"
	"brinebench/sim/debrief"
	"brinebench/sim/fault"
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
	"brinebench/sim/scenario"
	"brinebench/sim/valve"
	"brinebench/sim/water"
)

// newSetup collects what the page needs to know of a call before it starts.
func newSetup(f *scenario.File, m *plant.Model) Setup {
	c := m.Config()
	s := Setup{
		CallID: f.ID, Title: f.Title, Customer: f.Customer, Complaint: f.Complaint, House: f.House, Notes: f.Notes,
		TankDiameterM: c.TankDiameterM, TankHeightM: c.TankHeightM,
		CounterCurrent: c.Program.InjectorDischargesBelow,
		BedDepthM:      c.Bed.DepthM, ResinM3: float64(c.Bed.DepthM * c.Bed.AreaM2),
		BrineTankDiameterM: f.Unit.BrineTankDiameterM(), BrineTankHeightM: c.Brine.HeightM,
		AirCheckM: c.Brine.AirCheckM, FloatM: c.Brine.FloatM,
		NozzleMM: f.Unit.NozzleMM, ThroatMM: f.Unit.ThroatMM,
		DrainControlGPM: f.Unit.DrainControlGPM, RefillControlGPM: f.Unit.RefillControlGPM,
		FeedHardnessMolM3:  c.Feed.Hardness(),
		SaturatedSaltMolM3: water.MolarConcentration(c.Brine.TempC, water.Solubility(c.Brine.TempC)),
		FeedTempC:          f.TempC, SupplyPa: c.SupplyPa,
	}
	for i, st := range c.Program.Stops {
		s.Stations = append(s.Stations, Station{
			ID: st.ID, Name: st.Name, AngleDeg: st.AngleDeg, Seconds: m.StationSeconds(i), Open: st.Open,
		})
	}
	for seat := range valve.NumSeats {
		for i := range s.Lobe[seat] {
			s.Lobe[seat][i] = c.Program.Lift(seat, float64(2*i))
		}
	}
	s.Instruments, s.Parts, s.Faults = instruments(m), parts(), Faults()
	s.Topics, s.Lubricants, s.Conclusions, s.MaxCauses = call.Topics, call.Lubricants, call.Conclusions, call.MaxCauses
	for i, rung := range call.Rungs {
		s.Help = append(s.Help, HelpStep{ID: rung, Points: debrief.HelpPoints[i]})
	}
	return s
}

// instruments are the tests that there is something for on this unit.
func instruments(m *plant.Model) (list []InstrumentInfo) {
	for _, in := range instrument.All() {
		if !in.NeedsOpening() && in.Fits(m) {
			list = append(list, InstrumentInfo{ID: in.ID, Name: in.Name, What: in.What, Where: in.Where, Needs: in.Needs, Minutes: in.Minutes})
		}
	}
	return list
}

func parts() (list []PartInfo) {
	for _, p := range call.Parts() {
		list = append(list, PartInfo{
			ID: p.ID, Name: p.Name, What: p.What, CanOpen: p.CanOpen, CanClean: p.CanClean, CanSet: p.CanSet, CanSwap: p.CanSwap, Seals: p.Seals, Price: p.Price, SetPrice: p.SetPrice,
			Minutes:  [4]float64{p.Minutes.Open + p.Minutes.Refit, p.Minutes.Clean, p.Minutes.Adjust, p.Minutes.Replace},
			Cautions: p.Cautions,
		})
	}
	return list
}

// What two kinds of work at the brine tank take, minutes.
const BailMinutes, DisinfectMinutes = call.BailMinutes, call.DisinfectMinutes

// OpenMinutes is what it takes to open a part and to put it back while others are open,
// minutes. It panics for a part that there is not.
func OpenMinutes(id Part, opened []Part) float64 {
	open, refit := call.OpenMinutes(part(id), opened)
	return open + refit
}

// ReplaceMinutes is what it takes to fit a new part while others are open, minutes. It
// panics for a part that there is not.
func ReplaceMinutes(id Part, opened []Part) float64 {
	return call.ReplaceMinutes(part(id), opened)
}

func part(id Part) *call.PartInfo {
	p, ok := call.Part(id)
	if !ok {
		panic("sim: no part " + string(id))
	}
	return p
}

// ValveOff reports whether, with parts open, the valve is off the tank.
func ValveOff(opened []Part) bool { return slices.ContainsFunc(opened, call.UnderValve) }

// RiserOut reports whether, with parts open, the riser and the basket at its foot are out
// of the tank, and the resin with them.
func RiserOut(opened []Part) bool { return slices.Contains(opened, PartLowerDist) }

// FaultName is what the catalogue calls a fault, or the id where it has none of that.
func FaultName(id string) string {
	for _, f := range Faults() {
		if f.ID == id {
			return f.Name
		}
	}
	return id
}

// Faults returns the catalogue that a cause is named from, in its fixed order.
func Faults() (list []FaultInfo) {
	for _, f := range fault.Catalogue() {
		list = append(list, FaultInfo{ID: f.ID, Name: f.Name, Where: f.Where})
	}
	return append(list, FaultInfo{ID: NoFault, Name: call.FaultName(NoFault)})
}
