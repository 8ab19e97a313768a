package control

import "fmt"

const dayS = 86400

// The longest refill, s, and the longest interval, days, that can be set.
const (
	maxRefillS   = 14400
	maxEveryDays = 99
)

// Settings are what the installer has set on the controller.
type Settings struct {
	EveryDays int     // regenerate every so many days; 0: on the chosen weekdays
	Weekdays  [7]bool // nights to regenerate when EveryDays is 0, by Day mod 7; none chosen: never
	StartS    float64 // time of day of the automatic start, s since midnight, 0 ≤ s < 86,400
	RefillS   float64 // time of the refill stop, s, in place of the program's; set by the salt dose
}

// Validate returns every fault of the settings, each naming its field.
func (set *Settings) Validate() []error {
	var errs []error
	if set.EveryDays < 0 || set.EveryDays > maxEveryDays {
		errs = append(errs, fmt.Errorf("every_days: %d is outside 0 to %d", set.EveryDays, maxEveryDays))
	}
	if set.EveryDays > 0 && set.Weekdays != [7]bool{} {
		errs = append(errs, fmt.Errorf("weekdays: chosen although every_days is %d", set.EveryDays))
	}
	if !(set.StartS >= 0 && set.StartS < dayS) {
		errs = append(errs, fmt.Errorf("start_s: %v is outside 0 to below %d", set.StartS, dayS))
	}
	if !(set.RefillS >= 0 && set.RefillS <= maxRefillS) {
		errs = append(errs, fmt.Errorf("refill_s: %v is outside 0 to %d", set.RefillS, maxRefillS))
	}
	return errs
}
