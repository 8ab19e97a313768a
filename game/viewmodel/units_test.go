package viewmodel

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/sim"
)

// pageUnits writes quantities as wide as the page does.
type pageUnits struct{ si bool }

func (u pageUnits) Scale(unit sim.Unit) (float64, string) {
	switch {
	case unit == sim.UnitPressure && u.si:
		return 1e-3, "kPa"
	case unit == sim.UnitPressure:
		return 1 / 6894.757293, "psi"
	case u.si:
		return 100.0869, "mg/L as CaCO₃"
	}
	return 100.0869 / 17.118061, "gpg"
}

func (u pageUnits) Quantity(value float64, unit sim.Unit) string {
	factor, name := u.Scale(unit)
	if u.si {
		return fmt.Sprintf("%.0f %s", value*factor, name)
	}
	return fmt.Sprintf("%.1f %s", value*factor, name)
}

func (u pageUnits) Clock(float64) string {
	if u.si {
		return "12:30"
	}
	return "12:30 pm"
}

func (u pageUnits) Volume(m3 float64) string {
	if u.si {
		return fmt.Sprintf("%.0f L", m3*1000)
	}
	return fmt.Sprintf("%.0f gal", m3/3.785411784e-3)
}

func TestReadoutsSayOnlyWhatIsTrue(t *testing.T) {
	set := &sim.Setup{Stations: []sim.Station{{Name: "Service"}, {Name: "Backwash"}}}
	moving := sim.ControllerView{Powered: true, Moving: true, Regenerating: true, Station: 1}
	stuck := moving
	stuck.Powered = false
	stopped := sim.ControllerView{Station: 1, Regenerating: true, RemainingS: 90}
	waiting := sim.ControllerView{Powered: true, DaysToRegen: 3}
	timed := sim.ControllerView{Powered: true, Regenerating: true, Station: 1, RemainingS: 90}
	for _, c := range []struct {
		name                             string
		c                                sim.ControllerView
		station, rest, clock, next, tall string
	}{
		{"in service", waiting, "Service", "", "clock 12:30 pm", "regenerates in 3 days", "12:30 pm"},
		{"demand controller in service", sim.ControllerView{Powered: true, DaysToRegen: 2, Demand: true, RemainingM3: 3.785411784}, "Service", "1000 gal left", "clock 12:30 pm", "regenerates in 2 days", "1000 gal left · 12:30 pm"},
		{"after a power cut", sim.ControllerView{Powered: true, DaysToRegen: 2, ClockUnset: true}, "Service", "", "unset 12:30 pm", "regenerates in 2 days", "unset 12:30 pm"},
		{"in alarm", sim.ControllerView{Powered: true, DaysToRegen: -1, Alarm: true, Station: 1}, "Alarm", "position lost", "clock 12:30 pm", "", "position lost · 12:30 pm"},
		{"in a timed station", timed, "Backwash", "1:30 min left", "clock 12:30 pm", "regenerating", "1:30 min left · 12:30 pm"},
		{"motor driving", moving, "→ Backwash", "motor running", "clock 12:30 pm", "regenerating", "motor running · 12:30 pm"},
		{"unplugged in mid-travel", stuck, "Between positions", "motor stands", "unplugged", "", "unplugged"},
		{"unplugged in a timed station", stopped, "Backwash", "timer stands", "unplugged", "", "unplugged"},
	} {
		v := &sim.View{Controller: c.c}
		text := func(k ReadoutKind, tall bool) string {
			return (&Readout{Kind: k}).Text(v, set, pageUnits{}, tall)
		}
		require.Equal(t, []string{c.station, c.rest, c.clock, c.next, c.tall}, []string{
			text(ReadStation, false), text(ReadRemaining, false), text(ReadClock, false), text(ReadNext, false), text(ReadRemaining, true),
		}, c.name)
	}
}

func TestPressureIsReadOffTheDialInThePagesUnits(t *testing.T) {
	require.Equal(t, "58 psi", PressureText(4e5, pageUnits{}))
	require.Equal(t, "400 kPa", PressureText(4e5, pageUnits{si: true}))
	require.Equal(t, "0 kPa", PressureText(-300, pageUnits{si: true}))
}

func TestFlowControlsShowWhatIsPrintedOnThem(t *testing.T) {
	require.Equal(t, "2.4 gpm", printedFlow(2.4))
	require.Equal(t, "0.35 gpm", printedFlow(0.35))
}
