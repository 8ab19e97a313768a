package sizing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"brinebench/sim/strict"
	"brinebench/sim/unit"
)

// Kind is what a figure counts. Each has one SI unit, in which the engine computes.
type Kind int

// The kinds, with their unit in the engine.
const (
	Count         Kind = iota // a plain number
	Percent                   // of a hundred
	Hardness                  // mol/m³ of calcium and magnesium
	Load                      // mol of calcium and magnesium
	Volume                    // m³
	Bed                       // m³, of resin
	Dose                      // kg of salt for a m³ of bed
	Strength                  // mol of hardness that a m³ of bed takes
	Flow                      // m³/s
	Pressure                  // Pa
	Length                    // m
	Distance                  // m, of pipes
	Bore                      // m, of what is drilled in mm
	Mass                      // kg
	Concentration             // kg/m³
	Temperature               // °C
	Minutes                   // s
	Days                      // s
	numKinds
)

// Unit is one way to write a kind.
type Unit struct {
	Name   string
	InSI   float64 // of one
	OffSet float64 // of its zero, in SI
	Places int     // decimals that are read on a job; a small figure has two digits all the same
}

// equivalents of charge in a mol of calcium or magnesium.
const equivalents = 2.0

// units of each kind; US[0] and SI[0] are those that a solution is shown in.
var units = [numKinds]struct{ US, SI []Unit }{
	Count:   {[]Unit{{"", 1, 0, 1}}, []Unit{{"", 1, 0, 1}}},
	Percent: {[]Unit{{"%", 1, 0, 0}}, []Unit{{"%", 1, 0, 0}}},
	Hardness: {
		[]Unit{{"gpg", unit.GPG, 0, 1}},
		[]Unit{
			{"mmol/L", 1, 0, 2},
			{"mg/L as CaCO3", unit.MgPerLitreCaCO3, 0, 0},
			{"meq/L", unit.MeqPerLitre, 0, 2},
			{"dH", unit.GermanDegree, 0, 1},
			{"fH", unit.FrenchDegree, 0, 1},
			{"Clark", unit.Clark, 0, 1},
		},
	},
	Load: {
		[]Unit{{"grain", unit.Grain / unit.MolarCaCO3, 0, 0}, {"kilograin", unit.Kilograin, 0, 1}},
		[]Unit{{"eq", 1 / equivalents, 0, 1}, {"mol", 1, 0, 1}, {"g as CaCO3", unit.Gram / unit.MolarCaCO3, 0, 0}},
	},
	Volume: {
		[]Unit{{"gal", unit.USGallon, 0, 0}, {"ft3", unit.CubicFoot, 0, 2}},
		[]Unit{{"L", unit.Litre, 0, 0}, {"m3", 1, 0, 2}},
	},
	Flow: {
		[]Unit{{"gpm", unit.GPM, 0, 1}},
		[]Unit{{"L/min", unit.LitrePerMinute, 0, 1}, {"m3/h", unit.CubicMetrePerHr, 0, 2}},
	},
	Bed:      {[]Unit{{"ft3", unit.CubicFoot, 0, 2}, {"gal", unit.USGallon, 0, 0}}, []Unit{{"L", unit.Litre, 0, 0}, {"m3", 1, 0, 2}}},
	Dose:     {[]Unit{{"lb/ft3", unit.Pound / unit.CubicFoot, 0, 1}}, []Unit{{"g/L", 1, 0, 0}}},
	Strength: {[]Unit{{"kilograin/ft3", unit.KilograinPerFt3, 0, 1}}, []Unit{{"eq/L", 1e3 / equivalents, 0, 2}}},
	Distance: {[]Unit{{"ft", unit.Foot, 0, 1}, {"in", unit.Inch, 0, 1}}, []Unit{{"m", 1, 0, 1}, {"cm", 0.01, 0, 0}}},
	Pressure: {[]Unit{{"psi", unit.PSI, 0, 0}}, []Unit{{"kPa", unit.Kilopascal, 0, 0}, {"bar", unit.Bar, 0, 1}}},
	Length:   {[]Unit{{"in", unit.Inch, 0, 1}, {"ft", unit.Foot, 0, 1}}, []Unit{{"cm", 0.01, 0, 0}, {"m", 1, 0, 1}, {"mm", unit.Millimetre, 0, 1}}},
	Bore:     {[]Unit{{"mm", unit.Millimetre, 0, 2}, {"in", unit.Inch, 0, 2}}, []Unit{{"mm", unit.Millimetre, 0, 2}}},
	Mass:     {[]Unit{{"lb", unit.Pound, 0, 1}}, []Unit{{"kg", 1, 0, 1}}},
	Concentration: {
		[]Unit{{"mg/L", 1e-3, 0, 0}}, []Unit{{"mg/L", 1e-3, 0, 0}},
	},
	Temperature: {[]Unit{{"F", 5.0 / 9, -160.0 / 9, 0}}, []Unit{{"C", 1, 0, 0}}},
	Minutes:     {[]Unit{{"min", unit.Minute, 0, 1}, {"s", 1, 0, 0}}, []Unit{{"min", unit.Minute, 0, 1}}},
	Days:        {[]Unit{{"day", unit.Day, 0, 2}}, []Unit{{"day", unit.Day, 0, 2}}},
}

