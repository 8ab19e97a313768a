//go:build js

package main

import (
	"runtime"
	"strconv"
	"syscall/js"

	"brinebench/game/dom"
	"brinebench/game/view"
)

// measure lets a benchmark see what frames cost: with ?marks=N in the address the
// picture has at least N flow marks, and brinebenchMeasure tells how many the last
// frame had and what the program has allocated since it began, in objects and bytes.
func (s *source) measure(stage *view.Stage) {
	n, err := strconv.Atoi(dom.Query("marks"))
	if err != nil || n <= 0 {
		return
	}
	s.marks = n
	js.Global().Set("brinebenchMeasure", js.FuncOf(func(js.Value, []js.Value) any {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return map[string]any{"marks": stage.Marks(), "objects": float64(m.Mallocs), "bytes": float64(m.TotalAlloc), "collections": int(m.NumGC), "heap": float64(m.HeapSys)}
	}))
}
