// Package scenario reads the file of one service call, in trade units, and makes
// the engine's configuration of it.
package scenario

import (
	"fmt"
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/control"
	"brinebench/sim/fault"
	"brinebench/sim/household"
	"brinebench/sim/hydraulic"
	"brinebench/sim/plant"
	"brinebench/sim/resin"
	"brinebench/sim/site"
	"brinebench/sim/strict"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
	"brinebench/sim/water"
)

// MaxBytes is the greatest size of a scenario file.
const MaxBytes = 64 << 10

// File is a scenario as its file gives it; numbers are in the units of their names.
type File struct {
	ID, Title                    string
	Customer, Complaint, House   string
	Notes                        []string
	Seed                         int
	HardnessGPG, CalciumShare    float64
	SodiumMgL, PotassiumMgL      float64
	TempC                        float64
	StaticPSI, ResidualPSI       float64
	ResidualAtGPM                float64
	People                       int
	ResinFt3                     float64
	TankDiameterIn, TankHeightIn float64
	NozzleMM, ThroatMM           float64
	DrainControlGPM              float64
	RefillControlGPM             float64
	SaltDoseLb                   float64
	DrainRiseFt, DrainLengthFt   float64
	DrainBoreIn                  float64
	HouseRiseFt                  float64
	BrineLengthFt, BrineBoreIn   float64
	BrineTankIn, BrineTankHighIn float64
	AirCheckIn, FloatIn          float64
	SaltLb                       float64
	EveryDays                    int
	StartAt, CallAt              string // hh:mm
	HistoryDays                  int    // days the unit has run with its faults before the call
	DayOfCycle                   int    // days since the last regeneration at the start of the history
	Faults                       []Fault

	startS, callS float64
}

// Fault is one thing wrong with the unit.
type Fault struct {
	ID       string
	Severity float64 // 0 nothing .. 1 worst
}

// Decode reads a scenario. The error joins every fault found, each naming the
// file and the field.
func Decode(name string, data []byte) (*File, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%s: %d bytes, more than the %d that a scenario may have", name, len(data), MaxBytes)
	}
	f, w := &File{}, &strict.Walk{}
	w.Members("", data, f.fields(w))
	if w.Clean() {
		f.cross(w)
	}
	if err := w.Err(name); err != nil {
		return nil, err
	}
	return f, nil
}

// format is the version of the file format.
const format = "brinebench-scenario-1"

func (f *File) fields(w *strict.Walk) []strict.Field {
	var version string
	return []strict.Field{
		w.Text("format", &version, format),
		w.Text("id", &f.ID),
		w.Text("title", &f.Title),
		w.Text("customer", &f.Customer),
		w.Text("complaint", &f.Complaint),
		w.Text("house", &f.House),
		w.Each("notes", func(at string, raw []byte) {
			var note string
			if w.Value(at, raw, &note) {
				f.Notes = append(f.Notes, note)
			}
		}),
		w.Integer("seed", &f.Seed, 0, math.MaxInt32),
		w.Object("water",
			w.Number("hardness_gpg", &f.HardnessGPG, 1, 150),
			w.Number("calcium_share", &f.CalciumShare, 0, 1),
			w.Number("sodium_mg_L", &f.SodiumMgL, 0, 1000),
			w.Number("potassium_mg_L", &f.PotassiumMgL, 0, 1000),
			w.Number("temperature_C", &f.TempC, 1, 40)),
		w.Object("supply",
			w.Number("static_psi", &f.StaticPSI, 0, 150),
			w.Number("residual_psi", &f.ResidualPSI, 0, 150),
			w.Number("residual_at_gpm", &f.ResidualAtGPM, 1, 100)),
		w.Object("household", w.Integer("people", &f.People, 0, 20)),
		w.Object("unit", f.unitFields(w)...),
		w.Object("controller",
			w.Text("kind", new(string), "clock"),
			w.Integer("every_days", &f.EveryDays, 1, 30),
			f.clock(w, "start", &f.StartAt, &f.startS)),
		w.Object("history",
			w.Integer("days", &f.HistoryDays, 0, 30),
			w.Integer("days_since_regeneration", &f.DayOfCycle, 0, 30),
			f.clock(w, "call_at", &f.CallAt, &f.callS)),
		w.Each("faults", func(at string, raw []byte) { f.readFault(w, at, raw) }),
	}
}

