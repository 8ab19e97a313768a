//go:build js

package main

import (
	"io/fs"
	"runtime/debug"
	"syscall/js"
	"time"

	"brinebench/game/panel/sequence"
	"brinebench/game/say"
	"brinebench/game/view"
	"brinebench/game/viewmodel"
	"brinebench/scenarios"
	"brinebench/sim"

	"github.com/hajimehoshi/ebiten/v2"
)

// practise is the program of the page on which a valve's sequence is practised.
func practise() {
	p, err := sequence.New(benches(), openBench)
	if err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
	b := &bench{page: p, started: time.Now()}
	if !js.Global().Call("brinebenchWebGL").Truthy() {
		js.Global().Call("brinebenchNoPicture")
		b.drew()
		withoutCanvas(b.Frame)
	}
	stage := view.New(b, b.drew)
	js.Global().Set("brinebenchLens", lens(stage))
	if err := ebiten.RunGameWithOptions(stage, &ebiten.RunGameOptions{InitUnfocused: true}); err != nil {
		fail(say.Text("failed.drawing"), err.Error())
	}
}

// firstBench is the plainest unit.
const firstBench = "standard"

// benches lists the units to practise on, the plainest first.
func benches() (list []sequence.Bench) {
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
		b := sequence.Bench{ID: card.ID[len("bench-"):], Title: card.Title}
		if b.ID == firstBench {
			list = append([]sequence.Bench{b}, list...)
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
	page    *sequence.Page
	started time.Time
}

// drew is called once there is a picture.
func (b *bench) drew() {
	js.Global().Call("brinebenchDrew")
	debug.SetGCPercent(100)
	js.Global().Call("brinebenchLoaded")
}

// Frame lets real time pass.
func (b *bench) Frame(dtS float64) {
	b.page.Drill.Frame(dtS)
	b.page.Sync(float64(time.Since(b.started).Milliseconds()))
}

func (b *bench) Setup() *sim.Setup  { return b.page.Drill.Setup() }
func (b *bench) View() *sim.View    { return b.page.Drill.View() }
func (b *bench) Selected() sim.Part { return b.page.Drill.Selected() }
func (b *bench) Select(p sim.Part)  { b.page.Drill.Select(p) }

// Look returns how the canvas is to be drawn.
func (b *bench) Look() view.Look {
	l := b.page.Drill.Look()
	return view.Look{Dark: l.Dark, Strong: l.Strong, SI: l.SI, Reduced: l.ReducedMotion, Layers: viewmodel.Layers(l.Layers), Pace: 1}
}
