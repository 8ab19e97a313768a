package game

// reliveSteps is how many recorded steps are lived between two looks at the clock.
const reliveSteps = 20

// BringBack lives a recorded call again for about budgetS seconds, with its
// charts and the circumstances of its readings, and tells how far it has come,
// 0..1. At 1 the call is where it was recorded; time stands, but an act that was
// under way goes on. Errors are those of sim's Relive. Prepare comes first.
func (g *Game) BringBack(budgetS float64) (done float64, err error) {
	for end := g.clock() + budgetS; g.clock() < end; {
		for range reliveSteps {
			more, err := g.relive()
			if err != nil {
				return 0, err
			}
			if !more {
				g.broughtBack()
				return 1, nil
			}
		}
	}
	return min(g.session.Relived(), 0.999), nil
}

// relive takes one recorded step as Do or tick would have.
func (g *Game) relive() (more bool, err error) {
	lines := len(g.session.Call().Journal)
	if more, err = g.session.Relive(); !more {
		return false, err
	}
	tick := g.cur.Tick
	g.session.View(&g.cur)
	if journal := g.session.Call().Journal; g.cur.Tick == tick && len(journal) > lines {
		g.charts.mark(g.cur.TimeS, journal[lines].Action)
	}
	g.charts.add(&g.cur)
	g.noticeChanges()
	return true, nil
}

func (g *Game) broughtBack() {
	g.notices = nil // told long ago
	g.refresh()
	g.SetPace(0)
	g.beginBusy()
}

// Hash returns the hash of the call's whole state, however it is looked at.
func (g *Game) Hash() uint64 { return g.session.Clone().Hash() }

// Seed returns the seed of the call.
func (g *Game) Seed() uint64 { return g.start.Seed() }