func (f *File) unitFields(w *strict.Walk) []strict.Field {
	return []strict.Field{
		w.Number("resin_ft3", &f.ResinFt3, 0.5, 6),
		w.Number("tank_diameter_in", &f.TankDiameterIn, 6, 24),
		w.Number("tank_height_in", &f.TankHeightIn, 20, 72),
		w.Number("nozzle_mm", &f.NozzleMM, 0.3, 5),
		w.Number("throat_mm", &f.ThroatMM, 0.6, 10),
		w.Number("drain_control_gpm", &f.DrainControlGPM, 0.3, 20),
		w.Number("refill_control_gpm", &f.RefillControlGPM, 0.05, 3),
		w.Number("salt_dose_lb", &f.SaltDoseLb, 0.5, 90),
		w.Number("drain_rise_ft", &f.DrainRiseFt, -6, 12),
		w.Number("drain_length_ft", &f.DrainLengthFt, 1, 100),
		w.Number("drain_bore_in", &f.DrainBoreIn, 0.2, 2),
		w.Number("house_rise_ft", &f.HouseRiseFt, -10, 40),
		w.Number("brine_line_length_ft", &f.BrineLengthFt, 1, 50),
		w.Number("brine_line_bore_in", &f.BrineBoreIn, 0.1, 1),
		w.Number("brine_tank_diameter_in", &f.BrineTankIn, 10, 40),
		w.Number("brine_tank_height_in", &f.BrineTankHighIn, 20, 60),
		w.Number("air_check_in", &f.AirCheckIn, 0.5, 10),
		w.Number("float_in", &f.FloatIn, 3, 50),
		w.Number("salt_lb", &f.SaltLb, 0, 600),
	}
}

// clock reads a time of day hh:mm into text and seconds since midnight.
func (f *File) clock(w *strict.Walk, key string, text *string, seconds *float64) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		if !w.Value(at, raw, text) {
			return
		}
		t := *text
		digit := func(i int) int { return int(t[i]) - '0' }
		if len(t) != 5 || t[2] != ':' {
			w.Fault(at, "%q is no time of day hh:mm", t)
			return
		}
		for _, i := range []int{0, 1, 3, 4} {
			if digit(i) < 0 || digit(i) > 9 {
				w.Fault(at, "%q is no time of day hh:mm", t)
				return
			}
		}
		hours, minutes := 10*digit(0)+digit(1), 10*digit(3)+digit(4)
		if hours > 23 || minutes > 59 {
			w.Fault(at, "%q is no time of day", t)
			return
		}
		*seconds = float64(60 * (60*hours + minutes))
	}}
}

func (f *File) readFault(w *strict.Walk, at string, raw []byte) {
	var x Fault
	w.Members(at, raw, []strict.Field{
		w.Text("id", &x.ID),
		w.Number("severity", &x.Severity, 0, 1),
	})
	if _, ok := fault.Find(x.ID); !ok && x.ID != "" {
		w.Fault(at+".id", "no fault is named %q", x.ID)
	}
	f.Faults = append(f.Faults, x)
}

// cross checks what concerns more than one field.
func (f *File) cross(w *strict.Walk) {
	if f.ThroatMM <= f.NozzleMM {
		w.Fault("unit.throat_mm", "%v is not wider than the nozzle's %v", f.ThroatMM, f.NozzleMM)
	}
	if f.ResidualPSI > f.StaticPSI {
		w.Fault("supply.residual_psi", "%v is above the static pressure %v", f.ResidualPSI, f.StaticPSI)
	}
	if f.FloatIn <= f.AirCheckIn || f.FloatIn >= f.BrineTankHighIn {
		w.Fault("unit.float_in", "%v is not between the air check at %v and the rim at %v", f.FloatIn, f.AirCheckIn, f.BrineTankHighIn)
	}
	if refill := f.refillM3() / si(f.RefillControlGPM, unit.GPM); refill > maxRefillS {
		w.Fault("unit.refill_control_gpm", "%v gpm would need %.0f min for %v lb of salt, more than %v", f.RefillControlGPM, refill/60, f.SaltDoseLb, maxRefillS/60)
	}
	if level := f.brineLevelM(); level > si(f.FloatIn, unit.Inch) {
		w.Fault("unit.float_in", "%v in is below the brine of one dose at %.1f in", f.FloatIn, level/unit.Inch)
	}
	depthIn := f.ResinFt3 * 1728 / float64(math.Pi/4*f.TankDiameterIn*f.TankDiameterIn)
	if depthIn > 0.8*f.TankHeightIn {
		w.Fault("unit.resin_ft3", "a bed of %.0f in leaves less than a fifth of the tank's %v in as freeboard", depthIn, f.TankHeightIn)
	}
}

