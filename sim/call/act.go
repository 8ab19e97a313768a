// Package call is one service call on one plant: what the trainee can do, what
// each act costs in minutes and needs, what is unsafe, and the journal of it.
package call

import (
	"brinebench/sim/instrument"
	"brinebench/sim/plant"
)

// TickS is the length of one tick of a call, in s.
const TickS = 0.25

// Kind says what the trainee does.
type Kind string

// The kinds of act. Part, ID and Value are used as noted.
const (
	StartRegen Kind = "start-regeneration" // press the controller's button for a regeneration now
	Advance    Kind = "advance"            // drive the drum to the next station now
	Bypass     Kind = "bypass"             // ID: "service", "bypass" or "shut"
	ShutOff    Kind = "shut-off"           // Value: 1 closed, 0 open
	Power      Kind = "power"              // Value: 1 plugged in, 0 unplugged
	HouseTap   Kind = "house-tap"          // Value: opening 0..1 of a bath tap in the house
	RawTap     Kind = "raw-tap"            // Value: opening 0..1 of the sample tap ahead of the unit
	Test       Kind = "test"               // ID: instrument
	Open       Kind = "open"               // Part: take out or open, and look
	Refit      Kind = "refit"              // Part: put back
	Clean      Kind = "clean"              // Part
	Adjust     Kind = "adjust"             // Part: set, turn or move what stands wrong
	Replace    Kind = "replace"            // Part: fit a new one (for salt: fill up)
	Lubricate  Kind = "lubricate"          // Part, open; ID: a lubricant of Lubricants
	Bail       Kind = "bail"               // take out of the brine tank what stands above a sound refill's level
	Disinfect  Kind = "disinfect"          // bleach into the brine well, for the next draw to take through the unit
	Plan       Kind = "plan"               // begin a line of the work order; ID: suspected fault, "none" or ""; Text: what the next reading should show
	Conclude   Kind = "conclude"           // ID: a conclusion of Conclusions; Value: line of the work order, from 0
	Diagnose   Kind = "diagnose"           // ID: verdict (see VerdictIDs); Value: confidence 0..1
	Tell       Kind = "tell"               // tell the customer; ID: a topic of Topics
	Hint       Kind = "hint"               // ask for help; ID: a rung of Rungs
	Finish     Kind = "finish"             // hand the unit back and close the call
)

// Act is one act of the trainee. Everything that can change a call or its score
// goes through an Act, so that a log of them replays it.
type Act struct {
	Kind  Kind
	Part  plant.Part
	ID    string
	Text  string // the trainee's own words, at most record.MaxText bytes
	Value float64
}

// Reading is the result of one test or one look into a part.
type Reading struct {
	Tick       int64  // when the result was had
	Instrument string // its ID
	Name       string // its name
	Value      float64
	Unit       instrument.Quantity // how to show Value; instrument.Sighting: only Text counts
	Text       string              // what was seen
}

// Entry is one line of the journal of a call.
type Entry struct {
	Tick    int64 // when the act was begun
	EndTick int64 // when it was done
	Station int   // station of the drum when the act was begun, or the one that it was being driven to
	Action  Act
	Text    string   // what happened, one sentence
	Reading *Reading // nil when the act was no test, or has not ended
	Unsafe  bool     // the act was stopped as unsafe, or is a Mishap; Text says why

	Filled   bool // it let water into a unit whose valve had been off its tank
	Mended   bool // a repair that changed the condition of the unit
	Needless bool // a repair that changed nothing, a wrong lubricant, or nothing to take out
}

// PartInfo describes one part and what can be done to it.
type PartInfo struct {
	ID       plant.Part
	Name     string
	What     string // what it is for
	CanOpen  bool   // it can be taken out or opened and looked into
	CanClean bool
	CanSet   bool // it can be set, turned or moved right
	CanSwap  bool
	Seals    bool    // it has seals that want lubricating
	Wet      bool    // opening it lets pressure out
	Internal bool    // opening it reaches moving parts of the valve
	Minutes  Minutes // what work on it costs
	Price    float64 // of a new one, in the currency of LabourPerMinute
	SetPrice float64 // of what is fitted new when it is set right, in the same
	Cautions []string
}

// Minutes are the costs of work on a part.
type Minutes struct{ Open, Refit, Clean, Adjust, Replace float64 }

// Part returns the description of a part.
func Part(id plant.Part) (*PartInfo, bool) {
	for i := range parts {
		if parts[i].ID == id {
			return &parts[i], true
		}
	}
	return nil, false
}

// Parts returns all parts, in their fixed order. Read only.
func Parts() []PartInfo { return parts }
