package sim

import (
	"cmp"
	"slices"

	"brinebench/sim/instrument"
	"brinebench/sim/signature"
)

// tell is a reading that tells a fault from the sound unit.
type tell struct {
	signature.Move
	in    *instrument.Instrument
	alike bool // it tells by being the sound unit's, beside another that is not
}

// tells are the readings that tell unit u, each instrument in service and where it tells
// most, in the order in which a technician takes them: what is least trouble first, then
// what tells most. Vague ones are there only where there are no others.
func tells(l *signature.Library, u int) (list []tell) {
	all := instrument.All()
	for _, m := range l.Moves(u, len(all)) {
		in := &all[m.In]
		if in.NeedsOpening() {
			continue
		}
		at := tell{Move: l.MoveAt(u, m.In, signature.Service), in: in}
		if at.clear() {
			list = append(list, at)
		}
		if moved := (tell{Move: m, in: in}); m.Stage != signature.Service && moved.clear() {
			list = append(list, moved)
		}
	}
	slices.SortStableFunc(list, func(a, b tell) int {
		return cmp.Or(cmp.Compare(a.trouble(), b.trouble()), cmp.Compare(b.Sigmas, a.Sigmas))
	})
	if i := slices.IndexFunc(list, func(t tell) bool { return means(t.in) == vague }); i > 0 {
		list = list[:i]
	}
	return withOutlet(l, u, fromTwoPlaces(list))
}

// clear reports whether it is far enough from the sound unit's. A test of the water
// that gets none tells no more than the flow does.
func (t *tell) clear() bool {
	dry := t.Faulty.Seen == instrument.NothingRuns && t.in.Quantity != instrument.Sighting
	return t.Sigmas >= wearSigmas && !dry
}

// trouble is how much of it a reading is: by what it is taken with, and more where the
// unit has to be regenerating. Our choice.
func (t *tell) trouble() int {
	const regenerating = 2
	if t.Stage == signature.Service {
		return means(t.in)
	}
	return regenerating + means(t.in)
}

// vague is the rank of readings that tell that something is wrong rather than what,
// behind all others at any stage.
const vague = 5

// means ranks what a reading is taken with: questions, settings and what is seen and
// heard; hardness of the waters in the house; gauge, bucket and tape; and what is vague.
func means(in *instrument.Instrument) int {
	switch {
	case in.Told, in.ID == "hardness-drain", in.ID == "draw-watch", in.Quantity == instrument.Specific:
		return vague
	case in.Quantity == instrument.Sighting, in.Fixed:
		return 0
	case in.Quantity == instrument.Hardness:
		return 1
	}
	return 2
}

// fromTwoPlaces puts the first reading that is taken elsewhere than the first of all
// second: two of one place tell little more than one.
func fromTwoPlaces(list []tell) []tell {
	for i := range list {
		if t := list[i]; t.in.Where != list[0].in.Where {
			return slices.Insert(slices.Delete(list, i, i+1), 1, t)
		}
	}
	return list
}

// withOutlet puts the valve outlet's hardness beside the house tap's where the unit
// makes soft water and the house gets hard water all the same.
func withOutlet(l *signature.Library, u int, list []tell) []tell {
	at := func(id string) int {
		return slices.IndexFunc(list, func(t tell) bool { return t.in.ID == id && t.Stage == signature.Service })
	}
	house := at("hardness-house")
	if house < 0 || at("hardness-valve") >= 0 {
		return list
	}
	outlet := slices.IndexFunc(instrument.All(), func(in instrument.Instrument) bool { return in.ID == "hardness-valve" })
	return slices.Insert(list, house+1, tell{Move: l.MoveAt(u, outlet, signature.Service), in: &instrument.All()[outlet], alike: true})
}
