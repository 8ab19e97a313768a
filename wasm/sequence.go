//go:build js

package main

import (
	"runtime/debug"
	"syscall/js"
	"time"

	"brinebench/game/cycle"
	"brinebench/game/panel/attend"
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
	benches, err := cycle.Benches(scenarios.Bench)
	if err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
	drill := sequenceDrill(&benches)
	p, err := sequence.New(benches, drill)
	if err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
	if drill != nil {
		p.Attend()
	}
	b := &bench{page: p, started: time.Now()}
	if !js.Global().Call("brinebenchWebGL").Truthy() {
		js.Global().Call("brinebenchNoPicture")
		b.drew()
		withoutCanvas(b.Frame)
	}
	stage := view.New(b, b.drew)
	js.Global().Set("brinebenchLens", lens(stage))
	ebiten.SetScreenClearedEveryFrame(false)
	if err := ebiten.RunGameWithOptions(stage, &ebiten.RunGameOptions{InitUnfocused: true}); err != nil {
		fail(say.Text("failed.drawing"), err.Error())
	}
}

// sequenceDrill opens the drill of a class that the address names, whose unit is the only
// one then; nil for none.
func sequenceDrill(benches *[]cycle.Bench) *attend.Drill {
	id := attend.Asked()
	if id == "" {
		return nil
	}
	d, err := attend.TakeUp(id)
	if err != nil {
		failClass(err)
	}
	*benches = []cycle.Bench{{ID: "drill", JSON: d.Taken.Body}}
	return d
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
	return view.Look{Dark: l.Dark, Strong: l.Strong, SI: l.SI, Lang: l.Lang, Reduced: l.ReducedMotion, Layers: viewmodel.Layers(l.Layers), Pace: 1}
}
