package game

import (
	"brinebench/game/say"
	"brinebench/sim"
)

// NoticeKind tells how a notice is to be said.
type NoticeKind string

// The kinds of notice.
const (
	NoticeEvent  NoticeKind = "event"  // the unit did something
	NoticeResult NoticeKind = "result" // the person's act came to an end
	NoticeUnsafe NoticeKind = "unsafe" // the person's act was stopped as unsafe
)

// Notice is one thing to tell the person, once.
type Notice struct {
	Kind    NoticeKind
	Text    string
	Reading *sim.Reading // nil when there is none
}

// softMolM3 is the hardness below which water counts as soft: 1 grain per gallon.
const softMolM3 = 17.118061 / 100.0869

// watch remembers what was last told, so that each change is told once.
type watch struct {
	station  int
	moving   bool
	seated   bool
	floatOff bool
	dark     bool
	lost     bool
	alarm    bool
	hard     bool
	draws    bool
	journal  int
	during   []circumstances // in which each line of the journal was completed
	finished bool
}

func (w *watch) start(v *sim.View, s *sim.Setup) {
	*w = watch{
		station: v.Controller.Station, moving: v.Controller.Moving,
		dark: !v.Face.Powered, lost: v.Face.ClockLost, alarm: v.Controller.Alarm, draws: v.Controller.DrawUnderWay, seated: v.Tank.AirCheckSeated, floatOff: v.Tank.FloatShut, hard: outletHardness(v) > softMolM3,
	}
}

// TakeNotices returns what has to be told since the last call.
func (g *Game) TakeNotices() []Notice {
	n := g.notices
	g.notices = nil
	return n
}

func (g *Game) notify(kind NoticeKind, text string) {
	g.notices = append(g.notices, Notice{Kind: kind, Text: text})
	g.changes++
}

// noticeChanges compares the present state with what was told last.
func (g *Game) noticeChanges() {
	v, w := &g.cur, &g.watch
	c := v.Controller
	if stations := g.Setup().Stations; c.Moving != w.moving || c.Station != w.station {
		switch known := c.Station >= 0 && c.Station < len(stations); {
		case known && !c.Moving:
			g.arrived(&stations[c.Station])
		case known && g.seeking: // here it stops
			g.notify(NoticeEvent, say.Text("notice.leaves", InSentence(say.Sim(stations[c.Station].Name))))
		}
		w.moving, w.station = c.Moving, c.Station
		g.changes++
	}
	if c.DrawUnderWay && !w.draws {
		g.notify(NoticeEvent, say.Text("notice.draw"))
	}
	w.draws = c.DrawUnderWay
	g.flip(&w.alarm, c.Alarm, "notice.alarm", "notice.alarm-over")
	g.flip(&w.dark, !v.Face.Powered, "notice.dark", "notice.lit")
	g.flip(&w.lost, v.Face.ClockLost, "notice.clock-lost", "notice.clock-set")
	g.flip(&w.seated, v.Tank.AirCheckSeated, "notice.seated", "notice.free")
	g.flip(&w.floatOff, v.Tank.FloatShut, "notice.float-shut", "notice.float-open")
	g.noticeHardness()
	g.noticeJournal()
}

// arrived tells that the drum has stopped. Back in service the time of the call
// is no longer let fly: every minute of it counts.
func (g *Game) arrived(at *sim.Station) {
	text := say.Text("notice.reached", InSentence(say.Sim(at.Name)))
	if at.ID == "service" && g.chosen > 1 {
		g.SetPace(1)
		text += " " + say.Text("notice.pace")
	}
	g.notify(NoticeEvent, text)
}

// flip tells of a change by the ids of its two texts.
func (g *Game) flip(was *bool, is bool, on, off string) {
	if *was == is {
		return
	}
	*was = is
	if is {
		g.notify(NoticeEvent, say.Text(on))
	} else {
		g.notify(NoticeEvent, say.Text(off))
	}
}

// noticeHardness tells when the water at the valve outlet turns soft or hard;
// the two thresholds lie apart so that it does not chatter.
func (g *Game) noticeHardness() {
	if g.look.Veiled || g.OutletStands() {
		return
	}
	h := outletHardness(&g.cur)
	hard := g.watch.hard
	if hard && h < softMolM3 || !hard && h > 2*softMolM3 {
		hard = !hard
	}
	g.flip(&g.watch.hard, hard, "notice.hard", "notice.soft")
}

// OutletStands reports whether nobody draws from the unit: what is at its outlet came there
// at another time, be it through a valve that was turning, and is nobody's water.
func (g *Game) OutletStands() bool {
	const runsM3S = 0.05 * m3sPerGPM
	return g.cur.Paths[sim.PathBypassOut].FlowM3S < runsM3S
}

// noticeJournal tells every new line of the journal: an unsafe act at once,
// anything else when it is done.
func (g *Game) noticeJournal() {
	call := g.session.Call()
	for ; g.watch.journal < len(call.Journal); g.watch.journal++ {
		e := &call.Journal[g.watch.journal]
		underWay := g.watch.journal == len(call.Journal)-1 && g.Busy()
		if underWay && !e.Unsafe {
			break
		}
		g.watch.during = append(g.watch.during, circumstances{g.cur.Controller, g.cur.Face, g.cur.Bypass, g.cur.ShutOff, e.Station})
		n := Notice{Kind: NoticeResult, Text: e.Text, Reading: e.Reading}
		if e.Unsafe {
			n.Kind = NoticeUnsafe
		}
		g.notices = append(g.notices, n)
		g.changes++
	}
	if call.Finished != g.watch.finished {
		g.watch.finished = call.Finished
		g.changes++
	}
}

// Told counts the lines of the journal that are complete.
func (g *Game) Told() int { return g.watch.journal }

// During returns the circumstances in which a line of the journal was
// completed, "in backwash, bypassed"; "" for a line that is not.
func (g *Game) During(line int) string {
	if line >= len(g.watch.during) {
		return ""
	}
	return g.watch.during[line].words(g.Setup())
}

// outletHardness is the hardness of the water at the valve outlet, mol/m³.
func outletHardness(v *sim.View) float64 { return v.Paths[sim.PathBypassOut].Water.HardnessMolM3 }
