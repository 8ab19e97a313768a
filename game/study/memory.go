package study

import (
	"time"

	fsrs "github.com/open-spaced-repetition/go-fsrs/v4"
)

// Refreshers are spaced by the Free Spaced Repetition Scheduler, version 6, with
// its 21 published default parameters and a wanted recall of 90 % (Ye, Su & Cao,
// "A Stochastic Shortest Path Algorithm for Optimizing Spaced Repetition
// Scheduling", KDD 2022, doi:10.1145/3534678.3539081, from memory, and the
// formulae that the Open Spaced Repetition project publishes). Intervals are not scattered, so that
// a record gives the same days everywhere. There are no steps of minutes, since a
// call takes half an hour: every play puts the next one off by whole days. The
// formula for a second play on the same day is used.
var scheduler = newScheduler()

func newScheduler() *fsrs.FSRS {
	p := fsrs.DefaultParam()
	p.EnableFuzz = false
	p.LearningSteps, p.RelearningSteps = nil, nil
	return fsrs.NewFSRS(p)
}

// Grade is how well a call was recalled, as the scheduler counts it.
type Grade int

// The grades, in the scheduler's order from 1.
const (
	Again Grade = iota + 1
	Hard
	Good
	Easy
)

// Scores from which a play counts as hard, good and easy. Our choice: below 60 of
// 100 cause, evidence and repair cannot all be right; from 90 nothing of weight
// was missed.
const (
	hardFrom = 60
	goodFrom = 75
	easyFrom = 90
)

// Grade grades a play by its score. One that was helped by an answer counts as
// not recalled, whatever its score.
func (p *Play) Grade() Grade {
	switch {
	case p.helped() || p.Score < hardFrom:
		return Again
	case p.Score < goodFrom:
		return Hard
	case p.Score < easyFrom:
		return Good
	}
	return Easy
}

func (p *Play) helped() bool { return p.Hints > 0 || p.Shown }

// State is what a call is to the trainee.
type State string

// The states of a call.
const (
	New     State = "new"     // never played
	Due     State = "due"     // a refresher is due
	Learned State = "learned" // played, and not due yet
)

// Card is what the scheduler believes of the memory of one call. It follows from
// the plays alone.
type Card struct {
	Stability  float64 // days until the chance of recall has fallen to 90 %
	Difficulty float64 // 1 easy .. 10 hard
	DueS       int64   // when a refresher is due, s since 1970 UTC
	Reps       int     // plays
	Lapses     int     // plays after the first that were not recalled
}

// State tells what the card is now.
func (c *Card) State(nowS int64) State {
	switch {
	case c.Reps == 0:
		return New
	case c.DueS <= nowS:
		return Due
	}
	return Learned
}

// Card works out the memory of a call from its plays.
func (p *Progress) Card(call string) Card {
	plays := p.Of(call)
	if len(plays) == 0 {
		return Card{}
	}
	card := fsrs.NewCard(moment(plays[0].EndedS))
	for i := range plays {
		next, err := scheduler.Next(card, moment(plays[i].EndedS), fsrs.Rating(plays[i].Grade()))
		if err != nil { // a card of its own making, and plays in order of time
			panic("study: " + err.Error())
		}
		card = next.Card
	}
	return Card{
		Stability: card.Stability, Difficulty: card.Difficulty, DueS: card.Due.Unix(),
		Reps: int(card.Reps), Lapses: int(card.Lapses),
	}
}

func moment(s int64) time.Time { return time.Unix(s, 0).UTC() }
