package game

import "brinebench/sim"

// LiveOn lives on along a log that somebody else holds, or another device, for about
// budgetS seconds and tells how far the call has come along it, 0..1. The log may have
// grown since the last time. The error tells that an act could not be begun: the log is
// not of this call. Prepare comes first.
func (g *Game) LiveOn(log *sim.Log, budgetS float64) (done float64, err error) {
	for end := g.clock() + budgetS; g.clock() < end; {
		for range reliveSteps {
			switch {
			case g.lived < len(log.Acts) && log.Acts[g.lived].Tick <= g.cur.Tick:
				if err := g.liveAct(log.Acts[g.lived].Action); err != nil {
					return 0, err
				}
			case g.cur.Tick >= log.Ticks:
				g.refresh()
				return 1, nil
			default:
				g.tick()
			}
		}
	}
	return min(float64(g.cur.Tick)/float64(log.Ticks), 0.999), nil
}

func (g *Game) liveAct(a sim.Action) error {
	if err := g.session.Do(a); err != nil {
		return err
	}
	g.lived++
	g.charts.mark(g.cur.TimeS, a)
	g.session.View(&g.cur)
	g.noticeChanges()
	return nil
}

// Settle ends the living on: the call is the person's own from here.
func (g *Game) Settle() { g.broughtBack() }
