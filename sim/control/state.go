package control

import "fmt"

// State is the present state of the controller and its drum: plain data, written
// by Step only (and by SetClock, and DrumDeg by what turns the drum otherwise).
// The zero value stands in service at midnight of day 0, unplugged, with a
// regeneration of a clock due at the first start time.
//
// An unsensed controller can be wrong about the drum: Station is what it
// believes, DrumDeg the truth, see StopAt.
type State struct {
	Day          int     // days that its clock has counted; day 0 is a Monday
	ClockS       float64 // time of day its clock shows, s since midnight, 0 ≤ s < 86,400
	Unset        bool    // the clock has lost the time (it blinks) and nobody has set it since
	SpentS       float64 // how long the clock has run on in the present power cut, s, 0..RunsWithoutS
	DrumDeg      float64 // true drum angle, degrees, 0 ≤ a < 360
	CountDeg     float64 // drum angle by the controller's own count, degrees, 0 ≤ a < 360; 360 on the brink of home
	Station      int     // index of the stop, as the controller believes: present, or the one being driven to while Moving
	StationS     float64 // time in the station, s; 0 while Moving
	Moving       bool    // the motor is to drive the drum on (it stands still while unplugged)
	SeekS        float64 // sensed, while Moving: driving time left before the controller gives up, s
	Alarm        bool    // sensed: it gave up looking for the stop Station; it regenerates no more
	Regenerating bool    // away from service, or on the way; not in alarm
	DaysSince    int     // start times passed since the last regeneration began
	Skip         int     // clock with EveryDays: start times yet to let pass before the next regeneration
	Powered      bool    // under power at the last step

	UsedM3    float64    // demand: water counted since the last regeneration began, m³
	TodayM3   float64    // demand: water counted since the clock's midnight, m³
	WeekM3    [7]float64 // demand: water counted on the last seven days, m³, yesterday first
	KnownDays int        // demand: how many of them are known, 0..7
	MeterM3S  float64    // demand: flow that the meter counted in the last step, m³/s
}

// Inputs are what the outside does to the controller during a step. The buttons
// work on the motor's circuit: without power, or with the motor already driving,
// they do nothing. In alarm a button ends the alarm and drives the drum home,
// and does nothing else.
type Inputs struct {
	Plugged    bool    // its plug is in
	Mains      bool    // the house has power
	StartNow   bool    // the button for a regeneration now is pressed; it does nothing away from service
	AdvanceNow bool    // the drum is sent on to the next stop now; from service to the first of a regeneration
	Home       bool    // somebody turns the drum to service by hand and sets the pointer to it; needs no power
	MeterM3    float64 // water that the meter has counted since the last step, m³, ≥ 0, at an even flow
}

// Wear is what is wrong with the drive: plain data, written by faults and only
// read here. The zero value is healthy.
type Wear struct {
	MotorDead    bool    // the motor never turns; the clock goes on
	GearStripped bool    // the motor turns, the drum does not
	SensorLost   bool    // no stop is ever sensed; matters to a sensed controller only
	DriftSPerDay float64 // how much the clock gains in a day, s, −86,400 (it stands) to 86,400; stop times are not touched
}

// Validate returns every fault of the wear, each naming its field.
func (w *Wear) Validate() []error {
	if !(w.DriftSPerDay >= -dayS && w.DriftSPerDay <= dayS) {
		return []error{fmt.Errorf("drift_s_per_day: %v is outside -%d to %d", w.DriftSPerDay, dayS, dayS)}
	}
	return nil
}

// SetClock sets the clock to a time of day, s since midnight, 0 ≤ timeS < 86,400,
// and its day counter. A start time that is set upon or jumped over does not count.
func SetClock(s *State, day int, timeS float64) {
	if day < 0 || !(timeS >= 0 && timeS < dayS) {
		panic(fmt.Sprintf("control: clock set to day %d, %v s", day, timeS))
	}
	s.Day, s.ClockS, s.Unset = day, timeS, false
}
