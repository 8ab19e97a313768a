package sizing

import (
	"brinebench/sim/outfit"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Sheet holds figures: all of a worked solution, some of an answer. Values are in SI.
type Sheet struct {
	Value   [NumFigures]float64
	Given   [NumFigures]bool
	Written [NumFigures]Amount // as they were written, in an answer
	Tank    string             // id of a set of package outfit, "" not given
	Program string             // id of a program of package valve, "" not given
	chosen  choice             // what tank and dose were chosen by, where they were
}

// set puts a figure into the sheet.
func (s *Sheet) set(f Figure, si float64) { s.Value[f], s.Given[f] = si, true }

// outfit returns the set of the sheet's tank.
func (s *Sheet) outfit() outfit.Set {
	set, ok := outfit.Named(s.Tank)
	if !ok {
		panic("sizing: no tank is named " + s.Tank)
	}
	return set
}

// dose is the sheet's salt for its tank's own resin, lb/ft³.
func (s *Sheet) dose() float64 { return s.Value[SaltDose] / unit.Pound / s.outfit().ResinFt3 }

// tank returns the sheet's tank with its resin, of which no more goes in than fills
// nine tenths of it.
func (s *Sheet) tank() outfit.Tank {
	const full = 0.9
	t := s.outfit().Tank
	t.ResinFt3 = s.Value[Resin] / unit.CubicFoot
	most := float64(full*t.TankHeightIn*unit.Inch) * t.AreaM2() / unit.CubicFoot
	t.ResinFt3 = min(t.ResinFt3, most)
	return t
}

// parts returns the parts that the sheet puts on its tank; what the sheet has no
// figure for, brine tank and line, comes with the tank.
func (s *Sheet) parts() outfit.Parts {
	p := s.outfit().Parts
	p.NozzleMM, p.ThroatMM = s.Value[Nozzle]/unit.Millimetre, s.Value[Throat]/unit.Millimetre
	p.DrainControlGPM, p.RefillControlGPM = s.Value[DrainControl]/unit.GPM, s.Value[RefillControl]/unit.GPM
	p.ProgramID = s.Program
	return p
}

// takeParts puts parts into the sheet.
func (s *Sheet) takeParts(p outfit.Parts) {
	s.set(Nozzle, float64(p.NozzleMM*unit.Millimetre))
	s.set(Throat, float64(p.ThroatMM*unit.Millimetre))
	s.set(DrainControl, float64(p.DrainControlGPM*unit.GPM))
	s.set(RefillControl, float64(p.RefillControlGPM*unit.GPM))
}

func (s *Sheet) program() valve.Program {
	p, ok := valve.ProgramNamed(s.Program)
	if !ok {
		panic("sizing: no program is named " + s.Program)
	}
	return p
}

// site is where the parts have to work, by the job and the sheet's dose.
func (j *Job) site(s *Sheet) outfit.Site {
	return outfit.Site{
		WaterC: j.Temperature.SI, SupplyPSI: j.SupplyPa(s.Value[DrainControl]) / unit.PSI,
		SaltLb: s.Value[SaltDose] / unit.Pound,
	}
}

// Completed returns the sheet with every figure that it lacks worked out from those
// that it has: what an installer would do where the answer is silent.
func (j *Job) Completed(s *Sheet) Sheet {
	full := *s
	for f := range NumFigures {
		j.prepare(&full, f)
		if !full.Given[f] {
			full.set(f, rules[f].value(j, &full))
		}
	}
	return full
}

// Follows returns what a figure is by its rule, from the figures of the sheet that
// stand before it; those must all be there. It chooses tank, program and parts where
// the sheet has none.
func (j *Job) Follows(s *Sheet, f Figure) float64 {
	j.prepare(s, f)
	return rules[f].value(j, s)
}

// Take puts a figure of another sheet into this one, and the tank with its resin and the
// program with the drain control. A dose that was chosen for another tank goes.
func (s *Sheet) Take(from *Sheet, f Figure) {
	s.set(f, from.Value[f])
	switch f {
	case Resin:
		if s.Tank != from.Tank {
			s.Tank, s.Given[SaltDose] = from.Tank, false
		}
	case DrainControl:
		s.Program = from.Program
	}
}

// prepare chooses what is not a figure, or several, before the first that needs it.
func (j *Job) prepare(s *Sheet, f Figure) {
	if f == Resin && s.Tank == "" {
		j.choose(s)
	}
	if f == DrainControl && !s.fitted() {
		j.fit(s)
	}
}

// fitted tells whether the sheet has program and all parts.
func (s *Sheet) fitted() bool {
	return s.Program != "" && s.Given[DrainControl] && s.Given[Nozzle] && s.Given[Throat] && s.Given[RefillControl]
}
