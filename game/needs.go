package game

import "brinebench/sim"

// met tells for each need of a test, in the catalogue's own words, whether it is
// met now. What depends on the person alone counts as met.
var met = map[string]func(v *sim.View, at *sim.Station) bool{
	"In service. The tap is run for it.": running,
	"In service, all taps shut.": func(v *sim.View, at *sim.Station) bool {
		return running(v, at) && v.HouseTap == 0 && v.RawTap == 0
	},
	"All taps shut.": func(v *sim.View, _ *sim.Station) bool {
		return v.HouseTap == 0 && v.RawTap == 0
	},
	"A bed at rest: service.": func(_ *sim.View, at *sim.Station) bool { return at.ID == "service" },
	"A position that drains: backwash, brine draw or fast rinse.": func(v *sim.View, at *sim.Station) bool {
		const drips = 0.01 * m3sPerGPM
		return at.Open[sim.SeatBackwash] || at.Open[sim.SeatRinse] || v.DrainStream > drips // a bucket under what runs tells
	},
	"Brine draw or refill.": func(_ *sim.View, at *sim.Station) bool { return at.Open[sim.SeatBrine] },
	"Plugged in.":           func(v *sim.View, _ *sim.Station) bool { return v.Controller.Powered },
	"A licensed or trained hand: mains at the outlet.":              func(*sim.View, *sim.Station) bool { return true },
	"A licensed or trained hand: mains may stand behind the cover.": func(*sim.View, *sim.Station) bool { return true },
}

// running tells whether the house can draw through the unit.
func running(v *sim.View, at *sim.Station) bool {
	return at.Open[sim.SeatInlet] && at.Open[sim.SeatOutlet] && v.Bypass == "service" && !v.ShutOff // as in refill
}

// Met tells whether what a test needs is so at this moment, as far as the
// controller shows it. On the way between two positions nothing that needs a
// position is met.
func Met(needs string, v *sim.View, s *sim.Setup) bool {
	is := met[needs]
	if is == nil {
		return true
	}
	at := &sim.Station{}
	if c := v.Controller; !c.Moving && c.Station >= 0 && c.Station < len(s.Stations) {
		at = &s.Stations[c.Station]
	}
	return is(v, at)
}
