package scenario

import (
	"encoding/json"
	"math"

	"brinebench/sim/brine"
	"brinebench/sim/outfit"
	"brinebench/sim/strict"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Unit is the softener with its pipes. A file may name a set of parts that fit
// ("set", see outfit.Named) and then leave out what that gives.
type Unit struct {
	Set                          string
	ResinFt3                     float64
	TankDiameterIn, TankHeightIn float64
	RiserBoreMM                  float64
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
	ProgramID                    string
	BlendCv                      float64 // of a blending bypass, US gpm/psi½
}

// setOf finds the set that a file names, "" for none, before the file is read: a
// set makes other fields optional. What is wrong with the text is found later.
func setOf(data []byte) (set string, program string) {
	var f struct {
		Unit struct {
			Set     string `json:"set"`
			Program string `json:"program"`
		} `json:"unit"`
	}
	if json.Unmarshal(data, &f) != nil {
		return "", ""
	}
	return f.Unit.Set, f.Unit.Program
}

// fit takes over the parts of a set, and pipes as they are led in most houses;
// common practice, no source.
func (u *Unit) fit(set, program string) {
	u.RiserBoreMM, u.ProgramID = 27, "standard"
	x, ok := outfit.Named(set)
	if !ok {
		return
	}
	p := x.Parts
	if prog, known := valve.ProgramNamed(program); known {
		p = x.PartsFor(&prog)
	}
	*u = Unit{
		Set: set, ResinFt3: x.ResinFt3, TankDiameterIn: x.TankDiameterIn, TankHeightIn: x.TankHeightIn, RiserBoreMM: x.RiserBoreMM,
		NozzleMM: p.NozzleMM, ThroatMM: p.ThroatMM, DrainControlGPM: p.DrainControlGPM, RefillControlGPM: p.RefillControlGPM,
		SaltDoseLb:  x.SaltLb[0],
		DrainRiseFt: 1.5, DrainLengthFt: 15, DrainBoreIn: 0.5, HouseRiseFt: 8, BrineLengthFt: 5, BrineBoreIn: p.BrineBoreIn,
		BrineTankIn: p.BrineTankIn, BrineTankHighIn: p.BrineTankHighIn, AirCheckIn: p.AirCheckIn, FloatIn: p.FloatIn,
		SaltLb: 200, ProgramID: p.ProgramID,
	}
}

func (u *Unit) fields(w *strict.Walk) []strict.Field {
	list := []strict.Field{
		w.Number("resin_ft3", &u.ResinFt3, 0.5, 6),
		w.Number("tank_diameter_in", &u.TankDiameterIn, 6, 24),
		w.Number("tank_height_in", &u.TankHeightIn, 20, 72),
		w.Number("nozzle_mm", &u.NozzleMM, 0.3, 5),
		w.Number("throat_mm", &u.ThroatMM, 0.6, 10),
		w.Number("drain_control_gpm", &u.DrainControlGPM, 0.3, 20),
		w.Number("refill_control_gpm", &u.RefillControlGPM, 0.05, 3),
		w.Number("salt_dose_lb", &u.SaltDoseLb, 0.5, 90),
		w.Number("drain_rise_ft", &u.DrainRiseFt, -6, 12),
		w.Number("drain_length_ft", &u.DrainLengthFt, 1, 100),
		w.Number("drain_bore_in", &u.DrainBoreIn, 0.2, 2),
		w.Number("house_rise_ft", &u.HouseRiseFt, -10, 40),
		w.Number("brine_line_length_ft", &u.BrineLengthFt, 1, 50),
		w.Number("brine_line_bore_in", &u.BrineBoreIn, 0.1, 1),
		w.Number("brine_tank_diameter_in", &u.BrineTankIn, 10, 40),
		w.Number("brine_tank_height_in", &u.BrineTankHighIn, 20, 60),
		w.Number("air_check_in", &u.AirCheckIn, 0.5, 10),
		w.Number("float_in", &u.FloatIn, 3, 50),
		w.Number("salt_lb", &u.SaltLb, 0, 600),
	}
	for i := range list {
		list[i].Optional = u.Set != ""
	}
	return append(list,
		optional(w.Text("set", &u.Set, setIDs()...)),
		optional(w.Number("riser_bore_mm", &u.RiserBoreMM, 10, 100)),
		optional(w.Text("program", &u.ProgramID, valve.ProgramIDs()...)),
		optional(w.Number("blend_cv", &u.BlendCv, 0, 12)),
	)
}

func setIDs() (ids []string) {
	for _, s := range outfit.All() {
		ids = append(ids, s.ID)
	}
	return ids
}

// program is the sequence of the unit's drum.
func (u *Unit) program() valve.Program {
	p, ok := valve.ProgramNamed(u.ProgramID)
	if !ok {
		panic("scenario: program " + u.ProgramID + " passed Decode and is not known")
	}
	return p
}

// cross checks what concerns more than one field.
func (u *Unit) cross(w *strict.Walk) {
	if u.ThroatMM <= u.NozzleMM {
		w.Fault("unit.throat_mm", "%v is not wider than the nozzle's %v", u.ThroatMM, u.NozzleMM)
	}
	if u.FloatIn <= u.AirCheckIn || u.FloatIn >= u.BrineTankHighIn {
		w.Fault("unit.float_in", "%v is not between the air check at %v and the rim at %v", u.FloatIn, u.AirCheckIn, u.BrineTankHighIn)
	}
	p := u.program()
	if refill := p.RefillStopS(u.refillM3() / si(u.RefillControlGPM, unit.GPM)); refill > p.MaxRefillS {
		w.Fault("unit.refill_control_gpm", "%v gpm would need %.0f min at each refill stop for %v lb of salt, more than the program's %v",
			u.RefillControlGPM, refill/60, u.SaltDoseLb, p.MaxRefillS/60)
	}
	if level := u.brineLevelM(); level > si(u.FloatIn, unit.Inch) {
		w.Fault("unit.float_in", "%v in is below the brine of one dose at %.1f in", u.FloatIn, level/unit.Inch)
	}
	depthIn := u.ResinFt3 * 1728 / float64(math.Pi/4*u.TankDiameterIn*u.TankDiameterIn)
	if depthIn > 0.8*u.TankHeightIn {
		w.Fault("unit.resin_ft3", "a bed of %.0f in leaves less than a fifth of the tank's %v in as freeboard", depthIn, u.TankHeightIn)
	}
}

func (u *Unit) brineSpec() brine.Spec {
	sp := brine.Standard()
	d := si(u.BrineTankIn, unit.Inch)
	sp.AreaM2 = float64(math.Pi / 4 * float64(d*d))
	sp.HeightM = si(u.BrineTankHighIn, unit.Inch)
	sp.AirCheckM = si(u.AirCheckIn, unit.Inch)
	sp.FloatM = si(u.FloatIn, unit.Inch)
	sp.BridgeM = math.Min(sp.FloatM+0.02, sp.HeightM)
	sp.TempC = 15
	return sp
}

// saltPerGallonLb is what a gallon of refill water dissolves, lb: common
// practice, and computed from the solubility of salt (2.96 to 3.0).
const saltPerGallonLb = 3

// refillM3 is the water that makes brine of the salt dose.
func (u *Unit) refillM3() float64 {
	return float64(u.SaltDoseLb / saltPerGallonLb * unit.USGallon)
}

// refillS is what the controller's refill stop is set to, s.
func (u *Unit) refillS() float64 {
	p := u.program()
	return p.RefillStopS(u.refillM3() / si(u.RefillControlGPM, unit.GPM))
}

// brineLevelM is the level at which the tank holds the brine of one dose above
// the air check: how a sound unit stands between regenerations.
func (u *Unit) brineLevelM() float64 {
	sp := u.brineSpec()
	const swell = 1.13 // volume of saturated brine over the volume of its water
	return sp.AirCheckM + float64(swell*u.refillM3())/float64(sp.AreaM2*sp.SaltVoid)
}

// BrineTankDiameterM is the diameter of the brine tank.
func (u *Unit) BrineTankDiameterM() float64 { return si(u.BrineTankIn, unit.Inch) }
