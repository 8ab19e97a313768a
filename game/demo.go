package game

import "brinebench/sim"

// demo is a call that an expert has played at the same unit, to be looked at as
// one's own call can be.
type demo struct {
	session *sim.Session // lived again to its end
	start   *sim.Session // a copy of its start; nil until the history has been run
	reasons []string     // by act
	would   [][]sim.Would
	ready   bool
}

// TakeDemo takes over what an expert has played. Errors are those of sim.Resume.
func (g *Game) TakeDemo(d sim.Demo) error {
	s, err := sim.Resume(d.Recording)
	if err != nil {
		return err
	}
	g.demo = &demo{session: s, reasons: d.Reasons, would: d.Would}
	return nil
}

// PrepareDemo lives the expert's call for about budgetS seconds and tells how far
// it has come, 0..1; at 1 it can be looked at. TakeDemo comes first.
func (g *Game) PrepareDemo(budgetS float64) (done float64, err error) {
	d := g.demo
	const history = 0.3 // of the work
	for end := g.clock() + budgetS; g.clock() < end; {
		if d.start == nil {
			if done = d.session.Prepare(prepareSteps); done >= 1 {
				d.start = d.session.Clone()
			}
			done *= history
			continue
		}
		for range reliveSteps {
			more, err := d.session.Relive()
			if err != nil {
				return 0, err
			}
			if !more {
				d.ready = true
				return 1, nil
			}
		}
		done = history + (1-history)*d.session.Relived()
	}
	return min(done, 0.999), nil
}

// DemoReady tells whether an expert's call can be looked at.
func (g *Game) DemoReady() bool { return g.demo != nil && g.demo.ready }

// BeginDemo shows the expert's call, from its start. The person's own call stands
// meanwhile and is not touched. PrepareDemo has to have come to 1.
func (g *Game) BeginDemo() *Scrub {
	if g.scrub == nil || !g.scrub.demo {
		d := g.demo
		g.scrub = newScrub(d.start, d.session.Clone())
		g.scrub.demo = true
		g.scrub.GoTo(0)
		g.changes++
	}
	return g.scrub
}

// DemoCall returns the expert's call at its end. Read only.
func (g *Game) DemoCall() *sim.Call { return g.demo.session.Call() }

// DemoTicks is how long the expert's call took, in ticks.
func (g *Game) DemoTicks() int64 { return g.demo.session.Ticks() }

// Reason says why the expert did what a line of the journal tells, and what the test
// was to show by what it was to tell apart; "" and nil where it is no act.
func (g *Game) Reason(line int) (why string, would []sim.Would) {
	act := 0
	journal := g.DemoCall().Journal
	for i := range journal[:line] {
		if journal[i].Action.Kind != sim.ActMishap {
			act++
		}
	}
	if journal[line].Action.Kind == sim.ActMishap || act >= len(g.demo.reasons) {
		return "", nil
	}
	if act < len(g.demo.would) {
		would = g.demo.would[act]
	}
	return g.demo.reasons[act], would
}
