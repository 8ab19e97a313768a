package bench

import "brinebench/sim"

// Anew is the plan of the same units from their start, set as they are set now; units
// that are given take their places, as they come.
func (b *Bench) Anew(units []string) Plan {
	p := Plan{Units: units, Seed: b.plan.Seed}
	for i, unit := range units {
		if i < len(b.plan.Units) && unit == b.plan.Units[i] {
			p.Acts = append(p.Acts, settings(b.run.now.rigs[i], b.fresh[i], i)...)
		}
	}
	return p
}

// settings are the acts that set a new unit as another is set, in an order in which it
// takes them: what is refused (a nozzle wider than the throat that is still in) comes
// after the others.
func settings(now, start *sim.Rig, unit int) (acts []Act) {
	var left []Act
	for _, k := range now.Knobs() {
		if v := now.Value(k.ID); !k.Push && v != start.Value(k.ID) {
			left = append(left, Act{Unit: unit, Knob: k.ID, Value: v})
		}
	}
	trial := start.Clone()
	for len(left) > 0 {
		var refused []Act
		for _, a := range left {
			if trial.Set(a.Knob, a.Value) == nil {
				acts = append(acts, a)
			} else {
				refused = append(refused, a)
			}
		}
		if len(refused) == len(left) {
			return append(acts, refused...) // New says what is wrong with them
		}
		left = refused
	}
	return acts
}
