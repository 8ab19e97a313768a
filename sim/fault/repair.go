package fault

import "brinebench/sim/plant"

// Clean does to a part what a technician's cleaning does: it takes away dirt,
// kinks and bridges, but mends no wear.
func Clean(c *plant.Condition, p plant.Part) {
	switch p {
	case plant.PartInjector:
		c.NozzleOpen, c.ThroatOpen = 1, 1
	case plant.PartScreen:
		c.ScreenOpen = 1
	case plant.PartBrineLine:
		c.BrineLineOpen = 1
	case plant.PartRefillCtl:
		c.RefillOpen = 1
	case plant.PartDrainLine:
		c.DrainLineOpen = 1
	case plant.PartDrainCtl:
		c.DrainCtlOpen = 1
	case plant.PartSalt:
		c.SaltBridge = 0
	case plant.PartFloat:
		c.FloatLowM = 0
	}
}

// Replace fits a new part. The salt itself is the caller's to fill up: it is the
// tank's content, not a part's condition.
func Replace(c *plant.Condition, p plant.Part) {
	Clean(c, p)
	switch p {
	case plant.PartSeats:
		c.PassLeakCv = 0
	case plant.PartBypass:
		c.BypassLeakCv = 0
	case plant.PartSalt:
		c.SaltLeft = 1
	}
}

// Wrong tells which faults of the catalogue a condition shows: those whose part
// is not as on a healthy unit in the field that the fault changes.
func Wrong(c plant.Condition) []Fault {
	var found []Fault
	healthy := plant.Healthy()
	for _, f := range catalogue {
		worse := healthy
		f.Apply(&worse, 0.5)
		if shares(c, worse) {
			found = append(found, f)
		}
	}
	return found
}

// shares reports whether a field that differs from healthy in b also differs in a.
func shares(a, b plant.Condition) bool {
	av, bv, hv := a.Fields(), b.Fields(), plant.Healthy().Fields()
	for i := range hv {
		if bv[i] != hv[i] && av[i] != hv[i] {
			return true
		}
	}
	return false
}