// System is a set of units to show figures in.
type System int

// The two systems.
const (
	US System = iota
	SI
)

// Units returns the names of the units that a kind may be written in, the usual
// one of the system first.
func (k Kind) Units(s System) (names []string) {
	for _, u := range k.units(s) {
		names = append(names, u.Name)
	}
	return names
}

// symbol is the usual unit of a system as it is printed.
func (k Kind) symbol(s System) string { return symbols.Replace(k.units(s)[0].Name) }

// units returns those of a system first, then those of the other.
func (k Kind) units(s System) []Unit {
	u := &units[k]
	if s == SI {
		return append(append([]Unit(nil), u.SI...), u.US...)
	}
	return append(append([]Unit(nil), u.US...), u.SI...)
}

// unitNamed finds a unit of a kind.
func (k Kind) unitNamed(name string) (Unit, bool) {
	for _, u := range k.units(US) {
		if u.Name == name {
			return u, true
		}
	}
	return Unit{}, false
}

// In returns an SI value in a unit of the kind.
func (u Unit) In(si float64) float64 { return (si - u.OffSet) / u.InSI }

// SI returns a value in the unit as SI.
func (u Unit) SI(v float64) float64 { return float64(v*u.InSI) + u.OffSet }

// Amount is a figure as somebody wrote it.
type Amount struct {
	Value float64
	Unit  string
	SI    float64 // the same in the engine's unit
}

// AmountOf writes an SI value in a unit of a kind, which must be one of its own.
func AmountOf(k Kind, si float64, name string) Amount {
	u, ok := k.unitNamed(name)
	if !ok {
		panic("sizing: no unit is named " + name)
	}
	return Amount{u.In(si), name, si}
}

// amountIn is a value in a unit of a kind.
func amountIn(k Kind, value float64, name string) Amount {
	u, ok := k.unitNamed(name)
	if !ok {
		panic("sizing: no unit is named " + name)
	}
	return Amount{value, name, u.SI(value)}
}

// String writes the figure with its unit.
func (a Amount) String() string { return spaced(number(a.Value), a.Unit) }

// Text writes an SI value in the usual unit of a system.
func (k Kind) Text(si float64, s System) string {
	u := k.units(s)[0]
	return spaced(u.read(si), u.Name)
}

// both writes an SI value in both systems.
func (k Kind) both(si float64) string { return k.Text(si, US) + " (" + k.Text(si, SI) + ")" }

// Number writes an SI value in the usual unit of a system, without the unit.
func (k Kind) Number(si float64, s System) string { return k.units(s)[0].read(si) }

