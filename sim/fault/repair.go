package fault

import "brinebench/sim/plant"

// Do does a kind of work on a part. A new part is clean and rightly set, and a
// clean one is put back as it should stand, so that replacing does what the other
// two do. The salt itself is the caller's to fill up: it is the tank's content. It
// returns what there is to say of the faults that it put right.
func Do(c *plant.Condition, p plant.Part, w Work) (done []string) {
	for i := range catalogue {
		f := &catalogue[i]
		if f.Where == p && f.Severity(c) > 0 && (f.Cured(w) || w == Replace && len(f.Cures) > 0) {
			f.mend(c)
			if f.Done != "" {
				done = append(done, f.Done)
			}
		}
	}
	return done
}

// Wrong tells which faults of the catalogue a condition has, in their order.
func Wrong(c plant.Condition) (found []*Fault) {
	for i := range catalogue {
		if catalogue[i].Severity(&c) > 0 {
			found = append(found, &catalogue[i])
		}
	}
	return found
}

// Mendable is Wrong without what nothing done at the unit puts right.
func Mendable(c plant.Condition) (found []*Fault) {
	for _, f := range Wrong(c) {
		if len(f.Cures) > 0 {
			found = append(found, f)
		}
	}
	return found
}

// mildBelow is the severity below which a fault shows only mildly.
const mildBelow = 0.5

// Look returns what opening a part, or trying it, shows: sentences, or sound where
// nothing is to be seen of a fault.
func Look(c *plant.Condition, p plant.Part, sound string) string {
	text := ""
	for i := range catalogue {
		f := &catalogue[i]
		if f.Where != p || f.Seen == "" {
			continue
		}
		s := f.Severity(c)
		if s <= 0 {
			continue
		}
		if text != "" {
			text += "; "
		}
		if s < mildBelow && f.SeenMild != "" {
			text += f.SeenMild
		} else {
			text += f.Seen
		}
	}
	if text == "" {
		return sound
	}
	return text
}

// Cautions returns what is to be heeded in work on a part because of what is wrong
// with it, beyond the cautions of the part itself.
func Cautions(c *plant.Condition, p plant.Part) (list []string) {
	for i := range catalogue {
		if f := &catalogue[i]; f.Where == p && f.Caution != "" && f.Severity(c) > 0 {
			list = append(list, f.Caution)
		}
	}
	return list
}

// Shown is a condition as far as the opened parts let it be seen: all else looks
// healthy.
func Shown(c *plant.Condition, opened []plant.Part) plant.Condition {
	if len(opened) == 0 {
		return plant.Healthy()
	}
	return shown(c, opened)
}

func shown(c *plant.Condition, opened []plant.Part) plant.Condition {
	seen := plant.Healthy()
	for _, p := range opened {
		for i := range catalogue {
			if f := &catalogue[i]; f.Where == p && f.Seen != "" {
				f.Apply(&seen, f.severityOf(*f.field(c)))
			}
		}
	}
	return seen
}
