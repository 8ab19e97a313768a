// Package fault is the catalogue of what can be wrong with a unit. A fault is a
// change of the physical condition of a part and nothing else; every symptom
// comes out of the plant. Likewise a repair puts right the condition of the part
// it is done to, whatever was wrong with it.
package fault

import "brinebench/sim/plant"

// Fault is one entry of the catalogue.
type Fault struct {
	ID    string
	Name  string
	Where plant.Part
	Prior float64 // relative frequency among service calls; common practice, no source
	// Severities at which it makes itself felt, spaced by what it does: the grid of
	// a belief over faults. Below the least nobody calls.
	Severities []float64
	// Apply worsens the condition; severity 0 leaves it as it is, 1 is the worst.
	Apply func(c *plant.Condition, severity float64)
}

// left is what remains of a free area at a severity: never quite nothing, since
// even a stopped bore weeps.
func left(severity float64) float64 {
	const weep = 1e-3
	return 1 - float64((1-weep)*severity)
}

var catalogue = []Fault{
	{
		"nozzle-plugged", "Injector nozzle plugged", plant.PartInjector, 9,
		[]float64{0.85, 0.92, 0.97, 0.995},
		func(c *plant.Condition, s float64) { c.NozzleOpen *= left(s) },
	},
	{
		"screen-plugged", "Injector screen plugged", plant.PartScreen, 7,
		[]float64{0.96, 0.98, 0.995},
		func(c *plant.Condition, s float64) { c.ScreenOpen *= left(s) },
	},
	{
		"brine-line-blocked", "Brine line kinked or blocked", plant.PartBrineLine, 5,
		[]float64{0.96, 0.985, 0.997},
		func(c *plant.Condition, s float64) { c.BrineLineOpen *= left(s) },
	},
	{
		"refill-plugged", "Refill flow control plugged", plant.PartRefillCtl, 4,
		[]float64{0.5, 0.8, 0.95},
		func(c *plant.Condition, s float64) { c.RefillOpen *= left(s) },
	},
	{
		"drain-line-blocked", "Drain line blocked", plant.PartDrainLine, 6,
		[]float64{0.97, 0.98, 0.99, 0.996},
		func(c *plant.Condition, s float64) { c.DrainLineOpen *= left(s) },
	},
	{
		"drain-control-plugged", "Drain flow control plugged", plant.PartDrainCtl, 4,
		[]float64{0.8, 0.9, 0.96, 0.995},
		func(c *plant.Condition, s float64) { c.DrainCtlOpen *= left(s) },
	},
	{
		"salt-bridge", "Salt bridge", plant.PartSalt, 8,
		[]float64{0.9, 1},
		func(c *plant.Condition, s float64) { c.SaltBridge = max(c.SaltBridge, s) },
	},
	{
		"salt-absent", "Out of salt", plant.PartSalt, 10,
		[]float64{0.9, 1},
		func(c *plant.Condition, s float64) { c.SaltLeft *= 1 - s },
	},
	{
		"pass-seat-leak", "Pass seat leaks in service", plant.PartSeats, 3,
		[]float64{0.4, 1},
		func(c *plant.Condition, s float64) { c.PassLeakCv += float64(1.5 * s) },
	},
	{
		"bypass-leak", "Bypass leaks or stands part open", plant.PartBypass, 6,
		[]float64{0.4, 1},
		func(c *plant.Condition, s float64) { c.BypassLeakCv += float64(3 * s) },
	},
	{
		"float-low", "Safety float set too low", plant.PartFloat, 2,
		[]float64{0.8, 1},
		func(c *plant.Condition, s float64) { c.FloatLowM += float64(0.35 * s) },
	},
}

// Catalogue returns every fault, in its fixed order. Read only.
func Catalogue() []Fault { return catalogue }

// Find returns the fault of that ID.
func Find(id string) (Fault, bool) {
	for _, f := range catalogue {
		if f.ID == id {
			return f, true
		}
	}
	return Fault{}, false
}
