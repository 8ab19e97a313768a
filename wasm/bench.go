//go:build js

package main

import (
	"fmt"
	"io/fs"
	"runtime/debug"
	"strings"
	"syscall/js"
	"time"

	core "brinebench/game/bench"
	"brinebench/game/cycle"
	rigs "brinebench/game/panel/bench"
	"brinebench/game/say"
	"brinebench/game/view"
	"brinebench/game/viewmodel"
	"brinebench/scenarios"
	"brinebench/sim"

	"github.com/hajimehoshi/ebiten/v2"
)

// openBenchPlace is the program of the page of open operation.
func openBenchPlace() {
	b := &onBench{started: time.Now()}
	link := strings.TrimPrefix(js.Global().Get("location").Get("hash").String(), "#")
	page, err := rigs.New(link, units(), putRig, b.clock)
	if err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
	b.page = page
	if !js.Global().Call("brinebenchWebGL").Truthy() {
		js.Global().Call("brinebenchNoPicture")
		b.drew()
		withoutCanvas(func(dtS float64) { b.passedS = dtS; b.advance() })
	}
	b.task = task(b.advance)
	b.pair = view.NewPair(rigView{b, 0}, rigView{b, 1}, b.frame, b.shown, b.drew)
	js.Global().Set("brinebenchLens", lens(b.pair))
	if err := ebiten.RunGameWithOptions(b.pair, &ebiten.RunGameOptions{InitUnfocused: true}); err != nil {
		fail(say.Text("failed.drawing"), err.Error())
	}
}

// Units of the bench are named by where they come from and their id.
const (
	ofCall = "call."
	free   = "free."
)

// units lists what can be put on the bench: units of no house, the plainest first, and
// those of the calls.
func units() (list []rigs.Unit) {
	benches, _ := cycle.Benches(scenarios.Bench) // a test reads them all
	for _, b := range benches {
		list = append(list, rigs.Unit{ID: free + b.ID, Title: func() string { return say.Sim(b.Title) }, Free: true})
	}
	for _, c := range calls("") {
		list = append(list, rigs.Unit{ID: ofCall + c.ID, Title: func() string { return say.Title(c.Title, c.Titles) }})
	}
	return list
}

// putRig puts a unit on the bench.
func putRig(unit string, seed uint64) (*sim.Rig, error) {
	var files fs.FS = scenarios.FS
	id, ok := strings.CutPrefix(unit, ofCall)
	name := id + ".json"
	if !ok {
		files = scenarios.Bench
		id, ok = strings.CutPrefix(unit, free)
		name = "bench/" + id + ".json"
	}
	data, err := fs.ReadFile(files, name)
	if !ok || err != nil {
		return nil, fmt.Errorf("units: no unit is named %q", unit)
	}
	return sim.OpenRig(name, data, seed)
}

// onBench is the bench as the canvas sees it.
type onBench struct {
	page    *rigs.Page
	pair    *view.Pair
	started time.Time
	task    js.Value // begins advance
	passedS float64  // real time since the last advance
	beside  string
}

func (b *onBench) clock() float64 { return time.Since(b.started).Seconds() }

// drew is called once there is a picture.
func (b *onBench) drew() {
	js.Global().Call("brinebenchDrew")
	debug.SetGCPercent(100)
	js.Global().Call("brinebenchLoaded")
}

// frame asks for the units' share of a frame: a task of its own, so that neither the
// simulation nor the panels stand in the way of the picture.
func (b *onBench) frame(dtS float64) {
	if b.passedS == 0 {
		b.task.Invoke(0)
	}
	b.passedS += max(dtS, 1e-6)
	how := "column"
	if b.pair.Beside() {
		how = "row"
	}
	if how != b.beside {
		b.beside = how
		js.Global().Get("document").Call("getElementById", "captions").Get("dataset").Set("split", how)
	}
}

// advance lets the real time pass that frame has told of.
func (b *onBench) advance() {
	dtS := b.passedS
	b.passedS = 0
	b.page.Bench.Frame(dtS)
	b.page.Sync(1000 * b.clock())
}

// shown is how many units are drawn.
func (b *onBench) shown() int { return len(b.page.Bench.Pictures()) }

// rigView is one of the pictures as the canvas sees it.
type rigView struct {
	*onBench
	i int
}

// Frame does nothing: both pictures have one.
func (rigView) Frame(float64) {}

func (v rigView) picture() core.Picture {
	list := v.page.Bench.Pictures()
	return list[min(v.i, len(list)-1)]
}

func (v rigView) Setup() *sim.Setup  { return v.picture().Setup }
func (v rigView) View() *sim.View    { return v.picture().View }
func (v rigView) Selected() sim.Part { return v.page.Selected() }
func (v rigView) Select(p sim.Part)  { v.page.Select(p) }

// Look returns how the canvas is to be drawn.
func (v rigView) Look() view.Look {
	l := v.page.Look()
	return view.Look{
		Dark: l.Dark, Strong: l.Strong, SI: l.SI, Lang: l.Lang, Reduced: l.ReducedMotion, Layers: viewmodel.Layers(l.Layers), Pace: v.page.Bench.Pace(),
	}
}
