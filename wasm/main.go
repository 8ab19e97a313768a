//go:build js

// The program of the page: one service call, its drawing and its panels.
package main

import (
	"errors"
	"io/fs"
	"strconv"
	"strings"
	"syscall/js"
	"time"

	"brinebench/game"
	"brinebench/game/panel"
	"brinebench/game/say"
	"brinebench/game/view"
	"brinebench/scenarios"
	"brinebench/sim"

	"github.com/hajimehoshi/ebiten/v2"
)

const (
	defaultCall = "hard-water-at-the-mill-house.json"
	sliceS      = 0.05 // of the unit's history between two drawings of the progress bar
)

func main() {
	say.Speak(say.Named(js.Global().Get("document").Get("documentElement").Get("lang").String()))
	s := &source{started: time.Now()}
	if err := s.open(query("call"), query("seed")); err != nil {
		fail(say.Text("failed.call"), err.Error())
		select {}
	}
	go s.ready() // while the unit is on show already
	draw(s)
}

// draw runs the canvas, or the panels alone where the browser has no WebGL.
func draw(s *source) {
	if !js.Global().Call("brinebenchWebGL").Truthy() {
		js.Global().Call("brinebenchNoPicture")
		s.withoutCanvas()
		return
	}
	err := ebiten.RunGameWithOptions(view.New(s, firstDraw), &ebiten.RunGameOptions{InitUnfocused: true})
	if err != nil {
		fail(say.Text("failed.drawing"), err.Error())
	}
}

// firstDraw tells the page's tests that there is a picture.
func firstDraw() { js.Global().Call("brinebenchDrew") }

// source is the game as the canvas sees it; its frames bring the panels up to date too.
type source struct {
	*game.Game
	start   start
	panels  *panel.Panels // nil until the game can be played
	started time.Time
}

// clock tells the time since the program began, s.
func (s *source) clock() float64 { return time.Since(s.started).Seconds() }

// Frame lets real time pass.
func (s *source) Frame(dtS float64) {
	if s.panels == nil {
		return
	}
	s.Game.Frame(dtS)
	s.panels.Sync(float64(time.Since(s.started).Milliseconds()))
}

// Look returns how the canvas is to be drawn.
func (s *source) Look() view.Look {
	l := s.Game.Look()
	look := view.Look{Dark: l.Dark, SI: l.SI, Lang: l.Lang, Reduced: l.ReducedMotion, Veiled: l.Veiled, Pace: s.Speed()}
	if s.panels == nil {
		look.Pace = 0
	}
	return look
}

// Select picks a part.
func (s *source) Select(p sim.Part) {
	if s.panels != nil {
		s.Game.Select(p)
	}
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
			list = append(list, panel.Call{CallCard: card, Open: card.ID == open, Words: told(name)})
		}
	}
	return list
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

// query reads a field of the page's address, "" when it is missing.
func query(field string) string {
	v := js.Global().Get("URLSearchParams").New(js.Global().Get("location").Get("search")).Call("get", field)
	if v.IsNull() {
		return ""
	}
	return v.String()
}

func fail(title, text string) { js.Global().Call("brinebenchFail", title, text) }
