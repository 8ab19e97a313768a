package sim

import (
	"brinebench/sim/call"
	"brinebench/sim/instrument"
)

// TickS is the length of one simulation tick of a session, in s.
const TickS = call.TickS

// What the trainee does and what comes of it (see package call).
type (
	Action     = call.Act
	ActionKind = call.Kind
	Reading    = call.Reading
	Entry      = call.Entry
	OrderLine  = call.Line
	Topic      = call.Topic
)

// The kinds of action (see call.Kind).
const (
	ActStartRegen = call.StartRegen
	ActAdvance    = call.Advance
	ActBypass     = call.Bypass
	ActShutOff    = call.ShutOff
	ActPower      = call.Power
	ActHouseTap   = call.HouseTap
	ActRawTap     = call.RawTap
	ActTest       = call.Test
	ActOpen       = call.Open
	ActRefit      = call.Refit
	ActClean      = call.Clean
	ActAdjust     = call.Adjust
	ActReplace    = call.Replace
	ActLubricate  = call.Lubricate
	ActBail       = call.Bail
	ActDisinfect  = call.Disinfect
	ActPlan       = call.Plan
	ActConclude   = call.Conclude
	ActDiagnose   = call.Diagnose
	ActTell       = call.Tell
	ActHint       = call.Hint
	ActFinish     = call.Finish
	ActMishap     = call.Mishap // a journal line that is no act
)

// NoFault is the ID of the verdict that nothing is wrong with the unit.
const NoFault = call.NoFault

// VerdictIDs takes the ID of a verdict apart into those of the faults that it names.
func VerdictIDs(id string) []string { return call.VerdictIDs(id) }

// Unit is the kind of quantity of a reading; the page shows it in the units chosen.
type Unit = instrument.Quantity

// The chloride strip, which stays blank below so much, kg/m³.
const (
	ChlorideStrip  = instrument.ChlorideStrip
	StripLeastKgM3 = instrument.StripLeastKgM3
)

// The kinds of quantity.
const (
	UnitNone     = instrument.Sighting
	UnitHardness = instrument.Hardness // mol/m³ Ca+Mg
	UnitPressure = instrument.Pressure // Pa gauge
	UnitFlow     = instrument.Flow     // m³/s
	UnitLength   = instrument.Length   // m
	UnitFraction = instrument.Fraction // 0..1
	UnitSpecific = instrument.Specific // conductivity, S/m
	UnitWarmth   = instrument.Warmth   // °C
	UnitContent  = instrument.Content  // kg/m³
	UnitCount    = instrument.Count    // a number
	UnitSpan     = instrument.Span     // s
	UnitWeight   = instrument.Weight   // kg
	UnitAngle    = instrument.Angle    // degrees
)

// TokensPerMinute is what a minute costs, in the tokens that parts cost too.
const TokensPerMinute = call.LabourPerMinute

// Call is the state of the service call as the page shows it.
type Call struct {
	BusyUntilTick int64       // > View.Tick while an act takes its time
	BusyText      string      // what is being done
	Minutes       float64     // since the call was opened
	Cost          float64     // of the minutes and the new parts
	Journal       []Entry     // oldest first; grows only, but its last entry may change while Busy
	Order         []OrderLine // the work order, oldest line first
	Helped        int         // steps of help taken
	Opened        []Part      // dismantled now
	Diagnosed     bool        // a cause was named
	DiagnosedID   string      // see VerdictIDs
	Confidence    float64
	Finished      bool
}
