package sizing

import (
	"fmt"
	"math"

	"brinebench/game/say"
	"brinebench/sim"
)

// Setup is a controller's panel as it stands: how far each setting is turned, and the
// nights that are chosen on a clock.
type Setup struct {
	Demand bool
	At     map[string]int        `json:",omitempty"`
	Nights [7]bool               // Monday first
	Marks  *sim.SizingSetupMarks `json:",omitempty"` // nil until it has been tried
}

// Dial is one setting of the panel: whole steps between bounds, with the wheels that turn it.
type Dial struct {
	ID     string
	Lo, Hi int
	Round  bool  // it goes on from its last step to its first
	Wheels []int // how many steps a notch of each wheel is, the left one first
	At     int   // where it stands when the controller is new
}

const (
	minutesOfDay = 24 * 60
	halfMinute   = 30
)

var (
	clockDial  = Dial{ID: "clock", Hi: minutesOfDay - 1, Round: true, Wheels: []int{60, 10, 1}}
	startDial  = Dial{ID: "start", Hi: minutesOfDay - 1, Round: true, Wheels: []int{60, 10}, At: 12 * 60}
	refillDial = Dial{ID: "refill_time", Hi: 120, Wheels: []int{20, 2, 1}, At: 2} // half minutes
)

// Dials are the settings of a clock, or of a demand controller, in the order of the panel.
func Dials(demand bool) []Dial {
	if !demand {
		return []Dial{clockDial, startDial, {ID: "every_days", Hi: sim.MaxEveryDays, Wheels: []int{10, 1}}, refillDial}
	}
	return []Dial{
		clockDial, startDial,
		{ID: "set_hardness", Lo: 1, Hi: sim.MaxHardnessGPG, Wheels: []int{10, 1}, At: 1},
		{ID: "set_capacity", Lo: 1, Hi: sim.MaxCapacityKgr, Wheels: []int{10, 1}, At: 1},
		{ID: "set_reserve", Hi: sim.MaxReservePct, Wheels: []int{10, 1}},
		{ID: "override_days", Hi: sim.MaxOverrideDays, Wheels: []int{10, 1}},
		refillDial,
	}
}

// Value is where a dial stands.
func (u *Setup) Value(d *Dial) int {
	if at, turned := u.At[d.ID]; turned {
		return min(max(at, d.Lo), d.Hi)
	}
	return d.At
}

// Turn turns a dial by so many steps, as far as it goes.
func (u *Setup) Turn(d *Dial, by int) {
	at := u.Value(d) + by
	if d.Round {
		span := d.Hi - d.Lo + 1
		at = d.Lo + ((at-d.Lo)%span+span)%span
	}
	put(&u.At, d.ID, min(max(at, d.Lo), d.Hi))
}

// Shown is what the wheels of a dial show, the left one first.
func (u *Setup) Shown(d *Dial) []string {
	v := u.Value(d)
	switch d.ID {
	case "clock", "start":
		h, m := fmt.Sprintf("%02d", v/60), fmt.Sprintf("%02d", v%60)
		if len(d.Wheels) == 2 {
			return []string{h, m}
		}
		return []string{h, m[:1], m[1:]}
	case "refill_time":
		return []string{fmt.Sprint(v / 20), fmt.Sprint(v / 2 % 10), []string{"0", "5"}[v%2]}
	}
	return []string{fmt.Sprint(v / 10), fmt.Sprint(v % 10)}
}

// Says is the whole setting in words.
func (u *Setup) Says(d *Dial) string {
	v := u.Value(d)
	switch d.ID {
	case "clock", "start":
		return TimeOfDay(float64(v * 60))
	case "refill_time":
		return say.Number(float64(v)/2, -1) + " min"
	}
	return SettingText(d.ID, v)
}

// TimeOfDay writes s since midnight as the panel does: from 0 to 24 hours.
func TimeOfDay(s float64) string { return fmt.Sprintf("%02d:%02d", int(s)/3600, int(s)/60%60) }

// SettingText writes a setting of whole units.
func SettingText(id string, v int) string {
	switch id {
	case "set_hardness":
		return say.Number(float64(v), 0) + " gpg"
	case "set_capacity":
		return say.Text("set.kilograins", v)
	case "set_reserve":
		return say.Number(float64(v), 0) + " %"
	}
	return say.Text("set.days", v)
}

// NowS is the time of day at which the installer stands before the controller, s: in
// working hours, the same for the same job.
func NowS(jobJSON []byte) float64 {
	const from, span, step = 8 * 60, 9 * 60, 7
	return float64(from+seedOf(jobJSON)*step%span) * 60
}

// Settings are the panel as the engine takes it.
func (u *Setup) Settings(jobJSON []byte) sim.SizingSetup {
	at := map[string]int{}
	for _, d := range Dials(u.Demand) {
		at[d.ID] = u.Value(&d)
	}
	s := sim.SizingSetup{
		Demand: u.Demand, NowS: NowS(jobJSON), ClockS: float64(60 * at["clock"]), StartS: float64(60 * at["start"]), RefillS: float64(halfMinute * at["refill_time"]),
		EveryDays: at["every_days"], HardnessGPG: at["set_hardness"], CapacityKgr: at["set_capacity"], ReservePct: at["set_reserve"], OverrideDays: at["override_days"],
	}
	if !u.Demand && s.EveryDays == 0 {
		s.Weekdays = u.Nights
	}
	return s
}

// setupKey tells the two controllers of a job apart.
func (k *Kept) setupKey(demand bool) string {
	if demand {
		return k.Key() + demandKey
	}
	return k.Key() + clockKey
}

const clockKey, demandKey = "/clock", "/demand"

// Setup is the present job's panel of a kind.
func (d *Desk) Setup(demand bool) Setup {
	u := d.Setups[d.setupKey(demand)]
	u.Demand = demand
	return u
}

// SetSetup keeps it.
func (d *Desk) SetSetup(u Setup) {
	put(&d.Setups, d.setupKey(u.Demand), u)
	d.used()
}

// SetupText writes the value of an item of a set-up's marks, given in SI.
func SetupText(id string, si float64) string {
	v, in := sim.SizingSetupValue(id, si)
	switch in {
	case "clock":
		return TimeOfDay(v)
	case "min":
		return say.Number(math.Round(10*v)/10, -1) + " min"
	}
	return SettingText(id, int(v+0.5))
}
