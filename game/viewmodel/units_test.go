package viewmodel

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"brinebench/game/say"
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
		return 100.0869, "mg/L" + say.Text("unit.as-caco3")
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
	lit, lost := sim.Face{Powered: true}, sim.Face{Powered: true, ClockLost: true}
	stopped := sim.ControllerView{Station: 1, Regenerating: true, RemainingS: 90}
	waiting := sim.ControllerView{Powered: true, DaysToRegen: 3}
	timed := sim.ControllerView{Powered: true, Regenerating: true, Station: 1, RemainingS: 90}
	for _, c := range []struct {
		name                             string
		c                                sim.ControllerView
		face                             sim.Face
		station, rest, clock, next, tall string
	}{
		{"in service", waiting, lit, "Service", "", "clock 12:30 pm", "regenerates in 3 days", "12:30 pm"},
		{"demand controller in service", sim.ControllerView{Powered: true, DaysToRegen: 2, Demand: true, RemainingM3: 3.785411784}, lit, "Service", "1000 gal left", "clock 12:30 pm", "regenerates in 2 days", "1000 gal left · 12:30 pm"},
		{"after a power cut", waiting, lost, "Service", "", "clock 12:30 pm", "clock not set", "12:30 pm clock not set"},
		{"in a power cut", waiting, sim.Face{}, "Service", "", "no power", "", "no power"},
		{"in a power cut that the clock does not outlast", timed, sim.Face{ClockLost: true}, "Backwash", "timer stands", "no power", "", "no power"},
		{"in alarm", sim.ControllerView{Powered: true, DaysToRegen: -1, Alarm: true, Station: 1}, lit, "Alarm", "position lost", "clock 12:30 pm", "", "position lost · 12:30 pm"},
		{"in a timed station", timed, lit, "Backwash", "1:30 min left", "clock 12:30 pm", "regenerating", "1:30 min left · 12:30 pm"},
		{"motor driving", moving, lit, "→ Backwash", "motor running", "clock 12:30 pm", "regenerating", "motor running · 12:30 pm"},
		{"unplugged in mid-travel", stuck, sim.Face{}, "Between positions", "motor stands", "unplugged", "", "unplugged"},
		{"unplugged in a timed station", stopped, sim.Face{}, "Backwash", "timer stands", "unplugged", "", "unplugged"},
	} {
		v := &sim.View{Controller: c.c, Face: c.face}
		text := func(k ReadoutKind, tall bool) string {
			return (&Readout{Kind: k}).Text(v, set, pageUnits{}, tall)
		}
		require.Equal(t, []string{c.station, c.rest, c.clock, c.next, c.tall}, []string{
			text(ReadStation, false), text(ReadRemaining, false), text(ReadClock, false), text(ReadNext, false), text(ReadRemaining, true),
		}, c.name)
	}
}

// TestFaceHoldsTheWordsOfEveryState writes all that the face can say, of positions
// with long names, on stages of every size.
func TestFaceHoldsTheWordsOfEveryState(t *testing.T) {
	set := testSetup()
	for i, name := range []string{"Service", "Backwash", "Upflow brine draw and slow rinse", "Fast rinse", "Second refill"} {
		set.Stations[i].Name = name
	}
	lit, lost := sim.Face{Powered: true}, sim.Face{Powered: true, ClockLost: true}
	states := []*sim.View{
		{Controller: sim.ControllerView{Powered: true, DaysToRegen: 12, Demand: true, RemainingM3: 46}, Face: lit},
		{Controller: sim.ControllerView{Powered: true, DaysToRegen: 12, Demand: true, RemainingM3: 46}, Face: lost},
		{Controller: sim.ControllerView{Powered: true, Regenerating: true, Station: 2, RemainingS: 7140}, Face: lost},
		{Controller: sim.ControllerView{Powered: true, Regenerating: true, Station: 2, Moving: true}, Face: lost},
		{Controller: sim.ControllerView{Regenerating: true, Station: 2, Moving: true}},
		{Controller: sim.ControllerView{Powered: true, Regenerating: true, Station: 2, RemainingS: 90}},
		{Controller: sim.ControllerView{Powered: true, DaysToRegen: -1, Alarm: true}, Face: lost},
	}
	for _, lang := range say.Langs {
		speak(t, lang)
		for _, size := range stages {
			for _, si := range []bool{false, true} {
				m, units := goMeasure(t), pageUnits{si}
				s := Build(size[0], size[1], set, Options{Units: units, SI: si, Measure: m})
				requireApart(t, s, letterings(t, s, m))
				for _, v := range states {
					requireApart(t, s, faceWords(t, s, v, set, units, m))
				}
			}
		}
	}
}

// faceWords are the lines on the face, each of which must stand on it.
func faceWords(t *testing.T, s *Scene, v *sim.View, set *sim.Setup, units Units, m Measure) (all []lettering) {
	for i := range s.Readouts {
		r := &s.Readouts[i]
		if !r.Face {
			continue
		}
		lines, size := r.Lines(r.Text(v, set, units, s.Tall), m)
		require.GreaterOrEqual(t, size, TextSmall)
		y := r.At.Y - size*0.62
		if len(lines) > 1 {
			y = r.At.Y - size*1.2
		}
		for _, line := range lines {
			w := m(line, size, r.Bold)
			l := lettering{line, Rect{r.At.X - r.Align*w, y, w, size * 1.15}}
			all, y = append(all, l), y+size*1.2
			require.True(t, s.Face.Contains(Pt{l.r.X, l.r.Y}) && s.Face.Contains(Pt{l.r.X + l.r.W, l.r.Y + l.r.H}), "%q leaves the face %v of %gx%g: %v", line, s.Face, s.W, s.H, l.r)
		}
	}
	return all
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

func TestAnArrowStaysWithItsPosition(t *testing.T) {
	letters := func(text string, size float64, _ bool) float64 { return size * float64(len([]rune(text))) }
	r := Readout{MaxW: 200, Size: 20}
	lines, size := r.Lines("→ Retrolavado", letters)
	require.Equal(t, []string{"→ Retrolavado"}, lines)
	require.Less(t, size, r.Size)
	lines, _ = r.Lines("→ Enjuague lento", letters)
	require.Equal(t, []string{"→ Enjuague", "lento"}, lines)
}

func TestTheAngleOfAPositionNotToBeToldIsNotTold(t *testing.T) {
	set := &sim.Setup{Stations: []sim.Station{{Name: "Service"}, {Name: "Backwash"}}}
	angle := func() string {
		return (&Readout{Kind: ReadAngle}).Text(&sim.View{DrumDeg: 72}, set, pageUnits{}, false)
	}
	require.Equal(t, "72°", angle())
	set.Stations[0].Name = "?"
	require.Equal(t, "?", angle())
}
