//go:build js

// The program of the page: one service call, its drawing and its panels.
package main

import (
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"runtime/debug"
	"strconv"
	"strings"
	"syscall/js"
	"time"

	"brinebench/game"
	"brinebench/game/dom"
	"brinebench/game/panel"
	"brinebench/game/say"
	"brinebench/game/view"
	"brinebench/game/viewmodel"
	"brinebench/scenarios"
	"brinebench/sim"

	"github.com/hajimehoshi/ebiten/v2"
)

// sliceS is how much of the unit's history is run between two drawings of the progress bar, s.
const sliceS = 0.05

func main() {
	say.Speak(dom.Language(js.Global().Get("document").Get("documentElement").Get("lang").String()))
	switch js.Global().Get("document").Get("documentElement").Get("dataset").Get("place").String() {
	case "sequence":
		practise()
		return
	case "bench":
		openBenchPlace()
		return
	}
	s := &source{started: time.Now(), drawn: make(chan bool, 1)}
	if opened, err := s.openClass(); err != nil {
		failClass(err)
	} else if !opened {
		s.openOwn()
	}
	go func() {
		<-s.drawn // the first picture is waited for more than the rest
		s.ready()
	}()
	draw(s)
}

// openOwn opens the call that the address names; without one that which was worked on
// last, whose address the page takes, or the default one.
func (s *source) openOwn() {
	if dom.Query("call") == "" {
		has := func(id string) bool { _, _, err := pick(id); return err == nil }
		if last := panel.LastCall(has); last != "" {
			js.Global().Get("history").Call("replaceState", nil, "", last)
		}
	}
	if err := s.open(dom.Query("call"), dom.Query("seed")); err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
}

// draw runs the canvas, or the panels alone where the browser has no WebGL.
func draw(s *source) {
	if !js.Global().Call("brinebenchWebGL").Truthy() {
		js.Global().Call("brinebenchNoPicture")
		s.drew()
		withoutCanvas(s.pass)
		return
	}
	stage := view.New(s, s.drew)
	s.measure(stage)
	js.Global().Set("brinebenchLens", lens(stage))
	s.task = task(s.advance)
	ebiten.SetScreenClearedEveryFrame(false) // the picture covers all of it
	err := ebiten.RunGameWithOptions(stage, &ebiten.RunGameOptions{InitUnfocused: true})
	if err != nil {
		fail(say.Text("failed.drawing"), err.Error())
	}
}

// task returns what has the browser call f in a task of its own. It is asked in every
// frame, and bound, so that nothing has to be looked up by its name then.
func task(f func()) js.Value {
	channel := js.Global().Get("MessageChannel").New()
	channel.Get("port1").Set("onmessage", js.FuncOf(func(js.Value, []js.Value) any { f(); return nil }))
	port := channel.Get("port2")
	return port.Get("postMessage").Call("bind", port)
}

// drew is called once there is a picture. Until then nothing that was allocated is
// worth looking through: boot.js starts the program without garbage collection.
func (s *source) drew() {
	js.Global().Call("brinebenchDrew")
	debug.SetGCPercent(100)
	s.drawn <- true
}

