//go:build js

// The worker judges a recorded call, plays one as an expert would, marks a sizing or a
// set-up, runs a program of positions, or lives with what can go wrong with a unit: sim
// alone, away from the page's own thread. worker.js puts the recording (msgp bytes, what
// sim.PackSizing, sim.PackSizingSetup or sim.Cycle.PackProgram made, or a scenario) into
// globalThis.brinebenchRecording and the job into brinebenchJob, and what comes after that
// goes to who called brinebenchListen; the answers are messages
// {progress: 0..1}, then {judge: JSON}, {show: JSON}, {size: JSON}, {set: JSON},
// {program: JSON}, {wear: JSON} or {error: text}. Who has a call judged gets {show: JSON}
// on the way.
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
	job := js.Global().Get("brinebenchJob").String()
	answer, err := work(job, bytesOf(js.Global().Get("brinebenchRecording")))
	var text []byte
	if err == nil {
		text, err = json.Marshal(answer)
	}
	if err != nil {
		job, text = "error", []byte(err.Error())
	}
	post(job, string(text))
	select {} // until the page ends the worker: a timer of the runtime that fires after the program's end is an error
}

func bytesOf(data js.Value) []byte {
	recording := make([]byte, data.Length())
	js.CopyBytesToGo(recording, data)
	return recording
}

// work does a job on a recording: "judge" it, or "show" what an expert would have
// done at the same unit; or on a sizing: "size" marks the answer; or on a valve's cycle:
// "program" runs one; or on a scenario's unit: "wear" tells how it shows what is wrong.
func work(job string, recording []byte) (answer any, err error) {
	switch job {
	case "show":
		return sim.DemonstrateAt(recording, progress())
	case "size":
		return sim.MarkPackedSizing(recording, unstopped())
	case "set":
		return sim.MarkPackedSizingSetup(recording, unstopped())
	case "program":
		return sim.TryPackedProgram(recording, progress())
	case "wear":
		return sim.ShowWear("unit", recording, progress())
	}
	return judge(recording)
}

// judge does what can be done before a call is finished, on a recording of it so far, and
// hands the expert's call on; then it follows the recordings that come until that of the
// finished call.
func judge(recording []byte) (report sim.Report, err error) {
	recordings := make(chan []byte, 1) // the newest
	js.Global().Call("brinebenchListen", js.FuncOf(func(_ js.Value, args []js.Value) any {
		select {
		case <-recordings:
		default:
		}
		recordings <- bytesOf(args[0])
		return nil
	}))
	judging, err := sim.BeginJudging(recording, progress())
	if err != nil {
		return report, err
	}
	played, err := judging.Demo()
	if err != nil {
		return report, err
	}
	text, err := json.Marshal(played)
	if err != nil {
		return report, err
	}
	post("show", string(text))
	tell := progress()
	for {
		finished, err := judging.Follow(recording, tell)
		if err != nil {
			return report, err
		}
		if finished {
			return judging.Report(tell)
		}
		recording = <-recordings
	}
}

// unstopped is progress of what could be stopped by the answer: who wants no more of it
// ends the worker.
func unstopped() func(done float64) bool {
	tell := progress()
	return func(done float64) bool {
		tell(done)
		return true
	}
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