// symbols are units as they are printed.
var symbols = strings.NewReplacer("CaCO3", "CaCO₃", "ft3", "ft³", "m3", "m³")

// degrees are units that are written with the sign for it.
var degrees = []string{"F", "C", "dH", "fH", "Clark"}

// unitSymbol is a unit as it is printed by itself.
func unitSymbol(name string) string {
	if slices.Contains(degrees, name) {
		return "°" + name
	}
	return symbols.Replace(name)
}

func spaced(n, name string) string {
	switch {
	case name == "":
		return n
	case slices.Contains(degrees, name):
		return n + " °" + name
	case n != "1" && (name == "day" || name == "grain" || name == "kilograin"):
		name += "s"
	}
	return n + " " + symbols.Replace(name)
}

// read writes an SI value as a technician would read it: to the unit's decimals below
// 100 and whole from there on, with two digits at least and five at most.
func (u Unit) read(si float64) string {
	const fewest, most = 2, 5
	v, digits := u.In(si), 0
	for limit := 1.0; digits < most && math.Abs(v) >= limit; limit *= 10 {
		digits++
	}
	if digits < 3 {
		digits += u.Places
	}
	return rounded(v, max(fewest, digits))
}

// factor writes an SI value as a factor of a printed line, with so many digits that the
// line comes to its result, and tells whether that is all of it.
func (k Kind) factor(si float64, s System) (text string, all bool) {
	u := k.units(s)[0]
	text, all = exactly(u.In(si))
	return spaced(text, u.Name), all
}

// exactly writes a number with so many digits as a factor has, and tells whether that is
// all of it.
func exactly(v float64) (text string, all bool) {
	const digits = 5
	text = rounded(v, digits)
	x, err := strconv.ParseFloat(text, 64)
	return text, err == nil && math.Abs(x-v) <= float64(hair*math.Abs(v))
}

// number writes four significant figures, never with an exponent.
func number(v float64) string { return rounded(v, 4) }

func rounded(v float64, digits int) string {
	x, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		panic("sizing: " + err.Error())
	}
	if x == 0 {
		x = 0 // no minus before it
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// unitField is the reader of a unit; a plain number needs none.
func (k Kind) unitField(w *strict.Walk, to *string) strict.Field {
	named := w.Text("unit", to, k.Units(US)...)
	if k != Count {
		return named
	}
	return strict.Field{Key: "unit", Optional: true, Read: func(at string, raw []byte) {
		if string(raw) != `""` {
			w.Fault(at, "%.40s is not \"\": a plain number has no unit", raw)
		}
	}}
}

// amount is the reader of {"value": …, "unit": …} of a kind within lo to hi, both in
// the unit named for them. It tells the bounds in the unit that was written.
func amount(w *strict.Walk, key string, k Kind, to *Amount, lo, hi float64, in string) strict.Field {
	return strict.Field{Key: key, Read: func(at string, raw []byte) {
		var a Amount
		before := w.Clean()
		w.Members(at, raw, []strict.Field{
			{Key: "value", Read: func(at string, raw []byte) { w.Value(at, raw, &a.Value) }},
			k.unitField(w, &a.Unit),
		})
		u, ok := k.unitNamed(a.Unit)
		if !ok || (before && !w.Clean()) {
			return
		}
		bounds, _ := k.unitNamed(in)
		a.SI = u.SI(a.Value)
		low, high := bounds.SI(lo), bounds.SI(hi)
		const slack = 1e-9 // of rounding, where a bound is written in another unit
		if !(a.SI >= low-float64(slack*(1+math.Abs(low))) && a.SI <= high+float64(slack*(1+math.Abs(high)))) {
			w.Fault(at+".value", "%s is outside %s to %s %s", a, number(u.In(low)), number(u.In(high)), a.Unit)
			return
		}
		*to = a
	}}
}
