//go:build js

// Package attend takes part in a class: what the pages on which a drill is done, and those
// of the classroom itself, have in common. All that comes from people or the server is set
// as text.
//
// Handles for tests, all stable:
//
//	#class-strip                  how the drill's class stands; data-line=on|waiting|off|…, [data-waiting]=N
//	#class-heard li               what the instructor told
//	dialog#class-frozen           all stop and look up
package attend

import (
	"encoding/json"
	"errors"
	"syscall/js"

	"brinebench/game/class"
	"brinebench/game/dom"
	"brinebench/game/say"
)

// Trouble is why the server did not do what it was asked.
type Trouble struct {
	Status int    // 0 where there was no answer
	Word   string // the server's
	Text   string
}

func (t *Trouble) Error() string { return t.Word + ": " + t.Text }

// Said is an error in words for people.
type Said string

func (s Said) Error() string { return string(s) }

// Offline is the word for no answer.
const Offline = "offline"

// told are the words that people are told apart; of the rest, that it failed.
var told = map[string]bool{
	Offline: true, "bad": true, "slow": true, "setup": true, "password": true, "first": true, "sign-in": true, "join": true, "out": true,
	"code": true, "token": true, "locked": true, "taken": true, "full": true, "closed": true, "none": true,
	class.Late: true, class.Early: true, class.Frozen: true, class.TakenOver: true, "fault": true,
}

// Say says an error of Ask.
func Say(err error) string {
	var t *Trouble
	if said, ok := err.(Said); ok {
		return string(said)
	}
	if errors.As(err, &t) && told[t.Word] {
		return say.Text("class.error." + t.Word)
	}
	return say.Text("class.error.failed")
}

// WordOf is the server's word for an error of Ask, "" for another.
func WordOf(err error) string {
	var t *Trouble
	if errors.As(err, &t) {
		return t.Word
	}
	return ""
}

// Ask asks the server, with a value as JSON where it is not nil, and reads the answer into
// another. The error is a Trouble where the server refused or did not answer. Not to be
// called in an event's own turn.
func Ask(method, path string, value, into any) error {
	options := map[string]any{"method": method, "cache": "no-store"}
	if value != nil {
		data, err := json.Marshal(value)
		if err != nil {
			return err
		}
		options["body"] = string(data)
		options["headers"] = map[string]any{"Content-Type": "application/json"}
	}
	response, err := dom.Await(js.Global().Call("fetch", "/api/"+path, options))
	if err != nil {
		return &Trouble{Word: Offline}
	}
	text, err := dom.Await(response.Call("text"))
	if err != nil {
		return &Trouble{Word: Offline}
	}
	if !response.Get("ok").Bool() {
		var said struct{ Error, Text string }
		if json.Unmarshal([]byte(text.String()), &said) != nil {
			said.Error = "none" // no classroom here: another server's page
		}
		return &Trouble{response.Get("status").Int(), said.Error, said.Text}
	}
	if into == nil || text.String() == "" {
		return nil
	}
	return json.Unmarshal([]byte(text.String()), into)
}

// Listen hears a stream of events by name; line hears whether it is open. The browser
// opens it again by itself, but where a younger page of the same person has taken its
// place; Close ends it.
func Listen(path string, hear map[string]func(data []byte), line func(on bool)) (source js.Value) {
	source = js.Global().Get("EventSource").New("/api/" + path)
	for name, f := range hear {
		source.Call("addEventListener", name, js.FuncOf(func(_ js.Value, args []js.Value) any {
			f([]byte(args[0].Get("data").String()))
			return nil
		}))
	}
	source.Call("addEventListener", "over", js.FuncOf(func(js.Value, []js.Value) any {
		source.Call("close")
		line(false)
		return nil
	}))
	source.Set("onopen", js.FuncOf(func(js.Value, []js.Value) any { line(true); return nil }))
	source.Set("onerror", js.FuncOf(func(js.Value, []js.Value) any { line(false); return nil }))
	return source
}

// Clock is a time of day here, of ms since 1970 UTC, written as the units' times of day are.
func Clock(ms int64) string {
	t := js.Global().Get("Date").New(float64(ms))
	return dom.FirstLook().Clock(float64(t.Call("getHours").Int()*3600 + t.Call("getMinutes").Int()*60))
}

// OnWall is what the wall of a class calls a member, by their number.
func OnWall(number int) string { return say.Text("desk.nameless", number) }

// NowMS is the browser's clock.
func NowMS() int64 { return int64(js.Global().Get("Date").Call("now").Float()) }
