// Package game runs one service call at the pace a person chose and turns what
// the person wants into actions of the session. It knows neither the canvas nor
// the page, so that all of it is tested natively.
package game

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// Session is what the game needs of a service call; *sim.Session is one.
type Session interface {
	Setup() *sim.Setup
	Call() *sim.Call
	View(v *sim.View)
	Prepare(steps int) float64
	Do(a sim.Action) error
	Tick()
	Events() int
	Recording() ([]byte, error)
	Relive() (more bool, err error)
	Relived() float64
	Clone() *sim.Session
}

// Look is how the person wants things shown; the canvas and the page share it.
type Look struct {
	Dark          bool
	ReducedMotion bool
	Strong        bool // the system asks for more contrast
	SI            bool // false shows US customary units
	Lang          say.Lang
	Veiled        bool // hardness is not shown where only a test can tell it
	Layers        Layers
}

// Game is one service call being played.
type Game struct {
	session Session
	clock   func() float64 // monotonic, s; injected so that tests own the time

	pacer
	prev, cur sim.View // the last two ticks
	shown     sim.View // what is drawn: between the two
	charts    Charts
	watch     watch
	notices   []Notice

	next     sim.Action // a test that waits for its turn; zero for none
	selected sim.Part
	picks    int // times that a part was asked for
	look     Look
	prepared bool
	changes  int

	lived int          // acts of a log that were done by LiveOn
	start *sim.Session // a copy of the call as it was opened
	demo  *demo        // nil unless an expert's call was asked for
	scrub *Scrub       // nil unless the person looks at an earlier moment
}

// New makes a game of a session. The clock returns monotonic seconds.
func New(s Session, clock func() float64) *Game {
	g := &Game{session: s, clock: clock, pacer: pacer{chosen: 1}}
	s.View(&g.shown) // before its history
	return g
}

// prepareSteps is how many engine steps of history are run between two looks at the clock.
const prepareSteps = 20

// Prepare runs the unit's history before the call for about budgetS seconds and
// tells how far it has come, 0..1. The game can be played when it returns 1.
func (g *Game) Prepare(budgetS float64) float64 {
	end := g.clock() + budgetS
	for {
		done := g.session.Prepare(prepareSteps)
		if done >= 1 {
			g.prepared = true
			g.start = g.session.Clone()
			g.refresh()
			g.watch.start(&g.cur, g.Setup())
			g.charts.add(&g.cur)
			return 1
		}
		if g.clock() >= end {
			return done
		}
	}
}

// refresh takes the session's state over at once, without motion in between.
func (g *Game) refresh() {
	g.session.View(&g.cur)
	g.session.View(&g.prev)
	g.session.View(&g.shown)
	g.owedS = 0
	g.changes++
}

// Tick returns how many ticks the call has lasted.
func (g *Game) Tick() int64 { return g.cur.Tick }

// Setup returns what does not change during the call. Read only.
func (g *Game) Setup() *sim.Setup { return g.session.Setup() }

// Call returns the state of the call. Read only; valid until the next Do or Frame.
func (g *Game) Call() *sim.Call { return g.session.Call() }

// View returns the state to show now: the present one, smoothed between ticks,
// or that of the earlier moment the person looks at. Read only.
func (g *Game) View() *sim.View {
	if g.scrub != nil {
		return &g.scrub.view
	}
	return &g.shown
}

// Recording returns the call so far for the debrief.
func (g *Game) Recording() ([]byte, error) { return g.session.Recording() }

// Charts returns the traces of the call so far.
func (g *Game) Charts() *Charts { return &g.charts }

// Selected returns the part the person looks at, "" when none.
func (g *Game) Selected() sim.Part { return g.selected }

// Select makes p the part the person looks at; "" lets go.
func (g *Game) Select(p sim.Part) {
	if p == "" && g.selected == "" {
		return
	}
	if p != "" {
		g.picks++
	}
	g.selected = p
	g.changes++
}

// Picks counts how often a part was asked for, be it the same one again.
func (g *Game) Picks() int { return g.picks }

// Look returns how things are to be shown.
func (g *Game) Look() Look { return g.look }

// SetLook changes how things are to be shown.
func (g *Game) SetLook(l Look) {
	if l != g.look {
		g.look = l
		g.changes++
	}
}

// Changes counts what a panel must be made anew for: an act, an event, another
// part or look. It stays the same while only time passes.
func (g *Game) Changes() int { return g.changes }

// Busy tells whether an act of the person is still under way.
func (g *Game) Busy() bool { return g.session.Call().BusyUntilTick > g.cur.Tick }