// Config returns the engine's configuration.
func (f *File) Config() plant.Config {
	diameter := si(f.TankDiameterIn, unit.Inch)
	area := float64(math.Pi / 4 * float64(diameter*diameter))
	height := si(f.TankHeightIn, unit.Inch)
	bed := resin.DefaultSpec(si(f.ResinFt3, unit.CubicFoot), area)
	bed.FreeboardM3 = float64(area * (height - bed.DepthM))
	refillM3S := si(f.RefillControlGPM, unit.GPM)
	return plant.Config{
		Feed: water.ComposeFeed(si(f.HardnessGPG, unit.GPG), f.CalciumShare,
			f.SodiumMgL/(1e3*water.MolarMass[water.Na]), f.PotassiumMgL/(1e3*water.MolarMass[water.K])),
		Site:        site.Steady(f.TempC, 15),
		SupplyPa:    si(f.StaticPSI, unit.PSI),
		SupplyLossB: hydraulic.MainsB(si(f.StaticPSI, unit.PSI), si(f.ResidualPSI, unit.PSI), si(f.ResidualAtGPM, unit.GPM)),
		DrainRiseM:  si(f.DrainRiseFt, unit.Foot), DrainLengthM: si(f.DrainLengthFt, unit.Foot), DrainBoreM: si(f.DrainBoreIn, unit.Inch),
		HouseRiseM: si(f.HouseRiseFt, unit.Foot),
		BrineLiftM: height, BrineLengthM: si(f.BrineLengthFt, unit.Foot), BrineBoreM: si(f.BrineBoreIn, unit.Inch),
		TankDiameterM: diameter, TankHeightM: height, RiserBoreM: riserBoreM(f.TankDiameterIn),
		Bed:     bed,
		NozzleM: si(f.NozzleMM, unit.Millimetre), ThroatM: si(f.ThroatMM, unit.Millimetre),
		DrainM3S: si(f.DrainControlGPM, unit.GPM), RefillM3S: refillM3S,
		Brine:   f.brineSpec(),
		SaltKg:  si(f.SaltLb, unit.Pound),
		BrineM:  f.brineLevelM(),
		Program: valve.Standard(),
		Control: control.Settings{
			EveryDays: f.EveryDays, StartS: f.startS,
			RefillS: max(0, f.refillM3()/refillM3S-refillTravelS),
		},
		Calendar: control.State{ClockS: f.callS, DaysSince: f.DayOfCycle, Skip: max(0, f.EveryDays-1-f.DayOfCycle)},
		House:    household.Standard(f.People, uint64(f.Seed)),
	}
}

// si converts a number in a trade unit. The conversion keeps the product from
// being fused into a sum on processors that do so.
func si(x, inSI float64) float64 { return float64(x * inSI) }

// BrineTankDiameterM is the diameter of the brine tank.
func (f *File) BrineTankDiameterM() float64 { return si(f.BrineTankIn, unit.Inch) }

func (f *File) brineSpec() brine.Spec {
	sp := brine.Standard()
	d := si(f.BrineTankIn, unit.Inch)
	sp.AreaM2 = float64(math.Pi / 4 * float64(d*d))
	sp.HeightM = si(f.BrineTankHighIn, unit.Inch)
	sp.AirCheckM = si(f.AirCheckIn, unit.Inch)
	sp.FloatM = si(f.FloatIn, unit.Inch)
	sp.BridgeM = math.Min(sp.FloatM+0.02, sp.HeightM)
	sp.TempC = 15
	return sp
}

// maxRefillS is the longest refill that a controller can be set to, s.
const maxRefillS = 4 * 3600

// saltPerGallonLb is what a gallon of refill water dissolves, lb: common
// practice, and computed from the solubility of salt (2.96 to 3.0).
const saltPerGallonLb = 3

// refillTravelS is how long the brine seat stands open on the drum's way to and
// from the refill stop, s: half of each travel of 72° at 3°/s. The controller is
// set to so much less.
const refillTravelS = 24

// refillM3 is the water that makes brine of the salt dose.
func (f *File) refillM3() float64 { return float64(f.SaltDoseLb / saltPerGallonLb * unit.USGallon) }

// brineLevelM is the level at which the tank holds the brine of one dose above
// the air check: how a sound unit stands between regenerations.
func (f *File) brineLevelM() float64 {
	sp := f.brineSpec()
	const swell = 1.13 // volume of saturated brine over the volume of its water
	return sp.AirCheckM + float64(swell*f.refillM3())/float64(sp.AreaM2*sp.SaltVoid)
}

// Condition returns the unit's condition with all its faults.
func (f *File) Condition() plant.Condition {
	c := plant.Healthy()
	for _, x := range f.Faults {
		entry, ok := fault.Find(x.ID)
		if !ok {
			panic("scenario: fault " + x.ID + " passed Decode and is not in the catalogue")
		}
		entry.Apply(&c, x.Severity)
	}
	return c
}
