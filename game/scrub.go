package game

import (
	"slices"

	"brinebench/sim"
)

// Scrub shows earlier moments of a call by living it again in copies; the call
// itself is not touched.
type Scrub struct {
	end     *sim.Session   // a copy of the call as it is
	kept    []*sim.Session // copies of moments passed, oldest first; the first is the start
	everyS  float64        // time of the call between two of them
	now     *sim.Session   // the moment shown, or on its way to the one wanted
	want    int64          // tick
	there   bool           // now is at want, and view shows it
	pace    float64        // seconds of the call per second; 0 stands
	owedS   float64        // time of the call not yet run, less than a tick
	moments []Moment
	demo    bool // it is an expert's call
	view    sim.View
}

// Moment is when an act of the call was done.
type Moment struct {
	Tick  int64 // first tick that shows what came of it
	Entry *sim.Entry
}

const (
	keepEveryS = 240  // a jump lives again no more than this …
	mostKept   = 128  // … in a call of eight hours, twice as much in sixteen
	jumpS      = 0.05 // of a frame goes to a jump
)

// ScrubPaces are the paces at which a call can be looked at again.
var ScrubPaces = []float64{10, 60, 600}

// BeginScrub lets the person look at earlier moments, beginning with this one; an
// expert's call makes room for the person's own.
func (g *Game) BeginScrub() *Scrub {
	if g.scrub == nil || g.scrub.demo {
		g.scrub = newScrub(g.start, g.session.Clone())
		g.changes++
	}
	return g.scrub
}

// Scrub returns what BeginScrub began, nil when the present is shown.
func (g *Game) Scrub() *Scrub { return g.scrub }

// EndScrub goes back to the call as it is.
func (g *Game) EndScrub() {
	if g.scrub != nil {
		g.scrub = nil
		g.changes++
	}
}

func newScrub(start, end *sim.Session) *Scrub {
	s := &Scrub{end: end, kept: []*sim.Session{start}, everyS: keepEveryS, now: end.Clone(), want: end.Ticks(), there: true}
	s.now.View(&s.view)
	journal := end.Call().Journal
	for i := range journal {
		e := &journal[i]
		s.moments = append(s.moments, Moment{min(max(e.EndTick, e.Tick+1), s.want), e})
	}
	return s
}

// Demo tells whether it is an expert's call that is shown, not the person's own.
func (s *Scrub) Demo() bool { return s.demo }

// EndTick returns the last tick of the call.
func (s *Scrub) EndTick() int64 { return s.end.Ticks() }

// Tick returns the tick that is shown, or will be as soon as it is reached.
func (s *Scrub) Tick() int64 { return s.want }

// There tells whether the moment wanted is shown.
func (s *Scrub) There() bool { return s.there }

// Moments returns when each line of the journal was written, in its order. Read only.
func (s *Scrub) Moments() []Moment { return s.moments }

// Last returns the last thing done by the tick shown, nil before the first.
func (s *Scrub) Last() *sim.Entry {
	if i := s.Line(); i >= 0 {
		return s.moments[i].Entry
	}
	return nil
}

// Doing returns the place in the journal of the act that is under way at the tick shown, and
// what it is; -1 for none, or while that moment is still being lived again.
func (s *Scrub) Doing() (line int, what string) {
	for i, m := range s.moments {
		if s.there && m.Entry.Tick < s.want && s.want < m.Tick {
			return i, s.now.Call().BusyText
		}
	}
	return -1, ""
}

// Line returns the place of Last in the journal, -1 before the first.
func (s *Scrub) Line() int {
	last := -1
	for i, m := range s.moments {
		if m.Tick <= s.want {
			last = i
		}
	}
	return last
}

// Neighbour returns the tick of the nearest act after the tick shown, or before
// it; without one, the end or the start of the call.
func (s *Scrub) Neighbour(after bool) int64 {
	to := int64(0)
	if after {
		to = s.EndTick()
	}
	for _, m := range s.moments {
		if after && m.Tick > s.want {
			to = min(to, m.Tick)
		}
		if !after && m.Tick < s.want {
			to = max(to, m.Tick)
		}
	}
	return to
}

// GoTo asks for a tick; it is shown within the next frames.
func (s *Scrub) GoTo(tick int64) {
	s.want = min(max(tick, 0), s.EndTick())
	nearest := s.kept[0]
	for _, k := range s.kept {
		if k.Ticks() <= s.want {
			nearest = k
		}
	}
	if now := s.now.Ticks(); s.want <= now || nearest.Ticks() > now {
		s.now = nearest.Clone()
		s.now.Follow(s.end)
	}
	s.owedS, s.there = 0, false
}

// Play lets the call go by at a pace, from its start when it is at its end; 0 stops it.
func (s *Scrub) Play(pace float64) {
	if pace > 0 && s.want >= s.EndTick() {
		s.GoTo(0)
	}
	s.pace = pace
}

// Pace returns the pace at which the call goes by, 0 when it stands.
func (s *Scrub) Pace() float64 { return s.pace }

// scrubFrame lets dtS seconds of real time pass while an earlier moment is shown.
func (g *Game) scrubFrame(dtS float64) {
	s := g.scrub
	if s.there && s.pace > 0 {
		s.owedS += dtS * s.pace
		ticks := int64(s.owedS / sim.TickS)
		s.owedS -= float64(ticks) * sim.TickS
		s.want = min(s.want+ticks, s.EndTick())
		s.there = ticks == 0
	}
	if s.there {
		return
	}
	budget := max(budgetS, budgetShare*dtS)
	if s.pace == 0 { // a jump: nothing moves that could stutter
		budget = max(budget, jumpS)
	}
	for end := g.clock() + budget; !s.there && g.clock() < end; {
		for n := 0; n < reliveSteps && !s.there; n++ {
			s.step()
		}
	}
	s.now.View(&s.view)
	if s.there && s.want == s.EndTick() {
		s.pace = 0
	}
	if s.there && s.pace == 0 {
		g.changes++ // the handles of the unit stand otherwise
	}
}

// step lives one recorded thing more on the way to the moment wanted, and keeps
// a copy where the last one is too far back.
func (s *Scrub) step() {
	if s.now.Ticks() >= s.want && s.want < s.EndTick() {
		s.there = true
		return
	}
	more, _ := s.now.Relive() // the copy can do what the call itself has done
	s.there = !more
	if last := s.kept[len(s.kept)-1]; float64(s.now.Ticks()-last.Ticks())*sim.TickS >= s.everyS {
		s.keep()
	}
}

func (s *Scrub) keep() {
	s.kept = append(s.kept, s.now.Clone())
	if len(s.kept) < mostKept {
		return
	}
	s.everyS *= 2
	even := s.kept[:0]
	for i, k := range s.kept {
		if i%2 == 0 {
			even = append(even, k)
		}
	}
	clear(s.kept[len(even):])
	s.kept = slices.Clip(even)
}
