package household

import (
	"cmp"
	"fmt"
	"slices"
)

// DailyM3 returns the use of a day at nominal flows, the leak included, m³.
func DailyM3(sp *Spec, day int) float64 {
	use := float64(sp.LeakM3S * dayS)
	for _, d := range DayDraws(sp, day) {
		use += float64((d.EndS - d.StartS) * d.FlowM3S)
	}
	return use
}

// PeakM3S returns the greatest nominal flow in so many days from a day on, the
// leak included, m³/s at ReferencePa.
func PeakM3S(sp *Spec, fromDay, days int) float64 {
	peak := sp.LeakM3S
	for _, p := range paces(sp, fromDay, days) {
		peak = max(peak, p.flowM3S)
	}
	return peak
}

// QuantileM3S returns the nominal flow, the leak included, that is not exceeded in
// a share of the time in which any fixture runs, in so many days from a day on,
// m³/s at ReferencePa; share from 0 to 1, 0.99 is usual for a design. Without any
// draw it is the leak.
func QuantileM3S(sp *Spec, fromDay, days int, share float64) float64 {
	if !(share >= 0 && share <= 1) {
		panic(fmt.Sprintf("household: share %v is outside 0 to 1", share))
	}
	all := paces(sp, fromDay, days)
	slices.SortFunc(all, func(a, b pace) int { return cmp.Compare(a.flowM3S, b.flowM3S) })
	left := 0.0
	for _, p := range all {
		left += float64(share * p.seconds)
	}
	flow := sp.LeakM3S
	for _, p := range all {
		flow = p.flowM3S
		if left -= p.seconds; left <= 0 {
			break
		}
	}
	return flow
}

// pace is a stretch of time with a constant flow.
type pace struct{ seconds, flowM3S float64 }

// glimpseS: what is shorter is left by rounding where one draw follows another, s.
const glimpseS = 1e-3

// paces returns the stretches in which any fixture runs.
func paces(sp *Spec, fromDay, days int) []pace {
	var all []pace
	for s := Start(sp, fromDay, 0); s.Day < fromDay+days; {
		p := pace{NextChange(&s), FlowAt(sp, &s)}
		if p.flowM3S > sp.LeakM3S && p.seconds > glimpseS {
			all = append(all, p)
		}
		Advance(sp, &s, p.seconds)
	}
	return all
}
