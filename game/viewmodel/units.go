package viewmodel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"brinebench/game/say"
	"brinebench/sim"
)

// Units writes quantities as the page does, so that picture and page agree.
type Units interface {
	Scale(unit sim.Unit) (factor float64, name string) // factor from SI
	Quantity(value float64, unit sim.Unit) string      // value in SI
	Clock(s float64) string                            // s since midnight
	Volume(m3 float64) string
}

// PressureText writes a gauge pressure in Pa, as exactly as a dial is read.
func PressureText(pa float64, units Units) string {
	factor, name := units.Scale(sim.UnitPressure)
	if text := fmt.Sprintf("%.0f", pa*factor); text != "-0" {
		return text + " " + name
	}
	return "0 " + name
}

// hardnessScale returns the feed water's hardness, the hard end of the colour
// scale, as a number and a unit.
func (b *builder) hardnessScale() (end, unit string) {
	end, unit, _ = strings.Cut(b.opt.Units.Quantity(b.set.FeedHardnessMolM3, sim.UnitHardness), " ")
	if b.s.Tall { // no room to say what as
		unit = strings.TrimSuffix(unit, say.Text("unit.as-caco3"))
	}
	return strings.TrimSuffix(end, say.Number(0, 1)[1:]), unit
}

// printedFlow is the size printed on a flow control: in gpm, whoever reads it.
func printedFlow(gpm float64) string { return say.FlowSize(gpm) + " gpm" }

// ratedFlow is that size in the units of the page.
func (b *builder) ratedFlow(gpm float64) string {
	if _, name := b.opt.Units.Scale(sim.UnitFlow); name == "gpm" {
		return printedFlow(gpm)
	}
	return b.opt.Units.Quantity(gpm*sim.GPM, sim.UnitFlow)
}

// Text returns what a readout shows now; tall pictures are brief.
func (r *Readout) Text(v *sim.View, set *sim.Setup, units Units, tall bool) string {
	if set.Stations[0].Name == hidden {
		switch r.Kind {
		case ReadAngle:
			return hidden
		case ReadRemaining, ReadClock, ReadNext:
			return "" // the picture is of a position, and of no time
		}
	}
	switch r.Kind {
	case ReadStation:
		return stationText(v, set, r.Short)
	case ReadRemaining:
		if tall {
			return remainingTall(v, units)
		}
		return remainingText(v, units)
	case ReadClock:
		return clockText(v, units)
	case ReadNext:
		return nextText(v, r.Short)
	case ReadBypass:
		if v.BypassAjar > 0 {
			return say.Text("canvas.bypass-ajar")
		}
		return say.Text("canvas.bypass-" + v.Bypass)
	case ReadGauge:
		return PressureText(math.Max(0, v.PressurePa[r.Node]), units) // the hand rests on its peg
	case ReadAngle:
		return fmt.Sprintf("%.0f°", math.Mod(math.Floor(v.DrumDeg+0.5), 360))
	case ReadNode:
		return numberText(v.PressurePa[r.Node], units)
	}
	return ""
}

// stationText names the station, in short by the first of what it is for; while
// Moving, Station is the one ahead.
func stationText(v *sim.View, set *sim.Setup, short bool) string {
	c := &v.Controller
	switch {
	case c.Alarm && v.Face.Powered:
		return say.Text("canvas.alarm")
	case c.Station < 0 || c.Station >= len(set.Stations):
		return ""
	case c.Moving && !v.Face.Powered:
		return say.Text("canvas.between")
	}
	name := say.Sim(set.Stations[c.Station].Name)
	if short {
		name = UnderWay(name, v)
	}
	if c.Moving {
		return arrow + name
	}
	return name
}

// UnderWay is what a position that serves two ends, as brine draw and slow rinse, is for
// now: the first until the air check has seated.
func UnderWay(name string, v *sim.View) string {
	first, second, two := strings.Cut(name, say.Text("and"))
	if two && v.Tank.AirCheckSeated && !v.Controller.Moving {
		return say.Capital(second)
	}
	return first
}

