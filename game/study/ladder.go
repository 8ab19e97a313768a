package study

import (
	"cmp"
	"slices"
)

// Rung is a call's place on the ladder.
type Rung struct {
	Call  string // id of the call
	Rung  int    // 1 is the lowest; 0 is a call that has no place, and comes last
	Group string // the family of calls that look like it, "" none
}

// family is the group, or the call alone where there is none.
func (r *Rung) family() string {
	if r.Group != "" {
		return "group " + r.Group
	}
	return "call " + r.Call
}

// Ladder is the calls in the order in which they are first met.
type Ladder []Rung

// NewLadder puts calls in order; those on one rung stay as they come.
func NewLadder(rungs []Rung) Ladder {
	l := slices.Clone(rungs)
	place := func(r Rung) int {
		if r.Rung == 0 {
			return int(^uint(0) >> 1)
		}
		return r.Rung
	}
	slices.SortStableFunc(l, func(a, b Rung) int { return cmp.Compare(place(a), place(b)) })
	return l
}

// Find returns the place of a call; a call that the ladder lacks has none.
func (l Ladder) Find(call string) Rung {
	if i := slices.IndexFunc(l, func(r Rung) bool { return r.Call == call }); i >= 0 {
		return l[i]
	}
	return Rung{Call: call}
}

// ahead is how many calls that are not passed a trainee may have below a rung
// without its being locked. Our choice: with one alone a call that will not come
// right would bar the way, and nothing could be mixed.
const ahead = 3

// Standing is how a trainee stands with one call.
type Standing struct {
	Rung
	Card
	State  State
	Best   float64 // best score of the plays that were not helped, 0..100
	Helped int     // plays that were
	Passed bool    // recalled at least once
	Locked bool    // Next does not offer it yet; it can be opened by hand all the same
}

// Standings tells how the trainee stands with each call of the ladder, in its order.
func Standings(p *Progress, l Ladder, nowS int64) []Standing {
	all := make([]Standing, len(l))
	open := 0 // calls so far that are not passed
	for i, r := range l {
		s := Standing{Rung: r, Card: p.Card(r.Call)}
		s.State = s.Card.State(nowS)
		for _, x := range p.Of(r.Call) {
			s.Passed = s.Passed || x.Grade() > Again
			if x.helped() {
				s.Helped++
			} else {
				s.Best = max(s.Best, x.Score)
			}
		}
		s.Locked = s.State == New && open >= ahead
		if !s.Passed {
			open++
		}
		all[i] = s
	}
	return all
}

// Why says why a call is the next one.
type Why string

// The reasons for a call.
const (
	Refresher Why = "refresher" // it is due
	NewRung   Why = "new"       // it is the next that has not been met
	Early     Why = "early"     // nothing is due and nothing new is open: the one that is due soonest
)

// Choice is what to play next.
type Choice struct {
	Call string
	Why  Why
	Seed uint64 // of the call's random streams: another one each time it is played
}

// Next chooses the call to play: a refresher that is due, longest due first, else
// the lowest rung that is new and open, else the call that will be due soonest.
// Look-alikes are mixed: a due or new call of another family than the last one
// goes before one of the same. ok is false for a ladder without calls.
func Next(p *Progress, l Ladder, nowS int64) (c Choice, ok bool) {
	var due, fresh, rest []Standing
	for _, s := range Standings(p, l, nowS) {
		switch {
		case s.State == Due:
			due = append(due, s)
		case s.State == Learned:
			rest = append(rest, s)
		case !s.Locked:
			fresh = append(fresh, s)
		}
	}
	byDue := func(a, b Standing) int { return cmp.Compare(a.DueS, b.DueS) }
	slices.SortStableFunc(due, byDue)
	slices.SortStableFunc(rest, byDue)

	other := func(Standing) bool { return true }
	if n := len(p.Plays); n > 0 {
		last := l.Find(p.Plays[n-1].Call)
		other = func(s Standing) bool { return s.family() != last.family() }
	}
	every := func(Standing) bool { return true }
	for _, pick := range []struct {
		from []Standing
		fits func(Standing) bool
		why  Why
	}{
		{due, other, Refresher},
		{fresh, other, NewRung},
		{due, every, Refresher},
		{fresh, every, NewRung},
		{rest, other, Early},
		{rest, every, Early},
	} {
		if i := slices.IndexFunc(pick.from, pick.fits); i >= 0 {
			s := pick.from[i]
			return Choice{Call: s.Call, Why: pick.why, Seed: uint64(s.Reps) + 1}, true
		}
	}
	return Choice{}, false
}
