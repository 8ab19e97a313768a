package game

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"brinebench/game/say"
	"brinebench/sim"
)

// Factors from SI; all but the molar mass of calcium carbonate are exact by definition.
const (
	paPerPSI       = 6894.757293168
	m3sPerGPM      = sim.GPM
	m3sPerLMin     = 1e-3 / 60
	metrePerInch   = 0.0254
	mgLPerMolM3    = 100.0869 // as CaCO3
	mgLPerGPG      = 17.118061
	litrePerM3     = 1000
	gallonPerM3    = 1 / 3.785411784e-3
	eqPerKilograin = 2 * 64.79891 / mgLPerMolM3
	poundPerKg     = 1 / 0.45359237
	ft3PerM3       = 1 / 0.028316846592
	microPerSM     = 1e4 // µS/cm in an S/m
	kilopascalsPa  = 1e-3
)

// UsesSI tells whether people of a language as a browser names it ("es-MX") measure in SI
// units: all but those of the United States, and of English without a country.
func UsesSI(tag string) bool {
	parts := strings.Split(strings.ToLower(tag), "-")
	return !slices.Contains(parts, "us") && (len(parts) > 1 || parts[0] != "en")
}

// Printed writes the size that is printed on a flow control, which is in gpm in the trade;
// in SI what that is comes first.
func (l Look) Printed(flowGPM float64) string {
	printed := say.FlowSize(flowGPM) + "\u00a0gpm"
	if l.SI {
		return l.Quantity(flowGPM*m3sPerGPM, sim.UnitFlow) + " (" + printed + ")"
	}
	return printed
}

// Quantity writes a value given in SI in the units of the look, as "12.3 gpg".
func (l Look) Quantity(value float64, unit sim.Unit) string {
	switch {
	case unit == sim.UnitSpan:
		return TimeSpan(value)
	case unit == sim.UnitAngle:
		return say.Number(value, 0) + "°"
	case unit == sim.UnitWarmth && !l.SI:
		value += 32 / 1.8
	case unit == sim.UnitContent && value >= 0.01: // tests of little are the finer ones
		return say.Number(value*1000, 0) + " mg/L"
	}
	scale, name, decimals := l.scale(unit)
	return strings.TrimSpace(say.Number(value*scale, decimals) + " " + name)
}

// ScaleEnd writes the end of a chart's scale, given in the unit shown: "60 psi".
func (l Look) ScaleEnd(end float64, unit sim.Unit) string {
	_, name := l.Scale(unit)
	if unit != sim.UnitAngle {
		name = " " + name
	}
	return strings.TrimSpace(say.Number(end, -1) + name)
}

// Scale returns the factor from SI to the unit shown, and its name; of a
// temperature, that of a difference.
func (l Look) Scale(unit sim.Unit) (factor float64, name string) {
	factor, name, _ = l.scale(unit)
	return factor, name
}

// Grain returns the least step that Quantity shows, in SI.
func (l Look) Grain(unit sim.Unit) float64 {
	factor, _, decimals := l.scale(unit)
	return math.Pow10(-decimals) / factor
}

func (l Look) scale(unit sim.Unit) (factor float64, name string, decimals int) {
	switch unit {
	case sim.UnitHardness:
		return choose(l.SI, mgLPerMolM3, mgLPerMolM3/mgLPerGPG), choose(l.SI, "mg/L"+say.Text("unit.as-caco3"), "gpg"), choose(l.SI, 0, 1)
	case sim.UnitPressure:
		return choose(l.SI, kilopascalsPa, 1/paPerPSI), choose(l.SI, "kPa", "psi"), choose(l.SI, 0, 1)
	case sim.UnitFlow:
		return choose(l.SI, 1/m3sPerLMin, 1/m3sPerGPM), choose(l.SI, "L/min", "gpm"), 2
	case sim.UnitLength:
		return choose(l.SI, 100, 1/metrePerInch), choose(l.SI, "cm", say.Text("unit.inch")), 1
	case sim.UnitFraction:
		return 100, "%", 0
	case sim.UnitSpecific:
		return microPerSM, "µS/cm", 0
	case sim.UnitWarmth:
		return choose(l.SI, 1, 1.8), choose(l.SI, "°C", "°F"), 1
	case sim.UnitContent:
		return 1000, "mg/L", 1
	case sim.UnitWeight:
		return choose(l.SI, 1, poundPerKg), choose(l.SI, "kg", "lb"), choose(l.SI, 1, 0)
	case sim.UnitCount:
		return 1, "", 0
	case sim.UnitAngle:
		return 1, "°", 0
	}
	return 1, "", 2
}

