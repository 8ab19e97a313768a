package sequence

import (
	"math"
	"slices"

	"brinebench/sim/unit"
	"brinebench/sim/valve"
)

// Finding is one thing that a wrong setting does.
type Finding struct {
	ID   string // stable, such as "brine-to-house"
	What string // what happens, in a sentence
	Why  string // what comes of it, in a sentence
}

// What a trial has to show before it counts. The taste of salt begins at 0.25 kg/m³
// of chloride (WHO, Guidelines for Drinking-water Quality); softened water is at most
// 1 gpg (NSF/ANSI 44, see testdata/reference/tables/rules_of_thumb.csv); the others are
// common practice, no source.
const (
	tasteKgM3   = 0.25
	softMolM3   = 1 * unit.GPG
	tankM3      = 2e-3 // drawn or refilled in a trial
	runsM3S     = 0.1 * unit.GPM
	liftedShare = 0.15
	lostShare   = 1e-3
)

// compared is a trial against that of the right setting in the same position.
type compared struct{ right, got *Trial }

// findings are all there can be, in the order in which they are told.
var findings = []struct {
	Finding
	is func(c compared) bool
}{
	{
		Finding{"brine-to-house", "Brine comes out of the taps.", "Nobody can drink it, and it corrodes what it stands in."},
		func(c compared) bool { return c.got.SaltKgM3 > c.right.SaltKgM3+tasteKgM3 },
	},
	{
		Finding{"house-dry", "The house has next to no water.", "Taps run dry for as long as the position lasts, and a heater or a washer may suffer."},
		func(c compared) bool { return c.got.HouseM3S < float64(0.25*c.right.HouseM3S) },
	},
	{
		Finding{"house-weak", "The taps give much less than they should.", "The house shares its pressure with the drain or is fed through a narrow way."},
		func(c compared) bool {
			return c.got.HouseM3S < float64(0.7*c.right.HouseM3S) && c.got.HouseM3S >= float64(0.25*c.right.HouseM3S)
		},
	},
	{
		Finding{"hard-to-house", "Hard water gets to the house.", "It comes past the bed, or out of one that is spent or being rinsed: spots, scale, and soap that does not lather."},
		func(c compared) bool { return c.got.HardMolM3 > max(softMolM3, 1.2*c.right.HardMolM3) },
	},
	{
		Finding{"resin-to-drain", "Resin goes to the drain.", "The bed is lifted to the top of the tank; what is gone has to be bought again."},
		func(c compared) bool { return c.got.LostShare > c.right.LostShare+lostShare },
	},
	{
		Finding{"bed-lifted", "The bed is lifted where it should lie still.", "Brine and rinse find their way round lifted beads, and the layers mix."},
		func(c compared) bool { return c.got.Expansion > liftedShare && c.right.Expansion < 0.5*liftedShare },
	},
	{
		Finding{"bed-not-lifted", "The bed is hardly lifted, or not at all.", "Dirt, broken beads and channels stay where they are."},
		func(c compared) bool {
			return c.right.Expansion > liftedShare && c.got.Expansion < float64(0.5*c.right.Expansion)
		},
	},
	{
		Finding{"wrong-way", "Water goes through the bed the wrong way.", "It meets the spent and the clean end in the wrong order, and upward it may lift the beads."},
		func(c compared) bool {
			return c.got.runs() && c.right.runs() && (c.got.BedM3S > 0) != (c.right.BedM3S > 0)
		},
	},
	{
		Finding{"bed-idle", "Little or nothing goes through the bed.", "What the position is for does not happen: the water has an easier way, or none."},
		func(c compared) bool {
			return c.right.runs() && math.Abs(c.got.BedM3S) < float64(0.25*math.Abs(c.right.BedM3S))
		},
	},
	{
		Finding{"no-brine", "No brine is drawn.", "The bed is not regenerated, and the brine tank stays full."},
		func(c compared) bool { return c.right.DrawnM3 > tankM3 && c.got.DrawnM3 < float64(0.5*c.right.DrawnM3) },
	},
	{
		Finding{"brine-drawn", "Brine is drawn where none should be.", "Salt is spent for nothing, or stays in the bed and comes out of the taps later."},
		func(c compared) bool { return c.right.DrawnM3 < 0.25*tankM3 && c.got.DrawnM3 > 0.5*tankM3 },
	},
	{
		Finding{"tank-fills", "Water runs into the brine tank.", "It fills up to the float, and the next brine is too much or the tank runs over."},
		func(c compared) bool { return c.right.DrawnM3 > -0.5*tankM3 && c.got.DrawnM3 < -tankM3 },
	},
	{
		Finding{"no-refill", "The brine tank gets no water.", "There is no brine for the next regeneration."},
		func(c compared) bool {
			return c.right.DrawnM3 < -tankM3 && c.got.DrawnM3 > float64(0.5*c.right.DrawnM3)
		},
	},
	{
		Finding{"drain-runs", "Water runs to the drain.", "It is paid for and does nothing; the drain is heard to run, and a bed that it goes through is spent too soon."},
		func(c compared) bool { return c.right.DrainM3S < runsM3S && c.got.DrainM3S > runsM3S },
	},
	{
		Finding{"drain-floods", "Far more runs to the drain than should.", "The full supply pressure stands behind it: what should seep through the bed rushes, and is wasted."},
		func(c compared) bool {
			return c.right.DrainM3S >= runsM3S && c.got.DrainM3S > float64(1.5*c.right.DrainM3S)
		},
	},
	{
		Finding{"drain-dry", "Next to nothing goes to the drain.", "What should be washed out of the bed stays in it."},
		func(c compared) bool {
			return c.right.DrainM3S > runsM3S && c.got.DrainM3S < float64(0.25*c.right.DrainM3S)
		},
	},
}

// Consequences are all that a finding can be.
func Consequences() (list []Finding) {
	for _, f := range findings {
		list = append(list, f.Finding)
	}
	return list
}

// Reasons are what the passages alone say against a setting and not against the right
// one (valve.Hazards): why the water goes as it goes.
func Reasons(right, got Setting, injectorBelow bool) []string {
	sound := valve.Hazards(right, injectorBelow)
	return slices.DeleteFunc(valve.Hazards(got, injectorBelow), func(h string) bool { return slices.Contains(sound, h) })
}

// runs reports whether anything to speak of goes through the bed.
func (t *Trial) runs() bool { return math.Abs(t.BedM3S) > runsM3S }

// Findings tells what a setting did that the right one did not, both tried on the
// same unit in the same position; nil where it serves as well.
func Findings(right, got *Trial) (list []Finding) {
	for _, f := range findings {
		if f.is(compared{right, got}) {
			list = append(list, f.Finding)
		}
	}
	return list
}
