//go:build js

// The program of the page: one service call, its drawing and its panels.
package main

import (
	"errors"
	"io/fs"
	"math"
	"strconv"
	"strings"
	"syscall/js"
	"time"

	"brinebench/game"
	"brinebench/game/panel"
	"brinebench/game/view"
	"brinebench/game/viewmodel"
	"brinebench/scenarios"
	"brinebench/sim"

	"github.com/hajimehoshi/ebiten/v2"
)

const (
	defaultCall = "hard-water-at-the-mill-house.json"
	sliceS      = 0.03 // of the unit's history between two drawings of the progress bar
)

func main() {
	started := time.Now()
	g, kept, err := open(query("call"), query("seed"), func() float64 { return time.Since(started).Seconds() })
	if err != nil {
		fail("This call cannot be opened", err.Error())
		select {}
	}
	s := &source{Game: g, panels: panel.New(g, calls(g.Setup().CallID), kept), started: started}
	js.Global().Call("brinebenchLoaded")
	draw(s)
}

// open opens the call of that name, or the default one, with that seed.
func open(name, seed string, clock func() float64) (*game.Game, *game.Save, error) {
	file, data, err := pick(name)
	if err != nil {
		return nil, nil, err
	}
	n, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		n = 1
	}
	return begin(file, data, n, clock)
}

// draw runs the canvas, or the panels alone where the browser has no WebGL.
func draw(s *source) {
	if !js.Global().Call("brinebenchWebGL").Truthy() {
		js.Global().Call("brinebenchNoPicture")
		s.withoutCanvas()
		return
	}
	stage := view.New(s, firstDraw)
	js.Global().Set("brinebenchLens", lens(stage))
	err := ebiten.RunGameWithOptions(stage, &ebiten.RunGameOptions{InitUnfocused: true})
	if err != nil {
		fail("The drawing has stopped", err.Error())
	}
}

// lens lets the page enlarge and move the picture, in CSS px of the stage: "zoom"
// with a factor and the point it is about, or none for the selected part; "pan"
// with a way; "whole". It returns whether the picture is enlarged then.
func lens(stage *view.Stage) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		n := [3]float64{math.NaN(), math.NaN(), math.NaN()}
		for i, a := range args[min(1, len(args)):min(4, len(args))] {
			n[i] = a.Float()
		}
		switch what := args[0].String(); {
		case what == "whole":
			stage.Whole()
		case what == "zoom" && n[0] > 0:
			stage.Zoom(n[0], n[1], n[2])
		case what == "pan" && !math.IsNaN(n[1]):
			stage.Pan(n[0], n[1])
		}
		return stage.Enlarged()
	})
}

// firstDraw tells the page's tests that there is a picture.
func firstDraw() { js.Global().Set("brinebenchDrawn", true) }

// source is the game as the canvas sees it; its frames bring the panels up to date too.
type source struct {
	*game.Game
	panels  *panel.Panels
	started time.Time
}

// Frame lets real time pass.
func (s *source) Frame(dtS float64) {
	s.Game.Frame(dtS)
	s.panels.Sync(float64(time.Since(s.started).Milliseconds()))
}

// Look returns how the canvas is to be drawn.
func (s *source) Look() view.Look {
	l := s.Game.Look()
	return view.Look{Dark: l.Dark, Strong: l.Strong, SI: l.SI, Reduced: l.ReducedMotion, Veiled: l.Veiled, Layers: viewmodel.Layers(l.Layers), Pace: s.Speed()}
}

// withoutCanvas lets the browser's own frames drive the game.
func (s *source) withoutCanvas() {
	last := time.Now()
	var frame js.Func
	frame = js.FuncOf(func(js.Value, []js.Value) any {
		now := time.Now()
		s.Frame(now.Sub(last).Seconds())
		last = now
		js.Global().Call("requestAnimationFrame", frame)
		return nil
	})
	js.Global().Call("requestAnimationFrame", frame)
	select {}
}

// pick finds a scenario by name, with or without .json; "" is the default call.
func pick(name string) (file string, data []byte, err error) {
	names, err := fs.Glob(scenarios.FS, "*.json")
	if err != nil || len(names) == 0 {
		return "", nil, errors.New("the program holds no calls")
	}
	if name == "" {
		name = defaultCall
		if data, err := fs.ReadFile(scenarios.FS, name); err == nil {
			return name, data, nil
		}
		name = names[0]
	}
	file = strings.TrimSuffix(name, ".json") + ".json"
	if data, err = fs.ReadFile(scenarios.FS, file); err != nil {
		return "", nil, errors.New("no call is named " + strconv.Quote(name) + "; the calls are: " + strings.Join(names, ", "))
	}
	return file, data, nil
}

// calls lists the calls that the program holds; open is the one on the page.
func calls(open string) (list []panel.Call) {
	names, _ := fs.Glob(scenarios.FS, "*.json")
	for _, name := range names {
		data, err := fs.ReadFile(scenarios.FS, name)
		if err != nil {
			continue
		}
		if card, err := sim.Card(name, data); err == nil {
			list = append(list, panel.Call{CallCard: card, Open: card.ID == open})
		}
	}
	return list
}

// query reads a field of the page's address, "" when it is missing.
func query(field string) string {
	v := js.Global().Get("URLSearchParams").New(js.Global().Get("location").Get("search")).Call("get", field)
	if v.IsNull() {
		return ""
	}
	return v.String()
}

func fail(title, text string) { js.Global().Call("brinebenchFail", title, text) }
