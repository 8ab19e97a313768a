//go:build js

package main

import (
	"fmt"
	"syscall/js"
	"time"

	"brinebench/game"
	"brinebench/game/panel"
	"brinebench/game/say"
	"brinebench/sim"
)

// begin opens the call that the browser keeps under that id and seed, or else a
// new one. One that cannot be brought back is set aside.
func begin(file string, data []byte, seed uint64, clock func() float64) (*game.Game, *game.Save, error) {
	card, err := sim.Card(file, data)
	if err != nil {
		return nil, nil, err
	}
	id := card.ID
	if text := panel.KeptCall(id, seed); text != "" {
		g, kept, err := bringBack(text, id, seed, clock)
		if err == nil {
			return g, kept, nil
		}
		panel.SetAside(id, seed, err)
	}
	s, err := sim.Open(file, data, seed)
	if err != nil {
		return nil, nil, err
	}
	g := game.New(s, clock)
	prepare(g)
	return g, nil, nil
}

// bringBack lives a kept call again, to where it was left. A fault of the
// program on the way is an error too: the page has to come up.
func bringBack(text, id string, seed uint64, clock func() float64) (g *game.Game, kept *game.Save, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("the program met a fault of its own: %v", fault)
		}
	}()
	if kept, err = game.ReadSave(text); err != nil {
		return nil, nil, err
	}
	s, err := sim.Resume(kept.Recording)
	if err != nil {
		return nil, nil, err
	}
	if s.Setup().CallID != id || s.Seed() != seed {
		return nil, nil, fmt.Errorf("kept call: recording: of %s with seed %d", s.Setup().CallID, s.Seed())
	}
	g = game.New(s, clock)
	prepare(g)
	for done := 0.0; done < 1; {
		if done, err = g.BringBack(sliceS); err != nil {
			return nil, nil, err
		}
		loading(say.Text("loading.back"), done)
	}
	return g, kept, nil
}

// prepare runs the unit's history.
func prepare(g *game.Game) {
	for done := 0.0; done < 1; {
		done = g.Prepare(sliceS)
		loading(say.Text("loading.history"), done)
	}
}

// loading shows how far the start has come and lets the browser draw it.
func loading(text string, done float64) {
	js.Global().Call("brinebenchLoading", text, done)
	time.Sleep(time.Millisecond)
}
