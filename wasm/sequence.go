//go:build js

package main

import (
	"io/fs"
	"syscall/js"
	"time"

	"brinebench/game/panel"
	"brinebench/game/say"
	"brinebench/game/view"
	"brinebench/scenarios"
	"brinebench/sim"
)

// practise is the program of the page on which a valve's sequence is practised.
func practise() {
	p, err := panel.NewCycle(benches(), openBench)
	if err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
	draw(&bench{Cycle: p, started: time.Now()})
}

// firstBench is the plainest unit.
const firstBench = "standard"

// benches lists the units to practise on, the plainest first.
func benches() (list []panel.Bench) {
	names, _ := fs.Glob(scenarios.Bench, "bench/*.json")
	for _, name := range names {
		data, err := fs.ReadFile(scenarios.Bench, name)
		if err != nil {
			continue
		}
		card, err := sim.Card(name, data)
		if err != nil {
			continue
		}
		b := panel.Bench{ID: card.ID[len("bench-"):], Title: card.Title}
		if b.ID == firstBench {
			list = append([]panel.Bench{b}, list...)
		} else {
			list = append(list, b)
		}
	}
	return list
}

func openBench(id string) (*sim.Cycle, error) {
	name := "bench/" + id + ".json"
	data, err := fs.ReadFile(scenarios.Bench, name)
	if err != nil {
		return nil, err
	}
	return sim.OpenCycle(name, data)
}

// bench is the practice as the canvas sees it.
type bench struct {
	*panel.Cycle
	started time.Time
	loaded  bool
}

// Frame lets real time pass.
func (b *bench) Frame(dtS float64) {
	if !b.loaded {
		b.loaded = true
		js.Global().Call("brinebenchLoaded")
	}
	b.Drill.Frame(dtS)
	b.Sync(float64(time.Since(b.started).Milliseconds()))
}

func (b *bench) Setup() *sim.Setup  { return b.Drill.Setup() }
func (b *bench) View() *sim.View    { return b.Drill.View() }
func (b *bench) Selected() sim.Part { return b.Drill.Selected() }
func (b *bench) Select(p sim.Part)  { b.Drill.Select(p) }

// Look returns how the canvas is to be drawn.
func (b *bench) Look() view.Look {
	l := b.Drill.Look()
	return view.Look{Dark: l.Dark, SI: l.SI, Reduced: l.ReducedMotion, Pace: 1}
}
