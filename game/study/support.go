package study

// Support is how much the page helps beside the readings.
type Support int

// The levels of support, from the first call on. What each shows is the page's matter.
const (
	Full Support = iota
	Some
	Little
	None
)

// Efficiencies from which support fades by one level each. Our choice.
var fades = [...]float64{0.45, 0.6, 0.75}

// recent is how many plays the efficiency looks back on.
const recent = 3

// Efficiency is how well and how economically a call was played, 0..1: the mean
// of score and economy (the tests' worth by the minute against the best ones),
// nothing for a play that was helped.
func (p *Play) Efficiency() float64 {
	if p.helped() {
		return 0
	}
	return (p.Score/100 + p.Economy) / 2
}

// Efficiency is the mean of the last three plays of a call and those that look
// like it, 0..1; met is false when none of them has been played.
func (p *Progress) Efficiency(l Ladder, call string) (mean float64, met bool) {
	family := l.Find(call)
	return p.efficiency(func(played string) bool {
		r := l.Find(played)
		return r.family() == family.family()
	})
}

// efficiency is the mean over the last plays of the calls that count.
func (p *Progress) efficiency(counts func(call string) bool) (mean float64, met bool) {
	n, sum := 0, 0.0
	for i := len(p.Plays) - 1; i >= 0 && n < recent; i-- {
		if counts(p.Plays[i].Call) {
			sum += p.Plays[i].Efficiency()
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// Support is the level for a call. It fades with the efficiency of the last three
// plays, where those not yet made count as nothing, and comes back after poor
// ones; where the family of the call went worse than all together, that decides.
func (p *Progress) Support(l Ladder, call string) Support {
	mean, met := p.efficiency(func(string) bool { return true })
	if !met {
		return Full
	}
	mean *= float64(min(len(p.Plays), recent)) / recent
	if family, met := p.Efficiency(l, call); met {
		mean = min(mean, family)
	}
	level := Full
	for _, from := range fades {
		if mean >= from {
			level++
		}
	}
	return level
}