// lens lets the page enlarge and move the picture, in CSS px of the stage: "zoom"
// with a factor and the point it is about, or none for the selected part; "pan"
// with a way; "whole". It returns whether the picture is enlarged then.
func lens(stage lensed) js.Func {
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

// lensed is a picture that can be enlarged.
type lensed interface {
	Zoom(factor, x, y float64)
	Pan(dx, dy float64)
	Whole()
	Enlarged() bool
}

// source is the game as the canvas sees it; its frames bring the panels up to date too.
type source struct {
	*game.Game
	start   start
	panels  *panel.Panels // nil until the game can be played
	started time.Time
	drawn   chan bool // something once there is a picture
	task    js.Value  // begins advance
	passedS float64   // real time since the last advance
	marks   int       // see measure.go
	class   ofClass   // nil for a call of one's own
}

// clock tells the time since the program began, s.
func (s *source) clock() float64 { return time.Since(s.started).Seconds() }

// Frame asks for the unit's share of a frame: a task of its own, so that neither
// the simulation nor the panels stand in the way of the picture.
func (s *source) Frame(dtS float64) {
	if s.panels == nil {
		return
	}
	if s.passedS == 0 {
		s.task.Invoke(0)
	}
	s.passedS += dtS
}

// advance lets the real time pass that Frame has told of.
func (s *source) advance() {
	dtS := s.passedS
	s.passedS = 0
	s.Game.Frame(dtS)
	s.panels.Sync(float64(time.Since(s.started).Milliseconds()))
}

// Look returns how the canvas is to be drawn.
func (s *source) Look() view.Look {
	l := s.Game.Look()
	look := view.Look{Dark: l.Dark, Strong: l.Strong, SI: l.SI, Lang: l.Lang, Reduced: l.ReducedMotion, Veiled: l.Veiled, Layers: viewmodel.Layers(l.Layers), Pace: s.Speed()}
	if s.panels == nil {
		look.Pace = 0
	}
	look.Marks = s.marks
	return look
}

// Select picks a part.
func (s *source) Select(p sim.Part) {
	if s.panels != nil {
		s.Game.Select(p)
	}
}

// withoutCanvas lets the browser's own frames drive what the page shows.
func withoutCanvas(pass func(dtS float64)) {
	last := time.Now()
	var frame js.Func
	frame = js.FuncOf(func(js.Value, []js.Value) any {
		now := time.Now()
		pass(now.Sub(last).Seconds())
		last = now
		js.Global().Call("requestAnimationFrame", frame)
		return nil
	})
	js.Global().Call("requestAnimationFrame", frame)
	select {}
}

// pass lets real time pass where there is no canvas.
func (s *source) pass(dtS float64) {
	s.passedS = dtS
	if s.panels != nil {
		s.advance()
	}
}

// pick finds a scenario by name, with or without .json; "" is the default call.
func pick(name string) (file string, data []byte, err error) {
	names, err := fs.Glob(scenarios.FS, "*.json")
	if err != nil || len(names) == 0 {
		return "", nil, errors.New("the program holds no calls")
	}
	if name == "" {
		name = scenarios.Default
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
			titles := map[string]string{}
			for l, words := range told(name) {
				titles[string(l)] = words.Title
			}
			list = append(list, panel.Call{CallCard: card, Open: card.ID == open, Titles: titles})
		}
	}
	return list
}

// heard reads what the customer of the open call tells in the languages that its file
// does not speak. That of an exam has no name: the complaint tells which call it is.
func heard(s *sim.Setup) map[say.Lang]say.Call {
	if words := told(s.CallID + ".json"); len(words) > 0 {
		return words
	}
	names, _ := fs.Glob(scenarios.FS, "*.json")
	for _, name := range names {
		var f struct{ Complaint string }
		data, err := fs.ReadFile(scenarios.FS, name)
		if err != nil || json.Unmarshal(data, &f) != nil || f.Complaint != s.Complaint {
			continue
		}
		words := told(name)
		for l, w := range words {
			w.Title = say.In(l).Text("call.exam")
			words[l] = w
		}
		return words
	}
	return nil
}

// told reads what the customer of a call tells in the languages that its file does
// not speak.
func told(name string) map[say.Lang]say.Call {
	words := map[say.Lang]say.Call{}
	for _, l := range say.Langs {
		file := string(l) + "/" + name
		data, err := fs.ReadFile(scenarios.Told, file)
		if err != nil {
			continue
		}
		if c, err := say.ReadCall(file, data); err == nil {
			words[l] = c
		}
	}
	return words
}

func fail(title, text string) { js.Global().Call("brinebenchFail", title, text) }
