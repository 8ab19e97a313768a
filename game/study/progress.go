// Package study keeps what a trainee has played and says what to play next: a
// record of plays, the memory of each call that follows from it, the next rung of
// the ladder, and how much support the page gives. It knows no clock: the time
// comes with every question, in seconds since 1970 UTC.
package study

import (
	"cmp"
	"slices"

	"brinebench/sim"
)

// MaxPlays is how many plays a record holds. More than that the oldest are
// dropped: at half an hour a call that is after 750 hours.
const MaxPlays = 1500

// Play is one call played to its debrief.
type Play struct {
	Call     string   // id of the call
	Seed     uint64   // of its random streams
	Hash     uint64   // of the unit's state at the end
	StartedS int64    // when the call was opened, s since 1970 UTC
	EndedS   int64    // when the debrief was ready, not before StartedS
	Score    float64  // 0..100
	Economy  float64  // share of the score's points for economy, 0..1
	Minutes  float64  // of call time
	Hints    int      // that gave a part of the answer away
	Shown    bool     // the call was demonstrated, not played
	Named    string   // the fault named, "" none
	True     []string // what was wrong; empty for a healthy unit
}

// NewPlay takes from a debrief what is kept of it.
func NewPlay(call string, seed uint64, startedS, endedS int64, r *sim.Report) Play {
	p := Play{
		Call: call, Seed: seed, Hash: r.Hash, StartedS: startedS, EndedS: max(startedS, endedS),
		Score: r.Score, Minutes: r.Minutes, Named: r.Named.ID,
	}
	for _, f := range r.True {
		p.True = append(p.True, f.ID)
	}
	for _, i := range r.Items {
		if i.Name == "Economy" && i.Max > 0 {
			p.Economy = i.Got / i.Max
		}
	}
	return p
}

// identity tells one play from another.
type identity struct {
	call       string
	seed, hash uint64
	startedS   int64
}

func (p *Play) identity() identity { return identity{p.Call, p.Seed, p.Hash, p.StartedS} }

// Progress is all that is kept of a trainee. Its zero value is a new one.
type Progress struct {
	Plays []Play // in the order of their ends, none twice
}

// Add enters plays that the record does not hold yet, and tells how many they were.
func (p *Progress) Add(plays ...Play) int {
	held := map[identity]bool{}
	for i := range p.Plays {
		held[p.Plays[i].identity()] = true
	}
	added := 0
	for _, x := range plays {
		if one := x.identity(); !held[one] {
			held[one] = true
			p.Plays = append(p.Plays, x)
			added++
		}
	}
	slices.SortStableFunc(p.Plays, func(a, b Play) int {
		return cmp.Or(cmp.Compare(a.EndedS, b.EndedS), cmp.Compare(a.StartedS, b.StartedS),
			cmp.Compare(a.Call, b.Call), cmp.Compare(a.Seed, b.Seed), cmp.Compare(a.Hash, b.Hash))
	})
	if over := len(p.Plays) - MaxPlays; over > 0 {
		p.Plays = slices.Delete(p.Plays, 0, over)
	}
	return added
}

// Of returns the plays of a call, oldest first.
func (p *Progress) Of(call string) []Play {
	var of []Play
	for _, x := range p.Plays {
		if x.Call == call {
			of = append(of, x)
		}
	}
	return of
}
