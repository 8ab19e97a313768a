package fault

import "brinebench/sim/plant"

var bedFaults = []Fault{
	{
		ID: "riser-seal", Name: "Seal at the head of the riser leaks", Where: plant.PartRiser, Prior: 3, Onset: Steady,
		Severities: []float64{0.15, 0.5, 1},
		Seen:       "the seal at the head of the riser is torn", SeenMild: "the seal at the head of the riser is nicked",
		Cures: []Work{Adjust, Replace}, Vain: "A new regeneration does not soften what goes past the bed.",
		field: func(c *plant.Condition) *float64 { return &c.RiserSealCv }, worst: 2.5,
	},
	{
		ID: "riser-cracked", Name: "Riser tube cracked", Where: plant.PartRiser, Prior: 1, Onset: Steady,
		Severities: []float64{0.15, 0.5, 1},
		Seen:       "the tube is cracked along its length", SeenMild: "a crack a bead's width in the tube",
		Cures: []Work{Replace}, Vain: "A new seal on a cracked tube changes nothing.",
		field: func(c *plant.Condition) *float64 { return &c.RiserCrackCv }, worst: 2.5,
	},
	{
		ID: "upper-distributor-plugged", Name: "Upper distributor plugged", Where: plant.PartUpperDist, Prior: 1, Onset: Growing,
		Severities: []float64{0.94, 0.96, 0.975, 0.99},
		Seen:       "slots packed with iron slime and fines", SeenMild: "some slots packed with iron slime and fines",
		Cures: []Work{Clean, Replace}, Vain: "Drawing the riser to clean the lower distributor leaves the upper one plugged.",
		field: func(c *plant.Condition) *float64 { return &c.UpperDistOpen }, worst: leastOpen,
	},
	{
		ID: "lower-distributor-plugged", Name: "Lower distributor plugged", Where: plant.PartLowerDist, Prior: 1.5, Onset: Growing,
		Severities: []float64{0.94, 0.96, 0.975, 0.99},
		Seen:       "slots packed with fines and broken beads", SeenMild: "some slots packed with fines",
		Cures: []Work{Clean, Replace}, Vain: "A backwash goes out through the same slots, and still does not free what is wedged in them.",
		field: func(c *plant.Condition) *float64 { return &c.LowerDistOpen }, worst: leastOpen,
	},
	{
		ID: "lower-distributor-broken", Name: "Lower distributor broken", Where: plant.PartLowerDist, Prior: 1.2, Onset: Steady,
		Severities: []float64{1},
		Seen:       "a rib of the basket is broken, beads stand inside it",
		Cures:      []Work{Replace}, Vain: "A new bed runs away through the same gap.",
		field: func(c *plant.Condition) *float64 { return &c.LowerDistGap }, worst: 1,
	},
	{
		ID: "resin-lost", Name: "Resin lost", Where: plant.PartBed, Prior: 2, Onset: Growing, Stays: true,
		Severities: []float64{0.5, 0.9},
		Seen:       "the bed is far too shallow", SeenMild: "the bed is shallower than it should be",
		Cures: []Work{Replace}, Vain: "More salt does not regenerate resin that is gone, and new resin goes the same way until it is found what let it go: the drain control, cold water, a distributor, air in the water.",
		field: func(c *plant.Condition) *float64 { return &c.BedLost }, worst: 0.75,
	},
	{
		ID: "resin-iron", Name: "Resin fouled by iron", Where: plant.PartBed, Prior: 2.5, Onset: Growing, Stays: true,
		Severities: []float64{0.5, 1},
		Seen:       "beads rust-brown through and through, brown slime between them", SeenMild: "beads stained brown",
		Cures: []Work{Clean, Replace}, Vain: "A second regeneration with salt alone leaves the rust.",
		Caution: "WARNING: Resin cleaner is an acid or a reducing agent: never let it meet bleach or another cleaner, which gives poisonous gas. Air the room, wear goggles and gloves, follow its label. Keep the house in bypass and rinse to the drain until neither acid nor smell is left.",
		field:   func(c *plant.Condition) *float64 { return &c.BedRust }, worst: 0.45,
	},
	{
		ID: "resin-oxidised", Name: "Resin oxidised by chlorine", Where: plant.PartBed, Prior: 1.5, Onset: Growing, Stays: true,
		Severities: []float64{0.6, 1},
		Seen:       "beads swollen, soft as jelly between the fingers", SeenMild: "beads a little soft between the fingers",
		Cures: []Work{Replace}, Vain: "Cleaner does not harden soft beads.",
		field: func(c *plant.Condition) *float64 { return &c.BedCut }, worst: 0.95,
	},
	{
		ID: "resin-channelled", Name: "Bed channelled", Where: plant.PartBed, Prior: 1, Onset: Growing,
		Severities: []float64{0.2, 0.5, 1},
		Seen:       "holes and ridges in the bed's surface, lumps below it", SeenMild: "a furrow in the bed's surface",
		Cures: []Work{Clean, Replace}, Vain: "More salt runs down the same channel.",
		field: func(c *plant.Condition) *float64 { return &c.BedChannel }, worst: 0.35,
	},
}
