package instrument

import (
	"brinebench/sim/plant"
	"brinebench/sim/unit"
	"brinebench/sim/water"
)

// Proof is a test by which a complaint is shown to be gone.
type Proof struct {
	Test        string // ID of the instrument
	Regenerated bool   // it tells so only after a regeneration
	shows       func(m *plant.Model, value float64, text string) bool
}

// Shows reports whether a reading of the test, in SI units or in words, says so.
func (p *Proof) Shows(m *plant.Model, value float64, text string) bool {
	return p.shows(m, value, text)
}

// What shows that a complaint is gone.
const (
	// Taste of salt begins at 250 mg/L of chloride (US EPA, secondary standards, 40 CFR
	// 143.3): with the sodium that came with it some 0.08 S/m more than the raw water.
	tastesKgM3 = 0.25
	tastesSM   = 0.08

	// A bath tap asks for 20 psi while it runs (IPC table 604.3, from memory); the flow is
	// common practice, no source.
	bathPa  = 20 * unit.PSI
	bathM3S = 3 * unit.GPM

	stillM3S  = 0.03 * unit.GPM // least that a flow indicator turns by
	fullShare = 1.1             // of the level that the unit is made for
)

// Proofs returns the tests that show a complaint to be gone, the plainest first; none for
// what the proofs of every unit show, that it draws brine and softens, and for what no
// repair takes away.
func (c *Complaint) Proofs() []Proof {
	switch c.ID {
	case "salty":
		return []Proof{
			{"conductivity-house", true, func(m *plant.Model, sm float64, _ string) bool {
				return sm <= water.Conductivity(25, m.Config().Feed)+tastesSM
			}},
			{"chloride-house", true, func(_ *plant.Model, kgM3 float64, _ string) bool { return kgM3 <= tastesKgM3 }},
		}
	case "weak":
		return []Proof{
			{"house-flow", false, func(_ *plant.Model, m3s float64, _ string) bool { return m3s >= bathM3S }},
			{"pressure-running", false, func(_ *plant.Model, pa float64, _ string) bool { return pa >= bathPa }},
		}
	case "much-water":
		return []Proof{
			{"flow-idle", false, func(_ *plant.Model, m3s float64, _ string) bool { return m3s <= stillM3S }},
			{"drain-look", false, says(NothingRuns)},
			{"drain-listen", false, says("silence")},
		}
	case "high-water":
		return []Proof{{"brine-level", true, func(m *plant.Model, heightM float64, _ string) bool {
			return heightM <= fullShare*m.Config().BrineM
		}}}
	case "kitchen":
		return []Proof{{"kitchen-compare", false, says("both alike")}}
	case "dark":
		return []Proof{{"supply-meter", false, says("mains at the outlet, its voltage out of the plug-in supply")}}
	case "beads", "sand":
		return []Proof{{"strainer-look", false, says("clean")}}
	}
	return nil
}

func says(text string) func(*plant.Model, float64, string) bool {
	return func(_ *plant.Model, _ float64, got string) bool { return got == text }
}
