//go:build js

package main

import (
	"fmt"
	"strconv"
	"syscall/js"
	"time"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/panel"
	"brinebench/game/say"
	"brinebench/sim"
)

// start is what is known of the call that the page opens.
type start struct {
	file string
	data []byte // of the scenario
	seed uint64
	kept *game.Save // what the browser keeps of it, nil for a new call
}

// open opens the call of that name, or the default one, with that seed: as the
// browser keeps it, or else anew. Its unit can be drawn from then on; ready makes
// it fit to be played.
func (s *source) open(name, seed string) error {
	file, data, err := pick(name)
	if err != nil {
		return err
	}
	card, err := sim.Card(file, data)
	if err != nil {
		return err
	}
	n, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		n = 1
	}
	s.start = start{file: file, data: data, seed: n}
	if text := panel.KeptCall(card.ID, n); text != "" {
		if err = guarded(func() error { return s.openKept(text, card.ID) }); err == nil {
			return nil
		}
		panel.SetAside(card.ID, n, err)
	}
	return s.openNew()
}

func (s *source) openNew() error {
	s.start.kept = nil
	session, err := sim.Open(s.start.file, s.start.data, s.start.seed)
	if err == nil {
		s.take(session)
	}
	return err
}

func (s *source) openKept(text, id string) error {
	kept, err := game.ReadSave(text)
	if err != nil {
		return err
	}
	session, err := sim.Resume(kept.Recording)
	if err != nil {
		return err
	}
	if session.Setup().CallID != id || session.Seed() != s.start.seed {
		return fmt.Errorf("kept call: recording: of %s with seed %d", session.Setup().CallID, session.Seed())
	}
	s.start.kept = kept
	s.take(session)
	return nil
}

func (s *source) take(session *sim.Session) {
	s.Game = game.New(session, s.clock)
	s.SetLook(dom.FirstLook())
}

// ready runs the unit's history, and the kept call over again, and fills the
// panels. A kept call that cannot be brought back is set aside for a new one.
func (s *source) ready() {
	if s.class != nil {
		if err := guarded(s.readyClass); err != nil {
			fail(say.Text("failed.class"), err.Error())
			select {}
		}
	} else if s.start.kept == nil {
		prepare(s.Game)
	} else if err := guarded(func() error { return bringBack(s.Game) }); err != nil {
		panel.SetAside(s.Setup().CallID, s.start.seed, err)
		if err := s.openNew(); err != nil {
			fail(say.Text("failed.call"), err.Error())
			select {}
		}
		prepare(s.Game)
	}
	s.panels = panel.New(s.Game, calls(s.Setup().CallID), heard(s.Setup()), s.start.kept, s.class)
	if s.class != nil {
		s.class.Begin(s.panels)
	} else if dom.Query("expert") != "" {
		s.panels.Watch()
	}
	js.Global().Call("brinebenchLoaded")
}

// prepare runs the unit's history.
func prepare(g *game.Game) {
	for done := 0.0; done < 1; {
		done = g.Prepare(sliceS)
		loading(say.Text("loading.history"), done)
	}
}

// guarded makes a fault of the program in f an error too: the page has to come up
// whatever the browser keeps.
func guarded(f func() error) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("the program met a fault of its own: %v", fault)
		}
	}()
	return f()
}

// bringBack lives a kept call again, to where it was left.
func bringBack(g *game.Game) (err error) {
	prepare(g)
	for done := 0.0; done < 1; {
		if done, err = g.BringBack(sliceS); err != nil {
			return err
		}
		loading(say.Text("loading.back"), done)
	}
	return nil
}

// loading shows how far the start has come and lets the browser draw it.
func loading(text string, done float64) {
	js.Global().Call("brinebenchLoading", text, done)
	time.Sleep(time.Millisecond)
}
