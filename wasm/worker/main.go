//go:build js

// The worker judges a recorded call: sim alone, away from the page's own thread.
// worker.js puts the recording (msgp bytes) into globalThis.brinebenchRecording;
// the answers are messages {progress: 0..1}, then {report: JSON} or {error: text}.
package main

import (
	"encoding/json"
	"syscall/js"
	"time"

	"brinebench/sim"
)

// progressEvery keeps the messages few: the page shows no more.
const progressEvery = 100 * time.Millisecond

func main() {
	data := js.Global().Get("brinebenchRecording")
	recording := make([]byte, data.Length())
	js.CopyBytesToGo(recording, data)
	report, err := sim.Judge(recording, progress())
	if err != nil {
		post("error", err.Error())
		return
	}
	text, err := json.Marshal(report)
	if err != nil {
		post("error", err.Error())
		return
	}
	post("report", string(text))
}

func progress() func(done float64) {
	var last time.Time
	return func(done float64) {
		if now := time.Now(); now.Sub(last) >= progressEvery {
			last = now
			post("progress", done)
		}
	}
}

func post(key string, value any) {
	js.Global().Call("postMessage", map[string]any{key: value})
}
