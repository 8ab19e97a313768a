package plant

// Condition is the physical state of wear and fouling of every part: what a
// fault changes and a repair puts right. It is plain data inside State; the
// fault package writes it at the start, repairs write it afterwards, the step
// only reads it. The healthy value is given with each field.
type Condition struct {
	NozzleOpen    float64 // free fraction of the nozzle's area, 0..1 (1)
	ThroatOpen    float64 // free fraction of the throat's area, 0..1 (1)
	ScreenOpen    float64 // free fraction of the injector screen's area, 0..1 (1)
	DrainLineOpen float64 // free fraction of the drain line's area, 0..1 (1)
	DrainCtlOpen  float64 // free fraction of the drain flow control's bore, 0..1 (1)
	RefillOpen    float64 // free fraction of the refill flow control's bore, 0..1 (1)
	BrineLineOpen float64 // free fraction of the brine line's area, 0..1 (1)
	SaltBridge    float64 // fraction of the undissolved salt that hangs above the liquid, 0..1 (0)
	SaltLeft      float64 // fraction of the scenario's salt charge present at the start, 0..1 (1)
	PassLeakCv    float64 // extra Cv of the pass seat when shut, US gpm/psi½ (0)
	BypassLeakCv  float64 // extra Cv across the bypass in its service position, US gpm/psi½ (0)
	FloatLowM     float64 // how far the safety float sits below its proper height, m (0)
}

// Healthy returns the condition of a unit with nothing wrong.
func Healthy() Condition {
	return Condition{
		NozzleOpen: 1, ThroatOpen: 1, ScreenOpen: 1, DrainLineOpen: 1, DrainCtlOpen: 1,
		RefillOpen: 1, BrineLineOpen: 1, SaltLeft: 1,
	}
}

// NumConditions is the number of fields of a Condition.
const NumConditions = 12

// Fields returns the fields in the order of their declaration.
func (c Condition) Fields() [NumConditions]float64 {
	return [NumConditions]float64{
		c.NozzleOpen, c.ThroatOpen, c.ScreenOpen, c.DrainLineOpen, c.DrainCtlOpen, c.RefillOpen,
		c.BrineLineOpen, c.SaltBridge, c.SaltLeft, c.PassLeakCv, c.BypassLeakCv, c.FloatLowM,
	}
}
