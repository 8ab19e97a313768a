package game

import (
	"math"

	"brinebench/game/say"
	"brinebench/sim"
)

// Paces are the paces a person can choose, in seconds of the unit per second of the person; 0 is a pause.
var Paces = []float64{0, 1, 10, 60, 600}

const (
	maxFrameS    = 0.25     // a longer frame (a hidden tab) does not make the unit leap
	budgetS      = 0.008    // of each frame goes to the unit …
	budgetShare  = 0.5      // … or this share of a slow frame, whichever is more
	seekPace     = 7200     // "to the next event": as fast as the budget lets it
	seekLimitS   = 2 * 3600 // longer than any step of a regeneration
	seekIdleS    = 600      // in service, with no regeneration due today
	seekUnlitS   = 300      // without current: nothing comes of itself but what runs off
	busyShare    = 0.3 / 60 // real time per time an act takes: 5 minutes in 1.5 s
	busyMinS     = 0.4
	busyMaxS     = 4
	measureOverS = 0.5 // the pace reached is averaged over this
	behindShare  = 0.85
)

// pacer decides how much time of the unit passes in a frame.
type pacer struct {
	chosen    float64 // of Paces
	busyPace  float64 // while an act is under way; 0 otherwise
	busyFrom  int64   // tick at which that act began
	seeking   bool    // running to the next event
	seekFrom  int     // Events when the run began
	seekForS  float64 // give up after that much time of the unit …
	seekEndS  float64 // … at this
	owedS     float64 // time of the unit not yet run, < a tick after each frame
	ranS      float64 // time of the unit run in this measuring stretch
	realS     float64 // real time of this measuring stretch
	measured  float64 // pace wanted in this stretch
	reached   float64 // pace of the last whole stretch
	wasWanted float64 // pace wanted in the last whole stretch
}

// Pace returns the pace the person chose.
func (g *Game) Pace() float64 { return g.chosen }

// SetPace chooses a pace, one of Paces, and ends a run to the next event. Where time is to
// stand, the present stands, and no moment between two ticks.
func (g *Game) SetPace(pace float64) {
	g.chosen = pace
	g.stopSeek()
	if pace == 0 && g.prepared {
		g.session.View(&g.prev)
		g.owedS = 0
	}
	g.changes++
}

// Seek runs to the next event: until Events changes or nothing has happened for
// long. From there time runs at 1× or stands: a faster pace would leave the event behind.
func (g *Game) Seek() {
	g.seeking = true
	g.chosen = min(g.chosen, 1)
	g.seekFrom = g.session.Events()
	g.seekForS = seekLimitS
	switch c := g.cur.Controller; {
	case !g.cur.Face.Powered:
		g.seekForS = seekUnlitS
	case !c.Regenerating && c.DaysToRegen != 0:
		g.seekForS = seekIdleS
	}
	g.seekEndS = g.cur.TimeS + g.seekForS
	g.changes++
}

// Seeking tells whether a run to the next event is under way.
func (g *Game) Seeking() bool { return g.seeking }

// Behind returns the pace reached, and whether it is short of the one that was chosen.
func (g *Game) Behind() (reached float64, behind bool) {
	return g.reached, g.wasWanted == g.chosen && g.busyPace == 0 && !g.seeking && g.reached < behindShare*g.wasWanted
}

// Speed returns how fast the unit runs now, in its seconds per second.
func (g *Game) Speed() float64 {
	if g.scrub != nil {
		return g.scrub.pace
	}
	if _, behind := g.Behind(); behind || g.seeking {
		return min(g.reached, g.pace())
	}
	return g.pace()
}

func (g *Game) stopSeek() {
	if g.seeking {
		g.seeking = false
		g.owedS = 0
		g.changes++
	}
}

// pace is the pace of this moment.
func (g *Game) pace() float64 {
	p := max(g.chosen, g.busyPace)
	if g.seeking {
		p = max(p, seekPace)
	}
	return p
}

// Frame lets dtS seconds of real time pass: as many ticks as the pace asks for
// and the frame's budget allows. What does not fit is let go, never owed.
func (g *Game) Frame(dtS float64) {
	if !g.prepared || dtS <= 0 {
		return
	}
	if g.scrub != nil { // the call itself stands meanwhile
		g.scrubFrame(min(dtS, maxFrameS))
		return
	}
	g.realS += min(dtS, 1)
	dtS = min(dtS, maxFrameS)
	pace := g.pace()
	before := g.owedS
	g.owedS += dtS * pace
	ran := g.runTicks(g.clock() + max(budgetS, budgetShare*dtS))
	g.measure(pace, ran+g.owedS-before) // parts of a tick count, or 1× would seem uneven
	blend(&g.shown, &g.prev, &g.cur, g.owedS/sim.TickS)
}

// runTicks runs what is owed until the deadline or until the pace changes, and
// returns the seconds run.
func (g *Game) runTicks(deadline float64) (ran float64) {
	pace := g.pace()
	for g.owedS >= sim.TickS {
		g.owedS -= sim.TickS
		g.tick()
		ran += sim.TickS
		if g.pace() != pace || g.clock() >= deadline {
			g.owedS = math.Mod(g.owedS, sim.TickS)
			break
		}
	}
	return ran
}

// tick advances the unit once and notices what it brought.
func (g *Game) tick() {
	before := g.session.Events()
	g.prev, g.cur = g.cur, g.prev
	g.session.Tick()
	g.session.View(&g.cur)
	g.charts.add(&g.cur)
	g.noticeChanges()
	if g.busyPace > 0 && !g.Busy() {
		g.busyPace = 0
		g.changes++
		g.goOn()
	}
	after := g.session.Events()
	if after != before {
		g.changes++
	}
	g.checkSeek(after)
}

func (g *Game) checkSeek(events int) {
	switch {
	case !g.seeking:
	case events != g.seekFrom:
		g.stopSeek()
	case g.cur.TimeS >= g.seekEndS:
		g.stopSeek()
		text := say.Text("notice.nothing", TimeSpan(g.seekForS))
		if !g.cur.Face.Powered {
			text += " " + say.Text("notice.no-current")
		}
		g.notify(NoticeEvent, text)
	}
}

// measure keeps the pace reached, over stretches long enough to read.
func (g *Game) measure(pace, ran float64) {
	if pace != g.measured {
		g.measured, g.realS, g.ranS = pace, 0, 0
		return
	}
	g.ranS += ran
	if g.realS >= measureOverS {
		g.reached, g.wasWanted = g.ranS/g.realS, pace
		g.realS, g.ranS = 0, 0
	}
}

// beginBusy sets the pace at which an act of that length is watched.
func (g *Game) beginBusy() {
	lasts := float64(g.session.Call().BusyUntilTick-g.cur.Tick) * sim.TickS
	if lasts <= 0 {
		return
	}
	g.busyFrom = g.cur.Tick
	g.busyPace = lasts / min(max(lasts*busyShare, busyMinS), busyMaxS)
}

// BusyDone tells how far the act under way has come, 0..1.
func (g *Game) BusyDone() float64 {
	until := g.session.Call().BusyUntilTick
	if until <= g.busyFrom {
		return 1
	}
	return min(float64(g.cur.Tick-g.busyFrom)/float64(until-g.busyFrom), 1)
}