// remainingText tells what the motor and the timer do; both stand without power. In
// service a demand controller tells for how much water the bed is good.
func remainingText(v *sim.View, units Units) string {
	c, powered := &v.Controller, v.Face.Powered
	switch {
	case c.Alarm && powered:
		return say.Text("canvas.lost")
	case c.Moving && powered:
		return say.Text("canvas.running")
	case c.Moving:
		return say.Text("canvas.stands")
	case c.RemainingS > 0 && powered:
		return say.Text("canvas.left", say.TimeLeft(c.RemainingS))
	case c.RemainingS > 0:
		return say.Text("canvas.timer")
	case c.Demand && powered && !c.Regenerating:
		return say.Text("canvas.left", units.Volume(c.RemainingM3))
	}
	return ""
}

// clockText is the time by the controller; a dark face says why it is.
func clockText(v *sim.View, units Units) string {
	if !v.Face.Powered {
		return darkText(v)
	}
	return say.Text("canvas.clock", units.Clock(v.Controller.ClockS))
}

func darkText(v *sim.View) string {
	if v.Controller.Powered {
		return say.Text("canvas.no-power")
	}
	return say.Text("canvas.unplugged")
}

// remainingTall has the time first where words follow it, so that they stand still
// while it blinks: the line is aligned at its right end.
func remainingTall(v *sim.View, units Units) string {
	if !v.Face.Powered {
		return darkText(v)
	}
	clock := units.Clock(v.Controller.ClockS)
	if v.Face.ClockLost {
		clock += " " + say.Text("canvas.not-set")
	}
	if text := remainingText(v, units); text != "" {
		return text + " · " + clock
	}
	return clock
}

// nextText tells what the clock will do, or that it has lost the time; one without
// power does nothing.
func nextText(v *sim.View, short bool) string {
	c := &v.Controller
	id, soon := "canvas.regenerates", "canvas.regenerates-soon"
	if short {
		id, soon = "canvas.next", "canvas.next-soon"
	}
	switch {
	case !v.Face.Powered:
		return ""
	case v.Face.ClockLost:
		return say.Text("canvas.not-set")
	case c.Alarm:
		return ""
	case c.Regenerating:
		return say.Text("canvas.regenerating")
	case c.DaysToRegen > 0:
		return say.Text(id, c.DaysToRegen)
	case c.DaysToRegen == 0:
		return say.Text(soon)
	}
	return ""
}

// Lines breaks a text that is wider than the readout's room in two, where it has
// two parts or near its middle; the lettering is then smaller, but no less than TextSmall.
func (r *Readout) Lines(text string, m Measure) (lines []string, size float64) {
	if r.MaxW <= 0 || m(text, r.Size, r.Bold) <= r.MaxW {
		return []string{text}, r.Size
	}
	first, second, parted := strings.Cut(text, " · ")
	if !parted {
		cut := middleSpace(text)
		first, second = text[:cut], text[min(cut+1, len(text)):]
	}
	longer := math.Max(m(first, r.Size, r.Bold), m(second, r.Size, r.Bold))
	size = math.Max(TextSmall, r.Size*math.Min(0.8, r.MaxW/longer))
	if second == "" {
		return []string{first}, size
	}
	return []string{first, second}, size
}

// arrow stands before the position that the drum is on the way to, in its line.
const arrow = "→ "

// middleSpace returns the index of the space nearest the middle of s, or its length.
func middleSpace(s string) int {
	best, far, least := len(s), len(s), 0
	if strings.HasPrefix(s, arrow) {
		least = len(arrow)
	}
	for i, c := range s {
		if d := max(i-len(s)/2, len(s)/2-i); c == ' ' && i >= least && d < far {
			best, far = i, d
		}
	}
	return best
}

// isOpen tells whether a part is dismantled.
func isOpen(v *sim.View, p sim.Part) bool { return v != nil && slices.Contains(v.Opened, p) }
