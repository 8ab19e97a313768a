// Package control models the time-clock controller: its clock and day counter,
// and the motor that drives the cam drum through the program.
package control

import "brinebench/sim/valve"

// Settings are what the installer has set on the controller.
type Settings struct {
	EveryDays int     // regenerate every so many days; 0: on the chosen weekdays
	Weekdays  [7]bool // nights to regenerate when EveryDays is 0; index Day mod 7
	StartS    float64 // time of day of the automatic start, s since midnight, 0 ≤ s < 86,400
	RefillS   float64 // time of the refill stop, s, in place of the program's; set by the salt dose
}

// State is the present state of the controller: plain data, written by Step only
// (and by whoever sets its clock).
type State struct {
	Day          int     // days that its clock has counted
	ClockS       float64 // time of day its clock shows, s since midnight, 0 ≤ s < 86,400
	DrumDeg      float64 // drum angle, degrees, 0 ≤ a < 360
	Station      int     // index of the stop: present, or the one being driven to while Moving
	StationS     float64 // time in the station, s; 0 while Moving
	Moving       bool    // the motor is driving the drum
	Regenerating bool    // away from service, or on the way
	DaysSince    int     // start times passed since the last regeneration
	Skip         int     // with EveryDays: start times yet to let pass before the next regeneration
	Powered      bool    // plugged in at the last step
}

// Inputs are what the outside does to the controller during a step.
type Inputs struct {
	Powered    bool // plugged in
	StartNow   bool // the button for a regeneration now is pressed
	AdvanceNow bool // the drum is sent on to the next stop now
}

// Validate returns every fault of the settings, each naming its field.
func (set *Settings) Validate() []error { return nil }

// Step advances the controller by dtS seconds (any length).
func Step(p *valve.Program, set *Settings, s *State, in Inputs, dtS float64) {}

// NextChange returns the seconds until the controller next does something by
// itself; +Inf when it never will.
func NextChange(p *valve.Program, set *Settings, s *State) float64 { return 0 }

// StationSeconds returns the time the controller holds stop i, s.
func StationSeconds(p *valve.Program, set *Settings, i int) float64 { return 0 }

// Remaining returns the time left in the present stop, s; 0 in service and while moving.
func Remaining(p *valve.Program, set *Settings, s *State) float64 { return 0 }

// DaysToRegen returns the whole days until the next automatic regeneration: 0
// within the coming 24 h; -1 when none is scheduled.
func DaysToRegen(set *Settings, s *State) int { return 0 }
