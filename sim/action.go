package sim

// TickS is the length of one simulation tick of a session, in s.
const TickS = 0.25

// ActionKind says what the trainee does.
type ActionKind string

// The kinds of action. Part, ID and Value are used as noted.
const (
	ActStartRegen ActionKind = "start-regeneration" // press the controller's button for a regeneration now
	ActAdvance    ActionKind = "advance"            // drive the drum to the next station now
	ActBypass     ActionKind = "bypass"             // ID: "service", "bypass" or "shut"
	ActShutOff    ActionKind = "shut-off"           // Value: 1 closed, 0 open
	ActPower      ActionKind = "power"              // Value: 1 plugged in, 0 unplugged
	ActHouseTap   ActionKind = "house-tap"          // Value: opening 0..1 of a bath tap in the house
	ActRawTap     ActionKind = "raw-tap"            // Value: opening 0..1 of the sample tap ahead of the unit
	ActTest       ActionKind = "test"               // ID: instrument
	ActOpen       ActionKind = "open"               // Part: take out or open, and look
	ActRefit      ActionKind = "refit"              // Part: put back
	ActClean      ActionKind = "clean"              // Part
	ActReplace    ActionKind = "replace"            // Part: fit a new one (for salt: fill up)
	ActDiagnose   ActionKind = "diagnose"           // ID: fault (or "none"); Value: confidence 0..1
	ActFinish     ActionKind = "finish"             // hand the unit back and close the call
)

// Action is one act of the trainee. Everything that can change the state of a
// session or its score goes through an Action, so that a log of them replays it.
type Action struct {
	Kind  ActionKind
	Part  Part
	ID    string
	Value float64
}

// Reading is the result of one test or one look into a part.
type Reading struct {
	Tick       int64 // when the result was had
	Instrument string
	Name       string  // of the instrument
	Value      float64 // in SI; NaN never; meaningless when Text is all there is
	Unit       Unit    // how to show Value
	Text       string  // what was seen, where there is no number, or a remark to the number
}

// Unit is the kind of quantity of a reading; the page shows it in the units chosen.
type Unit string

// The kinds of quantity.
const (
	UnitNone     Unit = ""
	UnitHardness Unit = "hardness" // mol/m³ Ca+Mg
	UnitPressure Unit = "pressure" // Pa gauge
	UnitFlow     Unit = "flow"     // m³/s
	UnitLength   Unit = "length"   // m
	UnitFraction Unit = "fraction" // 0..1
	UnitSpecific Unit = "specific" // conductivity, S/m
)

// Entry is one line of the journal of a call.
type Entry struct {
	Tick    int64
	Action  Action
	Text    string   // what happened, one sentence
	Reading *Reading // nil when the act was no test
	Unsafe  bool     // the act was stopped as unsafe; Text says why
}

// Call is the state of the service call as the page shows it.
type Call struct {
	BusyUntilTick int64  // > View.Tick while an act takes its time
	BusyText      string // what is being done
	Minutes       float64
	Journal       []Entry // oldest first; grows only
	Opened        []Part
	Diagnosed     bool
	DiagnosedID   string
	Confidence    float64
	Finished      bool
}