// Temperature writes a temperature given in °C.
func (l Look) Temperature(c float64) string {
	if l.SI {
		return say.Number(c, 0) + " °C"
	}
	return say.Number(c*1.8+32, 0) + " °F"
}

// Resin writes a volume of resin given in m³.
func (l Look) Resin(m3 float64) string {
	if l.SI {
		return say.Number(m3*litrePerM3, 0) + " L"
	}
	return shortest(m3*ft3PerM3, 2) + " " + say.Text("unit.cubic-foot")
}

// shortest writes a number with no more decimals than it needs, and no more than most.
func shortest(x float64, most int) string {
	ends := math.Pow10(most)
	return say.Number(math.Round(x*ends)/ends, -1)
}

// Story puts the size of the unit into what is told of a house: {resin} and {tank}.
func (l Look) Story(house string, s *sim.Setup) string {
	factor, name := l.Scale(sim.UnitLength)
	tank := shortest(s.TankDiameterM*factor, 1) + " " + name
	return strings.NewReplacer("{resin}", l.Resin(s.ResinM3), "{tank}", tank).Replace(house)
}

// Volume writes a volume of water given in m³.
func (l Look) Volume(m3 float64) string { return l.volume(m3, 0) }

// Draught is Volume of the few gallons that a regeneration moves, to a tenth.
func (l Look) Draught(m3 float64) string { return l.volume(m3, 1) }

func (l Look) volume(m3 float64, decimals int) string {
	v, name := m3*gallonPerM3, " gal"
	if l.SI {
		v, name = m3*litrePerM3, " L"
	}
	return say.Number(v, decimals) + name
}

// Exchange writes what a bed has taken up, given in eq, in kilograins or equivalents.
func (l Look) Exchange(eq float64) string {
	if l.SI {
		return say.Number(eq, 1) + " eq"
	}
	return say.Number(eq/eqPerKilograin, 1) + " kgr"
}

// Clock writes a time of day given in s since midnight.
func (l Look) Clock(s float64) string {
	m := int(math.Floor(s/60)) % (24 * 60)
	h := m / 60
	if l.SI {
		return fmt.Sprintf("%02d:%02d", h, m%60)
	}
	return fmt.Sprintf("%d:%02d %s", (h+11)%12+1, m%60, say.Text(choose(h < 12, "clock.am", "clock.pm")))
}

// TimeSpan writes a measured time given in s, which may be negative, to the second.
func TimeSpan(s float64) string {
	sign, t := "", int(math.Floor(math.Abs(s)+0.5))
	if s < 0 && t > 0 {
		sign = "−"
	}
	switch {
	case t >= 3600:
		return fmt.Sprintf("%s%d h %02d min", sign, t/3600, t/60%60)
	case t%60 == 0:
		return fmt.Sprintf("%s%d min", sign, t/60)
	case t < 60:
		return fmt.Sprintf("%s%d s", sign, t)
	}
	return fmt.Sprintf("%s%d min %02d s", sign, t/60, t%60)
}

// Minutes writes a number of minutes as a person would say it.
func Minutes(m float64) string { return say.Number(m, choose(m == math.Floor(m), 0, 1)) + " min" }

// Confidence puts a probability, 0..1, in words.
func Confidence(p float64) string {
	for _, step := range []struct {
		below float64
		id    string
	}{
		{0.1, "sure.guess"},
		{0.35, "sure.suspicion"},
		{0.6, "sure.even"},
		{0.8, "sure.probably"},
		{0.95, "sure.nearly"},
		{0.995, "sure.sure"},
	} {
		if p < step.below {
			return say.Text(step.id)
		}
	}
	return say.Text("sure.certain")
}

// InSentence lowers the first letter of a name for use inside a sentence.
func InSentence(name string) string {
	first, n := utf8.DecodeRuneInString(name)
	return string(unicode.ToLower(first)) + name[n:]
}

// choose returns a when cond holds, b otherwise.
func choose[T any](cond bool, a, b T) T {
	if cond {
		return a
	}
	return b
}
