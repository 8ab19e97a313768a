package sizing

import (
	"fmt"
	"math"

	"brinebench/sim/control"
	"brinebench/sim/outfit"
	"brinebench/sim/strict"
	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

const answerFormat = "brinebench-answer-1"

// bound is what a figure of an answer may be.
type bound struct {
	lo, hi float64
	in     string
}

var bounds = [NumFigures]bound{
	RawHardness: {0.01, 1000, "gpg"}, CompensatedHardness: {0.01, 1000, "gpg"},
	DailyWater: {1, 1e5, "gal"}, DailyLoad: {1, 1e7, "grain"},
	FixtureUnits: {0, 1000, ""}, PeakFlow: {0.1, 200, "gpm"}, ServiceFlow: {0.1, 200, "gpm"},
	ResinNeeded: {0.001, 100, "ft3"}, Resin: {0.3, 20, "ft3"}, ServiceLoss: {0, 500, "psi"}, PeakLoss: {0, 500, "psi"},
	SaltDose: {0.5, 90, "lb"}, Capacity: {0.1, 1000, "kilograin"}, Reserve: {0, 1000, "kilograin"}, Interval: {0, 1000, "day"},
	DrainControl: {0.3, 20, "gpm"}, Nozzle: {0.3, 5, "mm"}, Throat: {0.6, 10, "mm"}, RefillControl: {0.05, 3, "gpm"},
	RefillTime: {0.1, 240, "min"}, RegenerationWater: {0.1, 10000, "gal"}, RegenerationsPerYear: {0, 1000, ""},
	SaltPerYear: {0, 50000, "lb"}, SaltAdded: {0, 10000, "mg/L"},
	EveryDays: {1, control.MaxEveryDays, "day"}, SetHardness: {1, control.MaxHardnessGPG, "gpg"}, SetCapacity: {1, control.MaxCapacityKgr, "kilograin"},
	SetReserve: {0, control.MaxReservePct, "%"}, OverrideDays: {1, control.MaxOverrideDays, "day"},
}

// DecodeAnswer reads a trainee's answer, to whatever job: figures, each of which may be
// left out, tank and program. The error joins every fault found, each naming the file and
// the field. A tank brings its resin where the answer names none, and the other way round.
func DecodeAnswer(name string, data []byte) (*Sheet, error) {
	return decodeAnswer(name, data, func(*Sheet, *strict.Walk) {})
}

// DecodeAnswer reads an answer to the job. It is as the function of that name, and refuses
// besides what is copied from the sheet where it is to be converted.
func (j *Job) DecodeAnswer(name string, data []byte) (*Sheet, error) {
	return decodeAnswer(name, data, func(s *Sheet, w *strict.Walk) {
		if j.copied(s) {
			w.Fault("figures."+RawHardness.ID()+".unit", "%s is the job sheet's own: convert it, as into %s", unitSymbol(j.Hardness.Unit), unitSymbol(j.asked(US).Name))
		}
	})
}

// decodeAnswer reads an answer, and finds faults with it by check too.
func decodeAnswer(name string, data []byte, check func(s *Sheet, w *strict.Walk)) (*Sheet, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("%s: %d bytes, more than the %d that an answer may have", name, len(data), MaxBytes)
	}
	s, w := &Sheet{}, &strict.Walk{}
	var version string
	w.Members("", data, []strict.Field{
		w.Text("format", &version, answerFormat),
		optional(w.Text("tank", &s.Tank, tankIDs()...)),
		optional(w.Text("program", &s.Program, valve.ProgramIDs()...)),
		optional(w.Object("figures", s.fields(w)...)),
	})
	check(s, w)
	if err := w.Err(name); err != nil {
		return nil, err
	}
	s.joinTank()
	return s, nil
}

func (s *Sheet) fields(w *strict.Walk) (list []strict.Field) {
	for f := range NumFigures {
		b := &bounds[f]
		one := amount(w, f.ID(), f.Kind(), &s.Written[f], b.lo, b.hi, b.in)
		read := one.Read
		one.Read = func(at string, raw []byte) {
			read(at, raw)
			a := s.Written[f]
			if a == (Amount{}) {
				return
			}
			if f.inWholeDays() && a.Value != math.Floor(a.Value) {
				w.Fault(at+".value", "%s: a controller takes whole days", a)
			}
			s.set(f, a.SI)
		}
		list = append(list, optional(one))
	}
	return list
}

// inWholeDays tells whether the figure is set on a controller in days.
func (f Figure) inWholeDays() bool { return f == EveryDays || f == OverrideDays }

// joinTank finds the tank to a resin, or the resin to a tank.
func (s *Sheet) joinTank() {
	switch {
	case s.Tank != "" && !s.Given[Resin]:
		s.set(Resin, float64(s.outfit().ResinFt3*unit.CubicFoot))
	case s.Tank == "" && s.Given[Resin]:
		nearby := nearest(outfit.All(), outfit.Set{Tank: outfit.Tank{ResinFt3: s.Value[Resin] / unit.CubicFoot}},
			func(x outfit.Set) float64 { return x.ResinFt3 })
		s.Tank = nearby[0].ID
	}
}

func tankIDs() (ids []string) {
	for _, s := range outfit.All() {
		ids = append(ids, s.ID)
	}
	return ids
}

// NewSheet makes a sheet of figures in SI, as if they had been answered: for answers
// that are not written by anybody.
func NewSheet(tank, program string, figures []Figure, si []float64) Sheet {
	s := Sheet{Tank: tank, Program: program}
	for i, f := range figures {
		s.set(f, si[i])
	}
	s.joinTank()
	return s
}

// Tank is a tank that an answer may name, with its name in both systems of units.
type Tank struct {
	ID   string
	Name [2]string
}

// Tanks returns the tanks that an answer may name.
func Tanks() (list []Tank) {
	for _, s := range outfit.All() {
		list = append(list, Tank{s.ID, tankNames(s.ID)})
	}
	return list
}
