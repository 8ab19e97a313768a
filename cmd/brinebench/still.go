package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"brinebench/game/still"
	"brinebench/scenarios"
	"brinebench/sim"
)

// unit is what a still picture is drawn from.
type unit interface {
	Setup() *sim.Setup
	View(v *sim.View)
}

// size is that of a picture: CSS px, and px to each.
type size struct{ w, h, scale float64 }

// stills are the pictures of each place that has a drawing, of the unit that it opens
// with. Their sizes are those of the drawing in a window of 1440 × 900 and of 390 × 844,
// and phones have small pixels.
var stills = []struct {
	place      string
	open       func() (unit, error)
	wide, tall size
}{
	{"calls", func() (unit, error) { return read(scenarios.FS, scenarios.Default, openCall) }, size{927, 608, 1}, size{380, 368, 2}},
	{"bench", func() (unit, error) { return read(scenarios.Bench, scenarios.Plain, openRig) }, size{927, 542, 1}, size{380, 340, 2}},
	{"sequence", func() (unit, error) { return read(scenarios.Bench, scenarios.Plain, openCycle) }, size{927, 762, 1}, size{380, 368, 2}},
}

func openCall(name string, data []byte) (unit, error)  { return sim.Open(name, data, 1) }
func openRig(name string, data []byte) (unit, error)   { return sim.OpenRig(name, data, 1) }
func openCycle(name string, data []byte) (unit, error) { return sim.OpenCycle(name, data) }

func read(files fs.FS, name string, open func(name string, data []byte) (unit, error)) (unit, error) {
	data, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, err
	}
	return open(name, data)
}

// drawStills writes the still pictures of a site's pages, PLACE-LAYOUT-THEME.png. One
// that has not changed keeps its file, so that it is not packed again.
func drawStills(dir string) error {
	for _, s := range stills {
		u, err := s.open()
		if err != nil {
			return fmt.Errorf("stills: %w", err)
		}
		var view sim.View
		u.View(&view)
		for layout, size := range map[string]size{"wide": s.wide, "tall": s.tall} {
			for theme, dark := range map[string]bool{"light": false, "dark": true} {
				file := filepath.Join(dir, fmt.Sprintf("%s-%s-%s.png", s.place, layout, theme))
				if err := keep(file, still.PNG(still.Unit(size.w, size.h, size.scale, u.Setup(), &view, dark))); err != nil {
					return fmt.Errorf("stills: %w", err)
				}
			}
		}
	}
	return nil
}

// keep writes a file unless it is there already as it should be.
func keep(file string, data []byte) error {
	if was, err := os.ReadFile(file); err == nil && bytes.Equal(was, data) {
		return nil
	}
	return os.WriteFile(file, data, 0o644)
}
